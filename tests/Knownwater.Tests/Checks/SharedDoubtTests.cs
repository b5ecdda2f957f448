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

    private static (Verdict, double, double)? High(double low, double high) => (Verdict.ReadsHigh, low, high);

    private static (Verdict, double, double)? Low(double low, double high) => (Verdict.ReadsLow, low, high);

    private static (Verdict, double, double)? Right => (Verdict.ReadsRight, -0.01, 0.01);

    [Fact]
    public void One_error_explains_biases_only_if_it_fits_all_of_them()
    {
        var same = SharedDoubt.Among([Of(10, (Pipette, 0.1)), Of(1, (Pipette, 0.01)), Of(5, (Pipette, 0.05))]).Single();
        // by hand: 0.2 to 0.5 in 0.1 are 2 to 5 standard uncertainties, 0.025 to 0.06 in 0.01 are 2.5 to 6; the least that fits both is 2.5
        Assert.Equal(2.5, same.ErrorToExplain([High(0.2, 0.5), High(0.025, 0.06), Right])!.Value, 1e-12);
        // 6 to 8 does not fit 2 to 5; opposite sides never do; one wrong verdict or one without an interval needs no common cause
        Assert.Null(same.ErrorToExplain([High(0.2, 0.5), High(0.06, 0.08), Right]));
        Assert.Null(same.ErrorToExplain([High(0.2, 0.5), Low(-0.06, -0.025), Right]));
        Assert.Null(same.ErrorToExplain([High(0.2, 0.5), null, Right]));
        // a source that raises one and lowers the other explains opposite sides
        var opposite = SharedDoubt.Among([Of(10, (Pipette, 0.1)), Of(1, (Pipette, -0.01))]).Single();
        Assert.Equal(2.5, opposite.ErrorToExplain([High(0.2, 0.5), Low(-0.06, -0.025)])!.Value, 1e-12);
        Assert.Null(opposite.ErrorToExplain([High(0.2, 0.5), High(0.025, 0.06)]));
        Assert.Equal(-2, same.ErrorToExplain([Low(-0.5, -0.2), Low(-0.06, -0.01), Right])!.Value, 1e-12);
    }

    [Fact]
    public void The_sentence_names_the_source_what_it_moves_and_what_to_rule_out()
    {
        var shared = SharedDoubt.Among([Of(10, (Pipette, -0.042)), Of(1, (Pipette, -0.0031))]).Single();
        const string Leans = "Nitrate and phosphate lean on one source, P200, gain: when it is off by its standard uncertainty, they move by +0,42\u202f% and +0,31\u202f%.";
        Assert.Equal(Leans, VerdictWords.Say(shared, ["nitrate", "phosphate"], [Right, High(0.01, 0.02)], DecimalSign.Comma));
        Assert.Equal(Leans + " One error of it, of 2,4 standard uncertainties, would explain why both read wrong. Rule it out first, with a water that does without it; then look at the analyser.",
            VerdictWords.Say(shared, ["nitrate", "phosphate"], [High(0.1, 0.2), High(0.0065, 0.0075)], DecimalSign.Comma));
        Assert.Contains("would have to be 110 standard uncertainties large to explain why both read wrong, far beyond", VerdictWords.Say(shared, ["nitrate", "phosphate"], [High(4.6, 5), High(0.3, 0.4)], DecimalSign.Point), StringComparison.Ordinal);
    }
}
