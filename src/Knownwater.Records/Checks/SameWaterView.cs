using Knownwater.Checks;
using Knownwater.Quantities;

namespace Knownwater.Records.Checks;

/// <summary>The difference of two series of one water as a page shows it.</summary>
/// <param name="Kind">What was compared.</param>
/// <param name="Judgement">The judgement.</param>
/// <param name="Words">It in words.</param>
/// <param name="WhatToDo">What to do about it, one sentence each or a few together.</param>
/// <param name="Numbers">The numbers behind it, each a term and a value.</param>
/// <param name="Rule">The decision rule.</param>
public sealed record SameWaterView(SameWaterKind Kind, SameWaterJudgement Judgement, VerdictText Words, IReadOnlyList<string> WhatToDo, IReadOnlyList<NumberLine> Numbers, string Rule)
{
    internal static SameWaterView Of(SameWaterKind kind, SameWaterJudgement judgement, bool isKnownWater, ReportingForm form, DecimalSign sign) =>
        new(kind, judgement, VerdictWords.Say(judgement, kind, sign), VerdictWords.WhatToDo(judgement, kind, isKnownWater), Lines(kind, judgement, isKnownWater, form, sign), VerdictWords.Rule(kind));

    private static List<NumberLine> Lines(SameWaterKind kind, SameWaterJudgement judgement, bool isKnownWater, ReportingForm form, DecimalSign sign)
    {
        var unit = Records.Words.NoBreak + form.UnitDisplay;
        var doubt = judgement.Expanded is > 0 and { } expanded ? expanded : judgement.Tolerance / 10;
        string Mean(JudgedLevel series) => $"{NumberWords.Value(series.Judgement.Mean, doubt, sign)}{unit}, mean of {CheckWriting.Readings(series.Judgement.N)}";
        var lines = new List<NumberLine>
        {
            new(Records.Words.Capital(VerdictWords.Series(kind, second: false)), Mean(judgement.First)),
            new(Records.Words.Capital(VerdictWords.Series(kind, second: true)), Mean(judgement.Second)),
        };
        if (judgement is { Difference: { } difference, Expanded: { } half })
        {
            var after = half > 0 ? $"{Records.Words.NoBreak}±{Records.Words.NoBreak}{NumberWords.WithDoubt(difference.Value, half, sign).Doubt}" : "";
            lines.Add(new NumberLine(kind == SameWaterKind.Line ? "What the line does" : "Step from lot to lot", $"{NumberWords.Signed(difference.Value, doubt, sign)}{after}{unit} (95{Records.Words.Narrow}%)"));
        }
        lines.Add(new NumberLine("Tolerance", $"±{Records.Words.Narrow}{NumberWords.Plain(judgement.Tolerance, 2, sign)}{unit}"));
        if (judgement.PooledSd is { } sd)
            lines.Add(new NumberLine("Scatter that both series share", $"{NumberWords.Plain(sd, 2, sign)}{unit} between readings"));
        else if (judgement is { Difference: not null, First.Judgement.Sd: { } one, Second.Judgement.Sd: { } two })
            lines.Add(new NumberLine("Scatter, not alike", $"{NumberWords.Plain(one, 2, sign)} and {NumberWords.Plain(two, 2, sign)}{unit} between readings"));
        lines.Add(isKnownWater ? new NumberLine("The known water’s doubt", "drops out: both series are of one water") : new NumberLine("The water’s value", "not needed: both series are of one water"));
        return lines;
    }
}
