using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Knownwater.Uncertainty;

/// <summary>Bins for the values of a Monte Carlo run: the first and the last hold what falls outside the range.</summary>
/// <param name="low">Lower end of the range.</param>
/// <param name="high">Upper end, above the lower one.</param>
internal readonly struct ValueHistogram(double low, double high)
{
    public const int Bins = 65_536;
    private const int Inside = Bins - 2;

    private readonly double _perUnit = Inside / (high - low);

    public double BinWidth => (high - low) / Inside;

    /// <summary>Puts values into their bins.</summary>
    /// <param name="values">Values.</param>
    /// <param name="counts">The counts of the bins.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Add(Vector512<double> values, Span<int> counts)
    {
        var place = Vector512.Floor((values - Vector512.Create(low)) * Vector512.Create(_perUnit)) + Vector512<double>.One;
        place = Vector512.MinNative(Vector512.MaxNative(place, Vector512<double>.Zero), Vector512.Create(Bins - 1.0));
        // 2⁵² brings the whole number into the lowest bits; what is not a number lands in some bin and is told by the moments
        var bits = (place + Vector512.Create(4503599627370496.0)).AsUInt64();
        counts[(ushort)bits.GetElement(0)]++;
        counts[(ushort)bits.GetElement(1)]++;
        counts[(ushort)bits.GetElement(2)]++;
        counts[(ushort)bits.GetElement(3)]++;
        counts[(ushort)bits.GetElement(4)]++;
        counts[(ushort)bits.GetElement(5)]++;
        counts[(ushort)bits.GetElement(6)]++;
        counts[(ushort)bits.GetElement(7)]++;
    }

    /// <summary>The value below which so many of the counted ones lie, evenly spread inside a bin.</summary>
    public double Quantile(ReadOnlySpan<int> counts, double wanted)
    {
        long below = 0;
        for (var i = 0; i < Bins; i++)
        {
            if (below + counts[i] >= wanted)
                return Edge(i) + BinWidth * ((wanted - below) / counts[i]);
            below += counts[i];
        }
        return high;
    }

    /// <summary>The shortest stretch that holds so many of the values (JCGM 101:2008, 7.7.4).</summary>
    /// <remarks>The counts rise in straight lines inside the bins, so the width as a function of the lower end is shortest where one of its ends is an edge of a bin.</remarks>
    public (double Low, double High) Shortest(ReadOnlySpan<int> counts, double wanted)
    {
        double bestLow = low, bestHigh = high, width = BinWidth;
        var shortest = double.PositiveInfinity;
        // both ends move up together: i is the bin of the lower one, j that of the upper one
        long belowLow = counts[0], belowHigh = counts[0];
        double start = belowLow;
        for (int i = 1, j = 1; i < Bins - 1;)
        {
            var end = start + wanted;
            while (j < Bins - 1 && belowHigh + counts[j] < end)
                belowHigh += counts[j++];
            if (j == Bins - 1)
                break;
            var lower = Edge(i) + (counts[i] == 0 ? 0 : width * ((start - belowLow) / counts[i]));
            var upper = Edge(j) + (counts[j] == 0 ? 0 : width * ((end - belowHigh) / counts[j]));
            if (upper - lower < shortest)
                (shortest, bestLow, bestHigh) = (upper - lower, lower, upper);
            // on to the next edge of either end
            double nextLow = belowLow + counts[i], nextHigh = belowHigh + counts[j] - wanted;
            if (nextLow <= nextHigh)
            {
                belowLow += counts[i++];
                start = belowLow;
            }
            else
            {
                belowHigh += counts[j++];
                start = nextHigh;
            }
        }
        return (bestLow, bestHigh);
    }

    private double Edge(int bin) => low + (bin - 1) * BinWidth;
}
