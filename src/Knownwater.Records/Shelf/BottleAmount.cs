using Knownwater.Quantities;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>How much there was in a bottle, and how much of it was used by the records.</summary>
/// <param name="Whole">What there was, mL; null where nobody said.</param>
/// <param name="Used">What was used, mL.</param>
/// <param name="Checks">How many levels of checks drew on it.</param>
public sealed record BottleAmount(double? Whole, double Used, int Checks)
{
    private const double LowShare = 0.1;

    /// <summary>What is left, mL, never below zero; null where nobody said what there was.</summary>
    public double? Left => Whole is { } all ? Math.Max(0, all - Used) : null;

    /// <summary>Whether a tenth or less is left.</summary>
    public bool IsLow => Left <= LowShare * Whole;

    /// <summary>“about 380 mL left”, “about 20 mL used”; empty where nothing is known.</summary>
    internal string Words(DecimalSign sign) => this switch
    {
        { Left: 0 } => "empty by the records",
        { Left: { } left } => $"about {NumberWords.Plain(left, 3, sign)}{Records.Words.NoBreak}mL left",
        { Used: > 0 } => $"about {NumberWords.Plain(Used, 3, sign)}{Records.Words.NoBreak}mL used",
        _ => "",
    };

    /// <summary>Reads what was used of some bottles, of any kind; by the key of the bottle.</summary>
    internal static async Task<Func<Guid, double?, BottleAmount>> Read(RecordsContext records, IReadOnlyCollection<Guid> bottles, CancellationToken cancel)
    {
        var used = await records.Draws.AsNoTracking()
            .Where(d => bottles.Contains(d.WaterId ?? d.StockId ?? d.NutrientFreeWaterId ?? Guid.Empty))
            .GroupBy(d => d.WaterId ?? d.StockId ?? d.NutrientFreeWaterId ?? Guid.Empty)
            .Select(g => new { g.Key, Used = g.Sum(d => d.Millilitres), Checks = g.Count(d => d.CheckLevelId != null) })
            .ToDictionaryAsync(g => g.Key, cancel);
        return (bottle, whole) => used.TryGetValue(bottle, out var drawn) ? new BottleAmount(whole, drawn.Used, drawn.Checks) : new BottleAmount(whole, 0, 0);
    }
}
