using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Checks;

public class LevelsCheckTests
{
    private static readonly ReportingForm Form = ReportingForm.Parse("mg/L NO3");

    private static JudgedLevel Level(Estimate known, double[] readings, int levels = 2, PriorSd? prior = null)
    {
        var plan = new LevelPlan { Reference = known, Form = Form, Tolerance = new Tolerance(0.2, 5), Levels = levels, Prior = prior };
        return new JudgedLevel(plan, LevelCheck.Judge(plan, [.. readings.Select(r => new Indication(r))]));
    }

    private static (Estimate Low, Estimate High) OneStock(double relativeU, double low = 2, double high = 10)
    {
        var stock = ErrorSource.Normal("stock", relativeU);
        return (Estimate.From(low, stock, low), Estimate.From(high, stock, high));
    }

    // by hand: y = 2.1 at 2 and 10.9 at 10, so the gain is 8.8/8 = 1.1 and the offset 2.1 − 1.1 · 2 = −0.1
    [Fact]
    public void Two_levels_give_the_line_through_both()
    {
        var (low, high) = OneStock(0.01);
        var line = LevelsCheck.Judge([Level(low, [2.0, 2.1, 2.2]), Level(high, [10.8, 10.9, 11.0])]).Line!;
        Assert.Equal(1.1, line.Gain.Value, 1e-12);
        Assert.Equal(-0.1, line.Offset.Value, 1e-12);
        // the error of one stock turns the line about zero: all of it in the gain, 1.1 · 1 %, none in the offset
        Assert.Equal(0.011, line.Gain.Contributions.Where(c => c.Source.Name == "stock").Sum(c => Math.Abs(c.Value)), 1e-12);
        Assert.Equal(0, line.Offset.Contributions.Where(c => c.Source.Name == "stock").Sum(c => Math.Abs(c.Value)), 1e-12);
        // scatter: both levels sd 0.1, n 3; u(gain)² = 2 · 0.1²/3 / 8² besides the stock
        Assert.Equal(Math.Sqrt(0.011 * 0.011 + 2 * 0.01 / 3 / 64), line.Gain.StandardUncertainty, 1e-12);
    }

    [Fact]
    public void One_stock_cannot_part_its_error_from_the_gain_and_two_can()
    {
        var (low, high) = OneStock(0.01);
        double[] two = [2.2, 2.21, 2.2, 2.19], ten = [11.0, 11.01, 11.0, 10.99];
        var one = LevelsCheck.Judge([Level(low, two), Level(high, ten)]);
        Assert.True(one.OneStock);
        Assert.True(one.NeedsSecondStock);
        Assert.Contains(VerdictWords.OnlySecondStock, VerdictWords.WhatToDo(one, DecimalSign.Point));
        Assert.Equal("stock", one.LargestSharedSource);
        var apart = LevelsCheck.Judge([Level(Estimate.From(2, 0.02, "first stock"), two), Level(Estimate.From(10, 0.1, "second stock"), ten)]);
        Assert.False(apart.OneStock);
        Assert.DoesNotContain(VerdictWords.OnlySecondStock, VerdictWords.WhatToDo(apart, DecimalSign.Point));
    }

    [Fact]
    public void A_background_that_both_share_drops_out_of_their_difference()
    {
        var background = ErrorSource.Normal("background", 0.5);
        Estimate low = Estimate.From(2, background), high = Estimate.From(10, background);
        Assert.Equal(LevelsBasis.Difference, LevelsCheck.Advised([low, high], new Tolerance(0.2, 5)));
        var judged = LevelsCheck.Judge([Level(low, [2.6, 2.61, 2.6, 2.59]), Level(high, [10.6, 10.61, 10.6, 10.59])], LevelsBasis.Difference);
        var step = Assert.Single(judged.Differences);
        Assert.Equal(0, step.Estimate.Value, 1e-12);
        Assert.DoesNotContain(step.Estimate.Contributions, c => c.Source.Name == "background" && Math.Abs(c.Value) > 1e-15);
        Assert.Equal(Verdict.ReadsRight, judged.Verdict);
        Assert.Contains(VerdictWords.OffsetNotTested, VerdictWords.Say(judged, DecimalSign.Point).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void It_reads_right_only_between_the_levels_that_passed()
    {
        var (low, high) = OneStock(0.005);
        var right = VerdictWords.Say(LevelsCheck.Judge([Level(low, [2.0, 2.01, 2.0, 1.99]), Level(high, [10.0, 10.01, 10.0, 9.99])]), DecimalSign.Point).Sentence;
        Assert.Equal("Reads right between 2 and 10\u00a0mg/L. Nothing is said about readings outside.", right);
        var wrong = VerdictWords.Say(LevelsCheck.Judge([Level(low, [2.0, 2.01, 2.0, 1.99]), Level(high, [12.0, 12.01, 12.0, 11.99])]), DecimalSign.Point).Sentence;
        Assert.StartsWith("Reads high at 10\u00a0mg/L; reads right at 2", wrong, StringComparison.Ordinal);
    }

    // 95 % of 4,000 trials ± 3 binomial standard deviations: 94.0 to 96.0 %; the long simulation narrows it
    [Theory]
    [InlineData(0.005, 3)]
    [InlineData(0.01, 4)]
    [InlineData(0.02, 5)]
    public void Offset_and_gain_of_one_stock_are_covered_in_95_percent(double stockU, int n)
    {
        const int Trials = 4000;
        var random = new Random(20261126 + n);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        int offset = 0, gain = 0, independent = 0;
        for (var trial = 0; trial < Trials; trial++)
        {
            var (low, high) = OneStock(stockU);
            var error = 1 + stockU * Normal();
            double[] Read(double value, double sd) => [.. Enumerable.Range(0, n).Select(_ => value * error + sd * Normal())];
            double[] two = Read(2, 0.03), ten = Read(10, 0.06);
            var line = LevelsCheck.Judge([Level(low, two), Level(high, ten)]).Line!;
            if (Math.Abs(line.Offset.Value) <= line.OffsetExpanded)
                offset++;
            if (Math.Abs(line.Gain.Value - 1) <= line.GainExpanded)
                gain++;
            var apart = LevelsCheck.Judge([Level(Estimate.From(2, 2 * stockU, "a"), two), Level(Estimate.From(10, 10 * stockU, "b"), ten)]).Line!;
            if (Math.Abs(apart.Gain.Value - 1) <= apart.GainExpanded)
                independent++;
        }
        Assert.InRange((double)offset / Trials, 0.94, 0.96);
        Assert.InRange((double)gain / Trials, 0.94, 0.96);
        TestContext.Current.TestOutputHelper?.WriteLine($"u {stockU}, n {n}: offset {(double)offset / Trials}, gain {(double)gain / Trials}, gain with independent errors {(double)independent / Trials}");
    }
}
