using Knownwater.Quantities;

namespace Knownwater.Checks;

/// <content>Words for two series of one water.</content>
public static partial class VerdictWords
{
    /// <summary>Name of a series.</summary>
    /// <param name="kind">What is compared.</param>
    /// <param name="second">Whether it is the second series.</param>
    /// <returns>“by hand”, “through the line”, “old bottle”, “new bottle”.</returns>
    public static string Series(SameWaterKind kind, bool second) => (kind, second) switch
    {
        (SameWaterKind.Line, false) => "by hand",
        (SameWaterKind.Line, true) => "through the line",
        (_, false) => "old bottle",
        _ => "new bottle",
    };

    /// <summary>The difference of two series in words.</summary>
    /// <param name="judgement">The judgement.</param>
    /// <param name="kind">What was compared.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>The sentence and how sure it is.</returns>
    public static VerdictText Say(SameWaterJudgement judgement, SameWaterKind kind, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(judgement);
        var unit = NoBreak + judgement.First.Plan.Form.UnitDisplay;
        var coverage = CoverageText(judgement.Coverage, sign);
        if (judgement is not { Difference: { } difference, Expanded: { } expanded })
            return new VerdictText(Word(Verdict.CannotTell), ": " + SameWaterRemedy(judgement, sign), "");
        var doubt = expanded > 0 ? expanded : judgement.Tolerance / 10;
        string Number(double value) => NumberWords.Value(Math.Abs(value), doubt, sign);
        string Sided(double value) => IsNothing(Number(value)) ? $"0{unit}" : $"{Number(value)}{unit} {(value < 0 ? "lower" : "higher")}";
        double low = difference.Value - expanded, high = difference.Value + expanded;
        var tolerance = NumberWords.Plain(judgement.Tolerance, 2, sign) + unit;
        switch (judgement.Verdict)
        {
            case Verdict.ReadsRight:
                var seen = IsNothing(Number(difference.Value)) ? "No difference seen" : Sided(difference.Value);
                return new VerdictText(kind == SameWaterKind.Line ? "The line changes nothing that matters" : "The new bottle changes nothing that matters", ".",
                    $"{seen} ({coverage}: {Sided(low)} to {Sided(high)}); your tolerance is {tolerance}.");
            case Verdict.ReadsHigh or Verdict.ReadsLow:
                var word = kind == SameWaterKind.Line ? $"Through the line it reads {Sided(difference.Value)} than by hand" : $"The new bottle reads {Sided(difference.Value)} than the old";
                var (near, far) = difference.Value > 0 ? (low, high) : (-high, -low);
                return new VerdictText(word, judgement.Matters ? ", and that matters." : "; that may or may not matter.", $"{coverage}: {Number(near)} to {Number(far)}{unit}. Your tolerance is {tolerance}.");
            default:
                return new VerdictText(Word(Verdict.CannotTell), ": " + SameWaterRemedy(judgement, sign),
                    $"{(kind == SameWaterKind.Line ? "Through the line it" : "The new bottle")} may read anything from {Sided(low)} to {Sided(high)}.");
        }
    }

    /// <summary>What to do about the difference of two series.</summary>
    /// <param name="judgement">The judgement.</param>
    /// <param name="kind">What was compared.</param>
    /// <param name="isKnownWater">Whether the water's value is known; water of a steady level from a tank serves too, and then no series has a verdict of its own.</param>
    /// <returns>Sentences, the weightiest first.</returns>
    public static IReadOnlyList<string> WhatToDo(SameWaterJudgement judgement, SameWaterKind kind, bool isKnownWater = true)
    {
        ArgumentNullException.ThrowIfNull(judgement);
        return (kind, judgement.Verdict) switch
        {
            (SameWaterKind.Line, Verdict.ReadsRight) => ["Nothing about the line: what is read through it may be trusted as far as what is fed by hand."],
            (SameWaterKind.Line, Verdict.CannotTell) => ["Until it is settled, go by hand-fed readings where much depends on one."],
            (SameWaterKind.Line, _) =>
            [
                "Go by hand-fed readings until the line is put right. Make no correction for what was read through it.",
                judgement.Verdict == Verdict.ReadsLow
                    ? "Look for what takes away or dilutes. A film of bacteria in the line, a valve that lets other water in, air drawn in with the sample, old water from a dead end; that is common practice, in this order of likelihood for nutrients."
                    : "Look for what adds. Old, stronger water from a dead end or from the sample before, a film of bacteria that gives off ammonia or phosphate, evaporation where the line stands open, air that scatters light; that is common practice.",
                "Clean and flush the line, look at joints and valves, then run this check again. Only that shows what it was.",
            ],
            (_, Verdict.ReadsRight) => ["Go on with the new bottle. Readings before and after it may be compared with each other."],
            (_, Verdict.CannotTell) => ["Keep the last of the old bottle until it is settled."],
            _ =>
            [
                "Do not take this step for a change in the tank. Readings from before the new bottle and after it differ by as much on the same water.",
                isKnownWater ? "Which bottle is right, their readings against the known value tell, below. Keep the last of the old one until it is clear."
                    : "Which bottle is right, this water cannot tell. Check the new one with known water, and keep the last of the old one until then.",
                "A new bottle that was primed too little, shaken too little or stood cold reads differently at first. Prime again and check once more before you send it back; that is common practice.",
            ],
        };
    }

    /// <summary>The decision rule for two series of one water, in words.</summary>
    /// <param name="kind">What is compared.</param>
    /// <returns>Two sentences.</returns>
    public static string Rule(SameWaterKind kind) =>
        $"The same water was read {(kind == SameWaterKind.Line ? "by hand and through the line" : "with the old bottle and with the new")}, so the doubt of its known value drops out of the difference. Nothing that matters, where the whole 95{Narrow}% interval lies within tolerance; higher or lower, where it leaves out zero and the difference lies beyond tolerance; else can’t tell yet.";

    private static string SameWaterRemedy(SameWaterJudgement judgement, DecimalSign sign)
    {
        var remedy = judgement.Remedy!;
        var cost = remedy.Minutes is > 0 ? $", about {Duration(remedy.Minutes.Value)}" : "";
        return remedy.Kind switch
        {
            RemedyKind.FurtherReadings => $"a new check of {Count(remedy.Readings!.Value)} readings in each series would most likely settle it{cost}.",
            RemedyKind.LessScatter => $"the readings scatter too much for this tolerance. It would take about {Count(remedy.Readings!.Value)} of them in each series; find what makes them scatter, or allow a wider tolerance.",
            RemedyKind.FinerDisplay => $"the {judgement.First.Plan.ResolutionName} is the limit. More readings cannot help; allow a wider tolerance.",
            RemedyKind.LevelWithinDisplay => "readings lie beyond what can be shown. Take water of a level that can.",
            _ => $"the difference lies so near your tolerance of {NumberWords.Plain(judgement.Tolerance, 2, sign)}{NoBreak}{judgement.First.Plan.Form.UnitDisplay} that more readings can hardly part them. Act as if it mattered, or allow a wider tolerance.",
        };
    }

    private static bool IsNothing(string number) => number.All(c => c is '0' or '.' or ',');
}
