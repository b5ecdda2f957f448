using CsCheck;
using Knownwater.Statistics;
using Sets = Knownwater.Tests.Statistics.StatisticalReferenceDatasets;

namespace Knownwater.Tests.Statistics;

public class SampleTests
{
    // NIST StRD. The values of NumAcc2 to 4 are decimals; their rounding to doubles limits the standard deviation to 15, 9 and 8 digits and the autocorrelation alike.
    [Theory]
    [InlineData("PiDigits", 14.5)]
    [InlineData("Lottery", 14.5)]
    [InlineData("Lew", 14.5)]
    [InlineData("Mavro", 13)]
    [InlineData("Michelso", 13.5)]
    [InlineData("NumAcc1", 15)]
    [InlineData("NumAcc2", 14.5)]
    [InlineData("NumAcc3", 9)]
    [InlineData("NumAcc4", 8)]
    public void Mean_standard_deviation_and_autocorrelation_have_the_certified_digits_that_the_doubles_allow(string set, double least)
    {
        var certified = Sets.ReadUnivariate(set);
        var moments = SampleMoments.Of(certified.Values);
        Assert.InRange(Sets.Digits(moments.Mean, certified.Mean), 15, 15);
        Assert.InRange(Sets.Digits(moments.StandardDeviation, certified.StandardDeviation), least, 15);
        Assert.InRange(Sets.Digits(Autocorrelation.Lag1(certified.Values), certified.Autocorrelation), Math.Min(least, 13), 15);
    }

    // NumAcc4 is made by its definition, which makes NumAcc3 too; on doubles the sum of squares has an exact value, here in units of 2^(-29)
    [Fact]
    public void The_standard_deviation_of_NumAcc4_is_that_of_exact_arithmetic_on_the_doubles()
    {
        var values = Sets.ReadUnivariate("NumAcc4").Values;
        Int128 Units(double x) => (Int128)((x - 1e7) * (1L << 29));
        Int128 n = values.Length, sum = values.Aggregate((Int128)0, (s, x) => s + Units(x)), squares = values.Aggregate((Int128)0, (s, x) => s + Units(x) * Units(x));
        var sd = Math.Sqrt((double)(n * squares - sum * sum) / (double)(n * (n - 1))) / (1L << 29);
        Assert.Equal(1, SampleMoments.Of(values).StandardDeviation / sd, 4e-16);
    }

    // whole numbers have exact sums in 128-bit integers; every length, so that full and partial blocks of lanes are met
    [Fact]
    public void Moments_and_autocorrelation_are_those_of_exact_integers() => Check.Sample(
        Gen.Select(Gen.Int[-1000000, 1000000].Array[2, 70], Gen.Int[-1000000000, 1000000000]),
        (counts, origin) =>
        {
            if (counts.Distinct().Count() == 1)
                return;
            var values = counts.Select(i => (double)i + origin).ToArray();
            Int128 n = values.Length, sum = counts.Aggregate((Int128)0, (s, x) => s + x), squares = counts.Aggregate((Int128)0, (s, x) => s + (Int128)x * x);
            Int128 products = 0;
            for (var i = 1; i < counts.Length; i++)
                products += (n * counts[i - 1] - sum) * (n * counts[i] - sum);
            var moments = SampleMoments.Of(values);
            Assert.Equal((double)(n * squares - sum * sum) / ((double)n * ((double)n - 1)), moments.Variance, 4e-16 * moments.Variance);
            Assert.Equal((double)products / ((double)n * (double)(n * squares - sum * sum)), Autocorrelation.Lag1(values), 1e-15);
        },
        iter: 300);

    [Fact]
    public void Moments_do_not_depend_on_order_and_follow_unit_and_origin() => Check.Sample(
        Gen.Select(Gen.Int[-100000, 100000].Array[2, 60], Gen.Int[-40, 40], Gen.Int[-1000000, 1000000]),
        (counts, power, origin) =>
        {
            double[] values = [.. counts.Select(i => (double)i)];
            var moments = SampleMoments.Of(values);
            var unit = Math.ScaleB(1, power);
            // powers of two and whole shifts are exact, so that the results are the same to the last place
            var moved = SampleMoments.Of([.. values.Order().Select(v => (v + origin) * unit)]);
            return Same(moved.StandardDeviation, moments.StandardDeviation * unit) && Math.Abs(moved.Mean - (moments.Mean + origin) * unit) <= 3e-16 * unit * (Math.Abs(moments.Mean) + Math.Abs(origin) + 1);

            static bool Same(double a, double b) => Math.Abs(a - b) <= 3e-16 * Math.Abs(b);
        },
        iter: 500);

    [Fact]
    public void Autocorrelation_does_not_depend_on_unit_origin_or_direction() => Check.Sample(
        Gen.Select(Gen.Int[-1000, 1000].Array[3, 40], Gen.Int[-20, 20], Gen.Int[-1000, 1000]),
        (counts, power, origin) =>
        {
            if (counts.Distinct().Count() == 1)
                return;
            var r = Autocorrelation.Lag1([.. counts.Select(i => (double)i)]);
            Assert.Equal(r, Autocorrelation.Lag1([.. counts.Select(i => Math.ScaleB(i + origin, power)).Reverse()]), 1e-15);
            Assert.InRange(r, -1, 1);
        },
        iter: 300);

    [Fact]
    public void Constant_data_have_exactly_their_mean_and_no_scatter() => Check.Sample(
        Gen.Select(Gen.Double[-1e9, 1e9], Gen.Int[2, 40]),
        (x, n) =>
        {
            var moments = SampleMoments.Of(Enumerable.Repeat(x, n).ToArray());
            return moments.Mean == x && moments.StandardDeviation == 0 && moments.StandardDeviationOfMean == 0;
        });

    // (1, 2, 3, 4): mean 2.5, variance 5/3
    [Fact]
    public void A_shift_leaves_the_scatter_alone()
    {
        Assert.Equal(5.0 / 3, SampleMoments.Of([1, 2, 3, 4]).Variance, 1e-15);
        Assert.Equal(5.0 / 3, SampleMoments.Of([1e12 + 1, 1e12 + 2, 1e12 + 3, 1e12 + 4]).Variance, 1e-15);
        Assert.Equal(1e12 + 2.5, SampleMoments.Of([1e12 + 1, 1e12 + 2, 1e12 + 3, 1e12 + 4]).Mean);
    }

    [Fact]
    public void One_value_has_a_mean_and_says_that_it_has_no_standard_deviation()
    {
        var one = SampleMoments.Of([7.5]);
        Assert.Equal(7.5, one.Mean);
        Assert.Contains("at least two", Assert.Throws<InvalidOperationException>(() => one.StandardDeviation).Message);
    }

    [Fact]
    public void No_values_or_no_numbers_are_refused()
    {
        Assert.Contains("at least 1", Assert.Throws<ArgumentException>(() => SampleMoments.Of([])).Message);
        Assert.Contains("Value 2", Assert.Throws<ArgumentException>(() => SampleMoments.Of([1, double.NaN])).Message);
        Assert.Throws<OverflowException>(() => SampleMoments.Of([1e200, -1e200]));
    }

    // ISO 5725-2:1994 and the e-Handbook; four decimals printed
    [Fact]
    public void Critical_values_of_Grubbs()
    {
        foreach (var row in CheckData.Rows("distributions/grubbs_critical.csv"))
        {
            var n = (int)row["n"];
            Assert.Equal(row["one_sided_5pct"], Grubbs.CriticalValue(n, 0.05, twoSided: false), 0.51e-4);
            Assert.Equal(row["one_sided_1pct"], Grubbs.CriticalValue(n, 0.01, twoSided: false), 0.51e-4);
            Assert.Equal(row["two_sided_5pct"], Grubbs.CriticalValue(n, 0.05, twoSided: true), 0.51e-4);
            Assert.Equal(row["two_sided_1pct"], Grubbs.CriticalValue(n, 0.01, twoSided: true), 0.51e-4);
        }
    }

    // NIST/SEMATECH e-Handbook 1.3.5.17.1
    [Fact]
    public void Grubbs_finds_the_outlier_of_the_uranium_data()
    {
        var grubbs = CheckData.Json("outliers/outlier_examples.json").GetProperty("grubbs");
        var data = grubbs.GetProperty("data").Numbers();
        var (index, g) = Grubbs.Farthest(data);
        Assert.Equal(245.57, data[index]);
        Assert.Equal(grubbs.GetProperty("recomputed").Number("G"), g, 1e-13);
        Assert.Equal(grubbs.GetProperty("published").Number("G"), g, 0.9e-4);   // printed 2.4687, cut not rounded
        Assert.Equal(grubbs.GetProperty("recomputed").Number("critical_one_sided"), Grubbs.CriticalValue(data.Length, 0.05, twoSided: false), 1e-12);
        Assert.Equal(grubbs.GetProperty("recomputed").Number("critical_two_sided"), Grubbs.CriticalValue(data.Length, 0.05, twoSided: true), 1e-12);
        Assert.Equal((0, 0.0), Grubbs.Farthest([4, 4, 4]));
    }

    // by hand: 1, 2, 4, 4 over 1…4: slope 1.1, residual sum of squares 0.7, se = √(0.35/5), t = 4.1576 with 2 degrees of freedom;
    // there P(|t| > x) = 1 − x/√(2 + x²)
    [Fact]
    public void The_trend_of_four_readings_by_hand()
    {
        var trend = OrderTrend.Of([1, 2, 4, 4]);
        Assert.Equal(1.1, trend.Slope, 1e-14);
        Assert.Equal(Math.Sqrt(0.07), trend.SlopeStandardError, 1e-14);
        var t = 1.1 / Math.Sqrt(0.07);
        Assert.Equal(t, trend.T, 1e-12);
        Assert.Equal(1 - t / Math.Sqrt(2 + t * t), trend.P, 1e-12);
        Assert.Equal(2, trend.Dof);
    }

    [Fact]
    public void Readings_on_a_line_have_a_certain_trend_and_equal_ones_have_none()
    {
        var line = OrderTrend.Of([0.1, 0.2, 0.3, 0.4, 0.5]);
        Assert.Equal(0, line.P);
        Assert.Equal(double.PositiveInfinity, line.T);
        var level = OrderTrend.Of([0.1, 0.1, 0.1]);
        Assert.Equal((0.0, 0.0, 1.0), (level.Slope, level.T, level.P));
        Assert.Throws<ArgumentException>(() => OrderTrend.Of([1, 2]));
    }

    [Fact]
    public void A_trend_does_not_depend_on_unit_or_offset_and_changes_sign_with_the_order() => Check.Sample(
        Gen.Select(Gen.Int[0, 2000].Array[5, 12], Gen.Double[0.01, 100]),
        (steps, k) =>
        {
            double[] x = [.. steps.Select(i => i / 1000.0)];
            var trend = OrderTrend.Of(x);
            var scaled = OrderTrend.Of([.. x.Select(v => k * v + 10 * k)]);
            var reversed = OrderTrend.Of([.. x.Reverse()]);
            Assert.Equal(trend.P, scaled.P, 1e-9);
            Assert.Equal(trend.P, reversed.P, 1e-9);
            Assert.Equal(trend.Slope, -reversed.Slope, 1e-12);
        },
        iter: 200);
}
