using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Statistics;

namespace Knownwater.Comparison;

/// <summary>What a comparison of two methods says, in the keeper’s words: by how much they differ, and where the promise of the limits ends; never which of the two is right.</summary>
/// <remarks>The methods are called x and y, as the columns of their readings. All limits are those of 95 %.</remarks>
public static class ComparisonWords
{
    /// <summary>The least chance, of points that scatter as their uncertainties claim, below which they are said to scatter more.</summary>
    private const double Doubtful = 0.025;

    /// <summary>Mean difference and the next one, in words.</summary>
    /// <param name="limits">The differences y − x.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>Two or three sentences.</returns>
    public static string Say(LimitsOfAgreement limits, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(limits);
        if (limits.Sd == 0)
        {
            var same = limits.Bias == 0 ? "All pairs read the same" : $"In every pair y reads {NumberWords.Plain(Math.Abs(limits.Bias), 6, sign)} {Side(limits.Bias)} than x";
            return $"{same}: without scatter nothing can be told of the next one. {NotWhich}";
        }
        var half = (limits.BiasInterval.High - limits.BiasInterval.Low) / 2;
        var (size, doubt) = NumberWords.WithDoubt(Math.Abs(limits.Bias), half, sign);
        var mean = limits.BiasInterval.Contains(0)
            ? $"On average no difference shows: y − x is {NumberWords.Value(limits.Bias, half, sign)} ± {doubt}."
            : $"On average y reads {size} ± {doubt} {Side(limits.Bias)} than x.";
        return $"{mean} The next pair will differ by {Range(limits.PredictionInterval, sign)} (95 %). {NotWhich}";
    }

    /// <summary>Deming’s line in words.</summary>
    /// <param name="line">The line.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>A few sentences.</returns>
    public static string Say(DemingLine line, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(line);
        var ratio = line.Ratio == 1 ? "x and y err alike" : $"the error variances of y and x are as {NumberWords.Plain(line.Ratio, 4, sign)} : 1";
        return $"{Line(line.N, line.Slope, line.Intercept, line.SlopeInterval, line.InterceptInterval, sign)} The 95 % hold where {ratio} and errors do not grow with the level; a wrong ratio bends the line itself.";
    }

    /// <summary>York’s line in words.</summary>
    /// <param name="line">The line.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>A few sentences.</returns>
    public static string Say(YorkLine line, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(line);
        var fits = line.P < Doubtful
            ? "The points scatter more than their stated uncertainties allow: either these are too small, or the two methods differ from water to water. The limits are then too narrow."
            : line.P > 1 - Doubtful
                ? "The points scatter less than their stated uncertainties: these look too large, and the limits too wide."
                : "The points scatter as their stated uncertainties say.";
        return $"{Line(line.N, line.Slope, line.Intercept, line.SlopeInterval, line.InterceptInterval, sign)} {fits} The 95 % hold for ten pairs or more whose errors are small beside the spread of their levels.";
    }

    /// <summary>Passing and Bablok’s line in words.</summary>
    /// <param name="line">The line.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>A few sentences.</returns>
    public static string Say(PassingBablokLine line, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(line);
        var count = line.N is < 20 or > 100 ? $" The promise is for 20 to 100 pairs; here are {Count(line.N)}." : "";
        return $"{Line(line.N, line.Slope, line.Intercept, line.SlopeInterval, line.InterceptInterval, sign)} The 95 % of the slope hold where x and y err alike and are not rounded coarsely; where one errs five times as much as the other they fall to 87 % with 20 pairs, and below half with 100. Those of the intercept are about 91 %.{count}";
    }

    private const string NotWhich = "That says by how much they differ, not which is right.";

    private static string Line(int n, double slope, double intercept, in Interval ofSlope, in Interval ofIntercept, DecimalSign sign)
    {
        if (!double.IsFinite(ofSlope.Low) || !double.IsFinite(ofSlope.High))
            return $"The {Count(n)} pairs do not settle a slope: {NumberWords.Plain(slope, 3, sign)} fits best, and there is no limit to what else may. Take more pairs, farther apart in level.";
        string slopes = Range(ofSlope, sign), intercepts = Range(ofIntercept, sign), b = Value(slope, ofSlope, sign);
        var moves = slope > 0 ? "rises" : "changes";
        var size = NumberWords.Value(Math.Abs(intercept), (ofIntercept.High - ofIntercept.Low) / 2, sign);
        var words = (ofSlope.Contains(1), ofIntercept.Contains(0)) switch
        {
            (true, true) => $"No difference shows: a slope of {b} ({slopes}) and an intercept of {Value(intercept, ofIntercept, sign)} ({intercepts}) leave room for y = x (95 %).",
            (true, false) => $"y reads {size} {Side(intercept)} than x ({intercepts}, 95 %), much alike at every level: the slope of {b} ({slopes}) leaves room for 1.",
            (false, true) => $"The two part as the level rises: where x rises by 1, y {moves} by {b} ({slopes}, 95 %). At zero no difference shows ({intercepts}).",
            _ => $"The two part as the level rises: where x rises by 1, y {moves} by {b} ({slopes}, 95 %). At zero y would read {size} {Side(intercept)} than x ({intercepts}).",
        };
        return $"{words} {NotWhich}";
    }

    private static string Value(double value, in Interval interval, DecimalSign sign) => NumberWords.Value(value, (interval.High - interval.Low) / 2, sign);

    private static string Range(in Interval interval, DecimalSign sign)
    {
        var half = (interval.High - interval.Low) / 2;
        return $"{NumberWords.Value(interval.Low, half, sign)} to {NumberWords.Value(interval.High, half, sign)}";
    }

    private static string Side(double difference) => difference > 0 ? "higher" : "lower";

    private static string Count(int n) => n.ToString(CultureInfo.InvariantCulture);
}
