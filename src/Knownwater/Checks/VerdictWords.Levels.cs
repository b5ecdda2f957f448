using Knownwater.Quantities;

namespace Knownwater.Checks;

public static partial class VerdictWords
{
    /// <summary>What is said where one stock cannot part its own error from the analyser's.</summary>
    public const string OnlySecondStock = "The error may be the analyser’s or the stock’s; only a second stock tells.";

    /// <summary>What is said where only the difference of levels was judged.</summary>
    public const string OffsetNotTested = "An offset was not tested.";

    /// <summary>The verdict over levels in words.</summary>
    /// <param name="judgement">The judgement over levels.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>The verdict and where it holds; then offset and gain, or how sure the difference is.</returns>
    public static VerdictText Say(LevelsJudgement judgement, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(judgement);
        if (judgement.Basis == LevelsBasis.Difference)
            return SayDifference(judgement, sign);
        var sure = judgement.Line is { } line ? Line(line, Unit(judgement), sign) : "";
        if (judgement.Levels.All(l => l.Judgement.Verdict == Verdict.ReadsRight) && judgement.RightBetween is { } all)
            return new VerdictText(Word(Verdict.ReadsRight), $" {Between(all, judgement, sign)}. Nothing is said about readings outside.", sure);

        var parts = new List<string>();
        foreach (var verdict in (Verdict[])[Verdict.ReadsHigh, Verdict.ReadsLow, Verdict.CannotTell, Verdict.ReadsRight])
        {
            var some = judgement.Levels.Where(l => l.Judgement.Verdict == verdict).ToList();
            if (some.Count == 0)
                continue;
            var at = At(some, judgement, sign);
            parts.Add(verdict == Verdict.ReadsRight && judgement.RightBetween is { } run && some.Count == judgement.Levels.Count(l => Inside(l, run)) ? " " + Between(run, judgement, sign) : " at " + at);
            parts[^1] = (parts.Count == 1 ? "" : char.ToLowerInvariant(Word(verdict)[0]) + Word(verdict)[1..]) + parts[^1];
        }
        return new VerdictText(Word(judgement.Verdict), string.Join("; ", parts) + ".", sure);

        static bool Inside(JudgedLevel level, (double Low, double High) run) => level.Plan.Reference.Value >= run.Low && level.Plan.Reference.Value <= run.High;
    }

    /// <summary>Offset and gain in a sentence.</summary>
    /// <param name="line">The line.</param>
    /// <param name="form">Reporting form of the levels.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>“No offset shows; it reads 8.8 ± 6.2 % low as the value rises.”</returns>
    public static string Line(LevelsLine line, ReportingForm form, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(line);
        ArgumentNullException.ThrowIfNull(form);
        var (offset, offsetDoubt) = NumberWords.WithDoubt(Math.Abs(line.Offset.Value), line.OffsetExpanded, sign);
        var (gain, gainDoubt) = NumberWords.WithDoubt(Math.Abs(line.GainPercent), line.GainPercentExpanded, sign);
        var atZero = line.HasOffset
            ? $"At zero it reads {offset}{NoBreak}±{NoBreak}{offsetDoubt}{NoBreak}{form.UnitDisplay} {Side(line.Offset.Value)}"
            : "No offset shows";
        var rising = line.HasGain
            ? $"it reads {gain}{NoBreak}±{NoBreak}{gainDoubt}{Narrow}% {Side(line.GainPercent)} as the value rises"
            : "no error that grows with the value shows";
        var sentence = $"{atZero}; {rising}.";
        return line.IsBent ? sentence + " The levels do not lie on one line: one of the waters is not what it is held to be, or the method bends." : sentence;
    }

    /// <summary>The decision rule over levels, in words.</summary>
    /// <param name="judgement">The judgement over levels.</param>
    /// <returns>One or two sentences.</returns>
    public static string Rule(LevelsJudgement judgement)
    {
        ArgumentNullException.ThrowIfNull(judgement);
        return judgement.Basis == LevelsBasis.Difference
            ? "The readings’ step from one water to the other is judged against the step of the known values, so that what both waters share drops out. " + OffsetNotTested
            : $"Right between the lowest and the highest level only where every level passes. The {Count(judgement.Levels.Count)} levels share the chance of a wrong word.";
    }

    /// <summary>What to do about the levels together; empty where nothing is to be added to what each level says.</summary>
    /// <param name="judgement">The judgement over levels.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>Sentences, the weightiest first.</returns>
    public static IReadOnlyList<string> WhatToDo(LevelsJudgement judgement, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(judgement);
        var lines = new List<string>();
        if (judgement.NeedsSecondStock)
            lines.Add(OnlySecondStock);
        else if (judgement.Line is { IsBent: true })
            lines.Add("Make the waters again, each from its stock, before you trust the line.");
        if (judgement.NeedsLevelNearZero && judgement.Line is { } line)
            lines.Add($"A level nearer zero would tell the offset: so far it may be anything within ±{Narrow}{NumberWords.Plain(line.OffsetExpanded, 2, sign)}{NoBreak}{Unit(judgement).UnitDisplay} of what the line says.");
        if (judgement.Basis == LevelsBasis.Difference)
            lines.Add("To test the offset, check with water of which the background is known from elsewhere: another instrument, or a certificate.");
        return lines;
    }

    private static VerdictText SayDifference(LevelsJudgement judgement, DecimalSign sign)
    {
        if (judgement.Differences.Count == 0)
            return new VerdictText(Word(Verdict.CannotTell), ": the levels do not give a difference. Check with two waters of different value that the display can show.", OffsetNotTested);
        var worst = judgement.Differences.First(d => d.Verdict == judgement.Verdict);
        var form = Unit(judgement);
        var unit = NoBreak + form.UnitDisplay;
        var step = $"from {NumberWords.Plain(worst.Low, 4, sign)} to {NumberWords.Plain(worst.High, 4, sign)}{unit}";
        var (size, doubt) = NumberWords.WithDoubt(Math.Abs(worst.Estimate.Value), worst.Expanded, sign);
        var sized = $"{size}{NoBreak}±{NoBreak}{doubt}{unit}";
        var tolerance = $"{NumberWords.Plain(worst.Tolerance, 2, sign)}{unit}";
        var word = Word(worst.Verdict);
        return worst.Verdict switch
        {
            Verdict.ReadsRight => new VerdictText(word, $" over the step {step}, inside your tolerance of {tolerance}. {OffsetNotTested}", Sure()),
            Verdict.ReadsHigh or Verdict.ReadsLow => new VerdictText(word, $" by {size}{unit} over the step {step}{(worst.Matters ? ", and that matters" : "; that may or may not matter")}. {OffsetNotTested}", Sure()),
            _ => new VerdictText(word, $": {DifferenceRemedy(worst, sign, unit)} {OffsetNotTested}", Sure()),
        };

        string Sure() => $"The step is {sized} {(worst.Estimate.Value < 0 ? "too small" : "too large")} ({CoverageText(worst.Coverage, sign)}).";
    }

    private static string DifferenceRemedy(LevelDifference difference, DecimalSign sign, string unit)
    {
        var remedy = difference.Remedy!;
        var cost = remedy.Minutes is > 0 ? $", about {Duration(remedy.Minutes.Value)}" : "";
        return remedy.Kind switch
        {
            RemedyKind.FurtherReadings => $"a new check of {Count(remedy.Readings!.Value)} readings at each level would most likely settle the step{cost}.",
            RemedyKind.BetterReference => $"the known water is the limit. More readings cannot help; a step known to ±{Narrow}{NumberWords.Plain(difference.Tolerance / 2, 2, sign)}{unit} would.",
            RemedyKind.LessScatter => $"the readings scatter too much for this tolerance. It would take about {Count(remedy.Readings!.Value)} of them at each level; find what makes them scatter, or allow a wider tolerance.",
            _ => "the step lies so near your tolerance that more readings can hardly part them. Act as if it were wrong, or allow a wider tolerance.",
        };
    }

    private static ReportingForm Unit(LevelsJudgement judgement) => judgement.Levels[0].Plan.Form;

    private static string Between((double Low, double High) run, LevelsJudgement judgement, DecimalSign sign) =>
        $"between {NumberWords.Plain(run.Low, 4, sign)} and {NumberWords.Plain(run.High, 4, sign)}{NoBreak}{Unit(judgement).UnitDisplay}";

    private static string At(IReadOnlyList<JudgedLevel> some, LevelsJudgement judgement, DecimalSign sign)
    {
        var values = some.Select(l => NumberWords.Plain(l.Plan.Reference.Value, 4, sign)).ToList();
        var list = values.Count == 1 ? values[0] : $"{string.Join(", ", values[..^1])} and {values[^1]}";
        return list + NoBreak + Unit(judgement).UnitDisplay;
    }
}
