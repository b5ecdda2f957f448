using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Knownwater.Uncertainty;

/// <summary>Eight generators xoshiro256++ (Blackman and Vigna 2021, ACM Transactions on Mathematical Software 47, 36) side by side: a stream for each seed and block.</summary>
/// <remarks>
/// Every lane is seeded through splitmix64 from a start that both seed and block are mixed into. Where a distribution fuses multiplication and addition it says so, and only χ² below two
/// degrees of freedom calls on the runtime's own vector functions, so that the numbers do not depend on the width of the processor's vectors.
/// </remarks>
internal struct LaneRandom
{
    internal const double HalfStep = 1.1102230246251565e-16;   // 2⁻⁵³
    private const ulong Golden = 0x9E3779B97F4A7C15;

    private Vector512<ulong> _a, _b, _c, _d;

    public LaneRandom(ulong seed, ulong block)
    {
        var state = Mix(Mix(seed + Golden) + block);
        _a = Eight(ref state);
        _b = Eight(ref state);
        _c = Eight(ref state);
        _d = Eight(ref state);
    }

    /// <summary>Uniform numbers strictly between 0 and 1, of 52 bits.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector512<double> Uniform() => FromOneToTwo(Next()) - Vector512.Create(1 - HalfStep);

    /// <summary>Two standard normal numbers a lane (Box and Muller 1958).</summary>
    public (Vector512<double> First, Vector512<double> Second) Normals()
    {
        var radius = LaneMath.Radius(Uniform());
        var (cosine, sine) = LaneMath.Direction(Next());
        return (radius * cosine, radius * sine);
    }

    /// <summary>Fills a column with uniform numbers in its first half and with bits in its second, for <see cref="LaneMath.BoxMuller"/>.</summary>
    /// <param name="column">Room for an even count of blocks of lanes.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Pairs(Span<Vector512<double>> column)
    {
        var half = column.Length / 2;
        for (var k = 0; k < half; k++)
        {
            column[k] = Uniform();
            column[half + k] = Next().AsDouble();
        }
    }

    /// <summary>Cosines of angles uniform on the circle.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector512<double> Cosine() => LaneMath.Direction(Next()).Cosine;

    /// <summary>χ² numbers (Marsaglia and Tsang 2000, ACM Transactions on Mathematical Software 26, 363): all lanes try until the last has one.</summary>
    public Vector512<double> ChiSquare(double dof)
    {
        var shape = dof < 2 ? dof / 2 + 1 : dof / 2;
        Vector512<double> d = Vector512.Create(shape - 1.0 / 3), half = Vector512.Create(0.5), one = Vector512<double>.One;
        var c = Vector512.Create(1 / Math.Sqrt(9 * (shape - 1.0 / 3)));
        var found = Vector512<double>.Zero;
        var open = Vector512.Equals(found, found);
        while (Vector512.ExtractMostSignificantBits(open) != 0)
        {
            var (x, _) = Normals();
            var v = one + c * x;
            v = v * v * v;
            // a cube that is not positive has no logarithm; it is turned down by the first condition
            var least = half * x * x + d - d * v + d * LaneMath.Log(v);
            var taken = Vector512.GreaterThan(v, Vector512<double>.Zero) & Vector512.LessThan(LaneMath.Log(Uniform()), least) & open;
            found = Vector512.ConditionalSelect(taken, d * v, found);
            open = Vector512.AndNot(open, taken);
        }
        found += found;
        return dof < 2 ? found * Vector512.Exp(LaneMath.Log(Uniform()) * Vector512.Create(2 / dof)) : found;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector512<ulong> Next()
    {
        var sum = _a + _d;
        var result = (sum << 23 | sum >> 41) + _a;
        var t = _b << 17;
        _c ^= _a;
        _d ^= _b;
        _b ^= _c;
        _a ^= _d;
        _c ^= t;
        _d = _d << 45 | _d >> 19;
        return result;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector512<double> FromOneToTwo(Vector512<ulong> bits) => (bits >> 12 | Vector512.Create(0x3FF0000000000000UL)).AsDouble();

    private static Vector512<ulong> Eight(ref ulong state)
    {
        Span<ulong> lanes = stackalloc ulong[Lanes.Count];
        foreach (ref var lane in lanes)
            lane = Mix(state += Golden);
        return Vector512.Create<ulong>(lanes);
    }

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
