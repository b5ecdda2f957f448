using System.Collections.Frozen;
using System.Globalization;

namespace Knownwater.Quantities;

/// <summary>Abridged standard atomic weights, IUPAC 2021 (Prohaska et al. 2022, Pure Appl. Chem. 94, 573–600, table 2), with the uncertainty printed beside them.</summary>
internal static class AtomicWeights
{
    private static readonly FrozenDictionary<string, (double Weight, double HalfWidth)> BySymbol = Read();

    /// <summary>Weight and printed half-width, or null where the element has no standard atomic weight.</summary>
    public static (double Weight, double HalfWidth)? Of(string symbol) => BySymbol.TryGetValue(symbol, out var weight) ? weight : null;

    private static FrozenDictionary<string, (double Weight, double HalfWidth)> Read() =>
        EmbeddedTable.Read("Quantities.atomic_weights.csv").ToFrozenDictionary(
            row => row["symbol"],
            row => (double.Parse(row["weight"], CultureInfo.InvariantCulture), double.Parse(row["half_width"], CultureInfo.InvariantCulture)),
            StringComparer.Ordinal);
}
