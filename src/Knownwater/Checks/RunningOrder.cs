using Knownwater.Quantities;

namespace Knownwater.Checks;

/// <summary>One check of a round, as far as its place in the running order hangs on it.</summary>
public sealed record RunningItem
{
    /// <summary>The instrument that runs it.</summary>
    public required Guid Instrument { get; init; }

    /// <summary>The matrix of its known water.</summary>
    public required Matrix Matrix { get; init; }

    /// <summary>What it measures: any name, the same for the same analyte.</summary>
    public required string Analyte { get; init; }

    /// <summary>Days that its water keeps from now on; null where it keeps.</summary>
    public double? KeepsDays { get; init; }

    /// <summary>Other analytes that its water holds much of, by the names of <see cref="Analyte"/>.</summary>
    public IReadOnlyList<string> Brings { get; init; } = [];
}

/// <summary>The order in which the checks of a round are run.</summary>
public static class RunningOrder
{
    /// <summary>Orders checks so that the matrix changes least often, what keeps least goes first, and no water comes before the check that its residue would spoil.</summary>
    /// <remarks>
    /// Instruments follow each other, and on each the matrices: the one that holds the water which keeps least comes first (a change of
    /// matrix costs a rinse of lines and cell, so each instrument changes once at the most for each further matrix). Within these the
    /// water that keeps least comes first, except that a water which brings much of another check's analyte comes after that check.
    /// Where two waters bring each other's analyte, the one that keeps least goes first. What is equal keeps the order given. Common practice.
    /// </remarks>
    /// <param name="items">The checks, in any order.</param>
    /// <returns>Indices of the checks in running order.</returns>
    /// <exception cref="ArgumentException">An item keeps a number of days that is below zero or not a number.</exception>
    public static IReadOnlyList<int> Of(IReadOnlyList<RunningItem> items)
    {
        ArgumentNullException.ThrowIfNull(items);
        for (var i = 0; i < items.Count; i++)
        {
            if (items[i].KeepsDays is { } days && !(days >= 0))
                throw new ArgumentException($"Check {i + 1} keeps {days} days; it must be zero or more, or null where it keeps.", nameof(items));
        }
        double Keeps(int i) => items[i].KeepsDays ?? double.PositiveInfinity;
        return
        [
            .. Enumerable.Range(0, items.Count).GroupBy(i => items[i].Instrument).OrderBy(g => g.Min(Keeps))
                .SelectMany(instrument => instrument.GroupBy(i => items[i].Matrix).OrderBy(g => g.Min(Keeps)))
                .SelectMany(group => Within(items, [.. group.OrderBy(Keeps)])),
        ];
    }

    /// <summary>How often the matrix changes between one check and the next on the same instrument.</summary>
    /// <param name="items">The checks.</param>
    /// <param name="order">Their indices in running order.</param>
    public static int MatrixChanges(IReadOnlyList<RunningItem> items, IReadOnlyList<int> order)
    {
        ArgumentNullException.ThrowIfNull(items);
        ArgumentNullException.ThrowIfNull(order);
        return Enumerable.Range(1, Math.Max(0, order.Count - 1)).Count(k => items[order[k]].Instrument == items[order[k - 1]].Instrument && items[order[k]].Matrix != items[order[k - 1]].Matrix);
    }

    private static IEnumerable<int> Within(IReadOnlyList<RunningItem> items, List<int> left)
    {
        bool Spoils(int water, int check) => water != check && items[water].Brings.Contains(items[check].Analyte, StringComparer.OrdinalIgnoreCase);
        while (left.Count > 0)
        {
            var next = left.FindIndex(i => left.TrueForAll(other => !Spoils(i, other) || Spoils(other, i)));
            yield return left[Math.Max(0, next)];
            left.RemoveAt(Math.Max(0, next));
        }
    }
}
