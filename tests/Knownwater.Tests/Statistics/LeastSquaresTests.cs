using CsCheck;
using Knownwater.Statistics;
using Sets = Knownwater.Tests.Statistics.StatisticalReferenceDatasets;

namespace Knownwater.Tests.Statistics;

public class LeastSquaresTests
{
    // NIST StRD; digits of the worst coefficient, standard error, residual standard deviation, R² and F
    [Theory]
    [InlineData("Norris", 13.5, 13.5)]
    [InlineData("Pontius", 13, 13.5)]
    [InlineData("NoInt1", 14.5, 14.5)]
    [InlineData("NoInt2", 14.5, 14.5)]
    [InlineData("Filip", 13.5, 14.5)]
    [InlineData("Longley", 14, 14.5)]
    [InlineData("Wampler1", 14.5, 14.5)]
    [InlineData("Wampler2", 13, 14.5)]
    [InlineData("Wampler3", 14.5, 14)]
    [InlineData("Wampler4", 14.5, 14)]
    [InlineData("Wampler5", 14.5, 14)]
    public void Coefficients_and_their_standard_errors_have_the_certified_digits(string set, double least, double leastOfErrors)
    {
        var certified = Sets.ReadRegression(set);
        var fit = Sets.Fit(set, certified);
        Assert.InRange(Sets.Worst(fit.Coefficients, certified.Coefficients), least, 15);
        Assert.InRange(Sets.Worst(fit.StandardErrors, certified.StandardErrors), leastOfErrors, 15);
        Assert.InRange(Sets.Digits(fit.ResidualStandardDeviation, certified.ResidualSd), leastOfErrors, 15);
        Assert.InRange(Sets.Digits(fit.RSquared, certified.RSquared), leastOfErrors, 15);
        if (certified.F is { } f)
            Assert.InRange(Sets.Digits(fit.F, f), leastOfErrors, 15);
        else if (set == "Wampler1")
            Assert.Equal((double.PositiveInfinity, 0.0), (fit.F, fit.ResidualSumOfSquares));
        else
            Assert.InRange(fit.F, 1e30, double.PositiveInfinity);   // the decimals of Wampler2 are doubles to 1e-16 of their size only
    }

    // the half-widths of the file carry scipy 1.10's t(0.975; 5) = 2.57058183661, which is 4e-10 too large: tables have 2.570581835636
    private const double HalfWidth = 5e-10;

    // Miller and Miller: fluorescein in pg/mL; published to the printed digits, recomputed to 1e-12
    [Fact]
    public void Calibration_line_and_inverse_prediction_of_fluorescein()
    {
        var example = CheckData.Json("calibration/calibration_examples.json").GetProperty("straight_line_inverse_prediction");
        var (published, recomputed) = (example.GetProperty("published"), example.GetProperty("recomputed"));
        var line = PolynomialFit.Line(example.GetProperty("x_pg_per_mL").Numbers(), example.GetProperty("y").Numbers());
        Assert.Equal(recomputed.Number("slope"), line.Coefficient(1).Value, 1e-14);
        Assert.Equal(recomputed.Number("intercept"), line.Coefficient(0).Value, 1e-13);
        Assert.Equal(recomputed.Number("se_slope"), line.Coefficient(1).StandardUncertainty, 1e-14);
        Assert.Equal(recomputed.Number("se_intercept"), line.Coefficient(0).StandardUncertainty, 1e-14);
        Assert.Equal(recomputed.Number("s_yx"), line.Fit.ResidualStandardDeviation, 1e-14);
        Assert.Equal(recomputed.Number("r"), Math.Sqrt(line.Fit.RSquared), 1e-14);
        Assert.Equal(published.Number("slope"), line.Coefficient(1).Value, 0.51e-2);
        Assert.Equal(published.Number("s_yx"), line.Fit.ResidualStandardDeviation, 1e-4);     // printed 0.4329 from rounded steps
        double[] readings = [2.9, 13.5, 23.0], printed = published.GetProperty("s_x0").Numbers();
        foreach (var (i, expected) in recomputed.GetProperty("inverse").EnumerateArray().Index())
        {
            var x = line.Inverse(readings[i]);
            Assert.Equal(expected.Number("x0"), x.Value, 1e-12);
            Assert.Equal(expected.Number("s_x0"), x.StandardUncertainty, 1e-13);
            Assert.Equal(expected.Number("half_width_95"), (x.Interval().High - x.Interval().Low) / 2, HalfWidth);
            Assert.Equal(printed[i], x.StandardUncertainty, 0.51e-2);
        }
        var four = recomputed.GetProperty("inverse_m4_y13.5");
        Assert.Equal(four.Number("s_x0"), line.Inverse(13.5, readings: 4).StandardUncertainty, 1e-13);
        Assert.Equal(four.Number("half_width_95"), line.Inverse(13.5, 4).Interval().High - line.Inverse(13.5, 4).Value, HalfWidth);
    }

    [Fact]
    public void Weighted_line_and_its_inverse_prediction()
    {
        var example = CheckData.Json("calibration/calibration_examples.json").GetProperty("weighted_least_squares");
        double[] x = example.GetProperty("x").Numbers(), y = example.GetProperty("y").Numbers(), weights = [.. example.GetProperty("sd_y").Numbers().Select(s => 1 / (s * s))];
        var recomputed = example.GetProperty("recomputed");
        var line = PolynomialFit.Line(x, y, weights);
        var weighted = recomputed.GetProperty("weighted");
        Assert.Equal(weighted.Number("slope"), line.Coefficient(1).Value, 1e-14);
        Assert.Equal(weighted.Number("intercept"), line.Coefficient(0).Value, 1e-14);
        Assert.Equal(weighted.Number("se_slope"), line.Coefficient(1).StandardUncertainty, 1e-14);
        Assert.Equal(weighted.Number("se_intercept"), line.Coefficient(0).StandardUncertainty, 1e-14);
        // there the weights are scaled to a sum of n
        Assert.Equal(weighted.Number("s_yx"), line.Fit.ResidualStandardDeviation / Math.Sqrt(weights.Average()), 1e-14);
        double[] expected = recomputed.GetProperty("weighted_x").Numbers();
        Assert.Equal(expected[0], line.Inverse(0.1).Value, 1e-12);
        Assert.Equal(expected[1], line.Inverse(0.6).Value, 1e-12);

        var plain = PolynomialFit.Line(x, y);
        Assert.Equal(recomputed.GetProperty("unweighted").Number("r"), Math.Sqrt(plain.Fit.RSquared), 1e-13);
        foreach (var (i, inverse) in recomputed.GetProperty("unweighted_inverse").EnumerateArray().Index())
        {
            var found = plain.Inverse(i == 0 ? 0.1 : 0.6);
            Assert.Equal(inverse.Number("x0"), found.Value, 1e-12);
            Assert.Equal(inverse.Number("s_x0"), found.StandardUncertainty, 1e-13);
        }
    }

    // the line is extrapolated back to y = 0, whose position is certain: 1/m is 0 there, so many readings
    [Fact]
    public void Standard_addition_reads_back_to_zero()
    {
        var example = CheckData.Json("calibration/calibration_examples.json").GetProperty("standard_addition");
        var recomputed = example.GetProperty("recomputed");
        var line = PolynomialFit.Line(example.GetProperty("x_added").Numbers(), example.GetProperty("y").Numbers());
        var x = line.Inverse(0, weight: 1e30);
        Assert.Equal(recomputed.Number("x_E"), -x.Value, 1e-12);
        Assert.Equal(recomputed.Number("s_xE"), x.StandardUncertainty, 1e-12);
        Assert.Equal(recomputed.Number("half_width_95"), x.Interval().High - x.Value, 2 * HalfWidth);
        Assert.Equal(example.GetProperty("published").Number("s_xE"), x.StandardUncertainty, 0.2e-2);   // printed 0.749 from rounded steps
    }

    [Fact]
    public void A_parabola_against_a_line_is_the_test_of_linearity()
    {
        var example = CheckData.Json("calibration/calibration_examples.json").GetProperty("mandel_linearity");
        var computed = example.GetProperty("computed");
        double[] x = example.GetProperty("x").Numbers(), y = example.GetProperty("y").Numbers();
        PolynomialFit line = PolynomialFit.Line(x, y), parabola = PolynomialFit.Of(x, y, 2);
        Assert.Equal(computed.Number("s_yx_linear"), line.Fit.ResidualStandardDeviation, 1e-13);
        Assert.Equal(computed.Number("s_yx_quadratic"), parabola.Fit.ResidualStandardDeviation, 1e-13);
        Assert.Equal(computed.GetProperty("quadratic_coefs_x2_x1_x0").Numbers().Reverse(), parabola.Fit.Coefficients, (a, b) => Math.Abs(a - b) < 1e-12);
        var test = parabola.Fit.Against(line.Fit);
        Assert.Equal(computed.Number("mandel_F"), test.F, 1e-10);
        Assert.Equal(computed.Number("F_crit_0.99_1_8"), FisherF.Quantile(0.99, test.Dof1, test.Dof2), 1e-9);
        Assert.Equal(computed.GetProperty("linear_rejected").GetBoolean(), test.P < 0.01);
        var seven = PolynomialFit.Of(x.AsSpan(0, 7), y.AsSpan(0, 7), 2).Fit.Against(PolynomialFit.Line(x.AsSpan(0, 7), y.AsSpan(0, 7)).Fit);
        Assert.Equal(computed.GetProperty("same_test_first_seven_points").Number("F"), seven.F, 1e-11);
        // the curve is read back within its range, once
        Assert.Equal(9.0, parabola.Inverse(parabola.At(9).Value).Value, 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => parabola.Inverse(60));
    }

    // Eurachem/CITAC CG 4, example A5; the mean of two readings
    [Fact]
    public void Calibration_line_of_the_ceramic_ware_example()
    {
        var example = CheckData.Json("quam/quam_examples.json").GetProperty("A5_calibration_and_budget");
        var (data, published, recomputed) = (example.GetProperty("calibration"), example.GetProperty("published"), example.GetProperty("recomputed"));
        var line = PolynomialFit.Line(data.GetProperty("conc_mg_per_L").Numbers(), data.GetProperty("absorbance").Numbers());
        Assert.Equal(published.Number("B1"), line.Coefficient(1).Value, 1e-14);
        Assert.Equal(published.Number("B0"), line.Coefficient(0).Value, 1e-14);
        Assert.Equal(published.Number("S_residual"), line.Fit.ResidualStandardDeviation, 0.51e-6);
        Assert.Equal(recomputed.Number("S_residual"), line.Fit.ResidualStandardDeviation, 1e-15);
        Assert.Equal(recomputed.Number("r"), Math.Sqrt(line.Fit.RSquared), 1e-14);
        var sample = line.Inverse(data.GetProperty("sample_absorbances").Numbers().Average(), readings: 2);
        Assert.Equal(recomputed.Number("c0"), sample.Value, 1e-13);
        Assert.Equal(recomputed.Number("u_c0"), sample.StandardUncertainty, 1e-14);
        Assert.Equal(published.Number("u_c0_mg_per_L"), sample.StandardUncertainty, 0.51e-3);
        var lack = line.LackOfFit();
        Assert.Equal((3, 10), (lack.Dof1, lack.Dof2));
        Assert.Equal(recomputed.Number("lack_of_fit_F_3_10"), lack.F, 1e-11);
        Assert.Equal(recomputed.Number("lack_of_fit_p"), lack.P, 1e-13);
    }

    // exact rational arithmetic
    [Theory]
    [InlineData("line")]
    [InlineData("curve")]
    [InlineData("diagonal")]
    public void Generalised_least_squares_with_a_full_covariance(string name)
    {
        var example = CheckData.Json("regression/generalised.json").GetProperty(name);
        double[] x = example.GetProperty("x").Numbers(), y = example.GetProperty("y").Numbers();
        var rows = example.GetProperty("covariance").EnumerateArray().Select(r => r.Numbers()).ToArray();
        var covariance = new double[x.Length, x.Length];
        foreach (var (i, row) in rows.Index())
        {
            for (var j = 0; j < row.Length; j++)
                covariance[i, j] = row[j];
        }
        var fit = PolynomialFit.Of(x, y, covariance, example.GetProperty("degree").GetInt32());
        Assert.True(fit.Fit.KnownCovariance);
        Assert.InRange(Sets.Worst(fit.Fit.Coefficients, example.GetProperty("coefficients").Numbers()), 14.5, 15);
        Assert.InRange(Sets.Digits(fit.Fit.ResidualSumOfSquares, example.Number("chi_square")), 14.5, 15);
        foreach (var (i, row) in example.GetProperty("coefficient_covariance").EnumerateArray().Index())
        {
            foreach (var (j, value) in row.Numbers().Index())
                Assert.InRange(Sets.Digits(fit.Fit.Covariance(i, j), value), 14.5, 15);
        }
        Assert.Equal(ChiSquare.UpperTail(fit.Fit.ResidualSumOfSquares, fit.Fit.Dof), fit.Fit.ChiSquareP);
        Assert.Equal(double.PositiveInfinity, fit.Coefficient(1).Dof);
        if (name == "diagonal")
        {
            // with a diagonal covariance it is the weighted fit, whose errors are scaled by the residuals instead
            var weighted = PolynomialFit.Line(x, y, [.. x.Index().Select(p => 1 / covariance[p.Index, p.Index])]);
            Assert.InRange(Sets.Worst(fit.Fit.Coefficients, weighted.Fit.Coefficients), 14, 15);
            Assert.Equal(weighted.Coefficient(1).StandardUncertainty / weighted.Fit.ResidualStandardDeviation, fit.Coefficient(1).StandardUncertainty, 1e-15);
            Assert.Equal(weighted.Inverse(5).Value, fit.Inverse(5, weight: 4).Value, 1e-13);
        }
    }

    [Fact]
    public void A_line_follows_the_units_and_origins_of_both_axes_and_not_the_order() => Check.Sample(
        Gen.Select(Gen.Int[-500, 500].Array[4, 20], Gen.Int[-500, 500].Array[20], Gen.Int[-20, 20], Gen.Int[-20, 20], Gen.Int[-99, 99], Gen.Int[-99, 99]),
        (xs, ys, px, py, ox, oy) =>
        {
            if (xs.Distinct().Count() < 2)
                return;
            double[] x = [.. xs.Select(i => (double)i)], y = [.. ys.Take(x.Length).Select(i => (double)i)];
            double ux = Math.ScaleB(1, px), uy = Math.ScaleB(1, py);
            var line = PolynomialFit.Line(x, y);
            var moved = PolynomialFit.Line([.. x.Reverse().Select(v => (v + ox) * ux)], [.. y.Reverse().Select(v => (v + oy) * uy)]);
            var (slope, size) = (line.Coefficient(1), Math.Abs(line.Coefficient(0).Value) + 1e4);
            Assert.Equal(slope.Value * uy / ux, moved.Coefficient(1).Value, 1e-14 * uy / ux * (Math.Abs(slope.Value) + 1));
            Assert.Equal(slope.StandardUncertainty * uy / ux, moved.Coefficient(1).StandardUncertainty, 1e-14 * uy / ux * (slope.StandardUncertainty + 1));
            Assert.Equal((line.Coefficient(0).Value + oy - ox * slope.Value) * uy, moved.Coefficient(0).Value, 1e-14 * uy * size * (Math.Abs(slope.Value) + 1));
            Assert.Equal(line.Fit.ResidualStandardDeviation * uy, moved.Fit.ResidualStandardDeviation, 1e-13 * uy * size);
            Assert.InRange(line.Fit.Residuals.Sum(), -1e-10, 1e-10);
        },
        iter: 300);

    [Fact]
    public void Equal_weights_change_nothing_and_a_double_weight_counts_a_value_twice() => Check.Sample(
        Gen.Select(Gen.Int[-50, 50].Array[4, 12], Gen.Int[-50, 50].Array[12], Gen.Int[0, 3]),
        (xs, ys, twice) =>
        {
            if (xs.Distinct().Count() < 3)
                return;
            double[] x = [.. xs.Select(i => (double)i)], y = [.. ys.Take(x.Length).Select(i => (double)i)];
            double[] threes = [.. x.Select(_ => 3.0)], once = [.. x.Select((_, i) => i == twice ? 2.0 : 1.0)];
            PolynomialFit plain = PolynomialFit.Line(x, y), same = PolynomialFit.Line(x, y, threes);
            Assert.Equal(plain.Coefficient(1).Value, same.Coefficient(1).Value, 1e-14 * (1 + Math.Abs(plain.Coefficient(1).Value)));
            Assert.Equal(plain.Coefficient(1).StandardUncertainty, same.Coefficient(1).StandardUncertainty, 1e-13 * (1 + plain.Coefficient(1).StandardUncertainty));
            PolynomialFit heavier = PolynomialFit.Line(x, y, once), repeated = PolynomialFit.Line([.. x, x[twice]], [.. y, y[twice]]);
            Assert.Equal(repeated.Coefficient(1).Value, heavier.Coefficient(1).Value, 1e-13 * (1 + Math.Abs(heavier.Coefficient(1).Value)));
            Assert.Equal(repeated.Fit.ResidualSumOfSquares, heavier.Fit.ResidualSumOfSquares, 1e-11 * (1 + repeated.Fit.ResidualSumOfSquares));
        },
        iter: 300);

    [Fact]
    public void Prediction_and_inverse_prediction_are_one_line_both_ways() => Check.Sample(
        Gen.Select(Gen.Double[0.5, 5], Gen.Double[-3, 3], Gen.Double[0, 10], Gen.Int[1, 6], Gen.Int[0, 1000].Array[8]),
        (slope, intercept, at, readings, noise) =>
        {
            double[] x = [0, 1, 2, 4, 6, 8, 9, 10], y = [.. x.Select((v, i) => intercept + slope * v + noise[i] / 2000.0)];
            var line = PolynomialFit.Line(x, y);
            var there = line.NewReadings(at, readings);
            var back = line.Inverse(there.Value, readings);
            Assert.Equal(at, back.Value, 1e-11);
            Assert.Equal(there.StandardUncertainty, back.StandardUncertainty * Math.Abs(line.Coefficient(1).Value), 1e-12);
            Assert.True(line.NewReadings(at, readings + 1).StandardUncertainty <= there.StandardUncertainty && line.At(at).StandardUncertainty <= there.StandardUncertainty);
        },
        iter: 200);

    // its definition: at either end the reading lies just on its prediction limit
    [Fact]
    public void The_exact_interval_of_an_inverse_prediction_ends_where_the_reading_meets_its_prediction_limits() => Check.Sample(
        Gen.Select(Gen.Double[0.3, 5], Gen.Double[-3, 3], Gen.Double[-5, 15], Gen.Int[1, 6], Gen.Int[-1000, 1000].Array[8], Gen.Bool),
        (slope, intercept, at, readings, noise, throughOrigin) =>
        {
            double[] x = [0, 1, 2, 4, 6, 8, 9, 10], y = [.. x.Select((v, i) => (throughOrigin ? 0 : intercept) + slope * v + noise[i] / 1500.0)];
            if (noise.Distinct().Count() < 4)
                return;
            var line = PolynomialFit.Of(x, y, 1, throughOrigin);
            var reading = line.At(at).Value;
            var t = -StudentT.Quantile(0.025, line.Fit.Dof);
            if (Math.Abs(line.Coefficient(1).Value) < 1.1 * t * line.Coefficient(1).StandardUncertainty)
                return;
            var interval = line.InverseInterval(reading, readings);
            Assert.True(interval.Low < at && at < interval.High);
            foreach (var end in new[] { interval.Low, interval.High })
                Assert.Equal(t * line.NewReadings(end, readings).StandardUncertainty, Math.Abs(reading - line.At(end).Value), 1e-9 * (1 + Math.Abs(end)));
            Assert.True(interval.High - interval.Low >= line.Inverse(reading, readings).Interval().High - line.Inverse(reading, readings).Interval().Low - 1e-9);
        },
        iter: 300);

    // a slope that is well known: the exact interval is the first-order one
    [Fact]
    public void The_exact_interval_of_a_well_known_line_is_the_first_order_one()
    {
        double[] x = [0, 2, 4, 6, 8, 10, 12], y = [2.1, 5.0, 9.0, 12.6, 17.3, 21.0, 24.7];
        var line = PolynomialFit.Line(x, y);
        Interval exact = line.InverseInterval(13.5, 4), first = line.Inverse(13.5, 4).Interval();
        // g = t²u(b₁)²/b₁² = 0.003: they differ by that share
        Assert.Equal(first.Low, exact.Low, 0.003 * (first.High - first.Low));
        Assert.Equal(first.High, exact.High, 0.003 * (first.High - first.Low));
    }

    public static TheoryData<string, Action, string> Refused { get; } = new()
    {
        { "no values", () => PolynomialFit.Line([], []), "at least 1" },
        { "two values", () => PolynomialFit.Line([1, 2], [1, 2]), "at least 3" },
        { "unequal numbers", () => PolynomialFit.Line([1, 2, 3], [1, 2]), "2 values for 3" },
        { "NaN", () => PolynomialFit.Line([1, 2, 3], [1, double.NaN, 2]), "Value 2" },
        { "infinite", () => PolynomialFit.Line([1, double.PositiveInfinity, 3], [1, 1, 2]), "Value 2" },
        { "equal abscissae", () => PolynomialFit.Line([2, 2, 2], [1, 2, 3]), "1 different" },
        { "all at the origin", () => PolynomialFit.LineThroughOrigin([0, 0, 0], [1, 2, 3]), "0 different abscissae beside zero" },
        { "degree 0", () => PolynomialFit.Of([1, 2, 3], [1, 2, 3], 0), "at least 1" },
        { "degree 31", () => PolynomialFit.Of([1, 2, 3], [1, 2, 3], 31), "at most 30" },
        { "a weight of zero", () => PolynomialFit.Line([1, 2, 3], [1, 2, 4], [1, 0, 1]), "Weight 2" },
        { "a weight too few", () => PolynomialFit.Line([1, 2, 3], [1, 2, 4], [1, 1]), "2 weights" },
        { "columns that depend", () => LeastSquares.Fit(new double[,] { { 1, 0.1, 0.3 }, { 1, 0.2, 0.6 }, { 1, 0.7, 2.1 }, { 1, 0.9, 2.7 } }, [1, 2, 3, 4]), "Column 3" },
        { "no column", () => LeastSquares.Fit(new double[3, 0], [1, 2, 3]), "no column" },
        { "a short row", () => LeastSquares.Fit(new double[,] { { 1 }, { 1 }, { 1 } }, [1, 2, 4]).At([1, 2]), "2 numbers" },
        { "a covariance that is none", () => PolynomialFit.Of([1, 2, 3], [1, 2, 4], new double[,] { { 1, 1, 0 }, { 1, 1, 0 }, { 0, 0, 1 } }), "not positive definite at value 2" },
        { "a covariance one way", () => PolynomialFit.Of([1, 2, 3], [1, 2, 4], new double[,] { { 1, 0.5, 0 }, { 0, 1, 0 }, { 0, 0, 1 } }), "symmetric" },
        { "a covariance of another size", () => PolynomialFit.Of([1, 2, 3], [1, 2, 4], new double[2, 2]), "3 by 3" },
        { "a level line read back", () => PolynomialFit.Line([1, 2, 3], [1, 1, 1]).Inverse(2), "slope" },
        { "a slope that may be zero", () => PolynomialFit.Line([1, 2, 3, 4], [1, 3, 1, 2]).InverseInterval(2), "does not differ from zero" },
        { "no readings", () => PolynomialFit.Line([1, 2, 3], [1, 2, 4]).Inverse(2, 0), "at least 1" },
        { "a weight of nothing", () => PolynomialFit.Line([1, 2, 3], [1, 2, 4]).NewReadings(2, weight: 0), "above zero" },
        { "a power too high", () => PolynomialFit.Line([1, 2, 3], [1, 2, 4]).Coefficient(2), "powers 0 to 1" },
        { "a coefficient too many", () => PolynomialFit.Line([1, 2, 3], [1, 2, 4]).Fit.Covariance(0, 2), "2 coefficients" },
        { "the same fit", () => { var fit = PolynomialFit.Line([1, 2, 3], [1, 2, 4]).Fit; fit.Against(fit); }, "fewer coefficients" },
        { "both variances zero", () => FTest.Of(0, 3, 0, 4), "0" },
    };

    [Theory(DisableDiscoveryEnumeration = true)]
    [MemberData(nameof(Refused))]
    public void What_cannot_be_fitted_is_refused_with_its_limit(string what, Action act, string says)
    {
        var error = Assert.ThrowsAny<ArgumentException>(act);
        Assert.False(string.IsNullOrEmpty(error.ParamName), what);
        Assert.Contains(says, error.Message);
    }

    [Fact]
    public void What_a_fit_cannot_tell_it_says()
    {
        var exact = PolynomialFit.Of([1, 2], [1, 2], new double[,] { { 1, 0 }, { 0, 1 } }).Fit;
        Assert.Contains("nothing is left", Assert.Throws<InvalidOperationException>(() => exact.ResidualStandardDeviation).Message);
        Assert.Null(exact.ChiSquareP);
        Assert.Contains("all equal", Assert.Throws<InvalidOperationException>(() => PolynomialFit.Line([1, 2, 3], [5, 5, 5]).Fit.RSquared).Message);
        Assert.Contains("repeated", Assert.Throws<InvalidOperationException>(() => PolynomialFit.Line([1, 2, 3], [1, 2, 4]).LackOfFit()).Message);
        Assert.Contains("degree", Assert.Throws<InvalidOperationException>(() => PolynomialFit.Of([1, 2, 3, 4, 5], [1, 2, 4, 7, 9], 3).Inverse(3)).Message);
    }
}
