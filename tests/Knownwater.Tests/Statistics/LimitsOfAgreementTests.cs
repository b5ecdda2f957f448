using CsCheck;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

public class LimitsOfAgreementTests
{
    private static double[] PeakFlow() => [.. CheckData.Rows("method-comparison/bland_altman_1986_pefr.csv").Select(r => r["wright_first_L_per_min"] - r["mini_wright_first_L_per_min"])];

    // Bland and Altman 1986, printed digits; they take 2 s for 1.96 s, the share of a normal distribution within 2 s is 0.9544997
    [Fact]
    public void Two_flow_meters_give_the_printed_limits()
    {
        var limits = LimitsOfAgreement.Of(PeakFlow(), share: 0.954499736103642);
        Assert.Equal(17, limits.N);
        Assert.Equal(-2.1, limits.Bias, 0.05);
        Assert.Equal(38.8, limits.Sd, 0.05);
        Assert.Equal(-79.7, limits.Limits.Low, 0.06);
        Assert.Equal(75.5, limits.Limits.High, 0.1);    // printed from the rounded 38.8
        Assert.Equal(9.4, limits.BiasStandardUncertainty, 0.05);
        Assert.Equal(-22.0, limits.BiasInterval.Low, 0.05);
        Assert.Equal(17.8, limits.BiasInterval.High, 0.05);
    }

    // recomputed beside the printed figures, method_comparison.json
    [Fact]
    public void Two_flow_meters_agree_with_a_second_computation()
    {
        var expected = CheckData.Json("method-comparison/method_comparison.json").GetProperty("bland_altman").GetProperty("recomputed");
        var limits = LimitsOfAgreement.Of(PeakFlow());
        Assert.Equal(expected.Number("bias"), limits.Bias, 1e-12);
        Assert.Equal(expected.Number("s"), limits.Sd, 1e-12);
        Assert.Equal(expected.GetProperty("limits_1.96s").Numbers()[0], limits.Limits.Low, 0.0015);    // 1.96 there, 1.959964 here
        Assert.Equal(expected.GetProperty("ci95_bias").Numbers()[0], limits.BiasInterval.Low, 1e-11);
        Assert.Equal(expected.GetProperty("ci95_bias").Numbers()[1], limits.BiasInterval.High, 1e-11);
    }

    public static TheoryData<int> Cases => [.. Enumerable.Range(0, CheckData.Rows("method-comparison/limits.csv").Count)];

    // scipy.stats.nct.ppf and t, make_limits.py; R 4.2.2 gives qt(0.975, 39)*sqrt(1 + 1/40) = 2.04781847875956 too
    [Theory, MemberData(nameof(Cases))]
    public void Exact_intervals_agree_with_scipy(int number)
    {
        var row = CheckData.Rows("method-comparison/limits.csv")[number];
        var n = (int)row["n"];
        // an even number by pairs, an odd one by pairs and a zero: mean 0, standard deviation 1
        var size = n % 2 == 0 ? Math.Sqrt((n - 1.0) / n) : 1;
        double[] differences = number == 0 ? PeakFlow() : [.. Enumerable.Range(0, n).Select(i => i == n - 1 && n % 2 == 1 ? 0 : i % 2 == 0 ? size : -size)];
        var limits = LimitsOfAgreement.Of(differences, row["share"], row["coverage"]);
        void Same(string column, double actual) => Assert.Equal(row[column], actual, 1e-10 * Math.Max(1, Math.Abs(row[column])));
        Same("mean", limits.Bias);
        Same("sd", limits.Sd);
        Same("bias_low", limits.BiasInterval.Low);
        Same("bias_high", limits.BiasInterval.High);
        Same("lower", limits.Limits.Low);
        Same("upper", limits.Limits.High);
        Same("lower_low", limits.LowerLimitInterval.Low);
        Same("lower_high", limits.LowerLimitInterval.High);
        Same("upper_low", limits.UpperLimitInterval.Low);
        Same("upper_high", limits.UpperLimitInterval.High);
        Same("next_low", limits.PredictionInterval.Low);
        Same("next_high", limits.PredictionInterval.High);
    }

    private static readonly Gen<double[]> Differences = Gen.Double[-10, 10].Array[2, 60].Where(d => d.Max() - d.Min() > 0.01);

    [Fact]
    public void Units_shifts_order_and_exchange_go_through() => Gen.Select(Differences, Gen.Double[-3, 3], Gen.Double[-50, 50]).Sample((d, log, shift) =>
    {
        var f = Math.Pow(10, log);
        var limits = LimitsOfAgreement.Of(d);
        var moved = LimitsOfAgreement.Of([.. d.Select(v => -f * (v + shift)).Reverse()]);
        void Same(double expected, double actual) => Assert.Equal(-(expected + shift), actual / f, 1e-9);
        Same(limits.Bias, moved.Bias);
        Same(limits.Limits.Low, moved.Limits.High);
        Same(limits.LowerLimitInterval.Low, moved.UpperLimitInterval.High);
        Same(limits.LowerLimitInterval.High, moved.UpperLimitInterval.Low);
        Same(limits.PredictionInterval.Low, moved.PredictionInterval.High);
    });

    [Fact]
    public void The_next_difference_lies_wider_than_the_limits_and_each_limit_in_its_interval() => Differences.Sample(d =>
    {
        var limits = LimitsOfAgreement.Of(d);
        Assert.True(limits.PredictionInterval.Low < limits.Limits.Low && limits.Limits.High < limits.PredictionInterval.High);
        Assert.True(limits.LowerLimitInterval.Contains(limits.Limits.Low) && limits.UpperLimitInterval.Contains(limits.Limits.High));
    });

    [Fact]
    public void Equal_differences_leave_points()
    {
        var limits = LimitsOfAgreement.Of([0.3, 0.3, 0.3]);
        Assert.Equal(new Interval(0.3, 0.3), limits.Limits);
        Assert.Equal(new Interval(0.3, 0.3), limits.UpperLimitInterval);
        Assert.Equal(0, limits.Sd);
    }

    [Fact]
    public void Many_differences_are_no_trouble()
    {
        var limits = LimitsOfAgreement.Of([.. Enumerable.Range(0, 1_000_000).Select(i => i % 2 == 0 ? 1.0 : -1)]);
        // large sample: se of the limit is s √((1 + z²/2)/n)
        Assert.Equal(1.959964 * Math.Sqrt((1 + 1.959964 * 1.959964 / 2) / 1e6), limits.UpperLimitInterval.High - limits.Limits.High, 2e-5);
    }

    [Fact]
    public void Bad_input_is_refused_by_name()
    {
        Assert.Contains("1 values in differences", Assert.Throws<ArgumentException>("differences", () => LimitsOfAgreement.Of([1])).Message, StringComparison.Ordinal);
        Assert.Contains("Value 2 of differences is NaN", Assert.Throws<ArgumentException>("differences", () => LimitsOfAgreement.Of([1, double.NaN])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>("share", () => LimitsOfAgreement.Of([1, 2], share: 1));
        Assert.Throws<ArgumentOutOfRangeException>("coverage", () => LimitsOfAgreement.Of([1, 2], coverage: 0));
    }
}
