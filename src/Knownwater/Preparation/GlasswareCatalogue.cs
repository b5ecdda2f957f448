using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Statistics;

namespace Knownwater.Preparation;

/// <summary>Limits of error of glassware, balances and check weights by kind, class and size.</summary>
/// <remarks>
/// Flasks ISO 1042 and ASTM E288; bulb pipettes ISO 648 and ASTM E969; graduated pipettes ISO 835; piston pipettes ISO 8655-2:2002 (systematic and random limit of the nominal volume, which hold
/// as amounts over the whole range); cylinders ISO 4788 and ASTM E1272; burettes ISO 385; syringes ISO 7886-1; balances the working limit after a check weight (common practice); check weights
/// OIML R 111-1. Each figure says how well it is known (<see cref="CatalogueGlassware.Status"/>).
/// </remarks>
public static class GlasswareCatalogue
{
    private static readonly double[] SyringeSizes = [1, 2, 5, 10, 20, 50, 60];

    private static readonly Lazy<IReadOnlyList<CatalogueGlassware>> Listed = new(() =>
    [
        .. EmbeddedTable.Read("Preparation.glassware.csv").Select(Entry),
        .. SyringeSizes.Select(size => new CatalogueGlassware
        {
            Kind = GlasswareKind.Syringe, Class = "hypodermic", Standard = "ISO 7886-1", Nominal = size, Least = size / 2, Tolerance = SyringeLimit(size, size) / size, ToleranceIsRelative = true, Status = "from memory",
        }),
    ]);

    private static readonly Lazy<IReadOnlyList<CheckWeight>> Weights = new(() =>
        [.. EmbeddedTable.Read("Preparation.check-weights.csv").Select(r => new CheckWeight(r["class"], r["standard"], Number(r["nominal"]) ?? 0, Number(r["limit"]) ?? 0, r["status"]))]);

    /// <summary>All entries, by kind, standard, size and class.</summary>
    public static IReadOnlyList<CatalogueGlassware> All => Listed.Value;

    /// <summary>Check weights from the coarsest class to the finest, each by mass.</summary>
    public static IReadOnlyList<CheckWeight> CheckWeights => Weights.Value;

    /// <summary>The entries of one kind.</summary>
    /// <param name="kind">The kind.</param>
    public static IEnumerable<CatalogueGlassware> Of(GlasswareKind kind) => All.Where(e => e.Kind == kind);

    /// <summary>The entry of a key; null where there is none.</summary>
    /// <param name="key">A <see cref="CatalogueGlassware.Key"/>.</param>
    public static CatalogueGlassware? Find(string key) => All.FirstOrDefault(e => e.Key == key);

    /// <summary>Limit of error of what a disposable syringe delivers.</summary>
    /// <remarks>ISO 7886-1 (from memory): from half the nominal volume up, 5 % of what is delivered, 4 % for 5 mL and more; below, 1.5 % of the nominal volume and 2 % of what is delivered, 1 % for 5 mL and more.</remarks>
    /// <param name="nominal">Nominal volume, mL; above zero.</param>
    /// <param name="delivered">Volume delivered, mL; above zero, at most nominal.</param>
    /// <returns>Half-width of the limits, mL.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A volume lies outside its limits.</exception>
    public static double SyringeLimit(double nominal, double delivered)
    {
        if (Require.Positive(delivered) > Require.Positive(nominal))
            throw new ArgumentOutOfRangeException(nameof(delivered), delivered, $"A syringe of {nominal:R} mL cannot deliver {delivered:R} mL; take a larger one.");
        return delivered < nominal / 2
            ? 0.015 * nominal + (nominal < 5 ? 0.02 : 0.01) * delivered
            : (nominal < 5 ? 0.05 : 0.04) * delivered;
    }

    private static CatalogueGlassware Entry(Dictionary<string, string> row)
    {
        var kind = Enum.Parse<GlasswareKind>(row["kind"]);
        var nominal = Number(row["nominal"]);
        return new CatalogueGlassware
        {
            Kind = kind,
            Class = row["class"],
            Standard = row["standard"],
            Nominal = nominal,
            // an adjustable pipette reaches down to a tenth (common practice)
            Least = kind == GlasswareKind.PistonPipette ? nominal / 10 : null,
            Division = Number(row["division"]),
            Tolerance = Number(row["tolerance"]) ?? throw new InvalidOperationException($"The glassware table has no limit for {row["kind"]} {row["nominal"]}."),
            Repeatability = Number(row["repeatability"]) ?? 0,
            Readability = Number(row["readability"]),
            Status = row["status"],
        };
    }

    private static double? Number(string cell) => cell.Length == 0 ? null : double.Parse(cell, CultureInfo.InvariantCulture);
}
