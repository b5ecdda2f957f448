using System.Collections.Frozen;
using System.Diagnostics.CodeAnalysis;

namespace Knownwater.Quantities;

/// <summary>What a number counts: a species by its own formula (NO3), or one element of it (NO3-N).</summary>
internal sealed record SpeciesForm(ChemicalFormula Formula, string? Element)
{
    private static readonly FrozenDictionary<string, string> Familiar = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase)
    {
        ["NO3-"] = "NO3", ["NO2-"] = "NO2", ["NH4+"] = "NH4", ["PO43-"] = "PO4", ["PO4---"] = "PO4", ["PO4-3"] = "PO4", ["PO4 3-"] = "PO4",
        ["HPO42-"] = "HPO4", ["H2PO4-"] = "H2PO4", ["SO42-"] = "SO4", ["SO4--"] = "SO4", ["CO32-"] = "CO3", ["HCO3-"] = "HCO3",
        ["Ca2+"] = "Ca", ["Ca++"] = "Ca", ["Mg2+"] = "Mg", ["Mg++"] = "Mg", ["Sr2+"] = "Sr", ["Sr++"] = "Sr", ["Fe2+"] = "Fe", ["Fe3+"] = "Fe",
        ["Cu2+"] = "Cu", ["K+"] = "K", ["Na+"] = "Na", ["Cl-"] = "Cl", ["Br-"] = "Br", ["F-"] = "F", ["I-"] = "I", ["IO3-"] = "IO3",
        ["TAN"] = "NH3-N", ["N-NO3"] = "NO3-N", ["N-NO2"] = "NO2-N", ["N-NH4"] = "NH4-N", ["N-NH3"] = "NH3-N", ["P-PO4"] = "PO4-P",
        ["no3"] = "NO3", ["no2"] = "NO2", ["nh3"] = "NH3", ["nh4"] = "NH4", ["po4"] = "PO4", ["sio2"] = "SiO2", ["caco3"] = "CaCO3",
        ["cao"] = "CaO", ["hco3"] = "HCO3", ["so4"] = "SO4", ["no3-n"] = "NO3-N", ["no2-n"] = "NO2-N", ["nh3-n"] = "NH3-N", ["nh4-n"] = "NH4-N",
        ["po4-p"] = "PO4-P", ["sio2-si"] = "SiO2-Si", ["ca"] = "Ca", ["mg"] = "Mg", ["sr"] = "Sr", ["fe"] = "Fe", ["cu"] = "Cu", ["si"] = "Si",
        ["zn"] = "Zn", ["mn"] = "Mn", ["na"] = "Na", ["cl"] = "Cl", ["cl2"] = "Cl2", ["br"] = "Br", ["k"] = "K", ["i"] = "I", ["b"] = "B", ["p"] = "P", ["n"] = "N",
        ["h3bo3"] = "H3BO3", ["io3"] = "IO3", ["o2"] = "O2", ["co2"] = "CO2", ["p2o5"] = "P2O5",
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    /// <summary>ASCII: "NO3-N".</summary>
    public string Text => Element is null ? Formula.Text : $"{Formula.Text}-{Element}";

    /// <summary>With subscripts: "NO₃-N".</summary>
    public string Display => ChemicalFormula.Subscripts(Text);

    /// <summary>Grams of what is counted per mole of <see cref="Formula"/>.</summary>
    public double GramsPerMole => Element is null ? Formula.MolarMassGramsPerMole : Formula.Atoms[Element] * AtomicWeights.Of(Element)!.Value.Weight;

    /// <summary>What the molar mass in <see cref="GramsPerMole"/> is of, for a sentence: "NO3", "N", "2 P".</summary>
    public string Counted => Element is null ? Formula.Text : Formula.Atoms[Element] == 1 ? Element : $"{Formula.Atoms[Element]} {Element}";

    /// <summary>Reads a species; charges of common ions and the order N-NO3 are understood.</summary>
    public static bool TryParse(string text, [NotNullWhen(true)] out SpeciesForm? species, [NotNullWhen(false)] out string? error)
    {
        if (Exact(text, out species, out error))
            return true;
        return Familiar.TryGetValue(text, out var known) && Exact(known, out species, out error);
    }

    private static bool Exact(string text, [NotNullWhen(true)] out SpeciesForm? species, [NotNullWhen(false)] out string? error)
    {
        species = null;
        var hyphen = text.LastIndexOf('-');
        if (hyphen <= 0 || hyphen == text.Length - 1)
        {
            if (ChemicalFormula.TryParse(text, out var whole, out error))
                species = new SpeciesForm(whole, null);
            return species is not null;
        }
        if (!ChemicalFormula.TryParse(text[..hyphen], out var formula, out error))
            return false;
        var element = text[(hyphen + 1)..];
        if (!formula.Atoms.ContainsKey(element))
        {
            error = $"{Quote.Of(text)} counts the {element} in {formula.Text}, but {formula.Text} holds none. Name one of its elements: {string.Join(" or ", formula.Atoms.Keys.Select(each => $"{formula.Text}-{each}"))}.";
            return false;
        }
        species = new SpeciesForm(formula, element);
        return true;
    }
}
