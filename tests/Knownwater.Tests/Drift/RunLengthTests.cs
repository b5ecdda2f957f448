using System.Globalization;
using Knownwater.Drift;

namespace Knownwater.Tests.Drift;

public class RunLengthTests
{
    [Fact]
    public void Run_lengths_of_random_designs_are_those_of_R_package_spc()
    {
        // tests/data/arl-spc: 200 designs in zero state, 20 in steady state, 10 under drift
        var rows = CheckData.Rows("arl-spc/arl.csv");
        Assert.Equal(230, rows.Count);
        foreach (var row in rows)
        {
            var sides = row.Text("sides") == "both" ? ChartSides.Both : ChartSides.Upper;
            ControlChart chart = row.Text("chart") == "ewma"
                ? new EwmaChart(row["lambda_or_k"], row["width_or_h"]) { Sides = sides, TimeVaryingLimits = row.Text("limits") == "time-varying" }
                : new CusumChart(row["lambda_or_k"], row["width_or_h"]) { Sides = sides, HeadStart = row["head_start"] };
            var found = row.Text("kind") switch
            {
                "zero" => chart.AverageRunLength(row["shift_or_slope"]),
                "steady" => chart.SteadyStateAverageRunLength(row["shift_or_slope"]),
                _ => chart.AverageRunLengthUnderDrift(row["shift_or_slope"]),
            };
            // with limits that vary the package goes over to settled ones early: the first such row is 1.19207695355 there, 1.19207698490 by plain quadrature with numpy
            // under drift it stops the mean's rise: a slope of 0.001 gives 177.37193157 there, 177.37192155 by plain quadrature
            var digits = row.Text("limits") == "time-varying" || row.Text("kind") == "drift" ? 1e-6 : 1e-8;
            Assert.True(Math.Abs(found / row["arl"] - 1) < digits, string.Create(CultureInfo.InvariantCulture, $"{row.Text("kind")} {chart} {row["shift_or_slope"]}: {found} beside {row["arl"]}"));
        }
    }

    [Fact]
    public void Under_drift_with_limits_that_vary_the_run_length_is_that_of_plain_quadrature()
    {
        // tests/data/arl-spc/drift.py: the density on 80 nodes carried over 4000 points with numpy
        foreach (var row in CheckData.Rows("arl-spc/drift.csv"))
            Assert.Equal(1, new EwmaChart(row["lambda"], row["width"]) { TimeVaryingLimits = true }.AverageRunLengthUnderDrift(row["slope"]) / row["arl"], 1e-9);
    }

    [Fact]
    public void Published_run_lengths_of_averages_are_met_to_their_digits()
    {
        // Lucas and Saccucci 1990, Table 3
        foreach (var row in Table.Rows("control-charts/arl_ewma.csv"))
        {
            var chart = new EwmaChart(Table.Number(row[1]), Table.Number(row[2])) { TimeVaryingLimits = row[3] == "time-varying" };
            Published(chart.AverageRunLength(Table.Number(row[4])), row[6], Table.Number(row[5]));
        }
    }

    [Fact]
    public void Published_run_lengths_of_cumulative_sums_are_met_to_their_digits()
    {
        // Lucas and Crosier 1982, Table 1; Brook and Evans 1972
        foreach (var row in Table.Rows("control-charts/arl_cusum.csv"))
        {
            var chart = new CusumChart(Table.Number(row[1]), Table.Number(row[2])) { HeadStart = Table.Number(row[3]), Sides = row[0] == "cusum_one_sided" ? ChartSides.Upper : ChartSides.Both };
            Published(chart.AverageRunLength(Table.Number(row[4])), row[6], Table.Number(row[5]));
        }
    }

    [Fact]
    public void Single_points_run_as_the_closed_form_says()
    {
        // 1/p, tests/data/control-charts; 370.4 is the usual printed value
        foreach (var row in Table.Rows("control-charts/arl_shewhart.csv"))
        {
            var shift = Table.Number(row[2]) * Math.Sqrt(Table.Number(row[1]));
            Published(new IndividualsChart(Table.Number(row[0])).AverageRunLength(shift), row[4], Table.Number(row[3]));
        }
    }

    [Fact]
    public void Run_rules_run_as_Champ_and_Woodall_printed()
    {
        // Champ and Woodall 1987, to their two decimals; the four rules together in control 91.75
        var published = CheckData.Json("control-charts/arl_runs_rules.json").GetProperty("published");
        foreach (var row in published.EnumerateArray().Select(r => r.Numbers()))
        {
            var alone = new RunRulesChart { TwoOfThree = false, FourOfFive = false, EightInARow = false };
            ControlChart[] charts = [alone, alone with { TwoOfThree = true }, alone with { FourOfFive = true }, alone with { EightInARow = true }];
            for (var i = 0; i < charts.Length; i++)
                Assert.Equal(row[i + 1], charts[i].AverageRunLength(row[0]), 0.0051);
        }
        Assert.Equal(91.75, new RunRulesChart().AverageRunLength(), 0.005);
        Assert.Equal(1, new RunRulesChart { TwoOfThree = false, FourOfFive = false, EightInARow = false }.AverageRunLength(0.7) / new IndividualsChart().AverageRunLength(0.7), 1e-12);
    }

    [Fact]
    public void A_whole_weight_makes_an_average_a_chart_of_single_points()
    {
        foreach (var shift in (double[])[0, 0.5, -1, 3])
        {
            var single = new IndividualsChart(2.7);
            var average = new EwmaChart(1, 2.7);
            Assert.Equal(1, average.AverageRunLength(shift) / single.AverageRunLength(shift), 1e-10);
            Assert.Equal(1, average.SteadyStateAverageRunLength(shift) / single.AverageRunLength(shift), 1e-10);
            Assert.Equal(1, average.AverageRunLengthUnderDrift(0.03) / single.AverageRunLengthUnderDrift(0.03), 1e-10);
        }
    }

    [Fact]
    public void The_distribution_of_the_run_length_has_the_mean_that_is_computed_directly()
    {
        ControlChart[] charts = [new EwmaChart(0.2, 2.2), new EwmaChart(0.2, 2.2) { TimeVaryingLimits = true, Sides = ChartSides.Upper }, new CusumChart(0.5, 2) { Sides = ChartSides.Upper, HeadStart = 1 }, new IndividualsChart(2), new RunRulesChart { Sides = ChartSides.Upper }];
        foreach (var chart in charts)
        {
            var signalled = chart.SignalProbabilities(4000, 0.3);
            Assert.Equal(1, (1 + signalled.Sum(p => 1 - p)) / chart.AverageRunLength(0.3), 1e-9);
        }
    }

    [Fact]
    public void Both_sides_treat_both_signs_alike_and_a_larger_shift_is_seen_sooner()
    {
        ControlChart[] charts = [new EwmaChart(0.1, 2.8), new EwmaChart(0.4, 2.9) { TimeVaryingLimits = true }, new CusumChart(0.5, 5), new IndividualsChart(), new RunRulesChart()];
        foreach (var chart in charts)
        {
            var last = chart.AverageRunLength();
            foreach (var shift in (double[])[0.3, 0.8, 1.5, 3])
            {
                var now = chart.AverageRunLength(shift);
                Assert.Equal(1, chart.AverageRunLength(-shift) / now, 1e-9);
                Assert.True(now < last);
                last = now;
            }
        }
    }

    [Fact]
    public void A_chart_designed_for_a_run_length_has_it()
    {
        // Lucas and Saccucci 1990: λ = 0.1 and 500 in control want a width of 2.814
        Assert.Equal(2.814, EwmaChart.For(0.1, 500).Width, 0.0005);
        Assert.Equal(500, EwmaChart.For(0.1, 500).AverageRunLength(), 1e-6);
        Assert.Equal(200, EwmaChart.For(0.3, 200, ChartSides.Upper, timeVaryingLimits: true).AverageRunLength(), 1e-6);
        Assert.Equal(740, CusumChart.For(0.25, 740).AverageRunLength(), 1e-6);
    }

    [Fact]
    public void Designs_out_of_range_are_refused_with_the_value_and_the_limit()
    {
        Assert.Contains("1.2", Assert.Throws<ArgumentOutOfRangeException>(() => new EwmaChart(1.2, 3)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => new EwmaChart(double.NaN, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => new EwmaChart(0.2, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new CusumChart(-0.1, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => new CusumChart(0.5, double.PositiveInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => new EwmaChart(0.2, 3) { HeadStart = 4 }.AverageRunLength());
        Assert.Throws<ArgumentOutOfRangeException>(() => new CusumChart(0.5, 3) { HeadStart = 4 }.AverageRunLength());
        Assert.Throws<ArgumentOutOfRangeException>(() => new IndividualsChart(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new IndividualsChart().AverageRunLength(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => new IndividualsChart().SignalProbabilities(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => EwmaChart.For(0.1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => EwmaChart.For(0.1, 1e10));
        Assert.Throws<InvalidOperationException>(() => new CusumChart(0.5, 4).SteadyStateAverageRunLength(1));
        Assert.Throws<ArgumentOutOfRangeException>(() => ShewhartConstants.Of(1));
    }

    // within a unit of the last digit printed, as the papers' own Markov chains are less exact; six digits of what was computed elsewhere
    private static void Published(double found, string printed, double computed)
    {
        Assert.Equal(1, found / computed, 1e-6);
        if (printed.Length == 0 || printed.Contains("typing error", StringComparison.Ordinal))
            return;
        printed = printed.Split(' ')[0];
        var decimals = printed.Contains('.', StringComparison.Ordinal) ? printed.Length - printed.IndexOf('.', StringComparison.Ordinal) - 1 : 0;
        Assert.Equal(Table.Number(printed), found, Math.Pow(10, -decimals));
    }
}
