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
        var days = (now - water.AddedAt).TotalDays;
        return water.PreparationId is null || days <= 0 ? made : made * Ageing.Factor(Kind(water, made.Value), BottleUse.OpenedDaily, days, water.Id, water.Label);
    }

    /// <summary>The last day of use of a water made today; null where nothing is known of its kind.</summary>
    public static LocalDate? UseBy(ReferenceWater water, double value, BenchSetting bench) =>
        Ageing.LifeDays(Kind(water, value), isCertifiedBottle: false) is { } life ? bench.Today.PlusDays((int)Math.Floor(life)) : null;

    /// <summary>Why a water is to be made again: “Walls, microbes: by tomorrow it may be another 3 % weaker.”</summary>
    public static string Reason(ReferenceWater water, double value, DecimalSign sign)
    {
        if (Kind(water, value) is not { HighPercentPerDay: > 0 } kind)
            return "Old known water no longer holds what its label says.";
        var size = $"{NumberWords.Plain(kind.HighPercentPerDay, 2, sign)}{Words.Narrow}%";
        return $"{Words.Capital(kind.Mechanism)}: by tomorrow it may be another {size} {(kind.IsUpward ? "stronger" : "weaker")}.";
    }

    private static AgeingKind? Kind(ReferenceWater water, double value)
    {
        var measured = Measured.Of(water.ParameterKey, water.OtherName, water.Form);
        return Ageing.Find(measured.Parameter, value, measured.Form, AgeingMedium.Water);
    }
}
