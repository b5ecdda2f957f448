using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Drift;

public class DriftModelTests
{
    private static readonly Dictionary<string, double> Outside = CheckData.Rows("drift/drift.csv").ToDictionary(r => r.Text("name"), r => r["value"]);
    private static readonly Tolerance One = new(1, 0);

    // nothing between checks: a half-normal prior so narrow that all its mass lies at zero; the level as good as flat
    private static readonly DriftPriors NothingBetween = new() { BetweenScale = 1e-9, BetweenDof = double.PositiveInfinity, LevelSd = 1e3, TypicalDof = 1e-6 };
    private static readonly DriftPriors Flat = new() { BetweenScale = 1e9, BetweenDof = double.PositiveInfinity, LevelSd = 30, TypicalDof = 1e-6 };

    [Fact]
    public void Combined_bias_is_that_of_generalised_least_squares_with_the_shared_stocks()
    {
        var combined = DriftModel.Fit(TwoStocks(), NothingBetween).CombinedBias;
        Assert.Equal(Outside["gls value"], combined.Value, 1e-6);
        Assert.Equal(Outside["gls u"], combined.StandardUncertainty, 1e-6);
        Assert.Equal(Outside["gls value"] - 1.959964 * Outside["gls u"], combined.Interval.Low, 1e-5);
        Assert.Equal(6, combined.Checks);
    }

    [Fact]
    public void Stability_is_the_distance_from_the_level_of_the_own_stock()
    {
        var stability = DriftModel.Fit(TwoStocks(), NothingBetween).Stability;
        for (var i = 0; i < 6; i++)
        {
            Assert.Equal(Outside[$"deviation {i + 1}"], stability[i].Deviation!.Value, 1e-6);
            Assert.Equal(Outside[$"deviation u {i + 1}"], stability[i].StandardUncertainty, 1e-6);
        }
    }

    [Fact]
    public void Error_of_a_stock_does_not_show_in_the_stability_view()
    {
        var before = DriftModel.Fit(TwoStocks()).Stability;
        var after = DriftModel.Fit(TwoStocks(secondStock: 0.4)).Stability;
        Assert.All(before.Zip(after), pair => Assert.Equal(pair.First.Deviation!.Value, pair.Second.Deviation!.Value, 0.02));
    }

    [Fact]
    public void Forecasts_with_known_scatter_are_those_of_least_squares()
    {
        var forecasts = DriftModel.Fit(TwoStocks(), NothingBetween).Forecasts;
        Assert.Null(forecasts[0].Score);
        Assert.Null(forecasts[1].Score);
        // the level has a standard deviation of 1000 instead of none
        for (var i = 3; i <= 6; i++)
            Assert.Equal(Outside[$"score {i}"], forecasts[i - 1].Score!.Value, 1e-5);
    }

    private static readonly double[] Ten = [0.11, -0.23, 0.35, 0.02, -0.41, 0.18, 0.27, -0.09, 0.05, -0.16];

    [Fact]
    public void Standard_deviation_between_checks_has_its_chi_square_posterior()
    {
        var between = DriftModel.Fit(Alike(Ten, 1e-3), Flat).Components.Between;
        // grid of the standard deviation ends at 6 tolerances, and 4000 steps read the limits
        Assert.Equal(Outside["between median"], between.Value, 2e-3 * Outside["between median"]);
        Assert.Equal(Outside["between low"], between.Interval.Low, 5e-3 * Outside["between low"]);
        Assert.Equal(Outside["between high"], between.Interval.High, 5e-3 * Outside["between high"]);
    }

    [Fact]
    public void Forecasts_with_unknown_scatter_are_those_of_t()
    {
        var forecasts = DriftModel.Fit(Alike(Ten, 1e-3), Flat).Forecasts;
        // three checks leave one degree of freedom, where the end of the grid at 6 tolerances cuts some of the tail off
        for (var i = 6; i <= 10; i++)
            Assert.Equal(Outside[$"t score {i}"], forecasts[i - 1].Score!.Value, 5e-3);
    }

    [Fact]
    public void Balanced_one_way_layout_has_the_limits_of_plain_quadrature()
    {
        double[] means = [0.52, 0.13, 0.81, 0.35, 0.60], sds = [0.21, 0.33, 0.18, 0.26, 0.30];
        var checks = means.Select((m, i) => Check(i, Estimate.Exact(m), 4, sds[i], 3));
        var components = DriftModel.Fit(new DriftHistory(One, checks, typical: new TypicalSd(0.25, 0, "invented")), Flat).Components;
        var within = components.WithinAt(10);
        Assert.Equal(Outside["oneway between median"], components.Between.Value, 5e-3);
        Assert.Equal(Outside["oneway between low"], components.Between.Interval.Low, 5e-3);
        Assert.Equal(Outside["oneway between high"], components.Between.Interval.High, 1e-2);
        Assert.Equal(Outside["oneway within 0.025"], within.Interval.Low, 3e-3);
        Assert.Equal(Outside["oneway within 0.5"], within.Value, 3e-3);
        Assert.Equal(Outside["oneway within 0.975"], within.Interval.High, 3e-3);
        // one reading of any day; a display in steps of 3 scatters by its rounding, 3/√12, and not by less
        Assert.Equal(Outside["oneway reading sd"], components.ReadingSd(10), 5e-3);
        Assert.Equal(Outside["oneway between rms"], components.BetweenRms, 5e-3);
        Assert.Equal(double.Hypot(3 / Math.Sqrt(12), Outside["oneway between rms"]), components.ReadingSd(10, 3), 5e-3);
    }

    [Fact]
    public void Stock_and_preparation_parts_come_from_the_ancestry()
    {
        var components = DriftModel.Fit(TwoStocks()).Components;
        // both waters of preparation 1 and of 4 share their glassware with no other preparation: fresh; stocks are shared between preparations, but for the second, which has one alone
        Assert.Equal(Math.Sqrt(4 * 0.12 * 0.12 / 6), components.Stock, 1e-12);
        Assert.Equal(Math.Sqrt((2 * 0.15 * 0.15 + 4 * 0.05 * 0.05 + 0.07 * 0.07 + 0.06 * 0.06) / 6), components.Preparation, 1e-12);
    }

    [Fact]
    public void Scatter_that_grows_with_the_level_is_told_from_a_steady_one()
    {
        // s = 0.1 at 1 and 1.0 at 10, forty degrees of freedom each: in proportion; the means scatter as they should, by s/√5
        var checks = Enumerable.Range(0, 10).Select(i => new DriftCheck
        {
            Day = 14 * i,
            Levels = [Level(1, Estimate.Exact(i % 2 == 0 ? 0.045 : -0.045), 5, 0.1, 4), Level(10, Estimate.Exact(i % 4 < 2 ? 0.45 : -0.45), 5, 1, 4)],
        });
        var components = DriftModel.Fit(new DriftHistory(One, checks)).Components;
        Assert.InRange(components.WithinAt(10).Value, 0.9, 1.15);
        Assert.InRange(components.WithinAt(1).Value, 0.08, 0.2);
    }

    [Fact]
    public void Scatter_between_two_levels_lies_on_the_curve_through_them()
    {
        // s(c) = √(0.05² + (0.0225·c)²) at 2 and 18, a thousand degrees of freedom each; so 0.2305 at 10 by the formula
        static double Curve(double c) => double.Hypot(0.05, 0.0225 * c);
        var checks = Enumerable.Range(0, 25).Select(i => new DriftCheck
        {
            Day = 14 * i,
            Levels = [Level(2, Estimate.Exact(i % 2 == 0 ? 0.03 : -0.03), 4, Curve(2), 40), Level(18, Estimate.Exact(i % 4 < 2 ? 0.2 : -0.2), 4, Curve(18), 40)],
        });
        var within = DriftModel.Fit(new DriftHistory(One, checks)).Components.WithinAt(10);
        Assert.Equal(Curve(10), within.Value, 0.01 * Curve(10));
        Assert.True(within.Interval.Contains(Curve(10)));
    }

    [Fact]
    public void Unit_of_the_history_changes_nothing_in_tolerances()
    {
        var plain = DriftModel.Fit(TwoStocks());
        var scaled = DriftModel.Fit(TwoStocks(scale: 1000));
        Assert.Equal(plain.Components.Between.Value, scaled.Components.Between.Value, 1e-9);
        Assert.Equal(1000 * plain.Components.BetweenAt(10).Value, scaled.Components.BetweenAt(10_000).Value, 1e-6);
        Assert.Equal(plain.Forecasts[5].Score!.Value, scaled.Forecasts[5].Score!.Value, 1e-9);
    }

    [Fact]
    public void Changed_setting_starts_the_course_anew()
    {
        double[] biases = [0.1, 0.0, 0.05, 0.1, 2.0, 2.1, 2.05];
        var model = DriftModel.Fit(new DriftHistory(One, Checks(biases, 0.2), [new DriftEvent(50, DriftEventKind.SettingChanged, "factor 1.02")]));
        Assert.Null(model.Forecasts[4].Score);
        Assert.InRange(model.Forecasts[5].Score!.Value, -2, 2);
        Assert.InRange(model.CombinedBias.Value, 1.9, 2.2);
        Assert.Equal(3, model.CombinedBias.Checks);
        Assert.InRange(Math.Abs(model.Stability[4].Deviation!.Value), 0, 0.1);
    }

    [Fact]
    public void A_drift_is_no_scatter_between_checks_and_its_level_is_that_of_the_last_day()
    {
        // a line by hand: level and slope by least squares, the slope with the prior N(0, 1 in 90 days)
        var days = Enumerable.Range(0, 12).Select(i => 14.0 * i).ToArray();
        double[] noise = [0.02, -0.03, 0.01, 0.04, -0.02, 0.00, 0.03, -0.04, 0.02, -0.01, 0.01, -0.03];
        var biases = days.Select((d, i) => 0.01 * d + noise[i]).ToArray();
        var history = Alike(biases, 0.1);
        var change = ChangePoint.Find(history);
        Assert.Equal(CourseKind.Drift, change.Kind);
        var onset = change.LikeliestOnset!.Value;
        var (plain, settled) = (DriftModel.Fit(history), DriftModel.Fit(history).Beside(change));
        Assert.True(plain.Components.Between.Interval.Low > 0.3, $"{plain.Components.Between}");
        Assert.True(settled.Components.Between.Interval.High < 0.1, $"{settled.Components.Between}");
        Assert.True(settled.Components.ReadingSd(10) < 0.13, $"{settled.Components.ReadingSd(10)}");

        Assert.All(settled.Trueness, t => Assert.InRange(t.StandardUncertainty, 0.05, 0.08));
        Assert.All(settled.Trueness.Zip(biases), t => Assert.Equal(t.Second, t.First.Bias, 1e-9));

        var r = Array.ConvertAll(days, d => Math.Max(d, onset) - days[^1]);
        var known = DriftModel.Fit(history, NothingBetween).Beside(change);
        double w = 4 / (0.1 * 0.1), a = w * 12, b = w * r.Sum(), c = w * r.Sum(x => x * x) + 90 * 90, y = w * biases.Sum(), z = w * biases.Zip(r, (v, x) => v * x).Sum();
        Assert.Equal((c * y - b * z) / (a * c - b * b), known.CombinedBias.Value, 1e-5);
        Assert.Equal(Math.Sqrt(c / (a * c - b * b)), known.CombinedBias.StandardUncertainty, 1e-3 * known.CombinedBias.StandardUncertainty);
    }

    [Fact]
    public void A_step_at_no_event_begins_a_level_of_its_own()
    {
        double[] biases = [0.02, -0.03, 0.05, 0.01, -0.02, 1.52, 1.48, 1.55, 1.49, 1.51];
        var history = Alike(biases, 0.1);
        var change = ChangePoint.Find(history);
        Assert.Equal(CourseKind.Step, change.Kind);
        var settled = DriftModel.Fit(history).Beside(change);
        Assert.Equal(5, settled.CombinedBias.Checks);
        Assert.InRange(settled.CombinedBias.Value, 1.48, 1.54);
        Assert.True(settled.Components.Between.Interval.High < 0.1 && DriftModel.Fit(history).Components.Between.Interval.Low > 0.3);
    }

    [Fact]
    public void Where_nothing_changed_the_model_beside_it_is_the_model()
    {
        var history = Alike(Ten, 0.3);
        var change = ChangePoint.Find(history);
        Assert.Equal(CourseKind.Steady, change.Kind);
        var model = DriftModel.Fit(history);
        Assert.Same(model, model.Beside(change));
    }

    [Fact]
    public void History_without_a_check_or_with_no_tolerance_is_refused()
    {
        Assert.Contains("no check", Assert.Throws<ArgumentException>(() => new DriftHistory(One, [])).Message, StringComparison.Ordinal);
        Assert.Contains("tolerance at 0 is zero", Assert.Throws<ArgumentException>(() => new DriftHistory(new Tolerance(0, 5), [new DriftCheck { Day = 0, Levels = [Level(0, Estimate.Exact(0), 3, 0.1, 2)] }])).Message, StringComparison.Ordinal);
    }

    private static DriftLevel Level(double known, Estimate bias, int n, double sd, double dof) => new() { Known = known, Bias = bias, Replicates = n, Sd = sd, SdDof = dof };

    private static DriftCheck Check(int i, Estimate bias, int n, double sd, double dof, double known = 10, string? stock = null, string? preparation = null) =>
        new() { Day = 14 * i, Levels = [Level(known, bias, n, sd, dof)], Stock = stock, Preparation = preparation };

    private static IEnumerable<DriftCheck> Checks(double[] biases, double sd) => biases.Select((b, i) => Check(i, Estimate.Exact(b), 4, sd, 3));

    private static DriftHistory Alike(double[] biases, double sd) => new(One, biases.Select((b, i) => Check(i, Estimate.Exact(b), 4, sd, 1e4)), typical: new TypicalSd(sd, 0, "invented"));

    /// <summary>Case 1 of drift.R; within sd known with a million degrees of freedom.</summary>
    private static DriftHistory TwoStocks(double scale = 1, double secondStock = 0)
    {
        double[] y = [0.31, 0.18, 0.44, 0.25, -0.12, 0.02];
        int[] n = [3, 5, 4, 3, 5, 3], stock = [0, 0, 0, 0, 1, 1], preparation = [0, 0, 1, 2, 3, 3];
        var stocks = new[] { 0.12, 0.15 }.Select((u, i) => ErrorSource.Normal($"stock {i}", u * scale)).ToArray();
        var preparations = new[] { 0.05, 0.07, 0.06, 0.05 }.Select((u, i) => ErrorSource.Normal($"preparation {i}", u * scale)).ToArray();
        return new DriftHistory(new Tolerance(scale, 0), y.Select((value, i) =>
        {
            var bias = Estimate.FromRows((value + secondStock * stock[i]) * scale, [(stocks[stock[i]], stocks[stock[i]].StandardUncertainty), (preparations[preparation[i]], preparations[preparation[i]].StandardUncertainty)]);
            return Check(i, bias, n[i], 0.2 * scale, 1e6, 10 * scale, $"stock {stock[i]}", $"preparation {preparation[i]}");
        }), typical: new TypicalSd(0.2 * scale, 0, "invented"));
    }
}
