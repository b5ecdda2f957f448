using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Checks;

public class LevelCheckTests
{
    private static LevelPlan Plan(double reference = 8, double u = 0.04, double tolerance = 0.46, double percent = 0) => new()
    {
        Reference = u == 0 ? Estimate.Exact(reference) : Estimate.From(reference, ErrorSource.Normal("stock", u)),
        Form = ReportingForm.Parse("dKH"),
        Tolerance = new Tolerance(tolerance, percent),
    };

    private static Indication[] Readings(params double[] values) => [.. values.Select(v => new Indication(v))];

    // By hand: mean 8.74, s² = 0.013, t(0.975; 4) = 2.776445 (JCGM 100 Table G.2: 2.78), z = 1.959964;
    // half-width² = 2.776445² · 0.013/5 + 1.959964² · 0.04² = 0.0200424 + 0.0061463
    [Fact]
    public void Interval_is_the_t_part_and_the_normal_part_in_squares()
    {
        var judged = LevelCheck.Judge(Plan(7.9), Readings(8.6, 8.8, 8.7, 8.9, 8.7));

        Assert.Equal(0.84, judged.Bias.Value, 1e-12);
        Assert.Equal(Math.Sqrt(2.776445105 * 2.776445105 * 0.013 / 5 + 1.959963985 * 1.959963985 * 0.0016), judged.Bias.Expanded!.Value, 1e-8);
        Assert.Equal(Math.Sqrt(0.013 / 5 + 0.0016), judged.Bias.StandardUncertainty!.Value, 1e-12);
        Assert.Equal(Verdict.ReadsHigh, judged.Verdict);
        Assert.True(judged.Matters);
    }

    [Fact]
    public void Display_step_stands_outside_the_mean_and_floors_the_scatter()
    {
        // By hand: s = 0, q = 0.1: half-width² = (12.7062² · 0.01/12)/2 + 1.959964² · 0.01/12
        var judged = LevelCheck.Judge(Plan(u: 0) with { Resolution = 0.1 }, Readings(8.1, 8.1));

        Assert.Equal(Math.Sqrt(12.70620474 * 12.70620474 * 0.01 / 24 + 1.959963985 * 1.959963985 * 0.01 / 12), judged.Bias.Expanded!.Value, 1e-7);
    }

    [Fact]
    public void Declared_extension_widens_both_looks_to_97_5_percent()
    {
        // t(0.9875; 4) = 3.495406 and z = 2.241403: R, qt(0.9875, 4), qnorm(0.9875)
        var judged = LevelCheck.Judge(Plan(7.9) with { Looks = 2 }, Readings(8.6, 8.8, 8.7, 8.9, 8.7));

        Assert.Equal(Math.Sqrt(3.495406 * 3.495406 * 0.013 / 5 + 2.241403 * 2.241403 * 0.0016), judged.Bias.Expanded!.Value, 1e-6);
        Assert.Equal(0.975, judged.Bias.Coverage);
    }

    [Theory]
    [InlineData(Verdict.ReadsRight, false, 7.9, 8.0, 8.1, 8.0)]
    [InlineData(Verdict.ReadsHigh, true, 9.0, 9.1, 9.0, 9.1)]
    [InlineData(Verdict.ReadsLow, true, 7.0, 7.1, 7.0, 7.1)]
    [InlineData(Verdict.ReadsHigh, false, 8.5, 8.6, 8.3, 8.7)]
    [InlineData(Verdict.CannotTell, false, 8.5, 7.9, 8.6, 8.3)]
    public void Rule_gives_the_verdict(Verdict verdict, bool matters, params double[] readings)
    {
        var judged = LevelCheck.Judge(Plan(), Readings(readings));

        Assert.Equal(verdict, judged.Verdict);
        Assert.Equal(matters, judged.Matters);
        Assert.Equal(verdict == Verdict.CannotTell, judged.Remedy is not null);
    }

    // bias_and_scores.json: delta and u_delta of ERM Application Note 1 (constructed cases). Their delta has no sign.
    [Fact]
    public void Bias_and_its_standard_uncertainty_agree_with_the_procedure_for_certified_materials()
    {
        foreach (var entry in CheckData.Json("bias/bias_and_scores.json").GetProperty("cases").EnumerateArray())
        {
            double Number(string name) => entry.Number(name);
            var n = entry.GetProperty("n").GetInt32();
            var judged = LevelCheck.Judge(Plan(Number("certified"), Number("u_certified")), Spread(n, Number("mean"), Number("s")));

            Assert.Equal(Number("delta"), Math.Abs(judged.Bias.Value), 1e-12);
            Assert.Equal(Number("u_delta"), judged.Bias.StandardUncertainty!.Value, 1e-12);
            Assert.Equal(Number("recovery_percent"), judged.RecoveryPercent!.Value, 1e-9);
        }
    }

    private static Indication[] Spread(int n, double mean, double sd)
    {
        var pattern = Enumerable.Range(0, n).Select(i => i - (n - 1) / 2.0).ToArray();
        var scale = sd / Math.Sqrt(pattern.Sum(p => p * p) / (n - 1));
        return Readings([.. pattern.Select(p => mean + p * scale)]);
    }

    [Fact]
    public void Prior_is_pooled_by_degrees_of_freedom()
    {
        var judged = LevelCheck.Judge(Plan() with { Prior = new PriorSd(0.1, 6) }, Readings(8.0, 8.1, 8.2));

        Assert.Equal(SdOrigin.Pooled, judged.SdOrigin);
        Assert.Equal(8, judged.SdDof);
        Assert.Equal(Math.Sqrt((2 * 0.01 + 6 * 0.01) / 8), judged.SdUsed!.Value, 1e-12);
    }

    [Fact]
    public void Prior_that_the_readings_contradict_is_left_out()
    {
        var judged = LevelCheck.Judge(Plan() with { Prior = new PriorSd(0.05, 20) }, Readings(7.6, 8.4, 8.0, 8.5, 7.5));

        Assert.Equal(Scatter.WorseThanUsual, judged.Scatter);
        Assert.Equal(SdOrigin.Own, judged.SdOrigin);
        Assert.Equal(4, judged.SdDof);
    }

    [Fact]
    public void Prior_that_is_not_pooled_still_judges_the_scatter()
    {
        var judged = LevelCheck.Judge(Plan() with { Prior = new PriorSd(0.1, 20), PoolPrior = false }, Readings(8.0, 8.1, 8.05, 7.95, 8.0));

        Assert.Equal(Scatter.Usual, judged.Scatter);
        Assert.Equal(SdOrigin.Own, judged.SdOrigin);
    }

    // Chi-square limit: 0.95 quantile at 4 dof is 9.487729 (R, qchisq(0.95, 4)), so s/σ = 1.5401 is the edge
    [Theory]
    [InlineData(1.53, Scatter.Usual)]
    [InlineData(1.55, Scatter.WorseThanUsual)]
    public void Scatter_against_a_known_usual_is_the_chi_square_test(double ratio, Scatter expected) =>
        Assert.Equal(expected == Scatter.WorseThanUsual, LevelCheck.Judge(Plan() with { Prior = new PriorSd(0.1, double.PositiveInfinity) }, Spread(5, 8, 0.1 * ratio)).Scatter == Scatter.WorseThanUsual);

    [Fact]
    public void Scatter_without_a_usual_cannot_be_told() =>
        Assert.Equal(Scatter.CannotTell, LevelCheck.Judge(Plan(), Readings(8.0, 8.1, 8.0)).Scatter);

    [Fact]
    public void One_reading_without_a_prior_tells_nothing()
    {
        var judged = LevelCheck.Judge(Plan(), Readings(12));

        Assert.Equal(Verdict.CannotTell, judged.Verdict);
        Assert.Null(judged.Bias.Low);
        Assert.Null(judged.Bias.Expanded);
        Assert.Null(judged.ProbabilityWithinTolerance);
        Assert.Equal(RemedyKind.FurtherReadings, judged.Remedy!.Kind);
    }

    [Theory]
    [InlineData(7, 12, Verdict.CannotTell)]
    [InlineData(8, 12, Verdict.ReadsHigh)]
    [InlineData(8, 8.01, Verdict.CannotTell)]
    public void One_reading_raises_an_alarm_only_on_eight_degrees_of_freedom_and_never_clears(double dof, double reading, Verdict expected)
    {
        var judged = LevelCheck.Judge(Plan() with { Prior = new PriorSd(0.1, dof) }, Readings(reading));

        Assert.Equal(expected, judged.Verdict);
        Assert.Equal(Scatter.CannotTell, judged.Scatter);
    }

    [Fact]
    public void Censored_readings_below_known_water_read_low()
    {
        var below = Enumerable.Repeat(new Indication(0.02, Censoring.Below), 5).ToArray();
        var judged = LevelCheck.Judge(Plan(0.1, 0.001, 0.02), below);

        Assert.Equal(Verdict.ReadsLow, judged.Verdict);
        Assert.Equal(5, judged.Censored);
        Assert.True(judged.Bias.Low <= -0.1);
        Assert.True(judged.Bias.High >= -0.08);
    }

    [Fact]
    public void Censored_readings_that_leave_both_open_cannot_tell()
    {
        var judged = LevelCheck.Judge(Plan(0.05, 0.001, 0.02), [new(0.06, Censoring.Below), new(0.06, Censoring.Below), new(0.06, Censoring.Below)]);

        Assert.Equal(Verdict.CannotTell, judged.Verdict);
        Assert.Equal(RemedyKind.LevelWithinDisplay, judged.Remedy!.Kind);
    }

    [Fact]
    public void Readings_above_the_display_have_no_upper_end()
    {
        var judged = LevelCheck.Judge(Plan(10, 0.05, 1), [new(20, Censoring.Above), new(20, Censoring.Above), new(19.8)]);

        Assert.Equal(Verdict.ReadsHigh, judged.Verdict);
        Assert.Null(judged.Bias.High);
    }

    [Fact]
    public void Outlier_is_tested_from_five_readings_and_both_verdicts_stand()
    {
        var judged = LevelCheck.Judge(Plan(), Readings(8.0, 8.01, 8.0, 8.01, 8.0, 9.5));

        var outlier = Assert.Single(judged.Outliers);
        Assert.Equal(5, outlier.Index);
        Assert.True(outlier.IsTest);
        Assert.Equal(Verdict.CannotTell, judged.Verdict);
        Assert.Equal(Verdict.ReadsRight, judged.WithoutOutlier!.Verdict);
    }

    [Theory]
    [InlineData(0, 8.0, 8.0, 8.1)]
    [InlineData(0, 8.0, 8.02, 8.03, 8.2)]
    [InlineData(1, 8.0, 8.02, 9.5)]
    public void Below_five_readings_one_that_stands_far_off_is_flagged_only(int flags, params double[] readings)
    {
        var judged = LevelCheck.Judge(Plan() with { Resolution = 0.01 }, Readings(readings));

        Assert.Equal(flags, judged.Outliers.Count);
        Assert.All(judged.Outliers, o => Assert.False(o.IsTest));
    }

    [Fact]
    public void Bias_at_the_tolerance_is_not_blamed_on_good_water()
    {
        var judged = LevelCheck.Judge(Plan(8, 0.0577, 0.46), Readings(8.5, 8.42, 8.46, 8.43, 8.5, 8.44));

        Assert.Equal(Verdict.CannotTell, judged.Verdict);
        Assert.Equal(RemedyKind.AtTheTolerance, judged.Remedy!.Kind);
    }

    [Fact]
    public void Blank_has_no_recovery() => Assert.Null(LevelCheck.Judge(Plan(0, 0.01, 0.05), Readings(0.01, 0.02, 0.01)).RecoveryPercent);

    [Fact]
    public void Exact_readings_of_exact_water_are_judged_without_width()
    {
        var judged = LevelCheck.Judge(Plan(u: 0), Readings(8, 8, 8));

        Assert.Equal(Verdict.ReadsRight, judged.Verdict);
        Assert.Equal(0, judged.Bias.Expanded);
        Assert.Equal(1, judged.ProbabilityWithinTolerance);
    }

    // Normal limit of the flat-prior probability: JCGM 106:2012, 7.5 example (motor oil), p_c = 0.66 published, 0.6626297865 recomputed: y 13.6, u 1.8, limits 12.5 and 16.3.
    // The bias is judged about the middle of the limits, 14.4, with T = 1.9.
    [Fact]
    public void Probability_within_tolerance_is_the_conformity_probability()
    {
        var judged = LevelCheck.Judge(Plan(14.4, 1.8, 1.9), Readings(13.6, 13.6, 13.6));

        Assert.Equal(0.6626297865, judged.ProbabilityWithinTolerance!.Value, 1e-8);
    }

    [Fact]
    public void Known_water_that_is_too_uncertain_is_named_as_the_limit()
    {
        var judged = LevelCheck.Judge(Plan(8, 0.4, 0.5), Readings(8.0, 8.01, 8.02, 8.0));

        Assert.Equal(Verdict.CannotTell, judged.Verdict);
        Assert.Equal(RemedyKind.BetterReference, judged.Remedy!.Kind);
        Assert.Equal("stock", judged.LargestIrreducibleSource);
        Assert.False(judged.ReadingsAreTheLimit);
    }

    [Fact]
    public void Few_readings_are_offered_more()
    {
        var judged = LevelCheck.Judge(Plan() with { Looks = 2, MinutesPerReplicate = 12 }, Readings(8.0, 8.4, 8.2));

        Assert.Equal(Verdict.CannotTell, judged.Verdict);
        Assert.Equal(new Remedy(RemedyKind.FurtherReadings, 3, judged.Remedy!.Probability, IsExtension: true, 36), judged.Remedy);
        Assert.InRange(judged.Remedy.Probability!.Value, 0.25, 1);
    }

    [Fact]
    public void Verdict_does_not_depend_on_the_unit()
    {
        var small = LevelCheck.Judge(Plan(8, 0.04, 0.46) with { Resolution = 0.1 }, Readings(8.3, 8.5, 8.2, 8.4));
        var large = LevelCheck.Judge(Plan(8000, 40, 460) with { Resolution = 100 }, Readings(8300, 8500, 8200, 8400));

        Assert.Equal(small.Verdict, large.Verdict);
        Assert.Equal(small.Bias.Expanded!.Value * 1000, large.Bias.Expanded!.Value, 1e-9);
        Assert.Equal(small.ProbabilityWithinTolerance!.Value, large.ProbabilityWithinTolerance!.Value, 1e-12);
        Assert.Equal(small.SmallestVisibleBias!.Value * 1000, large.SmallestVisibleBias!.Value, 1e-3);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Reading_that_is_no_number_is_refused(double reading)
    {
        var error = Assert.Throws<ArgumentException>(() => LevelCheck.Judge(Plan(), Readings(8, reading)));
        Assert.Contains("finite number", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void No_readings_are_refused() => Assert.Throws<ArgumentException>(() => LevelCheck.Judge(Plan(), []));

    [Fact]
    public void Tolerance_of_zero_is_refused_by_name()
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => LevelCheck.Judge(Plan(tolerance: 0), Readings(8, 8)));
        Assert.Contains("tolerance", error.Message, StringComparison.OrdinalIgnoreCase);
    }
}
