using System.Collections.Frozen;

namespace Knownwater.Quantities;

/// <summary>One unit of reporting forms: its value in the base of its kind is Factor · 10^Exponent (g, mol, eq per L or kg; S/m for conductivity).</summary>
internal sealed record FormUnit(string Text, string Display, FormKind Kind, int Exponent, double Factor = 1)
{
    /// <summary>All units by their canonical text.</summary>
    public static readonly FrozenDictionary<string, FormUnit> All = Every().ToFrozenDictionary(unit => unit.Text, StringComparer.Ordinal);

    private static readonly FrozenDictionary<string, FormUnit> AnyCase = All.Values.ToFrozenDictionary(unit => unit.Text, StringComparer.OrdinalIgnoreCase);

    private static readonly FrozenDictionary<string, string> OtherNames = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase)
    {
        ["g/m3"] = "mg/L",
        ["mg/dm3"] = "mg/L",
        ["g/dm3"] = "g/L",
        ["mmol/dm3"] = "mmol/L",
        ["mol/dm3"] = "mol/L",
        ["mol/m3"] = "mmol/L",
        ["mM"] = "mmol/L",
        ["uM"] = "umol/L",
        ["nM"] = "nmol/L",
        ["mcg/L"] = "ug/L",
        ["mval/L"] = "meq/L",
        ["mg/litre"] = "mg/L",
        ["mg/liter"] = "mg/L",
        ["KH"] = "dKH",
        ["degKH"] = "dKH",
        ["degdKH"] = "dKH",
        ["GH"] = "dGH",
        ["degGH"] = "dGH",
        ["degdGH"] = "dGH",
        ["C"] = "degC",
        ["dC"] = "degC",
        ["celsius"] = "degC",
        ["F"] = "degF",
        ["dF"] = "degF",
        ["fahrenheit"] = "degF",
        ["PSS-78"] = "PSU",
        ["PSS78"] = "PSU",
        ["PSS"] = "PSU",
        ["degfH"] = "fH",
        ["deH"] = "eH",
        ["degeH"] = "eH",
        ["Clark"] = "eH",
        ["gr/USgal"] = "gr/gal",
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    /// <summary>Whether the unit says how much of a species there is.</summary>
    public bool TakesSpecies => Kind <= FormKind.ChargeContent;

    /// <summary>Whether the unit is per mass of water.</summary>
    public bool PerMass => Kind is FormKind.MassContent or FormKind.AmountContent or FormKind.ChargeContent;

    /// <summary>Finds a unit by what was typed, already in ASCII.</summary>
    public static FormUnit? Find(string text) =>
        All.GetValueOrDefault(text)
        ?? (OtherNames.TryGetValue(text, out var other) ? All[other] : AnyCase.GetValueOrDefault(text));

    private static IEnumerable<FormUnit> Every()
    {
        (string Prefix, string Shown, int Exponent)[] prefixes = [("", "", 0), ("m", "m", -3), ("u", "µ", -6), ("n", "n", -9)];
        (string Unit, FormKind PerLitre, FormKind PerKilogram)[] kinds =
        [
            ("g", FormKind.MassConcentration, FormKind.MassContent),
            ("mol", FormKind.AmountConcentration, FormKind.AmountContent),
            ("eq", FormKind.ChargeConcentration, FormKind.ChargeContent),
        ];
        foreach (var (unit, perLitre, perKilogram) in kinds)
        {
            foreach (var (prefix, shown, exponent) in prefixes)
            {
                yield return new($"{prefix}{unit}/L", $"{shown}{unit}/L", perLitre, exponent);
                yield return new($"{prefix}{unit}/kg", $"{shown}{unit}/kg", perKilogram, exponent);
            }
        }
        // One grain is 64.79891 mg (exact), one US gallon 3.785411784 L (exact), one imperial gallon 4.54609 L (exact).
        yield return new("gr/gal", "gr/gal", FormKind.MassConcentration, -3, 64.79891 / 3.785411784);
        yield return new("dKH", "dKH", FormKind.AlkalinityDegrees, 0);
        // Hardness degrees: mmol/L of calcium and magnesium in one degree; fH and eH are defined by CaCO3, dGH by CaO.
        yield return new("dGH", "dGH", FormKind.HardnessDegrees, 0);
        yield return new("fH", "°fH", FormKind.HardnessDegrees, 0);
        yield return new("eH", "°eH", FormKind.HardnessDegrees, 0);
        yield return new("degC", "°C", FormKind.Temperature, 0);
        yield return new("degF", "°F", FormKind.Temperature, 0);
        yield return new("mS/cm", "mS/cm", FormKind.Conductivity, -1);
        yield return new("uS/cm", "µS/cm", FormKind.Conductivity, -4);
        yield return new("S/m", "S/m", FormKind.Conductivity, 0);
        yield return new("PSU", "PSU", FormKind.Salinity, 0);
        yield return new("pH", "pH", FormKind.Acidity, 0);
        yield return new("SG", "SG", FormKind.SpecificGravity, 0);
    }
}
