using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public sealed class MonteCarloTests
{
    private static readonly double Root3 = Math.Sqrt(3);

    private readonly struct SumOfFour : IModel
    {
        public int Inputs => 4;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] + x[1] + x[2] + x[3];
    }

    // JCGM 101:2008, 9.3, formula (33), mg and kg/m³
    private readonly struct MassCalibration : IModel
    {
        public int Inputs => 5;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> =>
            (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100000.0;
    }

    private static Estimate Rectangle(string name, double middle, double half) => Estimate.From(middle, ErrorSource.Rectangular(name, half));

    private static Estimate[] Mass() =>
    [
        Estimate.From(100000, 0.05, "mRc"), Estimate.From(1.234, 0.02, "dmRc"), Rectangle("rho_a", 1.2, 0.1), Rectangle("rho_W", 8000, 1000), Rectangle("rho_R", 8000, 50),
    ];

    // JCGM 101:2008, 9.2.2 to 9.2.4, tables 2 to 4. Tolerance: half a unit of the printed digit and three sampling errors of an end at 1e6 trials (0.003 u each).
    [Theory]
    [InlineData("additive_9_2_2", false, 1, "interval_95")]
    [InlineData("additive_9_2_3", true, 1, "interval_95_MCM")]
    [InlineData("additive_9_2_4", true, 10, "interval_95_MCM")]
    public void The_additive_examples(string example, bool rectangular, double last, string interval)
    {
        var published = CheckData.Json("jcgm101/jcgm101_monte_carlo.json").GetProperty(example).GetProperty("published");
        var sds = new[] { 1, 1, 1, last };
        Estimate[] inputs = [.. sds.Select((sd, i) => rectangular ? Rectangle($"X{i}", 0, Root3 * sd) : Estimate.From(0, sd, $"X{i}"))];
        var found = MonteCarlo.Of(new SumOfFour(), inputs, 1);
        var u = published.Number("u");
        var digit = u > 5 ? 0.05 : 0.005;
        Assert.Equal(u, found.StandardUncertainty, digit + 0.003 * u);
        Assert.Equal(u, Estimate.Of(new SumOfFour(), inputs).StandardUncertainty, 0.05);
        var ends = published.GetProperty(interval).Numbers();
        Assert.Equal(ends[0], found.Low, digit + 0.009 * u);
        Assert.Equal(ends[1], found.High, digit + 0.009 * u);
    }

    // JCGM 101:2008, 9.3, tables 5 and 6. The shortest interval has a flat minimum: its ends may slide by 0.02 u at 1e6 trials; its width is held more closely.
    [Fact]
    public void The_calibration_of_a_mass()
    {
        var published = CheckData.Json("jcgm101/jcgm101_monte_carlo.json").GetProperty("mass_calibration_9_3").GetProperty("published");
        var linear = Estimate.Of(new MassCalibration(), Mass());
        var first = published.GetProperty("GUF_first_order");
        Assert.Equal(first.Number("dm"), linear.Value, 5e-5);
        Assert.Equal(first.Number("u"), linear.StandardUncertainty, 5e-5);
        var found = MonteCarlo.Of(new MassCalibration(), Mass(), 1);
        var mcm = published.GetProperty("MCM");
        Assert.Equal(mcm.Number("dm"), found.Mean, 5e-5 + 3e-3 * 0.0754);
        Assert.Equal(mcm.Number("u"), found.StandardUncertainty, 5e-5 + 3e-3 * 0.0754);
        var ends = mcm.GetProperty("shortest_95").Numbers();
        Assert.Equal(ends[0], found.ShortestLow, 0.02 * 0.0754);
        Assert.Equal(ends[1], found.ShortestHigh, 0.02 * 0.0754);
        Assert.Equal(ends[1] - ends[0], found.ShortestHigh - found.ShortestLow, 1e-4 + 0.012 * 0.0754);
        // the published conclusion of 9.3.2: the first order misses the interaction
        Assert.False(Validation.Of(linear, found).Holds);
    }

    [Fact]
    public void One_seed_gives_one_result_on_any_number_of_threads()
    {
        var one = MonteCarlo.Of(new MassCalibration(), Mass(), 7, 200_000, 1);
        foreach (var threads in new[] { 2, 3, 8 })
            Assert.Equal(one, MonteCarlo.Of(new MassCalibration(), Mass(), 7, 200_000, threads));
        Assert.NotEqual(one, MonteCarlo.Of(new MassCalibration(), Mass(), 8, 200_000, 1));
    }

    // x − x: what two inputs share is drawn once
    [Fact]
    public void A_shared_source_is_drawn_once()
    {
        var shared = ErrorSource.Rectangular("gain", 1);
        Estimate[] inputs = [Estimate.From(1, shared), Estimate.From(2, shared, -1), 0, 0];
        Assert.Equal(0, MonteCarlo.Of(new SumOfFour(), inputs, 1, 20_000).StandardUncertainty, 1e-12);
    }

    // JCGM 101:2008, 6.4.9.4: a scaled t of ν degrees of freedom has the variance s²·ν/(ν − 2); here 10/8. Sampling error of the sd near 0.001 at 1e6 trials.
    [Fact]
    public void A_scaled_t_is_wider_than_its_u()
    {
        Estimate[] inputs = [Estimate.From(0, ErrorSource.MeanOfReadings("mean", 1, 1, dof: 10)), 0, 0, 0];
        Assert.Equal(Math.Sqrt(1.25), MonteCarlo.Of(new SumOfFour(), inputs, 3).StandardUncertainty, 0.005);
    }

    // JCGM 101:2008, 7.9.2, example: u = 0.000 35 with two digits is 35 × 10⁻⁵, with one 4 × 10⁻⁴; u = 2 with one digit is 2 × 10⁰ (from memory)
    [Theory]
    [InlineData(0.00035, 2, 0.5e-5)]
    [InlineData(0.00035, 1, 0.5e-4)]
    [InlineData(2, 1, 0.5)]
    [InlineData(1000, 2, 50)]
    [InlineData(0.999, 2, 0.05)]
    [InlineData(0.0754, 2, 0.0005)]
    [InlineData(9.4, 1, 0.5)]
    [InlineData(9.6, 1, 5)]
    [InlineData(0, 2, 0)]
    public void Numerical_tolerance_is_half_of_the_last_digit_that_counts(double u, int digits, double expected) =>
        Assert.Equal(expected, Validation.NumericalTolerance(u, digits), 1e-15 + 1e-15 * expected);

    [Fact]
    public void A_tolerance_moves_with_the_power_of_ten() => CsCheck.Check.Sample(CsCheck.Gen.Select(CsCheck.Gen.Double[1, 9.9], CsCheck.Gen.Int[-12, 12]), (c, l) =>
    {
        var one = Validation.NumericalTolerance(c);
        Assert.Equal(one * Math.Pow(10, l), Validation.NumericalTolerance(c * Math.Pow(10, l)), 1e-12 * one * Math.Pow(10, l));
        Assert.True(one <= c / 10 * 0.51);
    });

    [Fact]
    public void A_tolerance_of_nothing_is_refused()
    {
        Assert.Contains("1 or 2", Assert.Throws<ArgumentOutOfRangeException>("digits", () => Validation.NumericalTolerance(1, 3)).Message);
        Assert.Throws<ArgumentOutOfRangeException>("u", () => Validation.NumericalTolerance(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>("u", () => Validation.NumericalTolerance(-1));
    }
}
