using System.Numerics;
using System.Runtime.Intrinsics;
using CsCheck;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public class LanesTests
{
    private const double LeastUniform = 1.1102230246251565e-16;   // 2⁻⁵³

    private static readonly Gen<double[]> Eight = Gen.Double[-50, 50].Array[Lanes.Count];

    private static Lanes Of(double[] values) => new(Vector512.Create(values));

    private static void Same(Func<int, double> expected, Lanes found, double relative = 0)
    {
        for (var i = 0; i < Lanes.Count; i++)
        {
            if (relative == 0 || !double.IsFinite(expected(i)))
                Assert.Equal(expected(i), found[i]);
            else
                Assert.Equal(expected(i), found[i], relative * Math.Abs(expected(i)));
        }
    }

    // arithmetic, roots and powers are those of double in every lane; the vector functions of the runtime keep within two units of the last place of the C library's (2⁻⁵² is 2.2e-16)
    [Fact]
    public void Every_lane_is_a_double() => Check.Sample(Gen.Select(Eight, Eight, Gen.Double[-3, 3]), (a, b, p) =>
    {
        double[] positive = [.. a.Select(Math.Abs)];
        Lanes x = Of(a), y = Of(b), z = Of(positive);
        Same(i => a[i] + b[i], x + y);
        Same(i => a[i] - b[i], x - y);
        Same(i => a[i] * b[i], x * y);
        Same(i => a[i] / b[i], x / y);
        Same(i => -a[i], -x);
        Same(i => a[i] + 2.5, x + 2.5);
        Same(i => Math.Sqrt(positive[i]), Lanes.Sqrt(z));
        Same(i => Math.Pow(positive[i], p), Lanes.Pow(z, p));
        Same(i => Math.Exp(a[i]), Lanes.Exp(x), 4.5e-16);
        Same(i => Math.Log(positive[i]), Lanes.Log(z), 4.5e-16);
        Same(i => Math.Max(a[i], b[i]), Lanes.Max(x, y));
        Same(i => Math.Min(a[i], b[i]), Lanes.Min(x, y));
        Same(i => a[i] >= 0 ? b[i] : p, Lanes.Select(x, y, p));
        for (var i = 0; i < Lanes.Count; i++)
        {
            Assert.Equal(Math.Sin(a[i]), Lanes.Sin(x)[i], 4.5e-16);
            Assert.Equal(Math.Cos(a[i]), Lanes.Cos(x)[i], 4.5e-16);
        }
        Assert.True(x == Of(a) && x.Equals((object)Of(a)) && x.GetHashCode() == Of(a).GetHashCode() && x != x + 1.0);
    });

    [Fact]
    public void What_has_no_value_is_not_a_number()
    {
        Assert.True(double.IsNaN(Lanes.Log(-1.0)[3]));
        Assert.True(double.IsNaN(Lanes.Sqrt(-1.0)[7]));
        Assert.True(double.IsNaN(Lanes.Max(double.NaN, 1.0)[0]));
        Assert.Equal(double.NegativeInfinity, Lanes.Log(0.0)[1]);
        Assert.Equal("1 1 1 1 1 1 1 1", ((Lanes)1.0).ToString());
        Assert.Throws<ArgumentOutOfRangeException>(() => ((Lanes)1.0)[8]);
    }

    // branches without a branch: one lane's answer is not another's
    [Fact]
    public void Select_and_extremes_agree_over_all_number_types() => Check.Sample(Gen.Select(Gen.Double[-2, 2], Gen.Double[-2, 2]), (a, b) =>
    {
        Assert.Equal(Math.Max(a, b), Real.Max(a, b).Value);
        Assert.Equal(Math.Min(a, b), Real.Min(a, b).Value);
        Assert.Equal(Math.Max(a, b), Estimate.Max(a, b).Value);
        Assert.Equal(Math.Min(a, b), Estimate.Min(a, b).Value);
        Assert.Equal(a >= 0 ? b : 7, Estimate.Select(a, b, 7).Value);
        // |x| by three of them, with its slope
        var x = new Dual<Real>(a, 1.0);
        Assert.Equal(new Dual<Real>(Math.Abs(a), a >= 0 ? 1.0 : -1.0), Dual<Real>.Select(x, x, -x));
        Assert.Equal(new Dual<Real>(Math.Max(a, b), a >= b ? 1.0 : 0.0), Dual<Real>.Max(x, b));
        Assert.Equal(new Dual<Real>(Math.Min(a, b), a <= b ? 1.0 : 0.0), Dual<Real>.Min(x, b));
        // slopes of sine and cosine
        Assert.Equal(Math.Cos(a), Dual<Real>.Sin(x).Derivative.Value, 1e-16);
        Assert.Equal(-Math.Sin(a), Dual<Real>.Cos(x).Derivative.Value, 1e-16);
    });

    private readonly struct EightInputs : IModel
    {
        public int Inputs => 8;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] * T.Exp(-x[1]) / (1.0 + x[2]) + T.Log(x[3]) * T.Sqrt(x[4]) - T.Sin(x[5]) * T.Cos(x[6]) + T.Pow(x[7], 1.5);
    }

    // a dual number over lanes holds one value and eight partial derivatives: all of a gradient in one evaluation, and with another dual inside a row of second derivatives
    [Fact]
    public void A_dual_number_over_lanes_is_a_gradient() => Check.Sample(Gen.Double[0.1, 3].Array[8], x =>
    {
        var model = new EightInputs();
        var at = new Dual<Lanes>[8];
        var rows = new Dual<Dual<Lanes>>[8];
        for (var i = 0; i < 8; i++)
        {
            var unit = new double[8];
            unit[i] = 1;
            at[i] = new Dual<Lanes>(x[i], Of(unit));
            rows[i] = new(at[i], new Dual<Lanes>(i == 1 ? 1.0 : 0.0, 0.0));
        }
        var y = model.Evaluate<Dual<Lanes>>(at);
        var row = model.Evaluate<Dual<Dual<Lanes>>>(rows);
        for (var i = 0; i < 8; i++)
        {
            var one = new Dual<Real>[8];
            for (var j = 0; j < 8; j++)
                one[j] = new Dual<Real>(x[j], i == j ? 1.0 : 0.0);
            var expected = model.Evaluate<Dual<Real>>(one);
            Assert.Equal(expected.Derivative.Value, y.Derivative[i], 1e-14 + 1e-14 * Math.Abs(expected.Derivative.Value));
            Assert.Equal(expected.Value.Value, y.Value[i], 1e-14 + 1e-14 * Math.Abs(expected.Value.Value));
        }
        // ∂²y/∂x₁∂xᵢ of x₀·e^(−x₁)/(1 + x₂), by hand
        var e = Math.Exp(-x[1]);
        double[] hand = [-e / (1 + x[2]), x[0] * e / (1 + x[2]), x[0] * e / Math.Pow(1 + x[2], 2), 0, 0, 0, 0, 0];
        for (var i = 0; i < 8; i++)
            Assert.Equal(hand[i], row.Derivative.Derivative[i], 1e-13);
    });

    // ---- what is drawn ----

    // xoshiro256++ in its published scalar form; first outputs for the state 1, 2, 3, 4 as in public test vectors (from memory; the first is rotl(1 + 4, 23) + 1 by hand)
    private static ulong Next(ulong[] s)
    {
        var result = BitOperations.RotateLeft(s[0] + s[3], 23) + s[0];
        var t = s[1] << 17;
        s[2] ^= s[0];
        s[3] ^= s[1];
        s[1] ^= s[2];
        s[0] ^= s[3];
        s[2] ^= t;
        s[3] = BitOperations.RotateLeft(s[3], 45);
        return result;
    }

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }

    [Fact]
    public void Lanes_of_the_generator_are_scalar_generators()
    {
        ulong[] known = [1, 2, 3, 4];
        Assert.Equal([41943041, 58720359, 3588806011781223, 3591011842654386, 9228616714210784205], Enumerable.Range(0, 5).Select(_ => Next(known)));
        var random = new LaneRandom(42, 7);
        var state = Mix(Mix(42 + 0x9E3779B97F4A7C15) + 7);
        var words = new ulong[32];
        foreach (ref var word in words.AsSpan())
            word = Mix(state += 0x9E3779B97F4A7C15);
        var scalar = Enumerable.Range(0, 8).Select(lane => new[] { words[lane], words[8 + lane], words[16 + lane], words[24 + lane] }).ToArray();
        for (var i = 0; i < 100; i++)
        {
            var uniform = random.Uniform();
            for (var lane = 0; lane < 8; lane++)
                Assert.Equal(((Next(scalar[lane]) >> 12) + 0.5) / (1UL << 52), uniform[lane]);
        }
    }

    // fdlibm promises less than one unit of the last place; the C library the same
    [Fact]
    public void Logarithm_sine_and_cosine_of_the_draws_are_right_to_the_last_place()
    {
        var random = new LaneRandom(1, 0);
        var edges = Vector512.Create(LeastUniform, 1 - LeastUniform, 0.5, 0.70710678, 0.70710679, 0.999, 1e-9, 0.25);
        for (var i = 0; i < 20_000; i++)
        {
            var u = i == 0 ? edges : random.Uniform();
            var log = LaneMath.Log(u);
            var angle = (u - Vector512.Create(0.5)) * Vector512.Create(Math.PI / 2);
            var (sine, cosine) = LaneMath.SinCos(angle);
            for (var lane = 0; lane < 8; lane++)
            {
                Assert.Equal(Math.Log(u[lane]), log[lane], 3.4e-16 * Math.Abs(Math.Log(u[lane])));
                Assert.Equal(Math.Sin(angle[lane]), sine[lane], 2.3e-16 * Math.Abs(angle[lane]));
                Assert.Equal(Math.Cos(angle[lane]), cosine[lane], 2.3e-16);
            }
        }
    }

    // moments of 8.4 million draws; four standard errors each: mean 1/√n, variance √(2/n), fourth moment √(96/n); beyond 4 sd 6.334e-5 (the normal distribution's two tails)
    [Fact]
    public void Normal_draws_have_the_moments_of_a_normal_distribution()
    {
        const int n = 8 * 1_048_576;
        var random = new LaneRandom(9, 3);
        double sum = 0, squares = 0, fourth = 0, products = 0;
        var beyond = 0;
        for (var i = 0; i < n / 16; i++)
        {
            var (a, b) = random.Normals();
            sum += Vector512.Sum(a) + Vector512.Sum(b);
            squares += Vector512.Sum(a * a) + Vector512.Sum(b * b);
            fourth += Vector512.Sum(a * a * a * a) + Vector512.Sum(b * b * b * b);
            products += Vector512.Sum(a * b);
            beyond += BitOperations.PopCount(Vector512.ExtractMostSignificantBits(Vector512.GreaterThan(Vector512.Abs(a), Vector512.Create(4.0))))
                + BitOperations.PopCount(Vector512.ExtractMostSignificantBits(Vector512.GreaterThan(Vector512.Abs(b), Vector512.Create(4.0))));
        }
        Assert.Equal(0, sum / n, 4 / Math.Sqrt(n));
        Assert.Equal(1, squares / n, 4 * Math.Sqrt(2.0 / n));
        Assert.Equal(3, fourth / n, 4 * Math.Sqrt(96.0 / n));
        Assert.Equal(0, products / (n / 2), 4 / Math.Sqrt(n / 2));
        Assert.Equal(6.334e-5, beyond / (double)n, 4 * Math.Sqrt(6.334e-5 / n));
    }

    // χ² has the mean ν and the variance 2ν; four standard errors at a million draws, for the variance √((8ν² + 48ν)/n) (fourth cumulant 48ν)
    [Theory]
    [InlineData(0.4)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(7.3)]
    [InlineData(250)]
    public void Chi_square_draws_have_their_moments(double dof)
    {
        const int n = 8 * 131_072;
        var random = new LaneRandom(5, 1);
        double sum = 0, squares = 0;
        for (var i = 0; i < n / 8; i++)
        {
            var d = random.ChiSquare(dof) - Vector512.Create(dof);
            sum += Vector512.Sum(d);
            squares += Vector512.Sum(d * d);
        }
        Assert.Equal(0, sum / n, 4 * Math.Sqrt(2 * dof / n));
        Assert.Equal(2 * dof, squares / n, 4 * Math.Sqrt((8 * dof * dof + 48 * dof) / n));
    }
}
