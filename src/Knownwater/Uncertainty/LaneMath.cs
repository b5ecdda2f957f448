using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Knownwater.Uncertainty;

/// <summary>Logarithm, sine and cosine for the drawing of random numbers, in the narrow ranges that it needs.</summary>
/// <remarks>
/// Minimax polynomials of fdlibm (Sun Microsystems 1993), evaluated with fused multiplication and addition; errors stay below one unit of the last place. The runtime's own vector functions
/// serve any argument and take about twice as long here.
/// </remarks>
internal static class LaneMath
{
    /// <summary>Turns uniform numbers and random bits into standard normal numbers (Box and Muller 1958).</summary>
    /// <remarks>Two loops, each in a method of its own: in one, the compiler runs out of names for the halves of vectors that the processor does not have, and no longer inlines.</remarks>
    /// <param name="column">As <see cref="LaneRandom.Pairs"/> leaves it.</param>
    public static void BoxMuller(Span<Vector512<double>> column)
    {
        var first = column[..(column.Length / 2)];
        Radii(first);
        Turn(first, column[first.Length..]);
    }

    /// <summary>Rayleigh-distributed numbers √(−2 ln u) of uniform ones.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Radius(Vector512<double> uniform) => Vector512.Sqrt(Vector512.Create(-2.0) * Log(uniform));

    /// <summary>Cosine and sine of an angle uniform on the circle: within ±π/4 of an axis, and the axis from two bits that the angle leaves over.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (Vector512<double> Cosine, Vector512<double> Sine) Direction(Vector512<ulong> bits)
    {
        var (sine, cosine) = SinCos((LaneRandom.FromOneToTwo(bits) - Vector512.Create(1.5 - LaneRandom.HalfStep)) * Vector512.Create(Math.PI / 2));
        cosine = (cosine.AsUInt64() ^ ((bits << 62) & Vector512.Create(1UL << 63))).AsDouble();
        var upright = Vector512.Equals(bits & Vector512<ulong>.One, Vector512<ulong>.Zero).AsDouble();
        return (Vector512.ConditionalSelect(upright, cosine, sine), Vector512.ConditionalSelect(upright, sine, cosine));
    }

    /// <summary>Natural logarithm of positive normal numbers.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Log(Vector512<double> x)
    {
        // x = 2^k·(1 + f) with 1 + f from √½ to √2
        const ulong rootHalf = 0x3FE6A09E00000000;
        var shifted = x.AsUInt64() + Vector512.Create(0x3FF0000000000000UL - rootHalf);
        var k = (shifted >> 52 | Vector512.Create(0x4330000000000000UL)).AsDouble() - Vector512.Create(4503599627370496.0 + 1023);
        var f = ((shifted & Vector512.Create(0x000FFFFFFFFFFFFFUL)) + Vector512.Create(rootHalf)).AsDouble() - Vector512<double>.One;
        var half = Vector512.Create(0.5) * f * f;
        var s = f / (Vector512.Create(2.0) + f);
        var z = s * s;
        var w = z * z;
        var even = Fma(w, Fma(w, Vector512.Create(1.531383769920937332e-01), Vector512.Create(2.222219843214978396e-01)), Vector512.Create(3.999999999940941908e-01)) * w;
        var odd = Fma(w, Fma(w, Fma(w, Vector512.Create(1.479819860511658591e-01), Vector512.Create(1.818357216161805012e-01)), Vector512.Create(2.857142874366239149e-01)), Vector512.Create(6.666666666666735130e-01)) * z;
        var tail = Fma(s, half + (odd + even), k * Vector512.Create(1.90821492927058770002e-10));
        return Fma(k, Vector512.Create(6.93147180369123816490e-01), tail - half + f);
    }

    /// <summary>Sine and cosine of angles within ±π/4.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (Vector512<double> Sine, Vector512<double> Cosine) SinCos(Vector512<double> x)
    {
        var z = x * x;
        var s = Fma(z, Vector512.Create(1.58969099521155010221e-10), Vector512.Create(-2.50507602534068634195e-08));
        s = Fma(z, s, Vector512.Create(2.75573137070700676789e-06));
        s = Fma(z, s, Vector512.Create(-1.98412698298579493134e-04));
        s = Fma(z, s, Vector512.Create(8.33333333332248946124e-03));
        s = Fma(z, s, Vector512.Create(-1.66666666666666324348e-01));
        var c = Fma(z, Vector512.Create(-1.13596475577881948265e-11), Vector512.Create(2.08757232129817482790e-09));
        c = Fma(z, c, Vector512.Create(-2.75573143513906633035e-07));
        c = Fma(z, c, Vector512.Create(2.48015872894767294178e-05));
        c = Fma(z, c, Vector512.Create(-1.38888888888741095749e-03));
        c = Fma(z, c, Vector512.Create(4.16666666666666019037e-02));
        return (Fma(x * z, s, x), Fma(z * z, c, Fma(z, Vector512.Create(-0.5), Vector512<double>.One)));
    }

    /// <summary>a·b + c with one rounding, on every processor.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Fma(Vector512<double> a, Vector512<double> b, Vector512<double> c) => Vector512.FusedMultiplyAdd(a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Radii(Span<Vector512<double>> column)
    {
        for (var k = 0; k < column.Length; k++)
            column[k] = Radius(column[k]);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Turn(Span<Vector512<double>> first, Span<Vector512<double>> second)
    {
        for (var k = 0; k < first.Length; k++)
        {
            var radius = first[k];
            var (cosine, sine) = Direction(second[k].AsUInt64());
            first[k] = radius * cosine;
            second[k] = radius * sine;
        }
    }
}
