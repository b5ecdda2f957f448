using System.Text.Json;
using CsCheck;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

public class PassingBablokLineTests
{
    private static readonly JsonElement Cases = CheckData.Json("method-comparison/pair_slopes.json");

    public static TheoryData<string> Names => [.. Cases.EnumerateArray().Select(c => c.GetProperty("name").GetString()!)];

    private static JsonElement Case(string name) => Cases.EnumerateArray().Single(c => c.GetProperty("name").GetString() == name);

    private static PassingBablokLine Fit(double[] x, double[] y, double coverage = 0.95) => PassingBablokLine.Fit(x, y, coverage, TestContext.Current.CancellationToken);

    private static double Limit(JsonElement owner, string name, double unbounded) => owner.GetProperty(name) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : unbounded;

    // Passing and Bablok 1983 as published, every slope listed as a ratio of whole numbers: make_pair_slopes.py
    [Theory, MemberData(nameof(Names))]
    public void Lines_and_limits_agree_with_all_slopes_listed(string name)
    {
        var json = Case(name);
        var expected = json.GetProperty("passing_bablok");
        var line = Fit(json.GetProperty("x").Numbers(), json.GetProperty("y").Numbers());
        Assert.Equal(expected.GetProperty("slopes").GetInt64(), line.Slopes);
        Assert.Equal(expected.GetProperty("below").GetInt64(), line.BelowMinusOne);
        Assert.Equal(expected.Number("slope"), line.Slope, 1e-15);
        Assert.Equal(Limit(expected, "low", double.NegativeInfinity), line.SlopeInterval.Low, 1e-15);
        Assert.Equal(Limit(expected, "high", double.PositiveInfinity), line.SlopeInterval.High, 1e-15);
        Assert.Equal(expected.Number("intercept"), line.Intercept, 1e-12);
        Assert.Equal(Limit(expected, "intercept_low", double.NegativeInfinity), line.InterceptInterval.Low, 1e-12);
        Assert.Equal(Limit(expected, "intercept_high", double.PositiveInfinity), line.InterceptInterval.High, 1e-12);
    }

    // method_comparison.json: computed apart from this project, in doubles
    [Fact]
    public void Two_flow_meters_give_the_known_line()
    {
        var expected = CheckData.Json("method-comparison/method_comparison.json").GetProperty("passing_bablok_computed").GetProperty("result");
        var json = Case("peak flow");
        var line = Fit(json.GetProperty("x").Numbers(), json.GetProperty("y").Numbers());
        Assert.Equal(expected.Number("slope"), line.Slope, 1e-15);
        Assert.Equal(new Interval(expected.GetProperty("slope_ci").Numbers()[0], expected.GetProperty("slope_ci").Numbers()[1]), line.SlopeInterval);
        Assert.Equal(expected.GetProperty("intercept_ci").Numbers()[0], line.InterceptInterval.Low, 1e-12);
        Assert.Equal(expected.GetProperty("intercept_ci").Numbers()[1], line.InterceptInterval.High, 1e-12);
    }

    public static TheoryData<string> NamesWithTheilSen => [.. Cases.EnumerateArray().Where(c => c.TryGetProperty("theil_sen", out _)).Select(c => c.GetProperty("name").GetString()!)];

    // scipy.stats.theilslopes, no equal y, so that its tie correction is Sen's
    [Theory, MemberData(nameof(NamesWithTheilSen))]
    public void Theil_Sen_agrees_with_scipy(string name)
    {
        var json = Case(name);
        var expected = json.GetProperty("theil_sen");
        var line = TheilSenLine.Fit(json.GetProperty("x").Numbers(), json.GetProperty("y").Numbers(), cancel: TestContext.Current.CancellationToken);
        Assert.Equal(1, line.Slope / expected.Number("slope"), 1e-11);
        Assert.Equal(expected.Number("intercept"), line.Intercept, 1e-11);
        Assert.Equal(1, line.SlopeInterval.Low / expected.Number("low"), 1e-11);
        Assert.Equal(1, line.SlopeInterval.High / expected.Number("high"), 1e-11);
    }

    private static readonly Gen<(double[] X, double[] Y)> Readings =
        from n in Gen.Int[8, 120]
        from places in Gen.Int[1, 3]
        from seed in Gen.Int[0, 1_000_000]
        select Draw(n, places, new Random(seed));

    private static (double[] X, double[] Y) Draw(int n, int places, Random random)
    {
        double[] t = [.. Enumerable.Range(0, n).Select(_ => 1 + 20 * random.NextDouble())];
        return ([.. t.Select(v => Math.Round(v + random.NextDouble() - 0.5, places))], [.. t.Select(v => Math.Round(0.2 + 1.1 * v + random.NextDouble() - 0.5, places))]);
    }

    // the median of an even number is not that of the reciprocals: only the limits and an odd median go through exactly
    [Fact]
    public void Exchanging_the_methods_gives_the_same_line() => Readings.Sample(r =>
    {
        var line = Fit(r.X, r.Y);
        var turned = Fit(r.Y, r.X);
        Assert.Equal(line.Slopes, turned.Slopes);
        if (line.Slopes % 2 == 1)
            Assert.Equal(1, line.Slope * turned.Slope, 1e-14);
        else
            Assert.Equal(1, line.Slope * turned.Slope, 0.01);
        if (double.IsFinite(line.SlopeInterval.High) && line.SlopeInterval.Low > 0)
        {
            Assert.Equal(1, line.SlopeInterval.Low * turned.SlopeInterval.High, 1e-14);
            Assert.Equal(1, line.SlopeInterval.High * turned.SlopeInterval.Low, 1e-14);
        }
    });

    [Fact]
    public void A_common_unit_a_shift_and_the_order_go_through() => Gen.Select(Readings, Gen.Int[-3, 3], Gen.Int[-500, 500], Gen.Int[-500, 500]).Sample((r, power, dx, dy) =>
    {
        // decimals stay decimals, so the ranks stay the same
        double Moved(double v, int shift) => (double)(((decimal)v + shift / 10m) * (decimal)Math.Pow(10, power));
        var line = Fit(r.X, r.Y);
        var moved = Fit([.. r.X.Select(v => Moved(v, dx)).Reverse()], [.. r.Y.Select(v => Moved(v, dy)).Reverse()]);
        Assert.Equal(line.Slope, moved.Slope);
        Assert.Equal(line.SlopeInterval, moved.SlopeInterval);
        Assert.Equal(line.Intercept + dy / 10.0 - line.Slope * dx / 10, moved.Intercept / Math.Pow(10, power), 1e-9);
    });

    [Fact]
    public void Wide_keys_give_the_same_line() => Readings.Sample(r =>
    {
        var narrow = Fit(r.X, r.Y);
        var wide = PassingBablokLine.Fit(r.X, r.Y, new PairSlopes<Int128>(ReadingGrid.Of(r.X, r.Y, sharedStep: true), 100), 0.95, CancellationToken.None);
        Assert.Equal(narrow, wide);
    });

    [Fact]
    public void A_wider_coverage_holds_a_narrower_one() => Readings.Sample(r =>
    {
        var (narrow, wide) = (Fit(r.X, r.Y, 0.8).SlopeInterval, Fit(r.X, r.Y, 0.99).SlopeInterval);
        Assert.True(wide.Low <= narrow.Low && narrow.Low <= narrow.High && narrow.High <= wide.High);
    });

    // 20 000 readings, decimals: the counts and the line of a listing of all 199 999 999 slopes in whole numbers by numpy, make_large.py
    [Fact]
    public void Twenty_thousand_readings_agree_with_all_their_slopes_listed()
    {
        var expected = CheckData.Json("method-comparison/large.json");
        var (x, y) = PortableNumbers.Comparison(20_000);
        var line = Fit(x, y);
        Assert.Equal(expected.GetProperty("slopes").GetInt64(), line.Slopes);
        Assert.Equal(expected.GetProperty("below").GetInt64(), line.BelowMinusOne);
        Assert.Equal(expected.Number("slope"), line.Slope, 1e-15);
        Assert.Equal(expected.Number("low"), line.SlopeInterval.Low, 1e-15);
        Assert.Equal(expected.Number("high"), line.SlopeInterval.High, 1e-15);
        Assert.Equal(expected.Number("intercept"), line.Intercept, 1e-12);
        Assert.Equal(expected.Number("intercept_low"), line.InterceptInterval.Low, 1e-12);
        Assert.Equal(expected.Number("intercept_high"), line.InterceptInterval.High, 1e-12);
    }

    [Fact]
    public void A_limit_past_the_end_is_unbounded()
    {
        // four points have six slopes, C = 5.8: the ranks are 0 and 7
        var line = Fit([1, 2, 3, 4], [1.1, 2, 3.2, 3.9]);
        Assert.Equal(new Interval(double.NegativeInfinity, double.PositiveInfinity), line.SlopeInterval);
        Assert.Equal(new Interval(double.NegativeInfinity, double.PositiveInfinity), line.InterceptInterval);
        Assert.True(double.IsFinite(line.Slope));
        // many verticals: the upper limit is one of them
        var steep = Fit([1, 1, 1, 1, 2, 2, 2, 2, 3, 3], [1, 2, 3, 4, 2, 3, 4, 5, 3.5, 5.5]);
        Assert.Equal(double.PositiveInfinity, steep.SlopeInterval.High);
        Assert.True(double.IsFinite(steep.SlopeInterval.Low));
    }

    [Fact]
    public void Bad_input_is_refused_by_name()
    {
        Assert.Contains("2 values in x", Assert.Throws<ArgumentException>("x", () => Fit([1, 2], [1, 2])).Message, StringComparison.Ordinal);
        Assert.Contains("3 values of x and 4 of y", Assert.Throws<ArgumentException>("y", () => Fit([1, 2, 3], [1, 2, 3, 4])).Message, StringComparison.Ordinal);
        Assert.Contains("Value 2 of y is NaN", Assert.Throws<ArgumentException>("y", () => Fit([1, 2, 3], [1, double.NaN, 3])).Message, StringComparison.Ordinal);
        Assert.Contains("are the same", Assert.Throws<ArgumentException>("x", () => Fit([1, 1, 1], [2, 2, 2])).Message, StringComparison.Ordinal);
        Assert.Contains("vertical", Assert.Throws<ArgumentException>("x", () => Fit([1, 1, 1], [2, 3, 4])).Message, StringComparison.Ordinal);
        Assert.Contains("is -1", Assert.Throws<ArgumentException>("x", () => Fit([1, 2, 3], [3, 2, 1])).Message, StringComparison.Ordinal);
        Assert.Contains("below -1", Assert.Throws<ArgumentException>("x", () => Fit([1, 2, 3], [6, 4, 1])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>("coverage", () => Fit([1, 2, 3], [1, 2, 3], 95));
        Assert.Contains("All 3 values of x are 1", Assert.Throws<ArgumentException>("x", () => TheilSenLine.Fit([1, 1, 1], [1, 2, 3], cancel: TestContext.Current.CancellationToken)).Message, StringComparison.Ordinal);
        Assert.Throws<OperationCanceledException>(() => PassingBablokLine.Fit([1, 2, 3], [1, 2, 3], cancel: new CancellationToken(canceled: true)));
    }
}
