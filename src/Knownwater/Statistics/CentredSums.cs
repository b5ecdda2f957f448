using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Knownwater.Statistics;

/// <summary>Means of pairs and the sums of squares and products about them, in two passes.</summary>
internal readonly record struct CentredSums(double MeanX, double MeanY, double XX, double YY, double XY)
{
    /// <summary>The sums of pairs of equal number.</summary>
    public static CentredSums Of(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        // a first value as origin: equal values then leave no rounding at all
        double x0 = x[0], y0 = y[0];
        var (sx, sy) = Sum(x, y, x0, y0);
        double mx = x0 + sx / x.Length, my = y0 + sy / y.Length;
        var (lx, ly) = Sum(x, y, mx, my);
        Vector512<double> cx = Vector512.Create(mx), cy = Vector512.Create(my), vxx = default, vyy = default, vxy = default;
        ref double rx = ref MemoryMarshal.GetReference(x), ry = ref MemoryMarshal.GetReference(y);
        var i = 0;
        for (; i <= x.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            var dx = Vector512.LoadUnsafe(ref rx, (nuint)i) - cx;
            var dy = Vector512.LoadUnsafe(ref ry, (nuint)i) - cy;
            vxx = Vector512.FusedMultiplyAdd(dx, dx, vxx);
            vyy = Vector512.FusedMultiplyAdd(dy, dy, vyy);
            vxy = Vector512.FusedMultiplyAdd(dx, dy, vxy);
        }
        double xx = Vector512.Sum(vxx), yy = Vector512.Sum(vyy), xy = Vector512.Sum(vxy);
        for (; i < x.Length; i++)
        {
            double dx = x[i] - mx, dy = y[i] - my;
            xx += dx * dx;
            yy += dy * dy;
            xy += dx * dy;
        }
        var n = x.Length;
        return new CentredSums(mx + lx / n, my + ly / n, Math.Max(0, xx - lx * lx / n), Math.Max(0, yy - ly * ly / n), xy - lx * ly / n);
    }

    private static (double X, double Y) Sum(ReadOnlySpan<double> x, ReadOnlySpan<double> y, double x0, double y0)
    {
        Vector512<double> cx = Vector512.Create(x0), cy = Vector512.Create(y0), vx = default, vy = default;
        ref double rx = ref MemoryMarshal.GetReference(x), ry = ref MemoryMarshal.GetReference(y);
        var i = 0;
        for (; i <= x.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            vx += Vector512.LoadUnsafe(ref rx, (nuint)i) - cx;
            vy += Vector512.LoadUnsafe(ref ry, (nuint)i) - cy;
        }
        double sx = Vector512.Sum(vx), sy = Vector512.Sum(vy);
        for (; i < x.Length; i++)
        {
            sx += x[i] - x0;
            sy += y[i] - y0;
        }
        return (sx, sy);
    }
}
