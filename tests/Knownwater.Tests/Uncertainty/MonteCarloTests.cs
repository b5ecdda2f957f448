using System.Diagnostics;
using System.Globalization;
using System.Runtime.Intrinsics;
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

    // JCGM 101:2008, tables 3 and 4: the sums of rectangles have closed forms; 3.8794 for four of sd 1. Four sampling errors of an end at 1e7 trials: √(0.025·0.975/M)/density, the density
    // 0.0312 at 3.88 (a normal one has 0.0292 at 3.92). The law of propagation gives u and 1.96·u as printed, and is valid where the sum is normal, not where one rectangle rules.
    [Fact]
    public void Closed_forms_of_the_additive_examples()
    {
        var examples = CheckData.Json("jcgm101/jcgm101_monte_carlo.json");
        Estimate[] four = [.. Enumerable.Range(0, 4).Select(i => Rectangle($"X{i}", 0, Root3))];
        var found = MonteCarlo.Of(new SumOfFour(), four, 4, 10_000_000);
        var half = examples.GetProperty("additive_9_2_3").Number("closed_form_half_width");
        Assert.Equal(-half, found.Low, 4 * 4.94e-5 / 0.0312);
        Assert.Equal(half, found.High, 4 * 4.94e-5 / 0.0312);
        Assert.Equal(2 * half, found.ShortestHigh - found.ShortestLow, 8 * 4.94e-5 / 0.0312);
        Assert.Equal(examples.GetProperty("additive_9_2_3").GetProperty("published").GetProperty("interval_95_analytic").Numbers()[1], found.High, 0.005 + 0.0064);

        Estimate[] ruled = [.. four.Take(3), Rectangle("X4", 0, 10 * Root3)];
        var linear = Estimate.Of(new SumOfFour(), ruled);
        var recomputed = examples.GetProperty("additive_9_2_4").GetProperty("recomputed");
        Assert.Equal(recomputed.Number("u_exact"), linear.StandardUncertainty, 1e-12);
        Assert.Equal(recomputed.Number("gauss"), CoverageFactor.Normal(0.95) * linear.StandardUncertainty, 2e-7);   // there with k as 1.959964
        Assert.Equal(examples.GetProperty("additive_9_2_4").GetProperty("published").GetProperty("interval_95_gaussian").Numbers()[1], CoverageFactor.Normal(0.95) * linear.StandardUncertainty, 0.051);
        var simulated = MonteCarlo.Of(new SumOfFour(), ruled, 4);
        Assert.Equal(recomputed.Number("u_exact"), simulated.StandardUncertainty, 4 * 10.15 / Math.Sqrt(4 * 1e6 / 0.8));
        Assert.False(Validation.Of(linear, simulated).Holds);

        Estimate[] normal = [.. Enumerable.Range(0, 4).Select(i => Estimate.From(0, 1, $"X{i}"))];
        Assert.True(Validation.Of(Estimate.Of(new SumOfFour(), normal), MonteCarlo.Of(new SumOfFour(), normal, 4)).Holds);
    }

    private readonly struct ScaledProduct(double unit, double shift) : IModel
    {
        public int Inputs => 2;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => unit * (x[0] * x[1]) + shift;
    }

    // a power of two changes the unit without rounding, so every figure moves by it to the bit; a shift moves the values alone
    [Theory]
    [InlineData(0.0009765625)]
    [InlineData(4096)]
    [InlineData(-2)]
    public void Another_unit_scales_every_figure(double unit)
    {
        Estimate[] inputs = [Estimate.From(3, 0.2, "a"), Rectangle("b", 2, 0.5)];
        var one = MonteCarlo.Of(new ScaledProduct(1, 0), inputs, 21, 100_000);
        var scaled = MonteCarlo.Of(new ScaledProduct(unit, 0), inputs, 21, 100_000);
        Assert.Equal(unit * one.Mean, scaled.Mean);
        Assert.Equal(Math.Abs(unit) * one.StandardUncertainty, scaled.StandardUncertainty);
        Assert.Equal(unit * (unit > 0 ? one.Low : one.High), scaled.Low, 1.01 * scaled.BinWidth);
        Assert.Equal(unit * (unit > 0 ? one.High : one.Low), scaled.High, 1.01 * scaled.BinWidth);
        var shifted = MonteCarlo.Of(new ScaledProduct(1, 1e6), inputs, 21, 100_000);
        Assert.Equal(one.Mean + 1e6, shifted.Mean, 1e-8);
        Assert.Equal(one.StandardUncertainty, shifted.StandardUncertainty, 1e-9);
        Assert.Equal(one.Low + 1e6, shifted.Low, 1.01 * one.BinWidth);
    }

    [Fact]
    public void One_more_independent_source_never_lowers_u() => CsCheck.Check.Sample(
        CsCheck.Gen.Select(CsCheck.Gen.Double[0.1, 2], CsCheck.Gen.Double[0.1, 2], CsCheck.Gen.ULong), (a, b, seed) =>
        {
            var alone = MonteCarlo.Of(new SumOfFour(), [Estimate.From(0, a, "a"), 0, 0, 0], seed, 100_000);
            var both = MonteCarlo.Of(new SumOfFour(), [Estimate.From(0, a, "a"), Rectangle("b", 0, b), 0, 0], seed, 100_000);
            // both sampled: u of either is right to u/√(2M); the added variance b²/3 is at least 1/1200 of the larger one
            Assert.Equal(Math.Sqrt(a * a + b * b / 3), both.StandardUncertainty, 5 * both.StandardUncertainty / Math.Sqrt(2e5));
            Assert.True(both.StandardUncertainty > alone.StandardUncertainty * (1 - 5 * Math.Sqrt(2 / 2e5)));
        }, iter: 20);

    // JCGM 101:2008, 9.3, tables 5 and 6. The shortest interval has a flat minimum: its ends may slide by 0.02 u at 1e6 trials, so 1e7 are run; its width is held more closely.
    [Fact]
    public void The_calibration_of_a_mass()
    {
        var published = CheckData.Json("jcgm101/jcgm101_monte_carlo.json").GetProperty("mass_calibration_9_3").GetProperty("published");
        var linear = Estimate.Of(new MassCalibration(), Mass());
        var first = published.GetProperty("GUF_first_order");
        Assert.Equal(first.Number("dm"), linear.Value, 5e-5);
        Assert.Equal(first.Number("u"), linear.StandardUncertainty, 5e-5);
        var found = MonteCarlo.Of(new MassCalibration(), Mass(), 1, 10_000_000);
        var mcm = published.GetProperty("MCM");
        Assert.Equal(mcm.Number("dm"), found.Mean, 5e-5 + 3e-3 * 0.0754);
        Assert.Equal(mcm.Number("u"), found.StandardUncertainty, 5e-5 + 3e-3 * 0.0754);
        var ends = mcm.GetProperty("shortest_95").Numbers();
        Assert.Equal(ends[0], found.ShortestLow, 0.02 * 0.0754);
        Assert.Equal(ends[1], found.ShortestHigh, 0.02 * 0.0754);
        Assert.Equal(ends[1] - ends[0], found.ShortestHigh - found.ShortestLow, 1e-4 + 0.012 * 0.0754);
        // 8 million trials in numpy, in the same file: four sampling errors of each and both
        var again = CheckData.Json("jcgm101/jcgm101_monte_carlo.json").GetProperty("mass_calibration_9_3");
        Assert.Equal(again.GetProperty("recomputed_MC").Number("mean"), found.Mean, 4 * 0.0754 * Math.Sqrt(1 / 8e6 + 1 / 1e7));
        Assert.Equal(again.GetProperty("recomputed_MC").Number("u"), found.StandardUncertainty, 4 * 0.0754 * Math.Sqrt(1 / 1.6e7 + 1 / 2e7));
        // u in closed form: the moments of 1/ρ over a rectangle are (ln b/a)/(b − a) and 1/(ab), and ρₐ − 1.2 has the mean zero; 0.07548, where a simulation of fewer trials was printed
        double w = Math.Log(9.0 / 7) / 2000, r = Math.Log(8050.0 / 7950) / 100, noise = 0.05 * 0.05 + 0.02 * 0.02;
        var exact = Math.Sqrt((100001.234 * 100001.234 + noise) * (0.01 / 3) * (1 / 63e6 - 2 * w * r + 1 / (7950.0 * 8050)) + noise);
        Assert.Equal(0.0754797, exact, 0.51e-7);
        Assert.Equal(exact, found.StandardUncertainty, 4 * 0.0755 / Math.Sqrt(2e7));
        var symmetric = again.GetProperty("recomputed_MC").GetProperty("symmetric_95").Numbers();
        Assert.Equal(symmetric[0], found.Low, 4 * 0.0754 * Math.Sqrt(0.025 * 0.975 * (1 / 8e6 + 1 / 1e7)) / 0.0584);
        Assert.Equal(symmetric[1], found.High, 4 * 0.0754 * Math.Sqrt(0.025 * 0.975 * (1 / 8e6 + 1 / 1e7)) / 0.0584);
        Assert.Equal(again.Number("recomputed_first_order_u"), linear.StandardUncertainty, 1e-12);
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

    private readonly struct Dilution : IModel
    {
        public int Inputs => 3;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] * x[1] / x[2];
    }

    // the example of docs/explanation/uncertainty.md; u = 100·√(0.0025² + (0.02/√6/10)² + (0.1/√3/100)²) by hand
    [Fact]
    public void One_model_by_three_methods()
    {
        Estimate[] inputs =
        [
            Estimate.From(1000, ErrorSource.Expanded("stock, certificate", 5, coverageFactor: 2, unit: "mg/L")),
            Estimate.From(10, ErrorSource.Triangular("pipette", 0.02, "mL")),
            Estimate.From(100, ErrorSource.Rectangular("flask", 0.1, "mL")),
        ];
        var first = Estimate.Of(new Dilution(), inputs);
        var second = SecondOrder.Of(new Dilution(), inputs);
        var simulated = MonteCarlo.Of(new Dilution(), inputs, seed: 1);
        var u = 100 * Math.Sqrt(0.0025 * 0.0025 + Math.Pow(0.02 / Math.Sqrt(6) / 10, 2) + Math.Pow(0.1 / Math.Sqrt(3) / 100, 2));
        Assert.Equal(u, first.StandardUncertainty, 1e-14);
        Assert.Equal(u, second.StandardUncertainty, 1e-5 * u);
        Assert.Equal(u, simulated.StandardUncertainty, 4 * u / Math.Sqrt(2e6));
        // E(1/V) of a rectangle: ln(b/a)/(b − a)
        Assert.Equal(10_000 * Math.Log(100.1 / 99.9) / 0.2, first.Value + second.MeanShift, 1e-9);
        Assert.True(Validation.Of(first, simulated).Holds);
    }

    private const string BitsVariable = "KNOWNWATER_TEST_BITS";

    private readonly struct EveryFunction : IModel
    {
        public int Inputs => 8;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> =>
            T.Max(x[0], 0.3) * x[1] / x[2] - T.Min(x[3], x[4]) + T.Select(x[5], x[6], -x[7]) + T.Sqrt(x[2] * x[2]) + T.Pow(x[2], 0.7) + T.Exp(x[5]) - T.Log(x[2]) + T.Sin(x[3]) * T.Cos(x[4]);
    }

    private static Estimate[] EveryShape() =>
    [
        Estimate.From(1, 0.5, "normal"), Rectangle("rectangle", 2, 0.5), Estimate.From(30, ErrorSource.Triangular("triangle", 1)), Estimate.From(0, ErrorSource.Trapezoidal("trapezium", 1, 0.4)),
        Estimate.From(0.2, ErrorSource.ArcSine("cycle", 1)), Estimate.From(0, ErrorSource.MeanOfReadings("mean", 1, 4)), Estimate.Below(2, "below", 0.3), Estimate.From(1, ErrorSource.ResolutionStep("step", 1)),
    ];

    private static string Bits()
    {
        var r = MonteCarlo.Of(new EveryFunction(), EveryShape(), 77, 50_000, 1);
        return string.Join(' ', new[] { r.Mean, r.StandardUncertainty, r.Low, r.High, r.ShortestLow, r.ShortestHigh, r.BinWidth }.Select(v => BitConverter.DoubleToInt64Bits(v).ToString("x16", CultureInfo.InvariantCulture)));
    }

    // this test program runs itself with the wide vectors switched off, then with all but the oldest instructions: every bit of the result must be the same
    [Theory]
    [InlineData("DOTNET_EnableAVX512")]
    [InlineData("DOTNET_EnableAVX2")]
    [InlineData("DOTNET_EnableHWIntrinsic")]
    public async Task Narrower_vectors_give_the_same_bits(string switchedOff)
    {
        var file = Path.GetTempFileName();
        var start = new ProcessStartInfo(Environment.ProcessPath!) { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
        if (Path.GetFileNameWithoutExtension(Environment.ProcessPath!) == "dotnet")
            start.ArgumentList.Add(typeof(MonteCarloTests).Assembly.Location);
        start.ArgumentList.Add("-method");
        start.ArgumentList.Add($"*{nameof(MonteCarloTests)}.{nameof(Bits_for_a_run_beside_this_one)}");
        start.Environment[switchedOff] = "0";
        start.Environment[BitsVariable] = file;
        using var child = Process.Start(start)!;
        var output = child.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        var errors = child.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await child.WaitForExitAsync(TestContext.Current.CancellationToken);
        var written = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
        File.Delete(file);
        Assert.True(child.ExitCode == 0, await output + await errors);
        Assert.StartsWith(Bits(), written, StringComparison.Ordinal);
        // the switch did switch something off
        Assert.EndsWith(" 512: False", written, StringComparison.Ordinal);
    }

    // writes only when the test above asks; by itself it holds that a second run repeats the first
    [Fact]
    public void Bits_for_a_run_beside_this_one()
    {
        var bits = Bits();
        if (Environment.GetEnvironmentVariable(BitsVariable) is { } file)
            File.WriteAllText(file, $"{bits} 512: {Vector512.IsHardwareAccelerated}");
        Assert.Equal(bits, Bits());
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

    // Student's t with so few degrees of freedom that the first range of bins is too narrow: t(0.975; ν) of JCGM 100:2008, table G.2 (ν = 1 and 2), both ends. Tolerance: four sampling errors
    // at a million trials, √(0.025·0.975/M)/density.
    [Theory]
    [InlineData(1, 12.71, 0.32)]
    [InlineData(2, 4.30, 0.055)]
    public void Heavy_tails_are_run_again_over_a_wider_range(double dof, double t, double tolerance)
    {
        var found = MonteCarlo.Of(new SumOfFour(), [Estimate.From(5, ErrorSource.MeanOfReadings("mean", 1, 1, dof: dof)), 0, 0, 0], 2);
        Assert.Equal(5 - t, found.Low, tolerance + 0.005);
        Assert.Equal(5 + t, found.High, tolerance + 0.005);
        Assert.Equal(found.High - found.Low, found.ShortestHigh - found.ShortestLow, 2 * tolerance);
        Assert.True(found.BinWidth < tolerance);
    }

    // JCGM 101:2008, 6.4.9.7: a stated uncertainty with ν effective degrees of freedom is a t of that ν; two means observed together (ν = 4) move with one χ². t(0.975; 4) = 2.78 (JCGM 100, table G.2).
    // So the interval of the first method, with its k from ν_eff, is that of the second.
    [Fact]
    public void A_stated_u_with_few_degrees_of_freedom_is_drawn_from_t()
    {
        Estimate[] stated = [Estimate.From(5, 0.3, "certificate", dof: 4), 0, 0, 0];
        Assert.Equal(5 - 2.78 * 0.3, MonteCarlo.Of(new SumOfFour(), stated, 4).Low, 0.0015 + 0.02 * 0.3);
        var together = Estimate.Correlated([1, 2], new[,] { { 0.09, 0.05 }, { 0.05, 0.04 } }, "means", dof: 4);
        Estimate[] sum = [together[0], together[1], 0, 0];
        var (linear, simulated) = (Estimate.Of(new SumOfFour(), sum), MonteCarlo.Of(new SumOfFour(), sum, 4, 10_000_000));
        Assert.Equal(Math.Sqrt(0.23), linear.StandardUncertainty, 1e-14);
        Assert.Equal(3 + 2.776 * Math.Sqrt(0.23), simulated.High, 0.007 * Math.Sqrt(0.23));
        Assert.True(Validation.Of(linear, simulated).Holds);
    }

    private readonly struct Clipped : IModel
    {
        public int Inputs => 1;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => T.Max(x[0], 0.0);
    }

    // a normal quantity that a display clips at zero: mean 1/√(2π), variance ½ − 1/(2π), by hand; half of the values are one value
    [Fact]
    public void A_model_with_a_branch()
    {
        var found = MonteCarlo.Of(new Clipped(), [Estimate.From(0, 1, "x")], 4);
        Assert.Equal(1 / Math.Sqrt(2 * Math.PI), found.Mean, 0.0025);
        Assert.Equal(Math.Sqrt(0.5 - 0.5 / Math.PI), found.StandardUncertainty, 0.0025);
        Assert.Equal(0, found.Low, found.BinWidth);
        Assert.Equal(1.96, found.High, 0.012);
        Assert.Equal(0, found.ShortestLow, found.BinWidth);
        Assert.Equal(1.645, found.ShortestHigh, 0.01);
        // far below zero nearly every value is zero
        var nothing = MonteCarlo.Of(new Clipped(), [Estimate.From(-3, 1, "x")], 4);
        Assert.Equal(0, nothing.Low, nothing.BinWidth);
        Assert.Equal(0, nothing.ShortestLow, nothing.BinWidth);
        Assert.Equal(0, nothing.High, 1e-3);
    }

    private readonly struct LogarithmOf : IModel
    {
        public int Inputs => 1;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => T.Log(x[0]);
    }

    private sealed class Calls
    {
        public int Count;
    }

    private readonly struct Refusing(Calls calls) : IModel
    {
        public int Inputs => 1;

        // the pilot passes; then the model gives up, on whatever thread
        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => Interlocked.Increment(ref calls.Count) < 1000 ? x[0] : throw new NotSupportedException("no such water");
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void What_a_model_throws_reaches_the_caller_on_any_number_of_threads(int threads) =>
        Assert.Equal("no such water", Assert.Throws<NotSupportedException>(() => MonteCarlo.Of(new Refusing(new Calls()), [Estimate.From(1, 1, "x")], 1, 100_000, threads)).Message);

    [Fact]
    public void A_run_that_cannot_be_is_refused()
    {
        Assert.Contains("LogarithmOf", Assert.Throws<ArgumentOutOfRangeException>("model", () => MonteCarlo.Of(new LogarithmOf(), [Estimate.From(1, 1, "x")], 1)).Message);
        // one trial in thirty thousand: not in the pilot
        Assert.Throws<ArgumentOutOfRangeException>("model", () => MonteCarlo.Of(new LogarithmOf(), [Estimate.From(4, 1, "x")], 1, 1_000_000, 2));
        Assert.Throws<ArgumentException>("inputs", () => MonteCarlo.Of(new SumOfFour(), [1, 2, 3], 1));
        Assert.Contains("1000", Assert.Throws<ArgumentOutOfRangeException>("trials", () => MonteCarlo.Of(new SumOfFour(), [1, 2, 3, 4], 1, 999)).Message);
        Assert.Throws<ArgumentOutOfRangeException>("threads", () => MonteCarlo.Of(new SumOfFour(), [1, 2, 3, 4], 1, 1000, -1));
        Assert.Throws<ArgumentOutOfRangeException>("most", () => MonteCarlo.Adaptive(new SumOfFour(), [1, 2, 3, 4], 1, 1000));
    }

    // exact inputs: a constant, to the bit
    [Fact]
    public void Exact_inputs_give_a_constant()
    {
        foreach (var value in new[] { 0, 0.1, -1e300, 1e-300 })
        {
            var found = MonteCarlo.Of(new SumOfFour(), [value, 0, 0, 0], 1, 20_000);
            Assert.Equal((value, 0.0, value, value, value, value), (found.Mean, found.StandardUncertainty, found.Low, found.High, found.ShortestLow, found.ShortestHigh));
        }
    }

    private readonly struct Squares : IMultivariateModel
    {
        public int Inputs => 2;

        public int Outputs => 3;

        public void Evaluate<T>(ReadOnlySpan<T> x, Span<T> y) where T : IReal<T> => (y[0], y[1], y[2]) = (x[0] * x[0], x[1] * x[1], x[0] - x[1]);
    }

    // two means whose sd is one pooled estimate of ν = 12: a²b² has the mean ν²/((ν − 2)(ν − 4)) = 1.8 and a², b² the mean 1.2, so their covariance is 0.36 by hand; with an estimate each it is 0.
    // Tolerance: 0.03, four sampling errors at a million trials.
    [Fact]
    public void Members_of_a_family_share_the_draw_of_their_variance()
    {
        var family = Guid.NewGuid();
        Estimate Mean(Guid? of) => Estimate.From(0, ErrorSource.MeanOfReadings("level", 1, 1, dof: 12, family: of));
        Assert.Equal(0.36, MonteCarlo.Joint(new Squares(), [Mean(family), Mean(family)], 5).Covariance[0, 1], 0.03);
        Assert.Equal(0, MonteCarlo.Joint(new Squares(), [Mean(null), Mean(null)], 5).Covariance[0, 1], 0.03);
    }

    [Fact]
    public void Outputs_of_a_joint_run_are_those_of_runs_apart()
    {
        Estimate[] inputs = [Estimate.From(2, 0.3, "a"), Rectangle("b", 1, 0.2)];
        var joint = MonteCarlo.Joint(new Squares(), inputs, 6, 100_000, 2);
        for (var o = 0; o < 3; o++)
            Assert.Equal(MonteCarlo.Of(new OneOutput<Squares>(new Squares(), o), inputs, 6, 100_000, 1), joint.Outputs[o]);
        Assert.Equal(joint.Covariance, MonteCarlo.Joint(new Squares(), inputs, 6, 100_000, 1).Covariance);
        // Var(a − b) = Var a + Var b, cov(a², a − b) = 2·2·0.09 by hand for a normal a
        Assert.Equal(0.09 + 0.04 / 3, joint.Covariance[2, 2], 0.002);
        Assert.Equal(0.36, joint.Covariance[0, 2], 0.008);
        Assert.Equal(joint.Covariance[2, 0], joint.Covariance[0, 2]);
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
