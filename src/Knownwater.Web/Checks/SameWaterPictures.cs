using Knownwater.Checks;
using Knownwater.Figures;
using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Checks;

/// <summary>The picture of a difference: the readings of the second series against the mean of the first.</summary>
internal static class SameWaterPictures
{
    public static VerdictFigure? Of(SameWaterView view, LevelView second, DecimalSign sign)
    {
        var judgement = view.Judgement;
        if (judgement is not { Difference: { } difference, Low: { } low, High: { } high, Expanded: { } expanded })
            return null;
        double from = judgement.First.Judgement.Mean, tolerance = judgement.Tolerance, step = expanded > 0 ? expanded : tolerance / 10;
        var lineStep = Math.Min(tolerance / 3, step * 3);
        string Shown(double value) => NumberWords.Value(value, step, sign);
        string Line(double value) => NumberWords.Value(value, lineStep, sign);
        var (first, series) = (VerdictWords.Series(view.Kind, second: false), VerdictWords.Series(view.Kind, second: true));
        return new VerdictFigure
        {
            Unit = judgement.First.Plan.Form.Display,
            ReferenceWord = first,
            ReferenceName = view.Kind == SameWaterKind.Line ? "mean by hand" : "mean of the old bottle",
            ReadingsName = view.Kind == SameWaterKind.Line ? "readings through the line" : "readings with the new bottle",
            Known = from,
            KnownLabel = Line(from),
            KnownLow = from,
            KnownHigh = from,
            ToleranceLow = from - tolerance,
            ToleranceHigh = from + tolerance,
            ToleranceLowLabel = Line(from - tolerance),
            ToleranceHighLabel = Line(from + tolerance),
            Readings = [.. second.Readings.Select(r => new FigureReading(r.Value, r.Words, NumberWords.Signed(r.Value - from, lineStep, sign)) { ExcludedBecause = r.ExcludedReason })],
            Mean = judgement.Second.Judgement.Mean,
            MeanLabel = Shown(judgement.Second.Judgement.Mean),
            Low = from + low,
            High = from + high,
            LowLabel = Shown(from + low),
            HighLabel = Shown(from + high),
            DistanceLabel = NumberWords.Signed(difference.Value, step, sign),
            DistanceWithDoubtLabel = expanded > 0 ? $"{NumberWords.Signed(difference.Value, expanded, sign)}\u00A0±\u00A0{NumberWords.WithDoubt(difference.Value, expanded, sign).Doubt}" : "",
            Tone = Verdicts.Tone(judgement.Verdict),
        };
    }
}
