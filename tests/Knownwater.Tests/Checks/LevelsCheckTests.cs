using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Checks;

public class LevelsCheckTests
{
    private static readonly ReportingForm Form = ReportingForm.Parse("mg/L NO3");

    private static JudgedLevel Level(Estimate known, double mean, double sd, int n, double q = 0, PriorSd? prior = null, int levels = 2, double absolute = 0.1, double percent = 10)
    {
        var plan = new LevelPlan { Reference = known, Form = Form, Tolerance = new Tolerance(absolute, percent), Resolution = q, Levels = levels, Prior = prior, PoolPrior = false };
        return new JudgedLevel(plan, LevelCheck.Judge(plan, [.. Spread(mean, sd, n).Select(v => new Indication(v))]));
    }

    /// <summary>Readings of exactly this mean and standard deviation: half below, half above, one in the middle where n is odd.</summary>
    private static IEnumerable<double> Spread(double mean, double sd, int n)
    {
        var away = n / 2;
        var d = sd * Math.Sqrt((n - 1) / (2.0 * away));
        return Enumerable.Range(0, n).Select(i => i < away ? mean - d : i >= n - away ? mean + d : mean);
    }

    private static Estimate[] OneStock(double relative, double[] own, params double[] at)
    {
        var stock = ErrorSource.Normal("stock N-7", 1);
        return [.. at.Select((c, i) => Estimate.FromRows(c, own[i] == 0 ? [(stock, relative * c)] : [(stock, relative * c), (ErrorSource.Normal($"glassware {i}", 1), own[i] * c)]))];
    }

    // By hand: b = (10.1 − 2.3)/8 = 0.975, a = 2.3 − 2 · 0.975 = 0.35. Readings: s²/n = 0.01/4 each, so var(b) = 2 · 0.0025/64 + (0.975 · 0.01)²,
    // var(a) = 0.0025 · ((10/8)² + (2/8)²), the stock has no part in it: y = b(1 + δ)c.
    [Fact]
    public void Two_levels_from_one_stock_are_the_line_through_both_and_the_stock_is_in_the_gain_alone()
    {
        var known = OneStock(0.01, [0, 0], 2, 10);
        var judged = LevelsCheck.Judge([Level(known[0], 2.3, 0.1, 4), Level(known[1], 10.1, 0.1, 4)]);

        var line = judged.Line!;
        Assert.Equal(0.35, line.Offset.Value, 1e-12);
        Assert.Equal(0.975, line.Gain.Value, 1e-12);
        Assert.Equal(Math.Sqrt(0.0025 * (1.5625 + 0.0625)), line.Offset.StandardUncertainty, 1e-12);
        Assert.Equal(Math.Sqrt(0.005 / 64 + 0.00975 * 0.00975), line.Gain.StandardUncertainty, 1e-12);
        Assert.Equal(0.00975 * 0.00975 / (0.005 / 64 + 0.00975 * 0.00975), line.SharedShare, 1e-12);
        // cov(a, b) of readings alone: −σ²·Σc/(2·Σ(c − c̄)²) with σ² = 0.0025, Σc = 12, Σ(c − c̄)² = 32
        Assert.Equal(-0.0025 * 12 / 64, line.Covariance, 1e-12);
        Assert.True(judged.OneStock);
        Assert.Equal("stock N-7", judged.LargestSharedSource);
        Assert.Null(line.ChiSquare);
    }

    // tests/data/levels-gls: numpy, generalised least squares iterated on the gain. Fifteen digits printed; 1e-9 leaves room for the other order of inversion.
    [Theory]
    [InlineData(new[] { 1.0, 4, 10 }, 0.01, new[] { 0.004, 0.003, 0.002 }, new[] { 1.08, 4.31, 10.52 }, 0.06, new[] { 4, 4, 4 }, 0.0,
        0.0636278781847839, 1.04794109102971, 0.0300579444476473, 0.0117248211798913, -0.00012264832582627, 4.30061720716768)]
    [InlineData(new[] { 0.5, 5.0, 20 }, 0.02, new[] { 0.010, 0.005, 0.005 }, new[] { 0.55, 4.92, 19.1 }, 0.05, new[] { 3, 5, 6 }, 0.1,
        0.107248932714246, 0.95271919505268, 0.0362648970299928, 0.0198437668154434, -0.000122916288249717, 2.30773366177526)]
    public void Three_levels_agree_with_generalised_least_squares_by_numpy(double[] at, double stock, double[] own, double[] y, double sd, int[] n, double q, double a, double b, double ua, double ub, double covariance, double chiSquare)
    {
        var known = OneStock(stock, own, at);
        var usual = new PriorSd(sd, 20);
        var line = LevelsCheck.Judge([.. known.Select((k, i) => Level(k, y[i], sd, n[i], q, usual, 3))]).Line!;

        Assert.True(line.IsPooled);
        Assert.Equal(a, line.Offset.Value, 1e-9);
        Assert.Equal(b, line.Gain.Value, 1e-9);
        Assert.Equal(ua, line.Offset.StandardUncertainty, 1e-9);
        Assert.Equal(ub, line.Gain.StandardUncertainty, 1e-9);
        Assert.Equal(covariance, line.Covariance, 1e-9);
        Assert.Equal(chiSquare, line.ChiSquare!.Value, 1e-6);
        Assert.False(line.IsBent);
    }

    [Fact]
    public void Only_a_second_stock_tells_where_one_stock_carries_the_gain()
    {
        var one = OneStock(0.02, [0.002, 0.002], 2, 10);
        Estimate[] two = [Estimate.From(2, 0.04, "stock A"), Estimate.From(10, 0.2, "stock B")];
        LevelsJudgement Of(Estimate[] known) => LevelsCheck.Judge([Level(known[0], 2.4, 0.05, 5), Level(known[1], 12.1, 0.05, 5)]);

        Assert.True(Of(one).NeedsSecondStock);
        Assert.Contains(VerdictWords.OnlySecondStock, VerdictWords.WhatToDo(Of(one), DecimalSign.Point));
        Assert.False(Of(two).OneStock);
        Assert.False(Of(two).NeedsSecondStock);
        Assert.DoesNotContain(VerdictWords.OnlySecondStock, VerdictWords.WhatToDo(Of(two), DecimalSign.Point));
    }

    // By hand: the readings' step is 8.3, the known one 8; two means of n = 4, s = 0.05: half² = t²(6) · 2 · 0.0025/4 where both levels share one sd; the background of u = 0.5 is in neither
    [Fact]
    public void A_background_that_both_waters_share_drops_out_of_the_difference()
    {
        var background = ErrorSource.Normal("background", 0.5);
        Estimate[] known = [Estimate.From(2, background), Estimate.From(10, background)];
        var usual = new PriorSd(0.05, 20);
        JudgedLevel[] levels = [Level(known[0], 2.9, 0.05, 4, prior: usual), Level(known[1], 11.2, 0.05, 4, prior: usual)];

        Assert.Equal(LevelsBasis.Difference, LevelsCheck.Advised(known, new Tolerance(0.1, 10)));
        Assert.Equal(LevelsBasis.EachLevel, LevelsCheck.Advised(OneStock(0.005, [0, 0], 2, 10), new Tolerance(0.1, 10)));
        var judged = LevelsCheck.Judge(levels, LevelsBasis.Difference);
        var step = Assert.Single(judged.Differences);
        Assert.Equal(0.3, step.Estimate.Value, 1e-12);
        // t(0.975; 6) = 2.446912 (JCGM 100 Table G.2: 2.45)
        Assert.Equal(2.446911851 * Math.Sqrt(2 * 0.0025 / 4), step.Expanded, 1e-8);
        Assert.Equal(0.9, step.Tolerance, 1e-12);
        Assert.Equal(Verdict.ReadsRight, judged.Verdict);
        Assert.Null(judged.RightBetween);
        Assert.Contains("An offset was not tested.", VerdictWords.Say(judged, DecimalSign.Point).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_method_reads_right_only_between_the_levels_that_passed()
    {
        Estimate[] known = [.. new double[] { 2, 5, 10 }.Select(Estimate.Exact)];
        LevelsJudgement Of(params double[] means) => LevelsCheck.Judge([.. known.Select((k, i) => Level(k, means[i], 0.01, 5, levels: 3))]);

        Assert.Equal("Reads right between 2 and 10\u00A0mg/L. Nothing is said about readings outside.", VerdictWords.Say(Of(2, 5, 10), DecimalSign.Point).Sentence);
        Assert.Equal("Reads high at 10\u00A0mg/L; reads right between 2 and 5\u00A0mg/L.", VerdictWords.Say(Of(2, 5, 12), DecimalSign.Point).Sentence);
        Assert.Equal("Reads high at 5\u00A0mg/L; reads right at 2 and 10\u00A0mg/L.", VerdictWords.Say(Of(2, 6, 10), DecimalSign.Point).Sentence);
        Assert.Null(Of(2, 6, 10).RightBetween);
        Assert.True(Of(2, 6, 10).Line!.IsBent);
    }

    // 1 − 0.05/2 and so on; z(0.9875) = 2.241403 (two levels), as two looks at one level
    [Fact]
    public void Levels_share_the_chance_of_a_wrong_word()
    {
        Assert.Equal(0.95, new LevelPlan { Reference = 1, Form = Form, Tolerance = new Tolerance(1, 0) }.Coverage);
        Assert.Equal(0.975, new LevelPlan { Reference = 1, Form = Form, Tolerance = new Tolerance(1, 0), Levels = 2 }.Coverage, 1e-15);
        Assert.Equal(0.9875, new LevelPlan { Reference = 1, Form = Form, Tolerance = new Tolerance(1, 0), Levels = 2, Looks = 2 }.Coverage, 1e-15);
        var (alone, together) = (ReplicatePlanning.Plan(1, 0.5, 0.1), ReplicatePlanning.Plan(1, 0.5, 0.1, levels: 2));
        Assert.True(together.N > alone.N);
        Assert.Equal(ReplicatePlanning.Plan(1, 0.5, 0.1, looks: 2).N, together.N);
    }

    [Fact]
    public void One_level_or_two_forms_are_refused_with_a_sentence()
    {
        var level = Level(Estimate.Exact(2), 2, 0.1, 3);
        Assert.Contains("needs two or more", Assert.Throws<ArgumentException>(() => LevelsCheck.Judge([level])).Message, StringComparison.Ordinal);
        var other = level with { Plan = level.Plan with { Form = ReportingForm.Parse("mg/L NO3-N") } };
        Assert.Contains("Write all in one form", Assert.Throws<ArgumentException>(() => LevelsCheck.Judge([level, other])).Message, StringComparison.Ordinal);
    }

    // A check of 4,000 draws: 94 to 96 % widened by three binomial standard deviations, 3·√(0.95·0.05/4000) = 1.03. The long simulation is docs/reference/levels.md.
    [Theory]
    [InlineData(0.005, 3)]
    [InlineData(0.01, 4)]
    [InlineData(0.02, 6)]
    public void Intervals_of_offset_and_gain_hold_the_truth_with_one_stock(double relative, int n)
    {
        const int trials = 4000;
        var random = new Random(20260903);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        double[] at = [2, 10];
        var known = OneStock(relative, [0.003, 0.003], at);
        var usual = new PriorSd(0.1, 20);
        int offset = 0, gain = 0;
        for (var trial = 0; trial < trials; trial++)
        {
            var stock = Normal();
            var levels = new JudgedLevel[2];
            for (var i = 0; i < 2; i++)
            {
                var truth = at[i] * (1 + relative * stock + 0.003 * Normal());
                var readings = Enumerable.Range(0, n).Select(_ => 0.05 + 1.03 * truth + 0.1 * Normal()).ToArray();
                var moments = Knownwater.Statistics.SampleMoments.Of(readings);
                levels[i] = Level(known[i], moments.Mean, moments.StandardDeviation, n, prior: usual, percent: 30);
            }
            var line = LevelsCheck.Judge(levels).Line!;
            offset += Math.Abs(line.Offset.Value - 0.05) <= line.OffsetExpanded ? 1 : 0;
            gain += Math.Abs(line.Gain.Value - 1.03) <= line.GainExpanded ? 1 : 0;
        }
        Assert.InRange(100.0 * offset / trials, 94 - 1.03, 96 + 1.03);
        Assert.InRange(100.0 * gain / trials, 94 - 1.03, 96 + 1.03);
    }
}
