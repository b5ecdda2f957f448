using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Uncertainty;
using NodaTime;

namespace Knownwater.Records.Shelf;

/// <summary>What age has done to what known water is made from: a stock since it was opened, the background of a nutrient-free water since it was measured.</summary>
internal static class StockAgeing
{
    /// <summary>How a stock ages: by its kind, in acid where it holds one.</summary>
    public static AgeingKind? Kind(Stock row, double value, IReadOnlyList<Companion> companions)
    {
        var measured = Measured.Of(row.ParameterKey, row.OtherName, row.Form);
        return Ageing.Find(measured.Parameter, value, measured.Form, StockMedium.IsAcid(companions) ? AgeingMedium.Acid : AgeingMedium.PureWater);
    }

    /// <summary>What the value of a stock is to be multiplied with on a day; exactly 1 where nobody said when it was opened.</summary>
    public static Estimate Factor(Stock row, double value, IReadOnlyList<Companion> companions, LocalDate day) =>
        row.OpenedOn is { } opened && opened < day ? Ageing.Factor(Kind(row, value, companions), BottleUse.Closed, Period.DaysBetween(opened, day), row.Id, row.Label) : Estimate.Exact(1);

    /// <summary>What a background is to be multiplied with on a day: it was measured when the water was put on the shelf, or opened later.</summary>
    public static Estimate Factor(NutrientFreeWater row, BenchSetting bench, LocalDate day)
    {
        var from = LocalDate.Max(bench.DayOf(row.AddedAt), row.OpenedOn ?? LocalDate.MinIsoValue);
        return from < day ? Ageing.Factor(Ageing.Background, BottleUse.Closed, Period.DaysBetween(from, day), row.Id, row.Label) : Estimate.Exact(1);
    }

    /// <summary>“Nitrate stock: it loses up to 0.005 % a day (microbes take a little). Keep it so: closed. It keeps 30 days from the day it was opened.”; empty where nothing is known.</summary>
    public static string Words(AgeingKind? kind, double? lifeDays, string from, DecimalSign sign)
    {
        if (kind is null)
            return "";
        string Number(double value) => NumberWords.Plain(value, 3, sign);
        var moves = kind.HighPercentPerDay == 0 ? "it stays"
            : $"it {(kind.IsUpward ? "gains" : "loses")} {(kind.LowPercentPerDay > 0 ? $"{Number(kind.LowPercentPerDay)} to " : "up to ")}{Number(kind.HighPercentPerDay)}{Records.Words.Narrow}% a day ({kind.Mechanism})";
        var keeps = lifeDays switch
        {
            null => "",
            < 1 and double part => $" It keeps {Number(Math.Max(1, Math.Round(24 * part)))} {(Math.Round(24 * part) <= 1 ? "hour" : "hours")}.",
            1 => " It keeps a day.",
            double days => $" It keeps {Number(days)} days from the day it was {from}.",
        };
        return $"{Records.Words.Capital(kind.Name)}: {moves}. Keep it so: {kind.Container}.{keeps}";
    }
}
