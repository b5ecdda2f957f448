using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Knownwater.Tests.Checks;

public class SameWaterCheckTests
{
    private static readonly ReportingForm Form = ReportingForm.Parse("dKH");
    private static readonly Estimate Known = Estimate.From(7.9, 0.5, "certificate", "dKH");

    private static JudgedLevel Series(Estimate known, double[] readings, double q = 0, PriorSd? prior = null, double tolerance = 0.46, double? minutes = null)
    {
        var plan = new LevelPlan { Reference = known, Form = Form, Tolerance = new Tolerance(tolerance, 0), Resolution = q, Prior = prior, Levels = 2, MinutesPerReplicate = minutes };
        return new JudgedLevel(plan, LevelCheck.Judge(plan, [.. readings.Select(r => new Indication(r))]));
    }

    private static SameWaterJudgement Judge(double[] first, double[] second, double q = 0, PriorSd? prior = null, double tolerance = 0.46, double? minutes = null) =>
        SameWaterCheck.Judge(Series(Known, first, q, prior, tolerance, minutes), Series(Known, second, q, prior, tolerance, minutes));

    /// <summary>The difference alone, by what it reads of each series: a whole judgement of both takes a hundred times as long.</summary>
    private static SameWaterJudgement Quick(double[] first, double[] second, double q = 0) =>
        SameWaterCheck.Judge(Brief(first, q), Brief(second, q));

    private static JudgedLevel Brief(double[] readings, double q)
    {
        var plan = new LevelPlan { Reference = Known, Form = Form, Tolerance = new Tolerance(0.46, 0), Resolution = q };
        var mean = readings.Average();
        var sd = Math.Sqrt(readings.Sum(r => (r - mean) * (r - mean)) / (readings.Length - 1));
        return new JudgedLevel(plan, new LevelJudgement
        {
            Verdict = Verdict.CannotTell, Matters = false, N = readings.Length, Censored = 0, Mean = mean, Sd = sd, SdUsed = sd, SdDof = readings.Length - 1, SdOrigin = SdOrigin.Own,
            Bias = new Bias(mean - Known.Value, null, null, null, null, null, plan.Coverage), RecoveryPercent = null, ProbabilityWithinTolerance = null, Scatter = Scatter.CannotTell,
            SmallestVisibleBias = null, Remedy = null, Outliers = [], WithoutOutlier = null, TrendP = null, TrendSign = 0, LargestIrreducibleSource = null, LargestIrreducibleU = 0, ReadingsAreTheLimit = true,
        });
    }

    [Fact]
    public void What_the_simulations_judge_is_what_the_check_judges()
    {
        double[] first = [7.8, 8.0, 7.7, 8.1], second = [7.5, 7.6, 7.4, 7.7];
        var (quick, whole) = (Quick(first, second, 0.1), Judge(first, second, 0.1));
        Assert.Equal(whole.Verdict, quick.Verdict);
        Assert.Equal(whole.Low!.Value, quick.Low!.Value, 1e-12);
        Assert.Equal(whole.High!.Value, quick.High!.Value, 1e-12);
    }

    // Student (1908), the data "sleep" of R 4.2.2, group 2 against group 1, moved up by 10:
    // t.test(extra[group == 2], extra[group == 1], var.equal = TRUE): -0.203874032288 to 3.363874032288 (df 18)
    [Fact]
    public void Two_series_of_like_scatter_give_the_pooled_interval_of_R()
    {
        var judged = Judge([10.7, 8.4, 9.8, 8.8, 9.9, 13.4, 13.7, 10.8, 10, 12], [11.9, 10.8, 11.1, 10.1, 9.9, 14.4, 15.5, 11.6, 14.6, 13.4]);

        Assert.Equal(-0.203874032288, judged.Low!.Value, 1e-9);
        Assert.Equal(3.363874032288, judged.High!.Value, 1e-9);
        Assert.Equal(18, judged.Dof!.Value, 1e-12);
        Assert.NotNull(judged.PooledSd);
        Assert.Equal(Verdict.CannotTell, judged.Verdict);
    }

    // R 4.2.2: t.test(c(10.9,12.4,9.6,11.8,13.1), c(10,10.1,9.9,10,10.1)); var.test gives p = 8e-5, so that the scatters stand apart.
    [Fact]
    public void Where_one_scatter_stands_out_each_keeps_its_own_as_Welch_has_it_in_R()
    {
        var judged = Judge([10.0, 10.1, 9.9, 10.0, 10.1], [10.9, 12.4, 9.6, 11.8, 13.1]);

        Assert.Equal(-0.148407786886, judged.Low!.Value, 1e-8);
        Assert.Equal(3.228407786886, judged.High!.Value, 1e-8);
        Assert.Equal(4.03022083154, judged.Dof!.Value, 1e-8);
        Assert.Null(judged.PooledSd);
    }

    // By hand: s² = 0.01 in each of 4 readings, u = √(0.01/4 + 0.01/4). The certificate’s 0.5 dKH has no part in it.
    [Fact]
    public void The_doubt_of_the_known_water_cancels_exactly()
    {
        double[] first = [7.8, 8.0, 7.8, 8.0], second = [7.4, 7.6, 7.4, 7.6];
        var s2 = 0.04 / 3;
        var wide = Judge(first, second);
        var exact = SameWaterCheck.Judge(Series(7.9, first), Series(7.9, second));

        Assert.Equal(-0.4, wide.Difference!.Value.Value, 1e-12);
        Assert.Equal(Math.Sqrt(s2 / 2), wide.Difference.Value.StandardUncertainty, 1e-12);
        Assert.Equal(exact.Expanded!.Value, wide.Expanded!.Value, 1e-12);
        Assert.DoesNotContain(wide.Difference.Value.Contributions, c => c.Source.Name == "certificate" && c.Value != 0);
        // each series by itself cannot tell: its interval holds the certificate
        Assert.Equal(Verdict.CannotTell, wide.Second.Judgement.Verdict);
    }

    // t(6; 0.975) = 2.446912 (ISO 3534 tables): half-width 2.446912 · √(0.013333/2)
    [Fact]
    public void A_difference_beyond_tolerance_is_told_and_matters_where_the_whole_interval_is_beyond()
    {
        var judged = Judge([7.8, 8.0, 7.8, 8.0], [7.2, 7.4, 7.2, 7.4], tolerance: 0.3);

        Assert.Equal(2.446912 * Math.Sqrt(0.04 / 3 / 2), judged.Expanded!.Value, 1e-6);
        Assert.Equal(Verdict.ReadsLow, judged.Verdict);
        Assert.True(judged.Matters);
        Assert.False(Judge([7.8, 8.0, 7.8, 8.0], [7.2, 7.4, 7.2, 7.4], tolerance: 0.5).Matters);
        Assert.Equal(Verdict.ReadsRight, Judge([7.8, 8.0, 7.8, 8.0], [7.8, 8.0, 7.8, 8.0]).Verdict);
    }

    // The step rounds each mean by itself: z²·2q²/12 stands beside the readings, whose variance counts at least q²/12.
    [Fact]
    public void The_step_of_the_display_counts_once_for_each_series()
    {
        var judged = Judge([8.0, 8.0, 8.0], [8.0, 8.0, 8.0], q: 0.1);
        var readings = 2 * 0.01 / 12 / 3;

        Assert.Equal(Math.Sqrt(readings + 2 * 0.01 / 12), judged.Difference!.Value.StandardUncertainty, 1e-12);
        Assert.Equal(Verdict.ReadsRight, judged.Verdict);
    }

    [Fact]
    public void The_usual_scatter_narrows_the_interval_and_one_reading_a_series_never_clears()
    {
        var prior = new PriorSd(0.1, 20);
        var one = Judge([7.9], [7.9], prior: prior, tolerance: 5);
        var pooled = Judge([7.8, 8.0], [7.8, 8.0], prior: prior);

        Assert.Equal(Verdict.CannotTell, one.Verdict);
        Assert.Equal(20, one.Dof!.Value, 1e-12);
        Assert.Equal(22, pooled.Dof!.Value, 1e-12);
        Assert.Equal(Math.Sqrt((2 * 0.02 + 20 * 0.01) / 22), pooled.PooledSd!.Value, 1e-12);
        Assert.Null(Judge([7.9], [7.9]).Difference);
        Assert.Equal(RemedyKind.FurtherReadings, Judge([7.9], [7.9]).Remedy!.Kind);
    }

    [Fact]
    public void Limits_give_no_difference_and_two_waters_are_refused()
    {
        var plan = Series(Known, [7.9, 7.9]).Plan;
        var limit = new JudgedLevel(plan, LevelCheck.Judge(plan, [new Indication(0.5, Censoring.Below), new Indication(0.5, Censoring.Below)]));
        Assert.Equal(RemedyKind.LevelWithinDisplay, SameWaterCheck.Judge(limit, Series(Known, [7.9, 7.9])).Remedy!.Kind);

        var other = Series(Estimate.From(7.9, 0.5, "another certificate"), [7.9, 7.9]);
        Assert.Contains("Read the same water in both", Assert.Throws<ArgumentException>(() => SameWaterCheck.Judge(Series(Known, [7.9, 7.9]), other)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_words_say_which_way_and_whether_it_matters()
    {
        var low = Judge([7.9, 8.0, 7.9, 8.0, 7.9], [7.4, 7.3, 7.4, 7.3, 7.4], tolerance: 0.3);
        Assert.Equal("Through the line it reads 0.580\u00A0dKH lower than by hand, and that matters.", VerdictWords.Say(low, SameWaterKind.Line, DecimalSign.Point).Sentence);
        Assert.Equal("The new bottle reads 0,580\u00A0dKH lower than the old, and that matters.", VerdictWords.Say(low, SameWaterKind.Changeover, DecimalSign.Comma).Sentence);
        var none = Judge([7.9, 8.0, 7.9, 8.0, 7.9], [8.0, 7.9, 8.0, 7.9, 8.0]);
        Assert.Equal("The line changes nothing that matters.", VerdictWords.Say(none, SameWaterKind.Line, DecimalSign.Point).Sentence);
        Assert.Contains("your tolerance is 0.46\u00A0dKH", VerdictWords.Say(none, SameWaterKind.Line, DecimalSign.Point).Sure, StringComparison.Ordinal);
        var open = Judge([7.6, 8.2, 7.9], [7.8, 8.4, 8.1], minutes: 12);
        Assert.Equal(Verdict.CannotTell, open.Verdict);
        Assert.StartsWith("Can’t tell yet: a new check of ", VerdictWords.Say(open, SameWaterKind.Line, DecimalSign.Point).Sentence, StringComparison.Ordinal);
        Assert.NotEmpty(VerdictWords.WhatToDo(low, SameWaterKind.Line));
    }

    // The remedy’s own promise: that many readings of the same difference and scatter do decide.
    [Fact]
    public void The_number_that_the_remedy_names_would_decide()
    {
        var open = Judge([7.7, 8.1, 7.9], [7.8, 8.2, 8.0]);
        var m = open.Remedy!.Readings!.Value;
        var sd = open.PooledSd!.Value;
        double[] Of(double mean) => [.. Enumerable.Range(0, m).Select(i => mean + (i < m / 2 ? -1 : i >= m - m / 2 ? 1 : 0) * sd * Math.Sqrt((m - 1) / (2.0 * (m / 2))))];
        Assert.NotEqual(Verdict.CannotTell, Judge(Of(7.9), Of(8.0)).Verdict);
    }

    // Power by simulation of the verdict itself; 4 000 checks a side, chance moves a rate by about 1 point.
    [Theory]
    [InlineData(3, 0.2, 0.0)]
    [InlineData(5, 0.2, 0.0)]
    [InlineData(5, 0.2, 0.1)]
    public void The_plan_finds_as_often_as_it_says(int n, double sd, double q)
    {
        var normal = new Normal(0, 1, new Xoshiro256StarStar(31 + n));
        var (right, wrong) = SameWaterCheck.Power(n, 0.46, sd, q);
        int cleared = 0, found = 0;
        const int runs = 4_000;
        for (var run = 0; run < runs; run++)
        {
            cleared += Quick(Draw(7.93), Draw(7.93), q).Verdict == Verdict.ReadsRight ? 1 : 0;
            found += Quick(Draw(7.93), Draw(7.93 + 0.92), q).Verdict == Verdict.ReadsHigh ? 1 : 0;
        }
        Assert.Equal(right, (double)cleared / runs, 0.03);
        Assert.Equal(wrong, (double)found / runs, 0.03);

        double[] Draw(double mean) => [.. Enumerable.Range(0, n).Select(_ => q > 0 ? q * Math.Round((mean + sd * normal.Sample()) / q) : mean + sd * normal.Sample())];
    }

    // 95 % asked for; 20 000 checks a cell, chance moves a rate by 0.3 points. The long run is bench “same-water”.
    [Theory]
    [InlineData(3, 3, 1.0)]
    [InlineData(4, 4, 1.0)]
    [InlineData(5, 5, 1.5)]
    [InlineData(8, 8, 2.0)]
    public void The_interval_holds_the_difference_95_times_in_100(int n1, int n2, double ratio)
    {
        var normal = new Normal(0, 1, new Xoshiro256StarStar(97 + n1));
        var held = 0;
        const int runs = 20_000;
        for (var run = 0; run < runs; run++)
        {
            // the water’s own error is the same in both series
            var truth = 7.9 + 0.5 * normal.Sample();
            var judged = Quick([.. Enumerable.Range(0, n1).Select(_ => truth + 0.1 * normal.Sample())], [.. Enumerable.Range(0, n2).Select(_ => truth - 0.2 + 0.1 * ratio * normal.Sample())]);
            held += judged.Low <= -0.2 && judged.High >= -0.2 ? 1 : 0;
        }
        Assert.InRange(100.0 * held / runs, 94, 96);
    }
}
