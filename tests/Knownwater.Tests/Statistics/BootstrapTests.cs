using System.Text.Json;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

public class BootstrapTests
{
    private static readonly JsonElement Cases = CheckData.Json("method-comparison/bootstrap.json");

    public static TheoryData<int> Numbers => [0, 1, 2];

    // scipy.stats.bootstrap's intervals from scipy's own replicates, make_bootstrap.py
    [Theory, MemberData(nameof(Numbers))]
    public void Intervals_of_given_replicates_agree_with_scipy(int number)
    {
        var json = Cases[number];
        double[] replicates = json.GetProperty("replicates").Numbers(), leftOut = json.GetProperty("left_out").Numbers();
        foreach (var level in (double[])[0.95, 0.8])
        {
            Same(json.GetProperty($"percentile {level}"), Bootstrap.Percentile(replicates, level));
            Same(json.GetProperty($"BCa {level}"), Bootstrap.BiasCorrected(replicates, json.Number("estimate"), leftOut, level));
        }

        static void Same(JsonElement expected, Interval interval)
        {
            Assert.Equal(1, interval.Low / expected[0].GetDouble(), 1e-12);
            Assert.Equal(1, interval.High / expected[1].GetDouble(), 1e-12);
        }
    }

    // the estimates with one left out by numpy's own deletion, and scipy's interval within what chance moves the quantile of 499 replicates: 4 standard errors of either end are a fifth of the width
    [Fact]
    public void Demings_slope_is_resampled_as_scipy_does()
    {
        var json = Cases[2];
        var statistic = new DemingStatistic(json.GetProperty("data")[0].Numbers(), json.GetProperty("data")[1].Numbers());
        var ours = Bootstrap.Of(statistic, 4000, seed: 3, TestContext.Current.CancellationToken);
        Assert.Equal(json.Number("estimate"), ours.Estimates[0], 1e-13);
        var outputs = new double[2];
        var weights = Enumerable.Repeat(1.0, 30).ToArray();
        weights[4] = 0;
        statistic.Evaluate(weights, outputs);
        Assert.Equal(json.GetProperty("left_out")[4].GetDouble(), outputs[0], 1e-13);
        var expected = json.GetProperty("BCa 0.95").Numbers();
        Assert.Equal(expected[0], ours.BiasCorrected().Low, (expected[1] - expected[0]) / 5);
        Assert.Equal(expected[1], ours.BiasCorrected().High, (expected[1] - expected[0]) / 5);
    }

    [Fact]
    public void The_same_seed_gives_the_same_replicates_and_further_ones_change_none()
    {
        var statistic = new Mean([1, 5, 2, 8, 4, 4.5, 9, 1.5, 3]);
        var cancel = TestContext.Current.CancellationToken;
        double[] first = [.. Bootstrap.Of(statistic, 1000, 7, cancel).Replicates()], second = [.. Bootstrap.Of(statistic, 1000, 7, cancel).Replicates()], shorter = [.. Bootstrap.Of(statistic, 300, 7, cancel).Replicates()];
        Assert.Equal(first, second);
        Assert.Equal(first[..300], shorter);
        Assert.NotEqual(first, [.. Bootstrap.Of(statistic, 1000, 8, cancel).Replicates()]);
    }

    // the bootstrap distribution of a mean has variance Σ(x − x̄)²/n², skewness of the sample over √n: here 6.9136 and 0.38 with 50 000 draws
    [Fact]
    public void Replicates_of_a_mean_have_the_variance_of_theory()
    {
        double[] values = [1, 2, 3, 4, 5, 6, 7, 8, 30];
        var replicates = Bootstrap.Of(new Mean(values), 50_000, 1, TestContext.Current.CancellationToken).Replicates();
        double mean = values.Average(), variance = values.Sum(v => (v - mean) * (v - mean)) / 81;
        Assert.Equal(mean, replicates.Average(), 5 * Math.Sqrt(variance / 50_000));
        Assert.Equal(variance, replicates.Sum(r => (r - mean) * (r - mean)) / 50_000, 0.04 * variance);
    }

    [Fact]
    public void Replicates_on_one_side_or_all_alike_still_give_an_interval()
    {
        Assert.Equal(new Interval(2, 2), Bootstrap.BiasCorrected([2, 2, 2, 2], 2, [2, 2, 2]));
        var beyond = Bootstrap.BiasCorrected([1, 2, 3, 4], 9, [8, 9, 10]);
        Assert.InRange(beyond.Low, 1, 4);
        Assert.InRange(beyond.High, beyond.Low, 4);
    }

    [Fact]
    public void Bad_input_is_refused_by_name()
    {
        var cancel = TestContext.Current.CancellationToken;
        Assert.Contains("1 values", Assert.Throws<ArgumentException>("replicates", () => Bootstrap.Percentile([1])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>("replicates", () => Bootstrap.Percentile([1, double.NaN]));
        Assert.Throws<ArgumentOutOfRangeException>("coverage", () => Bootstrap.Percentile([1, 2], 1));
        Assert.Throws<ArgumentOutOfRangeException>("estimate", () => Bootstrap.BiasCorrected([1, 2], double.NaN, [1, 2]));
        Assert.Throws<ArgumentException>("leftOut", () => Bootstrap.BiasCorrected([1, 2], 1, [1]));
        Assert.Throws<ArgumentOutOfRangeException>("resamples", () => Bootstrap.Of(new Mean([1, 2]), 99, cancel: cancel));
        Assert.Throws<ArgumentOutOfRangeException>("statistic", () => Bootstrap.Of(new Mean([1]), cancel: cancel));
        Assert.Contains("no finite value without observation 4", Assert.Throws<ArgumentException>("statistic", () => Bootstrap.Of(new DemingStatistic([0, 0, 0, 1], [0, 0, 0, 1]), cancel: cancel)).Message, StringComparison.Ordinal);
        Assert.Contains("resamples", Assert.Throws<ArgumentException>("statistic", () => Bootstrap.Of(new DemingStatistic([0, 1, 2.2], [0, 1, 2]), cancel: cancel)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>("y", () => new DemingStatistic([1, 2, 3], [1, 2]));
    }

    private sealed record Mean(double[] Values) : IResampledStatistic
    {
        public int Observations => Values.Length;

        public int Outputs => 1;

        public void Evaluate(ReadOnlySpan<double> weights, Span<double> outputs)
        {
            double sum = 0, total = 0;
            for (var i = 0; i < Values.Length; i++)
            {
                sum += weights[i] * Values[i];
                total += weights[i];
            }
            outputs[0] = sum / total;
        }
    }
}
