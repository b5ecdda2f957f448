using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Uncertainty;
using NodaTime;

namespace Knownwater.Records.Shelf;

/// <summary>What age has done to a water that was made here: one-sided losses by kind, and evaporation.</summary>
internal static class WaterAgeing
{
    /// <summary>The value as it is now; as made where nothing is known of its making.</summary>
    public static Estimate Now(ReferenceWater water, Estimate made, Instant now)
    {
        // a bottle that is used as it is ages since it was opened, and shares that with its stock
        if (water is { PreparationId: null, StockId: { } stock, MadeOn: { } opened } && (now - opened.AtMidnight().InUtc().ToInstant()).TotalDays is >= 1 and var since)
            return made * Ageing.Factor(Kind(water, made.Value), BottleUse.Closed, Math.Floor(since), water.BottleId is null ? stock : water.Id, water.Label);
        var days = (now - water.AddedAt).TotalDays;
        return water.PreparationId is null || days <= 0 ? made : made * Ageing.Factor(Kind(water, made.Value), BottleUse.OpenedDaily, days, water.Id, water.Label);
    }

    /// <summary>The last day of use of a water made today; null where nothing is known of its kind.</summary>
    public static LocalDate? UseBy(ReferenceWater water, double value, BenchSetting bench) =>
        Ageing.LifeDays(Kind(water, value), isCertifiedBottle: false) is { } life ? bench.Today.PlusDays((int)Math.Floor(life)) : null;

    /// <summary>The moment after which it no longer holds, where its kind keeps only hours and nobody chose a later day; null where days decide.</summary>
    public static Instant? LastHour(ReferenceWater water, double value, BenchSetting bench) =>
        water.PreparationId is not null && Ageing.LifeDays(Kind(water, value), isCertifiedBottle: false) is { } life && life < 1 && !(water.UseBy > bench.DayOf(water.AddedAt))
            ? water.AddedAt + Duration.FromDays(life) : null;

    /// <summary>Whether it is past its last hour or its last day.</summary>
    public static bool IsPast(ReferenceWater water, double value, BenchSetting bench) =>
        LastHour(water, value, bench) is { } last ? last < bench.Now : water.UseBy < bench.Today;

    /// <summary>Why a water is to be made again: “Walls, microbes: by tomorrow it may be another 3 % weaker.”</summary>
    public static string Reason(ReferenceWater water, double value, DecimalSign sign)
    {
        if (Kind(water, value) is not { HighPercentPerDay: > 0 } kind)
            return "Old known water no longer holds what its label says.";
        var size = $"{NumberWords.Plain(kind.HighPercentPerDay, 2, sign)}{Records.Words.Narrow}%";
        return $"{Records.Words.Capital(kind.Mechanism)}: by tomorrow it may be another {size} {(kind.IsUpward ? "stronger" : "weaker")}.";
    }

    /// <summary>How it ages and how it is kept; empty where it was not made here.</summary>
    public static string Words(ReferenceWater water, double value, DecimalSign sign) =>
        water.PreparationId is not null && Kind(water, value) is { } kind ? StockAgeing.Words(kind, kind.LifeDays, "made", sign) : "";

    /// <summary>How its kind ages; null where nothing is known of it.</summary>
    public static AgeingKind? Kind(ReferenceWater water, double value)
    {
        var measured = Measured.Of(water.ParameterKey, water.OtherName, water.Form);
        return Ageing.Find(measured.Parameter, value, measured.Form, water.PreparationId is null && water.Matrix != Matrix.Seawater ? AgeingMedium.PureWater : AgeingMedium.Water);
    }
}
