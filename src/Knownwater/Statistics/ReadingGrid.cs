using System.Runtime.CompilerServices;

namespace Knownwater.Statistics;

/// <summary>Readings as whole numbers of one step, so that slopes between them are ratios of whole numbers and equal slopes are equal.</summary>
/// <remarks>
/// Readings are decimals: the step is the largest power of ten of which every reading is the nearest double to a multiple. A slope of −1 is then −1, which differences of doubles miss. Where readings are no decimals of 15 digits,
/// the step is a power of two, 2⁻⁶⁰ of the largest reading: exact for all readings above 1/128 of the largest, far below the rounding of doubles for the rest.
/// </remarks>
internal readonly struct ReadingGrid
{
    // so that rounding of value × scale cannot reach the next whole number
    private const double LargestWhole = 1L << 50;

    private ReadingGrid(long[] x, long[] y, double slopeFactor)
    {
        X = x;
        Y = y;
        SlopeFactor = slopeFactor;
        XRange = Shift(x);
        YRange = Shift(y);
    }

    /// <summary>x in steps above the least x.</summary>
    public long[] X { get; }

    /// <summary>y in steps above the least y.</summary>
    public long[] Y { get; }

    /// <summary>Largest of <see cref="X"/>.</summary>
    public long XRange { get; }

    /// <summary>Largest of <see cref="Y"/>.</summary>
    public long YRange { get; }

    /// <summary>What a slope in steps is multiplied with; a power of two, 1 where both share one step.</summary>
    public double SlopeFactor { get; }

    /// <summary>The grid of pairs.</summary>
    /// <param name="x">Finite values.</param>
    /// <param name="y">As many.</param>
    /// <param name="sharedStep">Whether x and y must share one step, being of one unit.</param>
    public static ReadingGrid Of(ReadOnlySpan<double> x, ReadOnlySpan<double> y, bool sharedStep)
    {
        var decimals = 0;
        if (OnDecimals(x, ref decimals) && OnDecimals(y, ref decimals) && Fits(x, decimals) && Fits(y, decimals))
            return new ReadingGrid(Decimal(x, decimals), Decimal(y, decimals), 1);
        int ex = Exponent(x), ey = Exponent(y);
        if (sharedStep)
            ex = ey = Math.Min(ex, ey);
        return new ReadingGrid(Binary(x, ex), Binary(y, ey), Math.ScaleB(1, ex - ey));
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static bool OnDecimals(ReadOnlySpan<double> values, ref int decimals)
    {
        var scale = Math.Pow(10, decimals);
        foreach (var value in values)
        {
            while (true)
            {
                var steps = Math.Round(value * scale);
                if (!(Math.Abs(steps) < LargestWhole))
                    return false;
                // both numbers are exact, so the quotient is the double nearest to the decimal
                if (steps / scale == value)
                    break;
                if (++decimals > 22)
                    return false;
                scale = Math.Pow(10, decimals);
            }
        }
        return true;
    }

    private static bool Fits(ReadOnlySpan<double> values, int decimals)
    {
        var scale = Math.Pow(10, decimals);
        foreach (var value in values)
        {
            if (!(Math.Abs(value * scale) < LargestWhole))
                return false;
        }
        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static long[] Decimal(ReadOnlySpan<double> values, int decimals)
    {
        var scale = Math.Pow(10, decimals);
        var steps = new long[values.Length];
        for (var i = 0; i < steps.Length; i++)
            steps[i] = (long)Math.Round(values[i] * scale);
        return steps;
    }

    private static int Exponent(ReadOnlySpan<double> values)
    {
        double largest = 0;
        foreach (var value in values)
            largest = Math.Max(largest, Math.Abs(value));
        return largest == 0 ? 0 : 59 - Math.ILogB(largest);
    }

    private static long[] Binary(ReadOnlySpan<double> values, int exponent)
    {
        var steps = new long[values.Length];
        for (var i = 0; i < steps.Length; i++)
            steps[i] = (long)Math.Round(Math.ScaleB(values[i], exponent));
        return steps;
    }

    private static long Shift(long[] steps)
    {
        long least = long.MaxValue, largest = long.MinValue;
        foreach (var s in steps)
        {
            least = Math.Min(least, s);
            largest = Math.Max(largest, s);
        }
        for (var i = 0; i < steps.Length; i++)
            steps[i] -= least;
        return largest - least;
    }
}
