using Knownwater.Figures;
using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Checks;

/// <summary>The picture of one level: its judgement as places and labels.</summary>
internal static class VerdictPictures
{
    public static VerdictFigure? Of(LevelView level, DecimalSign sign)
    {
        if (level.Judgement is not { } judgement)
            return null;
        var plan = level.Plan;
        double known = plan.Reference.Value, tolerance = plan.ToleranceHere, doubt = 2 * plan.Reference.StandardUncertainty;
        // readings that are limits may leave one end of the interval open; then it is not drawn
        var bounded = judgement.Bias is { Low: not null, High: not null };
        double? low = bounded ? known + judgement.Bias.Low : null, high = bounded ? known + judgement.Bias.High : null;
        var step = judgement.Bias.Expanded ?? (tolerance > 0 ? tolerance / 3 : Math.Max(Math.Abs(known) * 0.01, 1e-6));
        var lineStep = tolerance > 0 ? Math.Min(tolerance / 3, step * 3) : step;
        string Shown(double value) => NumberWords.Value(value, step, sign);
        string Line(double value) => NumberWords.Value(value, lineStep, sign);
        return new VerdictFigure
        {
            Unit = plan.Form.Display,
            Known = known,
            KnownLabel = Line(known),
            KnownLow = known - doubt,
            KnownHigh = known + doubt,
            ToleranceLow = known - tolerance,
            ToleranceHigh = known + tolerance,
            ToleranceLowLabel = Line(known - tolerance),
            ToleranceHighLabel = Line(known + tolerance),
            Readings = [.. level.Readings.Select(Reading)],
            Mean = judgement.Mean,
            MeanLabel = Shown(judgement.Mean),
            Low = low,
            High = high,
            LowLabel = low is { } from ? Shown(from) : "",
            HighLabel = high is { } to ? Shown(to) : "",
            DistanceLabel = NumberWords.Signed(judgement.Bias.Value, step, sign),
            DistanceWithDoubtLabel = judgement.Bias.Expanded is { } expanded
                ? $"{NumberWords.Signed(judgement.Bias.Value, expanded, sign)}\u00A0±\u00A0{NumberWords.WithDoubt(judgement.Bias.Value, expanded, sign).Doubt}"
                : "",
            CoverageLabel = plan.Coverage < 0.96 ? "95\u202F%" : NumberWords.Plain(plan.Coverage * 100, 3, sign) + "\u202F%",
            Tone = Verdicts.Tone(judgement.Verdict),
        };
    }

    private static FigureReading Reading(ReadingView reading) => new(reading.Value, reading.Words, reading.DifferenceWords)
    {
        Mark = reading.Censoring switch { Censoring.Below => ReadingMark.Below, Censoring.Above => ReadingMark.Above, _ => ReadingMark.Measured },
        ExcludedBecause = reading.ExcludedReason,
    };
}
