using System.Runtime.ExceptionServices;
using System.Runtime.Intrinsics;
using Knownwater.Uncertainty;

namespace Knownwater.Seawater;

/// <summary>Long arrays in blocks on all cores, eight numbers at a time.</summary>
internal static class Batches
{
    private const int Block = 1 << 14;

    /// <summary>Runs a body over consecutive blocks; a fault in one of them comes out as it was thrown.</summary>
    public static void Run(int count, Action<int, int> body)
    {
        if (count <= 2 * Block)
        {
            body(0, count);
            return;
        }
        try
        {
            Parallel.For(0, (count + Block - 1) / Block, b => body(b * Block, Math.Min(count, (b + 1) * Block)));
        }
        catch (AggregateException faults)
        {
            ExceptionDispatchInfo.Throw(faults.Flatten().InnerExceptions[0]);
        }
    }

    /// <summary>Eight numbers from a place on; past the end the last one again.</summary>
    public static Lanes Load(ReadOnlySpan<double> from, int at, int end)
    {
        if (at + Lanes.Count <= end)
            return new Lanes(Vector512.Create(from.Slice(at, Lanes.Count)));
        Span<double> rest = stackalloc double[Lanes.Count];
        for (var i = 0; i < Lanes.Count; i++)
            rest[i] = from[Math.Min(at + i, end - 1)];
        return new Lanes(Vector512.Create<double>(rest));
    }

    /// <summary>Writes eight numbers to a place, no further than the end.</summary>
    public static void Store(Lanes values, Span<double> into, int at, int end)
    {
        if (at + Lanes.Count <= end)
        {
            values.Values.CopyTo(into[at..]);
            return;
        }
        for (var i = 0; at + i < end; i++)
            into[at + i] = values[i];
    }

    /// <summary>Whether all eight lie within a closed range; not a number does not.</summary>
    public static bool AllWithin(Lanes values, double low, double high) =>
        Vector512.GreaterThanOrEqualAll(values.Values, Vector512.Create(low)) && Vector512.LessThanOrEqualAll(values.Values, Vector512.Create(high));
}
