using System.Collections.ObjectModel;
using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>What is dissolved, as ions in mol/L.</summary>
/// <remarks>Immutable. Keys are formulas without charge: Na, K, NH4, Mg, Ca, Sr, Ba, Cl, Br, F, NO3, NO2, SO4, HCO3, CO3, PO4 (all phosphate), OH. What is not in this list is left out.</remarks>
public sealed class DissolvedIons
{
    /// <summary>Nothing dissolved.</summary>
    public static readonly DissolvedIons None = new([]);

    private static readonly Dictionary<string, int> Charges = new(StringComparer.Ordinal)
    {
        ["Na"] = 1, ["K"] = 1, ["NH4"] = 1, ["Mg"] = 2, ["Ca"] = 2, ["Sr"] = 2, ["Ba"] = 2, ["Cl"] = -1, ["Br"] = -1, ["F"] = -1, ["NO3"] = -1, ["NO2"] = -1, ["SO4"] = -2, ["HCO3"] = -1,
        ["CO3"] = -2, ["PO4"] = -2, ["OH"] = -1,
    };

    // Reference Seawater at salinity 35, mol/kg: Millero et al. 2008, table 4; per litre by a density of 1.025 kg/L. Bicarbonate stands for all of its alkalinity.
    private static readonly (string Ion, double MolesPerKilogram)[] Sea =
    [
        ("Na", 0.4689674), ("Mg", 0.0528170), ("Ca", 0.0102821), ("K", 0.0102077), ("Sr", 0.0000907), ("Cl", 0.5459158), ("SO4", 0.0282371), ("HCO3", 0.0022998), ("Br", 0.0008421), ("F", 0.0000683),
    ];

    private readonly Dictionary<string, double> _moles;

    private DissolvedIons(Dictionary<string, double> moles)
    {
        _moles = moles;
        MolesPerLitre = new ReadOnlyDictionary<string, double>(moles);
    }

    /// <summary>mol/L of each ion; every number is zero or above.</summary>
    public IReadOnlyDictionary<string, double> MolesPerLitre { get; }

    /// <summary>Ionic strength, mol/L: ½ Σ c·z², without ion pairs, of the ions that are named.</summary>
    public double IonicStrength => 0.5 * _moles.Sum(m => m.Value * Charges[m.Key] * Charges[m.Key]);

    /// <summary>How much of an ion; zero where none.</summary>
    /// <param name="ion">Key of the ion.</param>
    public double this[string ion] => _moles.GetValueOrDefault(ion);

    /// <summary>More of one ion.</summary>
    /// <param name="ion">Key of the ion; one that is not in the list changes nothing.</param>
    /// <param name="molesPerLitre">mol/L that come in; finite and at least zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The amount is negative or not finite.</exception>
    public DissolvedIons With(string ion, double molesPerLitre)
    {
        if (!double.IsFinite(molesPerLitre) || molesPerLitre < 0)
            throw new ArgumentOutOfRangeException(nameof(molesPerLitre), molesPerLitre, $"{molesPerLitre} mol/L of {ion} cannot be dissolved; give zero or above.");
        if (molesPerLitre == 0 || !Charges.ContainsKey(ion))
            return this;
        return new(new Dictionary<string, double>(_moles, StringComparer.Ordinal) { [ion] = this[ion] + molesPerLitre });
    }

    /// <summary>The ions of a dissolved salt, acid or alkali.</summary>
    /// <param name="salt">Formula as it is usually written, with NO3, SO4, CO3 … as groups.</param>
    /// <param name="molesPerLitre">mol/L of the salt; finite and at least zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The amount is negative or not finite.</exception>
    public DissolvedIons WithSalt(ChemicalFormula salt, double molesPerLitre)
    {
        ArgumentNullException.ThrowIfNull(salt);
        var ions = this;
        foreach (var (ion, count) in IonsOf(salt))
            ions = ions.With(ion, count * molesPerLitre);
        return ions;
    }

    /// <summary>An amount in a reporting form per litre; what it counts becomes the ion.</summary>
    /// <param name="form">Form per litre, as in mg/L Ca or meq/L (alkalinity, as bicarbonate).</param>
    /// <param name="value">Value in the form; below zero counts as nothing.</param>
    public DissolvedIons WithAmount(ReportingForm form, double value)
    {
        ArgumentNullException.ThrowIfNull(form);
        if (!(value > 0))
            return this;
        if (SaltYield.IsAlkalinity(form))
            return With("HCO3", FormConversion.Convert(value, form, ReportingForm.Parse("eq/L"), parameter: Parameter.Find("alkalinity")).Value);
        if (IonOf(form) is not { } ion || form.Kind is not (FormKind.MassConcentration or FormKind.AmountConcentration))
            return this;
        var counted = form.Species!.Split('-')[0];
        var atoms = ion is "PO4" ? ChemicalFormula.Parse(counted).Atoms.GetValueOrDefault("P", 1) : 1;
        return With(ion, atoms * FormConversion.Convert(value, form, ReportingForm.Parse($"mol/L {counted}")).Value);
    }

    /// <summary>The ions of seawater.</summary>
    /// <param name="practicalSalinity">Practical salinity; 0 adds nothing.</param>
    public DissolvedIons WithSeawater(double practicalSalinity) =>
        practicalSalinity > 0 ? Sea.Aggregate(this, (ions, s) => ions.With(s.Ion, s.MolesPerKilogram * practicalSalinity / 35 * (1 + 0.025 * practicalSalinity / 35))) : this;

    /// <summary>Both together in one litre, each a part of it.</summary>
    /// <param name="part">Part of this, 0 to 1.</param>
    /// <param name="other">What fills the rest.</param>
    public DissolvedIons Mixed(double part, DissolvedIons other)
    {
        ArgumentNullException.ThrowIfNull(other);
        var ions = None;
        foreach (var (ion, moles) in _moles)
            ions = ions.With(ion, part * moles);
        foreach (var (ion, moles) in other._moles)
            ions = ions.With(ion, (1 - part) * moles);
        return ions;
    }

    /// <summary>The ion that a form counts; null where it is none of the list.</summary>
    internal static string? IonOf(ReportingForm form) => form.Species?.Split('-')[0] switch
    {
        null => null,
        "NO3" => "NO3",
        "NO2" => "NO2",
        "NH4" or "NH3" => "NH4",
        "PO4" or "P" or "HPO4" or "H2PO4" or "P2O5" => "PO4",
        "SO4" or "S" => "SO4",
        "Ca" or "CaO" => "Ca",
        "Mg" or "MgO" => "Mg",
        var other => Charges.ContainsKey(other) ? other : null,
    };

    /// <summary>How many of each ion one formula unit gives.</summary>
    internal static IReadOnlyList<(string Ion, int Count)> IonsOf(ChemicalFormula salt)
    {
        var dry = ChemicalFormula.Parse(salt.Text.Split('.')[0]);
        var found = new List<(string Ion, int Count)>();
        void Add(string ion, int count)
        {
            if (count > 0)
                found.Add((ion, count));
        }

        foreach (var metal in (ReadOnlySpan<string>)["Na", "K", "Mg", "Ca", "Sr", "Ba", "Cl", "Br", "F"])
            Add(metal, dry.Atoms.GetValueOrDefault(metal));
        foreach (var group in (ReadOnlySpan<string>)["NO3", "NO2", "NH4", "SO4", "HCO3"])
            Add(group, SaltGroups.Count(dry.Text, group));
        Add("CO3", SaltGroups.Count(dry.Text, "CO3") - SaltGroups.Count(dry.Text, "HCO3"));
        Add("PO4", dry.Atoms.GetValueOrDefault("P"));
        if (!dry.Atoms.ContainsKey("C") && !dry.Atoms.ContainsKey("Si") && !dry.Atoms.ContainsKey("B"))
            Add("OH", SaltGroups.Count(dry.Text, "OH"));
        return found;
    }
}
