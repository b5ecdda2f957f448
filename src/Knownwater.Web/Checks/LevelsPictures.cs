using Knownwater.Checks;
using Knownwater.Figures;
using Knownwater.Quantities;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Checks;

/// <summary>The picture of several levels: their judgement as places and labels.</summary>
internal static class LevelsPictures
{
    private const int Places = 24;

    public static LevelsFigure? Of(LevelsJudgement? judgement, DecimalSign sign)
    {
        if (judgement is null || !(judgement.Levels[^1].Plan.Reference.Value > judgement.Levels[0].Plan.Reference.Value))
            return null;
        var plan = judgement.Levels[^1].Plan;
        double from = judgement.Levels[0].Plan.Reference.Value, to = plan.Reference.Value;
        return new LevelsFigure
        {
            Unit = plan.Form.Display,
            Levels = [.. judgement.Levels.Select(l => Level(l, sign))],
            Line = judgement.Line is { } line ? [.. Enumerable.Range(0, Places + 1).Select(i => from + (to - from) * i / Places).Select(known => Place(line, known))] : [],
            ToleranceAtZero = plan.Tolerance.At(0),
            ToleranceAtZeroLabel = NumberWords.Plain(plan.Tolerance.At(0), 2, sign),
            CoverageLabel = NumberWords.Plain(plan.Coverage * 100, 3, sign) + "\u202F%",
            Tone = Verdicts.Tone(judgement.Verdict),
        };
    }

    private static FigureLevel Level(JudgedLevel level, DecimalSign sign)
    {
        var bias = level.Judgement.Bias;
        var doubt = bias.Expanded is > 0 and { } expanded ? expanded : level.Plan.ToleranceHere / 10;
        var (low, high) = bias is { Low: { } l, High: { } h } ? ((double?)l, (double?)h) : (null, null);
        return new FigureLevel(level.Plan.Reference.Value, NumberWords.Plain(level.Plan.Reference.Value, 4, sign), bias.Value, NumberWords.Signed(bias.Value, doubt, sign), low, high,
            low is { } a && high is { } b ? $"{NumberWords.Signed(a, doubt, sign)} to {NumberWords.Signed(b, doubt, sign)}" : "", level.Plan.ToleranceHere, NumberWords.Plain(level.Plan.ToleranceHere, 2, sign), Verdicts.Tone(level.Judgement.Verdict));
    }

    private static FigureLinePlace Place(LevelsLine line, double known)
    {
        var (distance, expanded) = line.At(known);
        return new FigureLinePlace(known, distance, distance - expanded, distance + expanded);
    }
}
