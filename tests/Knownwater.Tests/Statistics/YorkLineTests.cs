using System.Text.Json;
using CsCheck;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

public class YorkLineTests
{
    private static readonly JsonElement Lines = CheckData.Json("method-comparison/lines.json");

    private static YorkLine PearsonYork()
    {
        var json = CheckData.Json("method-comparison/method_comparison.json").GetProperty("york_pearson");
        double[] Doubts(string weights) => [.. json.GetProperty(weights).Numbers().Select(w => 1 / Math.Sqrt(w))];
        return YorkLine.Fit(json.GetProperty("x").Numbers(), json.GetProperty("y").Numbers(), Doubts("weight_x"), Doubts("weight_y"));
    }

    // York et al. 2004, American Journal of Physics 72, 367: the printed digits
    [Fact]
    public void Pearsons_data_with_Yorks_weights_give_the_printed_line()
    {
        var line = PearsonYork();
        Assert.Equal(-0.480533407, line.Slope, 5e-10);
        Assert.Equal(5.47991022, line.Intercept, 5e-9);
        Assert.Equal(0.057985009, line.SlopeStandardUncertainty, 5e-10);
        Assert.Equal(0.294970735, line.InterceptStandardUncertainty, 6e-10);
        Assert.Equal(1.483294149, line.ChiSquare / line.Dof, 5e-10);
    }

    // recomputed from the published equations with numpy, method_comparison.json
    [Fact]
    public void Pearsons_data_with_Yorks_weights_agree_to_all_digits_of_a_second_computation()
    {
        var expected = CheckData.Json("method-comparison/method_comparison.json").GetProperty("york_pearson").GetProperty("recomputed");
        var line = PearsonYork();
        Assert.Equal(1, line.Slope / expected.Number("slope"), 1e-13);
        Assert.Equal(1, line.Intercept / expected.Number("intercept"), 1e-13);
        Assert.Equal(1, line.SlopeStandardUncertainty / expected.Number("se_slope"), 1e-12);
        Assert.Equal(1, line.InterceptStandardUncertainty / expected.Number("se_intercept"), 1e-12);
        Assert.Equal(1, line.Covariance / expected.Number("cov_ab"), 1e-12);
        Assert.Equal(1, line.ChiSquare / expected.Number("chi2"), 1e-12);
    }

    public static TheoryData<int> Cases => [.. Enumerable.Range(0, Lines.GetProperty("york").GetArrayLength())];

    // make_lines.py: least squared distances to the line in 40 digits, correlated errors too
    [Theory, MemberData(nameof(Cases))]
    public void Generated_lines_agree_with_the_definition(int number)
    {
        var json = Lines.GetProperty("york")[number];
        AssertLine(json.GetProperty("definition"), Fit(json), 1e-12);
    }

    // scipy.odr, which takes no correlation and stops at about nine digits
    [Theory, MemberData(nameof(Cases))]
    public void Generated_lines_agree_with_ODRPACK(int number)
    {
        var json = Lines.GetProperty("york")[number];
        if (json.TryGetProperty("odr", out var expected))
            AssertLine(expected, Fit(json), 5e-9);
        else
            Assert.Contains(json.GetProperty("r").Numbers(), r => r != 0);
    }

    // scipy: the least sum of squares over all directions, make_large_errors.py; a minimum tells its place to half of the digits
    [Theory, InlineData(0), InlineData(1), InlineData(2)]
    public void Errors_as_large_as_the_spread_still_find_the_least_sum_of_squares(int number)
    {
        var json = CheckData.Json("method-comparison/large_errors.json")[number];
        var line = YorkLine.Fit(json.GetProperty("x").Numbers(), json.GetProperty("y").Numbers(), json.GetProperty("ux").Numbers(), json.GetProperty("uy").Numbers());
        Assert.Equal(1, line.Slope / json.Number("slope"), 1e-6);
        Assert.Equal(1, line.ChiSquare / json.Number("chi_square"), 1e-11);
    }

    private static void AssertLine(JsonElement expected, YorkLine line, double relative)
    {
        Assert.Equal(1, line.Slope / expected.Number("slope"), relative);
        Assert.Equal(expected.Number("intercept"), line.Intercept, relative * line.InterceptStandardUncertainty * 10);
        Assert.Equal(1, line.SlopeStandardUncertainty / expected.Number("u_slope"), relative);
        Assert.Equal(1, line.InterceptStandardUncertainty / expected.Number("u_intercept"), relative);
        Assert.Equal(1, line.Covariance / expected.Number("covariance"), relative);
        Assert.Equal(1, line.ChiSquare / expected.Number("chi_square"), relative);
    }

    private static YorkLine Fit(JsonElement json)
    {
        var r = json.GetProperty("r").Numbers();
        return YorkLine.Fit(json.GetProperty("x").Numbers(), json.GetProperty("y").Numbers(), json.GetProperty("ux").Numbers(), json.GetProperty("uy").Numbers(), Array.TrueForAll(r, v => v == 0) ? [] : r);
    }

    // weighted least squares by hand: x 0, 1, 2; y 1, 2, 5; u 1, 1, 0.5, so weights 1, 1, 4. Σw 6, x̄ 1.5, ȳ 23/6, Sxx 3.5, Sxy 7.5, b 15/7
    [Fact]
    public void Exact_x_gives_weighted_least_squares()
    {
        var line = YorkLine.Fit([0, 1, 2], [1, 2, 5], [0, 0, 0], [1, 1, 0.5]);
        Assert.Equal(15.0 / 7, line.Slope, 1e-14);
        Assert.Equal(23.0 / 6 - 1.5 * 15 / 7, line.Intercept, 1e-14);
        Assert.Equal(Math.Sqrt(1 / 3.5), line.SlopeStandardUncertainty, 1e-15);
        Assert.Equal(Math.Sqrt(1 / 6.0 + 2.25 / 3.5), line.InterceptStandardUncertainty, 1e-15);
    }

    private static readonly Gen<(double[] X, double[] Y, double[] UX, double[] UY, double[] R)> Points =
        from n in Gen.Int[4, 40]
        from b in Gen.Double[0.3, 3]
        from t in Gen.Double[0, 50].Array[n]
        from z in Gen.Double[-1.5, 1.5].Array[2 * n]
        from ux in Gen.Double[0.05, 0.6].Array[n]
        from uy in Gen.Double[0.05, 0.6].Array[n]
        from r in Gen.Double[-0.8, 0.8].Array[n]
        where t.Max() - t.Min() > 20
        select (t.Select((v, i) => v + ux[i] * z[i]).ToArray(), t.Select((v, i) => 3 + b * v + uy[i] * z[n + i]).ToArray(), ux, uy, r);

    [Fact]
    public void The_order_of_the_points_does_not_matter() => Points.Sample(p =>
    {
        var line = YorkLine.Fit(p.X, p.Y, p.UX, p.UY, p.R);
        double[] Turned(double[] v) => [.. v.Reverse()];
        var turned = YorkLine.Fit(Turned(p.X), Turned(p.Y), Turned(p.UX), Turned(p.UY), Turned(p.R));
        Same(line.Slope, turned.Slope, 1e-12);
        Same(line.InterceptStandardUncertainty, turned.InterceptStandardUncertainty, 1e-11);
        Same(line.ChiSquare, turned.ChiSquare, 1e-10);
    });

    [Fact]
    public void Exchanging_x_and_y_gives_the_same_line() => Points.Sample(p =>
    {
        var line = YorkLine.Fit(p.X, p.Y, p.UX, p.UY, p.R);
        var turned = YorkLine.Fit(p.Y, p.X, p.UY, p.UX, p.R);
        Same(line.Slope, 1 / turned.Slope, 1e-11);
        Assert.Equal(line.Intercept, -turned.Intercept / turned.Slope, 1e-9);
        Same(line.ChiSquare, turned.ChiSquare, 1e-9);
    });

    [Fact]
    public void Units_and_shifts_go_through() => Gen.Select(Points, Gen.Double[-4, 4], Gen.Double[-4, 4], Gen.Double[-100, 100]).Sample((p, logX, logY, shift) =>
    {
        double fx = Math.Pow(10, logX), fy = Math.Pow(10, logY);
        double[] Times(double[] v, double f, double add) => [.. v.Select(e => f * (e + add))];
        var line = YorkLine.Fit(p.X, p.Y, p.UX, p.UY, p.R);
        var moved = YorkLine.Fit(Times(p.X, fx, shift), Times(p.Y, fy, 0), Times(p.UX, fx, 0), Times(p.UY, fy, 0), p.R);
        Same(line.Slope * fy / fx, moved.Slope, 1e-11);
        Same(line.SlopeStandardUncertainty * fy / fx, moved.SlopeStandardUncertainty, 1e-10);
        Assert.Equal(line.Intercept - line.Slope * shift, moved.Intercept / fy, 1e-9);
        Same(line.ChiSquare, moved.ChiSquare, 1e-9);
    });

    // S depends on squares of the uncertainties alone
    [Fact]
    public void Twice_the_uncertainties_leave_the_line_and_double_its_doubt() => Points.Sample(p =>
    {
        double[] Twice(double[] v) => [.. v.Select(e => 2 * e)];
        var line = YorkLine.Fit(p.X, p.Y, p.UX, p.UY, p.R);
        var wide = YorkLine.Fit(p.X, p.Y, Twice(p.UX), Twice(p.UY), p.R);
        Same(line.Slope, wide.Slope, 1e-13);
        Same(2 * line.SlopeStandardUncertainty, wide.SlopeStandardUncertainty, 1e-12);
        Same(line.ChiSquare / 4, wide.ChiSquare, 1e-11);
    });

    private static void Same(double expected, double actual, double relative) => Assert.Equal(1, actual / expected, relative);

    public static TheoryData<string, double[], double[], double[], double[], double[]> Bad => new()
    {
        { "0 values", [], [], [], [], [] },
        { "2 values", [1, 2], [1, 2], [1, 1], [1, 1], [] },
        { "Value 2 of x is NaN", [1, double.NaN, 3], [1, 2, 3], [1, 1, 1], [1, 1, 1], [] },
        { "Value 3 of y is ∞", [1, 2, 3], [1, 2, double.PositiveInfinity], [1, 1, 1], [1, 1, 1], [] },
        { "4 of y", [1, 2, 3], [1, 2, 3, 4], [1, 1, 1], [1, 1, 1], [] },
        { "3 points and 2 uncertainties of x", [1, 2, 3], [1, 2, 3], [1, 1], [1, 1, 1], [] },
        { "3 points and 1 correlations", [1, 2, 3], [1, 2, 3], [1, 1, 1], [1, 1, 1], [0] },
        { "uncertainty of y at point 2 is -1", [1, 2, 3], [1, 2, 3], [1, 1, 1], [1, -1, 1], [] },
        { "uncertainty of x at point 1 is NaN", [1, 2, 3], [1, 2, 3], [double.NaN, 1, 1], [1, 1, 1], [] },
        { "Both uncertainties of point 3 are 0", [1, 2, 3], [1, 2, 3], [1, 1, 0], [1, 1, 0], [] },
        { "correlation of point 2 is 1", [1, 2, 3], [1, 2, 3], [1, 1, 1], [1, 1, 1], [0, 1, 0] },
        { "All 3 values of x are 2", [2, 2, 2], [1, 2, 3], [1, 1, 1], [1, 1, 1], [] },
    };

    [Theory, MemberData(nameof(Bad))]
    public void Bad_input_is_refused_by_name(string says, double[] x, double[] y, double[] ux, double[] uy, double[] r) =>
        Assert.Contains(says.Replace("∞", double.PositiveInfinity.ToString(), StringComparison.Ordinal), Assert.ThrowsAny<ArgumentException>(() => YorkLine.Fit(x, y, ux, uy, r)).Message, StringComparison.Ordinal);

    [Fact]
    public void Points_that_settle_no_line_are_refused() =>
        Assert.Contains("do not settle a line", Assert.Throws<ArgumentException>("x", () => YorkLine.Fit([-1, 0, 1, 0], [0, 1, 0, -1], [1, 1, 1, 1], [0, 0, 0, 0])).Message, StringComparison.Ordinal);

    [Fact]
    public void A_coverage_outside_0_to_1_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>("coverage", () => YorkLine.Fit([1, 2, 3], [1, 2, 4], [1, 1, 1], [1, 1, 1], coverage: 95));
}
