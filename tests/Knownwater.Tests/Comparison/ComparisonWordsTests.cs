using Knownwater.Comparison;
using Knownwater.Quantities;
using Knownwater.Statistics;

namespace Knownwater.Tests.Comparison;

public class ComparisonWordsTests
{
    private static readonly double[] X = [1.1, 2.0, 2.9, 4.2, 5.1, 5.8, 7.2, 8.1, 8.9, 10.2, 10.9, 12.1];

    private static double[] Other(double offset, double gain) => [.. X.Select((x, i) => offset + gain * x + (i % 2 == 0 ? 0.1 : -0.1))];

    private static string Deming(double offset, double gain) => ComparisonWords.Say(DemingLine.Fit(X, Other(offset, gain)), DecimalSign.Point);

    [Fact]
    public void Two_methods_alike_show_no_difference() => Assert.StartsWith("No difference shows: a slope of ", Deming(0, 1), StringComparison.Ordinal);

    [Fact]
    public void A_constant_difference_is_told_as_such()
    {
        Assert.StartsWith("y reads 1.0", Deming(1, 1), StringComparison.Ordinal);
        Assert.Contains("higher than x", Deming(1, 1), StringComparison.Ordinal);
        Assert.Contains("lower than x", Deming(-1, 1), StringComparison.Ordinal);
        Assert.Contains("much alike at every level", Deming(1, 1), StringComparison.Ordinal);
    }

    [Fact]
    public void A_gain_is_told_by_what_y_does_where_x_rises_by_one()
    {
        Assert.StartsWith("The two part as the level rises: where x rises by 1, y rises by 1.", Deming(0, 1.2), StringComparison.Ordinal);
        Assert.Contains("At zero no difference shows", Deming(0, 1.2), StringComparison.Ordinal);
        Assert.Contains("At zero y would read ", Deming(2, 1.2), StringComparison.Ordinal);
        Assert.Contains("y changes by \u22121.", Deming(20, -1.2), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_sentence_says_that_no_method_judges_the_other()
    {
        double[] y = Other(0.3, 1.1), u = [.. X.Select(_ => 0.1)];
        Assert.All(
            [
                ComparisonWords.Say(DemingLine.Fit(X, y), DecimalSign.Point),
                ComparisonWords.Say(YorkLine.Fit(X, y, u, u), DecimalSign.Point),
                ComparisonWords.Say(PassingBablokLine.Fit(X, y, cancel: TestContext.Current.CancellationToken), DecimalSign.Point),
                ComparisonWords.Say(LimitsOfAgreement.Of([.. X.Zip(y, (a, b) => b - a)]), DecimalSign.Point),
            ],
            sentence => Assert.Contains("not which is right.", sentence, StringComparison.Ordinal));
    }

    [Fact]
    public void Where_the_promise_ends_is_said()
    {
        Assert.EndsWith("where x and y err alike and errors do not grow with the level; a wrong ratio bends the line itself.", Deming(0, 1), StringComparison.Ordinal);
        Assert.Contains("as 2.5 : 1", ComparisonWords.Say(DemingLine.Fit(X, Other(0, 1), 2.5), DecimalSign.Point), StringComparison.Ordinal);
        var few = ComparisonWords.Say(PassingBablokLine.Fit(X, Other(0, 1), cancel: TestContext.Current.CancellationToken), DecimalSign.Point);
        Assert.Contains("87 % with 20 pairs", few, StringComparison.Ordinal);
        Assert.EndsWith("The promise is for 20 to 100 pairs; here are 12.", few, StringComparison.Ordinal);
        double[] x = [.. X, .. X.Select(v => v + 0.33)], y = [.. Other(0, 1), .. Other(0.31, 1)];
        Assert.DoesNotContain("here are", ComparisonWords.Say(PassingBablokLine.Fit(x, y, cancel: TestContext.Current.CancellationToken), DecimalSign.Point), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.01, "scatter more than")]
    [InlineData(0.07, "scatter as their stated")]
    [InlineData(1.0, "scatter less than")]
    public void Yorks_sentence_weighs_the_stated_uncertainties(double u, string says)
    {
        double[] all = [.. X.Select(_ => u)];
        Assert.Contains(says, ComparisonWords.Say(YorkLine.Fit(X, Other(0, 1), all, all), DecimalSign.Point), StringComparison.Ordinal);
    }

    [Fact]
    public void A_mean_difference_and_the_next_one_are_told()
    {
        var said = ComparisonWords.Say(LimitsOfAgreement.Of([0.5, 0.7, 0.6, 0.4, 0.8]), DecimalSign.Comma);
        Assert.StartsWith("On average y reads 0,60 ± 0,20 higher than x. The next pair will differ by 0,12 to 1,08 (95 %).", said, StringComparison.Ordinal);
        Assert.StartsWith("On average no difference shows: y − x is 0.00 ±", ComparisonWords.Say(LimitsOfAgreement.Of([-0.1, 0.1, 0.2, -0.2]), DecimalSign.Point).Replace('\u2212', '−'), StringComparison.Ordinal);
        Assert.StartsWith("In every pair y reads 0.3 lower than x: without scatter", ComparisonWords.Say(LimitsOfAgreement.Of([-0.3, -0.3]), DecimalSign.Point), StringComparison.Ordinal);
        Assert.StartsWith("All pairs read the same", ComparisonWords.Say(LimitsOfAgreement.Of([0, 0]), DecimalSign.Point), StringComparison.Ordinal);
    }

    [Fact]
    public void Pairs_that_settle_no_slope_say_so()
    {
        Assert.StartsWith("The 4 pairs do not settle a slope", ComparisonWords.Say(PassingBablokLine.Fit([1, 2, 3, 4], [1.1, 2, 3.2, 3.9], cancel: TestContext.Current.CancellationToken), DecimalSign.Point), StringComparison.Ordinal);
        Assert.Contains("Take more pairs", ComparisonWords.Say(DemingLine.Fit([1, 2, 3, 2.5], [2, 1, 3, 2.2]), DecimalSign.Point), StringComparison.Ordinal);
    }
}
