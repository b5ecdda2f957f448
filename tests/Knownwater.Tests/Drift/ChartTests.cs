using Knownwater.Drift;

namespace Knownwater.Tests.Drift;

public class ChartTests
{
    private static readonly System.Text.Json.JsonElement Handbook = CheckData.Json("control-charts/control_charts_nist_handbook.json");

    [Fact]
    public void Individuals_and_their_moving_range_are_those_of_the_handbook()
    {
        // NIST/SEMATECH e-Handbook 6.3.2.2, which takes d2 = 1.128
        var example = Handbook.GetProperty("individuals_moving_range");
        var data = example.GetProperty("data").Numbers();
        var published = example.GetProperty("published");
        var (values, ranges) = ShewhartLimits.OfIndividuals(data);
        Assert.Equal(published.Number("center"), values.Centre, 1e-12);
        Assert.Equal(published.Number("mean_moving_range"), ranges.Centre, 5.1e-5);
        const double Coarse = 1.128379167 / 1.128;
        Assert.Equal(published.Number("UCL"), values.Centre + (values.Upper - values.Centre) * Coarse, 1e-3);
        Assert.Equal(published.Number("LCL"), values.Centre + (values.Lower - values.Centre) * Coarse, 1e-3);
        Assert.DoesNotContain(data, values.Signals);
    }

    [Fact]
    public void Moving_averages_are_those_of_the_handbook()
    {
        // NIST/SEMATECH e-Handbook 6.3.2.4; its two limits are unequal in the fourth decimal
        var example = Handbook.GetProperty("ewma");
        var published = example.GetProperty("published");
        var (target, s) = (example.Number("target"), example.Number("s"));
        var chart = new EwmaChart(example.Number("lambda"), example.Number("L"));
        var averages = chart.Averages([.. example.GetProperty("data").Numbers().Select(x => (x - target) / s)]);
        var printed = example.GetProperty("published_ewma_2dp").Numbers();
        for (var i = 0; i < printed.Length; i++)
            Assert.Equal(printed[i], target + s * averages[i], 0.0051);
        Assert.Equal(published.Number("UCL"), target + s * chart.LimitAt(1), 1.1e-4);
        Assert.Equal(published.Number("LCL"), target - s * chart.LimitAt(1), 1.1e-4);
    }

    [Fact]
    public void Cumulative_sums_are_those_of_the_handbook()
    {
        // NIST/SEMATECH e-Handbook 6.3.2.3
        var example = Handbook.GetProperty("cusum_tabular");
        var (target, sigma) = (example.Number("target"), example.Number("sigma_of_mean"));
        var chart = new CusumChart(example.Number("k") / sigma, example.Number("h") / sigma);
        var sums = chart.Sums([.. example.GetProperty("data").Numbers().Select(x => (x - target) / sigma)]);
        var (high, low) = (example.GetProperty("published_S_hi_2dp").Numbers(), example.GetProperty("published_S_lo_2dp").Numbers());
        for (var i = 0; i < high.Length; i++)
        {
            Assert.Equal(high[i], sigma * sums[i].Upper, 0.0101);
            Assert.Equal(low[i], sigma * sums[i].Lower, 0.0101);
        }
        Assert.Equal(example.GetProperty("published_first_signal_index_1based").GetInt32(), 1 + Array.FindIndex(sums, c => Math.Max(c.Upper, c.Lower) > chart.H));
    }

    [Fact]
    public void Shewhart_constants_are_those_of_the_tables()
    {
        // tests/data/control-charts, six decimals
        foreach (var row in CheckData.Rows("control-charts/shewhart_constants.csv"))
        {
            var c = ShewhartConstants.Of((int)row["n"]);
            (string Name, double Value)[] all = [("d2", c.RangeFactor), ("d3", c.RangeSdFactor), ("c4", c.SdFactor), ("A2", c.MeanByRange), ("A3", c.MeanBySd), ("B3", c.SdLower), ("B4", c.SdUpper), ("B5", c.SdLowerOfSigma), ("B6", c.SdUpperOfSigma), ("D3", c.RangeLower), ("D4", c.RangeUpper), ("E2_individuals", c.IndividualsByRange)];
            foreach (var (name, value) in all)
                Assert.True(Math.Abs(row[name] - value) < 1e-6, $"n = {c.Count}, {name}: {value} beside {row[name]}");
        }
        // exact: for two values d2 = 2/√π, c4 = √(2/π), d3 = √(2 − 4/π)
        var two = ShewhartConstants.Of(2);
        Assert.Equal(2 / Math.Sqrt(Math.PI), two.RangeFactor, 1e-12);
        Assert.Equal(Math.Sqrt(2 / Math.PI), two.SdFactor, 1e-14);
        Assert.Equal(Math.Sqrt(2 - 4 / Math.PI), two.RangeSdFactor, 1e-11);
    }

    [Fact]
    public void Groups_give_limits_of_their_mean_and_standard_deviation()
    {
        // by hand with A3 = 1.628103, B4 = 2.266047 for n = 4
        var (means, sds) = ShewhartLimits.OfGroups([10, 11, 12], [1, 2, 3], 4);
        Assert.Equal(11 + 2 * 1.628103, means.Upper, 5e-6);
        Assert.Equal(11 - 2 * 1.628103, means.Lower, 5e-6);
        Assert.Equal(2 * 2.266047, sds.Upper, 5e-6);
        Assert.Equal(0, sds.Lower);
    }

    [Fact]
    public void Each_run_rule_signals_at_its_point()
    {
        var chart = new RunRulesChart();
        Assert.Equal([RunRules.None, RunRules.OneBeyondThree], chart.Signals([0.5, -3.1]));
        Assert.Equal([RunRules.None, RunRules.None, RunRules.TwoOfThreeBeyondTwo, RunRules.None], chart.Signals([2.1, 0.4, 2.2, -0.3]));
        Assert.Equal(RunRules.FourOfFiveBeyondOne, chart.Signals([-1.1, -1.2, 0.3, -1.3, -1.4])[^1]);
        var run = chart.Signals([0.1, 0.2, 0.1, 0.3, 0.1, 0.2, 0.1, 0.4, 0.2, -0.1]);
        Assert.Equal([RunRules.EightOnOneSide, RunRules.EightOnOneSide, RunRules.None], run[7..]);
        Assert.All(run[..7], r => Assert.Equal(RunRules.None, r));
        Assert.DoesNotContain((chart with { Sides = ChartSides.Upper }).Signals([-3.5, -2.5, -2.5, -2.5]), r => r != RunRules.None);
    }

    [Fact]
    public void Points_that_say_nothing_are_refused()
    {
        Assert.Throws<ArgumentException>(() => ShewhartLimits.OfIndividuals([1]));
        Assert.Throws<ArgumentException>(() => ShewhartLimits.OfIndividuals([1, 1, 1]));
        Assert.Throws<ArgumentException>(() => ShewhartLimits.OfIndividuals([1, double.NaN]));
        Assert.Throws<ArgumentException>(() => ShewhartLimits.OfGroups([1, 2], [0, 0], 3));
        Assert.Throws<ArgumentException>(() => new EwmaChart(0.2, 3).Averages([]));
        Assert.Throws<ArgumentException>(() => new CusumChart(0.5, 3).Sums([double.PositiveInfinity]));
        Assert.Throws<ArgumentException>(() => new RunRulesChart().Signals([]));
    }
}
