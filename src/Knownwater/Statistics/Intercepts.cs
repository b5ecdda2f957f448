using System.Runtime.CompilerServices;

namespace Knownwater.Statistics;

/// <summary>Intercepts as the median of what a slope leaves over.</summary>
internal static class Intercepts
{
    /// <summary>The median of y − b x.</summary>
    /// <param name="x">Values.</param>
    /// <param name="y">As many.</param>
    /// <param name="slope">b, finite.</param>
    /// <param name="room">Room for as many numbers.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double Median(ReadOnlySpan<double> x, ReadOnlySpan<double> y, double slope, Span<double> room)
    {
        for (var i = 0; i < room.Length; i++)
            room[i] = y[i] - slope * x[i];
        var upper = Quickselect.Place(room, room.Length / 2);
        if (room.Length % 2 == 1)
            return upper;
        var lower = double.NegativeInfinity;
        foreach (var value in room[..(room.Length / 2)])
            lower = Math.Max(lower, value);
        return (lower + upper) / 2;
    }

    /// <summary>The intercepts of the limits of the slope, unbounded where these are.</summary>
    public static Interval Limits(ReadOnlySpan<double> x, ReadOnlySpan<double> y, in Interval slope, Span<double> room)
    {
        double low = double.NegativeInfinity, high = double.PositiveInfinity, atLow = double.IsFinite(slope.Low) ? Median(x, y, slope.Low, room) : high, atHigh = double.IsFinite(slope.High) ? Median(x, y, slope.High, room) : low;
        if (double.IsFinite(atLow) && double.IsFinite(atHigh))
            return new Interval(Math.Min(atLow, atHigh), Math.Max(atLow, atHigh));
        bool below = false, above = false;
        foreach (var value in x)
        {
            below |= value < 0;
            above |= value > 0;
        }
        // left of zero the steeper line has the higher intercept
        return below && above ? new Interval(low, high) : below ? new Interval(double.IsFinite(atLow) ? atLow : low, double.IsFinite(atHigh) ? atHigh : high) : new Interval(atHigh, atLow);
    }
}
