using System.Globalization;
using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>What falls out of a solution, by solubility products.</summary>
/// <remarks>
/// <para>Ion product Π (γᵢ·cᵢ)^νᵢ against the solubility product at 25 °C (solubility_products.csv, each with its source). Activity coefficients by Davies: log γ = −0.509·z²·(√I/(1+√I) − 0.3·I), which holds to about
/// I = 0.5 mol/L; above that the value at 0.5 stands. Ion pairs are left out, so that the ion product is too large rather than too small: the rule warns early.</para>
/// <para>Carbonate is all that was put in as carbonate, and the part of the bicarbonate that is carbonate at pH 8.3 (pK₂ 10.33); hydrogen phosphate is all phosphate; phosphate PO4 its part at pH 8.3 (pK₃ 12.35), or all
/// of it beside hydroxide; hydroxide is what was put in, and what carbonate sets free (Kw/K₂).</para>
/// <para>In seawater (salinity 20 and above) pairing is too strong for that. There carbonates and sulfates are judged by conditional products of whole concentrations: aragonite
/// 6.5·10⁻⁷ (Mucci 1983, salinity 35, 25 °C) times 12, the supersaturation that clean seawater bears; gypsum 1.4·10⁻³, strontium sulfate 1.4·10⁻⁵, barium sulfate 4·10⁻⁹, strontium carbonate
/// 1.1·10⁻⁷, magnesium carbonate 6·10⁻⁵: about five times the natural product, from memory and on the safe side.</para>
/// </remarks>
public static class Precipitation
{
    /// <summary>Salinity from which the conditional products of seawater stand.</summary>
    public const double SeawaterFrom = 20;

    private const double AtOnce = 10, DaviesLimit = 0.5, CarbonateShare = 0.00925, PhosphateShare = 8.9e-5, WaterOverK2 = 2.1e-4, SeaCarbonateShare = 0.1;

    private static readonly Dictionary<string, double> Sea = new(StringComparer.Ordinal) { ["CaCO3"] = 12 * 6.5e-7, ["CaSO4.2H2O"] = 1.4e-3, ["SrSO4"] = 1.4e-5, ["BaSO4"] = 4e-9, ["SrCO3"] = 1.1e-7, ["MgCO3.3H2O"] = 6e-5 };

    private static readonly Dictionary<string, (string Name, int Charge)> Ions = new(StringComparer.Ordinal)
    {
        ["Ca"] = ("calcium", 2), ["Mg"] = ("magnesium", 2), ["Sr"] = ("strontium", 2), ["Ba"] = ("barium", 2), ["NH4"] = ("ammonium", 1), ["CO3"] = ("carbonate", 2), ["SO4"] = ("sulfate", 2), ["HPO4"] = ("phosphate", 2),
        ["PO4"] = ("phosphate", 3), ["OH"] = ("hydroxide", 1), ["F"] = ("fluoride", 1),
    };

    private static readonly Lazy<IReadOnlyList<Solid>> Listed = new(() => [.. EmbeddedTable.Read("Preparation.solubility_products.csv").Select(row => new Solid(
        row["solid"], row["name"], [.. row["ions"].Split(';').Select(i => i.Split(' ')).Select(i => (i[1], int.Parse(i[0], CultureInfo.InvariantCulture)))],
        Math.Pow(10, -double.Parse(row["pk"], CultureInfo.InvariantCulture))))]);

    /// <summary>What falls out, or may.</summary>
    /// <param name="ions">What is dissolved.</param>
    /// <param name="practicalSalinity">Practical salinity of the water it is in; 0 for fresh water and stocks.</param>
    /// <returns>The risks, the largest excess first; empty where all stays dissolved.</returns>
    public static IReadOnlyList<PrecipitationRisk> Of(DissolvedIons ions, double practicalSalinity = 0)
    {
        ArgumentNullException.ThrowIfNull(ions);
        var isSea = practicalSalinity >= SeawaterFrom;
        var strength = Math.Min(ions.IonicStrength, DaviesLimit);
        double Gamma(int charge) => Math.Pow(10, -0.509 * charge * charge * (Math.Sqrt(strength) / (1 + Math.Sqrt(strength)) - 0.3 * strength));

        var carbonate = ions["CO3"];
        var hydroxide = ions["OH"] + Math.Sqrt(WaterOverK2 * carbonate);
        var free = new Dictionary<string, double>(StringComparer.Ordinal)
        {
            ["CO3"] = carbonate + Math.Min(ions["HCO3"], isSea ? SeaCarbonateShare * ions["HCO3"] : CarbonateShare * Gamma(1) / Gamma(2) * ions["HCO3"] + Math.Min(ions["OH"], ions["HCO3"])),
            ["HPO4"] = ions["PO4"],
            ["PO4"] = ions["PO4"] * (hydroxide > 1e-3 ? 1 : Math.Min(1, PhosphateShare * Gamma(2) / Gamma(3))),
            ["OH"] = hydroxide,
        };
        double Concentration(string ion) => free.TryGetValue(ion, out var given) ? given : ions[ion];

        var risks = new List<PrecipitationRisk>();
        foreach (var solid in Listed.Value)
        {
            var conditional = isSea && Sea.TryGetValue(solid.Formula, out var sea) ? sea : (double?)null;
            var product = 1.0;
            foreach (var (ion, count) in solid.Ions)
                product *= Math.Pow(Concentration(ion) * (conditional is null ? Gamma(Ions[ion].Charge) : 1), count);
            var limit = conditional ?? solid.Product;
            if (product > limit)
                risks.Add(new PrecipitationRisk(solid.Formula, solid.Name, product, limit, product > AtOnce * limit, Sentence(solid, product, limit, Concentration)));
        }
        return [.. risks.OrderByDescending(r => r.Product / r.Limit)];
    }

    private static string Sentence(Solid solid, double product, double limit, Func<string, double> concentration)
    {
        var values = solid.Ions.Select(i => $"{Short(concentration(i.Ion))} mol/L of {Ions[i.Ion].Name}").ToList();
        var named = values.Count == 1 ? values[0] : string.Join(", ", values[..^1]) + " and " + values[^1];
        return $"{named} {(product > AtOnce * limit ? "fall out" : "may fall out in time")} as {solid.Name}: their product is {Short(product)}, the limit {Short(limit)}. Keep them in two bottles, or take less of one.";
    }

    private static string Short(double value) => value is >= 0.001 and < 1000 ? value.ToString("0.####", CultureInfo.InvariantCulture) : value.ToString("0.0e0", CultureInfo.InvariantCulture);

    private sealed record Solid(string Formula, string Name, IReadOnlyList<(string Ion, int Count)> Ions, double Product);
}
