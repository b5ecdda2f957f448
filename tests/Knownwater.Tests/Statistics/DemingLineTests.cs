using System.Text.Json;
using CsCheck;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

public class DemingLineTests
{
    private static readonly JsonElement Lines = CheckData.Json("method-comparison/lines.json").GetProperty("deming");

    // closed form computed apart from this project, method_comparison.json
    [Fact]
    public void Two_flow_meters_give_the_known_line()
    {
        var rows = CheckData.Rows("method-comparison/bland_altman_1986_pefr.csv");
        var line = DemingLine.Fit([.. rows.Select(r => r["wright_first_L_per_min"])], [.. rows.Select(r => r["mini_wright_first_L_per_min"])]);
        Assert.Equal(0.9708808197649392, line.Slope, 1e-14);
        Assert.Equal(15.231555522330893, line.Intercept, 1e-11);
        Assert.Equal(17, line.N);
    }

    public static TheoryData<int> Cases => [.. Enumerable.Range(0, Lines.GetArrayLength())];

    // total least squares by numpy's singular value decomposition, make_lines.py
    [Theory, MemberData(nameof(Cases))]
    public void Generated_lines_agree_with_total_least_squares(int number)
    {
        var (json, line) = Fit(number);
        Assert.Equal(1, line.Slope / json.Number("slope"), 1e-12);
        Assert.Equal(json.Number("intercept"), line.Intercept, 1e-11);
    }

    // scipy.odr with constant uncertainties of that ratio; it stops at six to nine digits, least in the last case, where the readings hardly move
    [Theory, MemberData(nameof(Cases))]
    public void Generated_lines_agree_with_ODRPACK(int number)
    {
        var (json, line) = Fit(number);
        Assert.Equal(1, line.Slope / json.GetProperty("odr").Number("slope"), 5e-7);
        Assert.Equal(json.GetProperty("odr").Number("intercept"), line.Intercept, 5e-7);
    }

    // R: the slopes at which its own correlation test gives p = 0.05, deming_interval.R
    [Theory, MemberData(nameof(Cases))]
    public void The_interval_of_the_slope_turns_round_an_exact_test(int number)
    {
        var row = CheckData.Rows("method-comparison/deming_interval.csv")[number];
        var line = Fit(number).Line;
        Assert.Equal(row["low"], line.SlopeInterval.Low, 1e-9 * Math.Abs(row["low"]));
        Assert.Equal(row["high"], line.SlopeInterval.High, 1e-9 * Math.Abs(row["high"]));
        Assert.Equal(1, line.SlopeStandardUncertainty / row["u_slope"], 1e-9);
        Assert.Equal(1, line.YErrorSd / row["error_sd_y"], 1e-9);
        Assert.Equal(line.YErrorSd, line.XErrorSd * Math.Sqrt(line.Ratio), 1e-12);
    }

    private static (JsonElement Json, DemingLine Line) Fit(int number)
    {
        var json = Lines[number];
        return (json, DemingLine.Fit(json.GetProperty("x").Numbers(), json.GetProperty("y").Numbers(), json.Number("ratio")));
    }

    // by hand: Sxx = 2, Syy = 26/3, Sxy = 4; b = (20/3 + √(400/9 + 64))/8 = (20 + √976)/24
    [Fact]
    public void Three_points_by_hand()
    {
        var line = DemingLine.Fit([0, 1, 2], [0, 1, 4]);
        Assert.Equal((20 + Math.Sqrt(976)) / 24, line.Slope, 1e-14);
        Assert.Equal(5.0 / 3 - line.Slope, line.Intercept, 1e-14);
    }

    [Fact]
    public void Points_on_a_line_leave_no_doubt()
    {
        var line = DemingLine.Fit([1, 2, 4, 8], [1.1, 2.1, 4.1, 8.1]);
        Assert.Equal(1, line.Slope, 1e-14);
        Assert.Equal(0, line.SlopeStandardUncertainty);
        Assert.Equal(new Interval(line.Slope, line.Slope), line.SlopeInterval);
        Assert.Equal(new Interval(line.Intercept, line.Intercept), line.InterceptInterval);
        Assert.Equal(1, line.Reliability);
    }

    [Fact]
    public void What_the_data_do_not_rule_out_is_unbounded()
    {
        var line = DemingLine.Fit([1, 2, 3, 2.5], [2, 1, 3, 2.2]);
        Assert.Equal(double.PositiveInfinity, line.SlopeInterval.High);
        Assert.Equal(double.NegativeInfinity, line.InterceptInterval.Low);
        Assert.True(double.IsFinite(line.Slope));
    }

    [Fact]
    public void A_very_wide_ratio_approaches_least_squares_of_y_on_x_and_of_x_on_y()
    {
        double[] x = [1, 2, 3, 4, 5.5], y = [1.2, 1.7, 3.4, 3.9, 5.2];
        var (_, _, xx, yy, xy) = CentredSums.Of(x, y);
        Assert.Equal(xy / xx, DemingLine.Fit(x, y, 1e12).Slope, 1e-11);
        Assert.Equal(yy / xy, DemingLine.Fit(x, y, 1e-12).Slope, 1e-11);
    }

    private static readonly Gen<(double[] X, double[] Y, double Ratio)> Pairs =
        from n in Gen.Int[4, 40]
        from b in Gen.OneOf(Gen.Double[0.3, 3], Gen.Double[-3, -0.3])
        from ratio in Gen.Double[0.2, 5]
        from t in Gen.Double[0, 50].Array[n]
        from z in Gen.Double[-1, 1].Array[2 * n]
        where t.Max() - t.Min() > 20
        select (t.Select((v, i) => v + z[i]).ToArray(), t.Select((v, i) => 3 + b * v + z[n + i]).ToArray(), ratio);

    [Fact]
    public void Exchanging_x_and_y_gives_the_same_line_and_limits() => Pairs.Sample(p =>
    {
        var line = DemingLine.Fit(p.X, p.Y, p.Ratio);
        var turned = DemingLine.Fit(p.Y, p.X, 1 / p.Ratio);
        Assert.Equal(1, line.Slope * turned.Slope, 1e-11);
        Assert.Equal(line.Intercept, -turned.Intercept / turned.Slope, 1e-9);
        if (double.IsFinite(line.SlopeInterval.Low) && line.SlopeInterval.Low * line.SlopeInterval.High > 0)
        {
            Assert.Equal(1, line.SlopeInterval.Low * turned.SlopeInterval.High, 1e-9);
            Assert.Equal(1, line.SlopeInterval.High * turned.SlopeInterval.Low, 1e-9);
        }
        Assert.Equal(line.YErrorSd, turned.XErrorSd, 1e-9);
    });

    [Fact]
    public void Units_shifts_and_order_go_through() => Gen.Select(Pairs, Gen.Double[-4, 4], Gen.Double[-4, 4], Gen.Double[-100, 100]).Sample((p, logX, logY, shift) =>
    {
        double fx = Math.Pow(10, logX), fy = Math.Pow(10, logY);
        var line = DemingLine.Fit(p.X, p.Y, p.Ratio);
        var moved = DemingLine.Fit([.. p.X.Select(v => fx * (v + shift)).Reverse()], [.. p.Y.Select(v => fy * v).Reverse()], p.Ratio * fy * fy / fx / fx);
        Assert.Equal(1, moved.Slope / (line.Slope * fy / fx), 1e-10);
        // of points on a line it is rounding
        var relative = line.SlopeStandardUncertainty / Math.Abs(line.Slope);
        Assert.Equal(relative, moved.SlopeStandardUncertainty / Math.Abs(moved.Slope), 1e-8 * relative + 1e-12);
        Assert.Equal(line.Intercept - line.Slope * shift, moved.Intercept / fy, 1e-8);
        Assert.Equal(line.Reliability, moved.Reliability, 1e-9);
    });

    [Fact]
    public void The_interval_holds_the_line_and_a_higher_coverage_holds_a_lower_one() => Pairs.Sample(p =>
    {
        var narrow = DemingLine.Fit(p.X, p.Y, p.Ratio, 0.9);
        var wide = DemingLine.Fit(p.X, p.Y, p.Ratio, 0.99);
        Assert.True(narrow.SlopeInterval.Contains(narrow.Slope));
        Assert.True(narrow.InterceptInterval.Contains(narrow.Intercept));
        Assert.True(wide.SlopeInterval.Contains(narrow.SlopeInterval.Low) && wide.SlopeInterval.Contains(narrow.SlopeInterval.High));
        Assert.True(wide.InterceptInterval.Contains(narrow.InterceptInterval.Low) && wide.InterceptInterval.Contains(narrow.InterceptInterval.High));
    });

    // no relation but for the rounding of 1000.001 and its like
    [Fact]
    public void A_relation_that_is_rounding_is_none() =>
        Assert.Contains("not related", Assert.Throws<ArgumentException>("y", () => DemingLine.Fit([1000.001, 1000, 1000.002, 1000.003], [1000, 1000.002, 1000.003, 1000.001])).Message, StringComparison.Ordinal);

    // tiny grids, many of them of equal values, on a line or without relation, some far from zero
    [Fact]
    public void Whatever_the_readings_no_number_is_missing() =>
        Gen.Select(Gen.Int[0, 3].Array[3, 8], Gen.Int[0, 3].Array[3, 8], Gen.Int[-6, 6], Gen.Int[-3, 3], Gen.Bool).Sample((a, b, power, ratio, far) =>
        {
            var n = Math.Min(a.Length, b.Length);
            double scale = Math.Pow(10, power), origin = far ? 1e6 : 0;
            double[] x = [.. a.Take(n).Select(v => scale * (origin + v))], y = [.. b.Take(n).Select(v => scale * (origin + v))];
            DemingLine line;
            try
            {
                line = DemingLine.Fit(x, y, Math.Pow(10, ratio));
            }
            catch (ArgumentException)
            {
                return;
            }
            Assert.True(double.IsFinite(line.Slope) && double.IsFinite(line.Intercept) && double.IsFinite(line.SlopeStandardUncertainty) && double.IsFinite(line.InterceptStandardUncertainty));
            Assert.True(line.SlopeInterval.Contains(line.Slope) && line.InterceptInterval.Contains(line.Intercept));
        });

    [Fact]
    public void Bad_input_is_refused_by_name()
    {
        Assert.Contains("2 values in x", Assert.Throws<ArgumentException>("x", () => DemingLine.Fit([1, 2], [1, 2])).Message, StringComparison.Ordinal);
        Assert.Contains("0 values", Assert.Throws<ArgumentException>("x", () => DemingLine.Fit([], [])).Message, StringComparison.Ordinal);
        Assert.Contains("4 values of x and 3 of y", Assert.Throws<ArgumentException>("y", () => DemingLine.Fit([1, 2, 3, 4], [1, 2, 3])).Message, StringComparison.Ordinal);
        Assert.Contains("NaN", Assert.Throws<ArgumentException>("y", () => DemingLine.Fit([1, 2, 3], [1, double.NaN, 3])).Message, StringComparison.Ordinal);
        Assert.Contains("All 3 values of x are 5", Assert.Throws<ArgumentException>("x", () => DemingLine.Fit([5, 5, 5], [1, 2, 3])).Message, StringComparison.Ordinal);
        Assert.Contains("All 3 values of y are 5", Assert.Throws<ArgumentException>("y", () => DemingLine.Fit([1, 2, 3], [5, 5, 5])).Message, StringComparison.Ordinal);
        Assert.Contains("not related", Assert.Throws<ArgumentException>("y", () => DemingLine.Fit([-1, 1, -1, 1], [-1, -1, 1, 1])).Message, StringComparison.Ordinal);
        Assert.Contains("above zero", Assert.Throws<ArgumentOutOfRangeException>("ratio", () => DemingLine.Fit([1, 2, 3], [1, 2, 4], 0)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>("coverage", () => DemingLine.Fit([1, 2, 3], [1, 2, 4], coverage: 1));
        Assert.Throws<OverflowException>(() => DemingLine.Fit([-1e200, 0, 1e200], [1, 2, 4]));
    }
}
