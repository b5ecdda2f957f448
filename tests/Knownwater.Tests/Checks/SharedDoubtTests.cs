using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Checks;

public sealed class SharedDoubtTests
{
    private static readonly ErrorSource Pipette = ErrorSource.Normal("P200, gain", 0.01);
    private static readonly ErrorSource Stock = ErrorSource.Normal("S-1, certificate 26-0501", 0.003);

    private static Estimate Of(double value, params (ErrorSource Source, double Contribution)[] parts) => Estimate.FromRows(value, [.. parts]);

    [Fact]
    public void Only_what_two_values_lean_on_is_shared()
    {
        var own = ErrorSource.Normal("own", 0.02);
        Estimate[] values = [Of(10, (Pipette, 0.1), (Stock, 0.03)), Of(1, (Pipette, 0.01), (own, 0.02)), Of(8, (own, 1e-4), (Stock, 0.1))];
        var shared = SharedDoubt.Among(values);
        // by hand: the pipette has 0.01/(0.01 + 0.0009) = 0.917 of the first variance and 1/(1 + 4) = 0.2 of the second; the stock has 0.083 and all but 1e-6; "own" has 1e-6 of the third and does not count
        Assert.Equal([Pipette.Id, Stock.Id], shared.Select(s => s.Source.Id));
        Assert.Equal(0.01 / 0.0109, shared[0].Parts[0].Share, 1e-12);
        Assert.Equal(0.2, shared[0].Parts[1].Share, 1e-12);
        Assert.Equal(0.01, shared[0].Parts[0].Relative!.Value, 1e-12);
        Assert.Equal([0, 2], shared[1].Parts.Select(p => p.Index));
        Assert.Empty(SharedDoubt.Among([values[0]]));
        Assert.Empty(SharedDoubt.Among([Estimate.Exact(1), Estimate.Exact(2)]));
    }

    [Fact]
    public void It_may_explain_wrong_verdicts_only_to_the_side_to_which_it_moves_them()
    {
        var same = SharedDoubt.Among([Of(10, (Pipette, 0.1)), Of(1, (Pipette, 0.01)), Of(5, (Pipette, 0.05))]).Single();
        Assert.True(same.MayExplain([Verdict.ReadsHigh, Verdict.ReadsHigh, Verdict.ReadsRight]));
        Assert.False(same.MayExplain([Verdict.ReadsHigh, Verdict.ReadsLow, Verdict.ReadsRight]));
        Assert.False(same.MayExplain([Verdict.ReadsHigh, Verdict.CannotTell, null]));
        // a source that raises one and lowers the other explains opposite sides
        var opposite = SharedDoubt.Among([Of(10, (Pipette, 0.1)), Of(1, (Pipette, -0.01))]).Single();
        Assert.True(opposite.MayExplain([Verdict.ReadsHigh, Verdict.ReadsLow]));
        Assert.False(opposite.MayExplain([Verdict.ReadsHigh, Verdict.ReadsHigh]));
    }

    [Fact]
    public void The_sentence_names_the_source_what_it_moves_and_what_to_rule_out()
    {
        var shared = SharedDoubt.Among([Of(10, (Pipette, -0.042)), Of(1, (Pipette, -0.0031))]).Single();
        Assert.Equal("Nitrate and phosphate lean on one source, P200, gain: when it is off by its standard uncertainty, they move by +0,42\u202f% and +0,31\u202f%.",
            VerdictWords.Say(shared, ["nitrate", "phosphate"], [Verdict.ReadsRight, Verdict.ReadsHigh], DecimalSign.Comma));
        Assert.EndsWith("Both read wrong to the side that an error of it would take them. Rule it out first, with a water that does without it; then look at the analyser.",
            VerdictWords.Say(shared, ["nitrate", "phosphate"], [Verdict.ReadsLow, Verdict.ReadsLow], DecimalSign.Point), StringComparison.Ordinal);
    }
}
