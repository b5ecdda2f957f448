using CsCheck;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public class SecondOrderTests
{
    private readonly struct EndGauge : IModel
    {
        public int Inputs => 6;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] + x[1] - x[0] * (x[4] * x[3] + x[2] * x[5]);
    }

    private readonly struct MassCalibration : IModel
    {
        public int Inputs => 5;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100000.0;
    }

    private readonly struct Square : IModel
    {
        public int Inputs => 1;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => T.Pow(x[0], 2);
    }

    private readonly struct Product : IModel
    {
        public int Inputs => 2;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] * x[1];
    }

    private readonly struct Exponential : IModel
    {
        public int Inputs => 1;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => T.Exp(x[0]);
    }

    private readonly struct SineAlong : IModel
    {
        public int Inputs => 1;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => T.Sin(x[0]);
    }

    // JCGM 100:2008, H.1.7: 34 nm with the second-order terms, of which the guide prints 11.7 nm and 1.7 nm; 11.8901 and 1.74002 nm recomputed from the printed inputs
    [Fact]
    public void End_gauge_of_H1_with_second_order_terms()
    {
        var gauge = CheckData.Json("gum-jcgm100/gum_jcgm100.json").GetProperty("H1_end_gauge");
        Estimate[] inputs = [.. gauge.GetProperty("inputs").EnumerateArray().Select(i => Estimate.From(i.Number("value"), i.Number("u"), i.GetProperty("name").GetString()!))];
        var found = SecondOrder.Of(new EndGauge(), inputs);
        Assert.Equal(gauge.GetProperty("published").Number("second_order_uc_nm"), found.StandardUncertainty, 0.5);
        Assert.Equal(gauge.GetProperty("recomputed").Number("second_order_uc_nm"), found.StandardUncertainty, 0.51e-4);
        var extra = gauge.GetProperty("recomputed").GetProperty("second_order_extra_nm").Numbers();
        Assert.Equal(extra[0], Math.Sqrt(found.Terms[0].Variance), 0.51e-4);
        Assert.Equal(extra[1], Math.Sqrt(found.Terms[1].Variance), 0.51e-5);
        Assert.Equal(["dalpha", "theta"], new[] { found.Terms[0].First.Name, found.Terms[0].Second.Name }.Order(StringComparer.Ordinal));
        Assert.Equal(["alphaS", "dtheta"], new[] { found.Terms[1].First.Name, found.Terms[1].Second.Name }.Order(StringComparer.Ordinal));
        Assert.Equal(gauge.GetProperty("recomputed").Number("uc_nm"), found.FirstOrder.StandardUncertainty, 0.51e-4);
        Assert.Equal(0, found.MeanShift);
    }

    // JCGM 101:2008, 9.3, table 6: 0.0750 with terms of second order against 0.0539 without
    [Fact]
    public void Mass_calibration_with_second_order_terms()
    {
        var published = CheckData.Json("jcgm101/jcgm101_monte_carlo.json").GetProperty("mass_calibration_9_3").GetProperty("published").GetProperty("GUF_second_order");
        Estimate[] inputs =
        [
            Estimate.From(100000, 0.05, "mRc"), Estimate.From(1.234, 0.02, "dmRc"), Estimate.From(1.2, ErrorSource.Rectangular("rho_a", 0.1)),
            Estimate.From(8000, ErrorSource.Rectangular("rho_W", 1000)), Estimate.From(8000, ErrorSource.Rectangular("rho_R", 50)),
        ];
        var found = SecondOrder.Of(new MassCalibration(), inputs);
        Assert.Equal(published.Number("u"), found.StandardUncertainty, 0.51e-4);
        Assert.Equal(published.Number("dm"), found.FirstOrder.Value, 1e-9);
    }

    // exact: Var(x²) = 4m²σ² + 4mγσ³ + (κ − 1)σ⁴ and E(x²) = m² + σ², by hand for every shape; for x uniform on 0 to L: L⁴(1/5 − 1/9); for a density that falls in a line to 2L: (2L)⁴(1/15 − 1/36)
    [Fact]
    public void The_variance_of_a_square_is_exact_for_every_shape()
    {
        ErrorSource[] sources =
        [
            ErrorSource.Normal("n", 0.5), ErrorSource.Rectangular("r", 0.5), ErrorSource.Triangular("t", 0.5), ErrorSource.Trapezoidal("z", 0.5, 0.4),
            ErrorSource.ArcSine("a", 0.5), ErrorSource.ResolutionStep("q", 0.5), ErrorSource.Censored("c", 0.5, 0.2),
        ];
        foreach (var source in sources)
        {
            double m = 1.7, s = source.StandardUncertainty;
            var found = SecondOrder.Of(new Square(), [Estimate.From(m, source)]);
            Assert.Equal(4 * m * m * s * s + 4 * m * source.Skewness * s * s * s + (source.Kurtosis - 1) * s * s * s * s, found.StandardUncertainty * found.StandardUncertainty, 1e-13);
            Assert.Equal(m * m + s * s, found.FirstOrder.Value + found.MeanShift, 1e-14);
        }
        Assert.Equal(0.4 * 0.4 * Math.Sqrt(1.0 / 5 - 1.0 / 9), SecondOrder.Of(new Square(), [Estimate.Below(0.4, "b")]).StandardUncertainty, 1e-15);
        Assert.Equal(0.8 * 0.8 * Math.Sqrt(1.0 / 15 - 1.0 / 36), SecondOrder.Of(new Square(), [Estimate.Below(0.4, "b", 0.4)]).StandardUncertainty, 1e-15);
    }

    // Goodman 1960, Journal of the American Statistical Association 55, 708: the variance of a product of independent factors is x²u(y)² + y²u(x)² + u(x)²u(y)²
    [Fact]
    public void The_variance_of_a_product_is_exact() =>
        Gen.Select(Gen.Double[-5, 5], Gen.Double[-5, 5], Gen.Double[0.01, 3], Gen.Double[0.01, 3]).Sample((x, y, u, v) =>
        {
            var found = SecondOrder.Of(new Product(), [Estimate.From(x, u, "x"), Estimate.From(y, v, "y")]);
            Assert.Equal(x * x * v * v + y * y * u * u + u * u * v * v, found.StandardUncertainty * found.StandardUncertainty, 1e-10);
        });

    // two factors that are one quantity are a square: Var(x·x) for a normal x is 4m²σ² + 2σ⁴, not Goodman's sum
    [Fact]
    public void Correlation_is_in_the_second_order_too()
    {
        var x = Estimate.From(3, 0.4, "x");
        var found = SecondOrder.Of(new Product(), [x, x]);
        Assert.Equal(Math.Sqrt(4 * 9 * 0.16 + 2 * 0.16 * 0.16), found.StandardUncertainty, 1e-13);
        Assert.Equal(0.16, found.MeanShift, 1e-15);
    }

    // lognormal, in closed form: Var = e^(2m + s²)(e^(s²) − 1) = e^(2m)(s² + 3/2 s⁴ + 7/6 s⁶ + …): the terms of second order are right up to s⁴, and off by 7/6 s⁶ at most by a tenth more
    [Fact]
    public void Third_derivatives_are_in_it()
    {
        const double m = 0.3, s = 0.1;
        var exact = Math.Exp(2 * m + s * s) * (Math.Exp(s * s) - 1);
        var found = SecondOrder.Of(new Exponential(), [Estimate.From(m, s, "x")]);
        var missing = Math.Exp(2 * m) * 7.0 / 6 * Math.Pow(s, 6);
        Assert.InRange(exact - found.StandardUncertainty * found.StandardUncertainty, missing, 1.1 * missing);
    }

    [Fact]
    public void An_expansion_that_leaves_no_variance_is_refused()
    {
        // sin near 0 with u = 2: u² − u⁴ + … is below zero
        var error = Assert.Throws<ArgumentOutOfRangeException>("x", () => SecondOrder.Of(new SineAlong(), [Estimate.From(0, 2, "angle")]));
        Assert.Contains("Monte Carlo", error.Message);
        Assert.Throws<ArgumentException>("x", () => SecondOrder.Of(new Product(), [Estimate.From(0, 2, "angle")]));
    }

    // a change of unit changes nothing but the unit: u of k·x·y is k times u
    [Fact]
    public void Second_order_scales_with_the_unit() =>
        Gen.Select(Gen.Double[0.5, 5], Gen.Double[0.01, 0.5], Gen.Double[0.001, 1000]).Sample((x, u, k) =>
        {
            double At(double by) => SecondOrder.Of(new Product(), [Estimate.From(by * x, by * u, "x"), Estimate.From(2, 0.3, "y")]).StandardUncertainty;
            Assert.Equal(k * At(1), At(k), 1e-12 * k * x);
        });
}
