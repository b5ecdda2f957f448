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
        ["nitrate"] = "NO3", ["nitrite"] = "NO2", ["ammonium"] = "NH4", ["ammonia"] = "NH3", ["phosphate"] = "PO4", ["silica"] = "SiO2",
        ["calcium"] = "Ca", ["magnesium"] = "Mg", ["potassium"] = "K", ["iron"] = "Fe", ["copper"] = "Cu", ["strontium"] = "Sr", ["boron"] = "B", ["iodine"] = "I",
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

    /// <summary>Reads a species in words: "NO3-N", "as CaCO3", "PO4 as P", "PO4 3-". Words are never run together into another formula.</summary>
    public static bool TryParse(ReadOnlySpan<string> words, [NotNullWhen(true)] out SpeciesForm? species, [NotNullWhen(false)] out string? error)
    {
        if (words.Length > 1 && IsAs(words[0]))
            words = words[1..];
        if (words.Length == 3 && IsAs(words[1]))
            words = new string[] { words[0], words[2] };
        if (words.Length == 1)
            return TryParse(words[0], out species, out error);
        species = null;
        if (words.Length == 2 && TryParse(words[0], out var whole, out _) && whole.Element is null && whole.Formula.Atoms.ContainsKey(words[1]))
            return TryParse($"{whole.Formula.Text}-{words[1]}", out species, out error);
        var joined = string.Join(' ', words);
        if (Familiar.ContainsKey(joined))
            return TryParse(joined, out species, out error);
        if (joined.AsSpan().IndexOfAny('.', '·', '*') >= 0 && Exact(joined, out species, out error))
            return true;
        error = $"{Quote.Of(joined)} is not one species. Write its formula in one word, such as NO3, NO3-N or CaCO3.";
        return false;
    }

    /// <summary>Reads a species; charges of common ions and the order N-NO3 are understood.</summary>
    public static bool TryParse(string text, [NotNullWhen(true)] out SpeciesForm? species, [NotNullWhen(false)] out string? error)
    {
        if (Exact(text, out species, out error))
            return true;
        return Familiar.TryGetValue(text, out var known) && Exact(known, out species, out error);
    }

    private static bool IsAs(string word) => word.ToUpperInvariant() is "AS" or "ALS";

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
