using CsCheck;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public class SourceShapeTests
{
    private readonly struct Identity : IModel
    {
        public int Inputs => 1;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0];
    }

    private static ErrorSource Source(string shape, string parameter, double u = 1)
    {
        var kind = Enum.Parse<SourceShape>(shape);
        double? value = parameter.Length == 0 ? null : double.Parse(parameter, System.Globalization.CultureInfo.InvariantCulture);
        return kind == SourceShape.ScaledT
            ? new ErrorSource(Guid.NewGuid(), shape, u, dof: value!.Value, shape: kind)
            : new ErrorSource(Guid.NewGuid(), shape, u, shape: kind, topToBase: value);
    }

    // scipy 1.10.1, tests/data/source-shapes/make_values.py. Its quantiles of Student's t are right to nine digits, those of the other shapes to the rounding of a double.
    [Fact]
    public void Quantiles_and_moments_agree_with_scipy()
    {
        foreach (var row in CheckData.Rows("source-shapes/shapes.csv"))
        {
            var source = Source(row.Text("shape"), row.Text("parameter"), 0.3);
            var expected = 0.3 * row["quantile"];
            Assert.Equal(expected, source.Quantile(row["p"]), source.Shape == SourceShape.ScaledT ? 2e-9 * Math.Abs(expected) + 1e-9 : 1e-14 + 1e-13 * Math.Abs(expected));
            Assert.Equal(row["skewness"], source.Skewness, 1e-13);
            if (row.Text("kurtosis") == "inf")
                Assert.Equal(double.PositiveInfinity, source.Kurtosis);
            else
                Assert.Equal(row["kurtosis"], source.Kurtosis, 1e-12);
        }
    }

    // the drawn distribution against scipy's quantiles at 2.5 % and 97.5 %. Tolerance: four sampling errors of an end at 1e6 trials, √(p(1 − p)/M)/density, which is widest for Student's t
    // with few degrees of freedom (0.013 at ν = 2.5); sd: four of its own, u·√((κ − 1)/4M).
    [Fact]
    public void Draws_have_the_quantiles_and_the_standard_deviation_of_their_shape()
    {
        foreach (var group in CheckData.Rows("source-shapes/shapes.csv").GroupBy(r => (Shape: r.Text("shape"), Parameter: r.Text("parameter"))))
        {
            var source = Source(group.Key.Shape, group.Key.Parameter);
            var found = MonteCarlo.Of(new Identity(), [Estimate.From(10, source)], 11);
            var heavy = source.Shape == SourceShape.ScaledT;
            var tolerance = heavy && source.Dof < 3 ? 0.06 : heavy ? 0.03 : 0.012;
            Assert.Equal(10 + group.Single(r => r["p"] == 0.025)["quantile"], found.Low, tolerance);
            Assert.Equal(10 + group.Single(r => r["p"] == 0.975)["quantile"], found.High, tolerance);
            if (heavy && source.Dof <= 4)
                continue;
            var sd = heavy ? Math.Sqrt(source.Dof / (source.Dof - 2)) : 1;
            Assert.Equal(sd, found.StandardUncertainty, 4 * sd * Math.Sqrt((source.Kurtosis - 1) / 4e6));
            Assert.Equal(10, found.Mean, 4e-3 * sd);
        }
    }

    // JCGM 101:2008, table 1 with 6.4.2 to 6.4.9: mean and variance of each assignment from its limits
    [Fact]
    public void Assignments_of_table_1()
    {
        Assert.Equal(Math.Pow(2 - 1.2, 2) / 12, Square(ErrorSource.Rectangular("R(1.2, 2)", (2 - 1.2) / 2)), 1e-15);
        Assert.Equal(Math.Pow(2 - 1.2, 2) / 24, Square(ErrorSource.Triangular("T(1.2, 2)", (2 - 1.2) / 2)), 1e-15);
        Assert.Equal(Math.Pow(2 - 1.2, 2) / 24 * (1 + 0.3 * 0.3), Square(ErrorSource.Trapezoidal("Trap(1.2, 2, 0.3)", (2 - 1.2) / 2, 0.3)), 1e-15);
        Assert.Equal(Math.Pow(2 - 1.2, 2) / 8, Square(ErrorSource.ArcSine("U(1.2, 2)", (2 - 1.2) / 2)), 1e-15);
        Assert.Equal(0.05 * 0.05 / 12, Square(ErrorSource.ResolutionStep("step", 0.05)), 1e-17);
        Assert.Equal(0.4 * 0.4 / 6, Square(ErrorSource.MeanOfReadings("t5", 0.4, 6)), 1e-16);
        Assert.Equal(Math.Pow(3.2 / 2.5, 2), Square(ErrorSource.Expanded("N", 3.2, 2.5)), 1e-15);

        static double Square(ErrorSource s) => s.StandardUncertainty * s.StandardUncertainty;
    }

    // by hand: uniform on 0 to L has L/2 and L/√12; with w = L the density falls in a straight line from 0 to 2L: mean 2L/3, sd 2L/√18
    [Fact]
    public void A_reading_below_a_limit_leaves_what_lies_between_zero_and_it()
    {
        var sharp = Estimate.Below(0.4, "below 0.4");
        Assert.Equal(0.2, sharp.Value, 1e-16);
        Assert.Equal(0.4 / Math.Sqrt(12), sharp.StandardUncertainty, 1e-16);
        var blurred = Estimate.Below(0.4, "below 0.4", readingHalfWidth: 0.4);
        Assert.Equal(0.8 / 3, blurred.Value, 1e-15);
        Assert.Equal(0.8 / Math.Sqrt(18), blurred.StandardUncertainty, 1e-15);
        // nothing of it lies below zero or above L + w
        var source = Estimate.Below(0.4, "x", 0.1).Contributions[0].Source;
        var value = Estimate.Below(0.4, "x", 0.1).Value;
        Assert.Equal(0, value + source.Quantile(1e-12), 1e-11);
        Assert.Equal(0.5, value + source.Quantile(1 - 1e-12), 1e-5);
        Assert.Throws<ArgumentOutOfRangeException>("limit", () => Estimate.Below(0, "x"));
        Assert.Contains("0.5", Assert.Throws<ArgumentOutOfRangeException>("readingHalfWidth", () => Estimate.Below(0.4, "x", 0.5)).Message);
        Assert.Throws<ArgumentOutOfRangeException>("readingHalfWidth", () => Estimate.Below(0.4, "x", double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>("p", () => source.Quantile(1));
    }

    // the likelihood of a reading below L with a rectangular error ±w, normalised over x ≥ 0 and integrated: the quantile function must invert it
    [Fact]
    public void The_censored_density_is_the_chance_to_read_below_the_limit() =>
        Gen.Select(Gen.Double[0.1, 10], Gen.Double[0, 1], Gen.Double[0.001, 0.999]).Sample((limit, part, p) =>
        {
            var w = part * limit;
            var below = Estimate.Below(limit, "x", w);
            var x = below.Value + below.Contributions[0].Source.Quantile(p);
            // ∫₀ˣ P(reading < L | t) dt, flat and then a ramp; the whole integral is L
            var integral = x <= limit - w ? x : limit - w + (x - (limit - w)) - Math.Pow(x - (limit - w), 2) / (4 * w);
            Assert.Equal(p, integral / limit, 1e-10);
        });

    [Fact]
    public void Numbers_of_shapes_stay_what_the_records_hold() =>
        Assert.Equal([(0, "Normal"), (1, "Rectangular"), (2, "Triangular"), (3, "Trapezoidal"), (4, "ArcSine"), (5, "ScaledT"), (6, "Resolution"), (7, "Censored")],
            Enum.GetValues<SourceShape>().Select(s => ((int)s, s.ToString())));
}
