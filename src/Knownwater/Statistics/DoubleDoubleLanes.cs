using System.Runtime.Intrinsics;

namespace Knownwater.Statistics;

/// <summary>Eight sums in double-double arithmetic side by side.</summary>
/// <remarks>The algorithms of <see cref="DoubleDouble"/>, lane by lane; the eight lanes are the same on machines with narrower registers, and so is the result.</remarks>
internal readonly struct DoubleDoubleLanes
{
    private readonly Vector512<double> _high;
    private readonly Vector512<double> _low;

    private DoubleDoubleLanes(Vector512<double> high, Vector512<double> low)
    {
        _high = high;
        _low = low;
    }

    /// <summary>Number of lanes.</summary>
    public static int Count => Vector512<double>.Count;

    /// <summary>One number in all lanes.</summary>
    public static DoubleDoubleLanes All(DoubleDouble value) => new(Vector512.Create(value.High), Vector512.Create(value.Low));

    /// <summary>a − b without any rounding, of as many numbers as there are lanes.</summary>
    public static DoubleDoubleLanes Difference(ReadOnlySpan<double> a, double b) => Sum(Vector512.Create(a), Vector512.Create(-b));

    public static DoubleDoubleLanes operator +(DoubleDoubleLanes a, DoubleDoubleLanes b)
    {
        var high = Sum(a._high, b._high);
        var low = Sum(a._low, b._low);
        var first = Ordered(high._high, high._low + low._high);
        return Ordered(first._high, low._low + first._low);
    }

    public static DoubleDoubleLanes operator *(DoubleDoubleLanes a, DoubleDoubleLanes b)
    {
        var product = a._high * b._high;
        var rest = Vector512.FusedMultiplyAdd(a._high, b._high, -product);
        var cross = Vector512.FusedMultiplyAdd(a._low, b._high, Vector512.FusedMultiplyAdd(a._high, b._low, a._low * b._low));
        return Ordered(product, rest + cross);
    }

    /// <summary>The sum over the lanes.</summary>
    public DoubleDouble Total()
    {
        DoubleDouble total = 0;
        for (var i = 0; i < Count; i++)
            total += DoubleDouble.Sum(_high[i], _low[i]);
        return total;
    }

    private static DoubleDoubleLanes Sum(Vector512<double> a, Vector512<double> b)
    {
        var sum = a + b;
        var part = sum - a;
        return new(sum, a - (sum - part) + (b - part));
    }

    private static DoubleDoubleLanes Ordered(Vector512<double> a, Vector512<double> b)
    {
        var sum = a + b;
        return new(sum, b - (sum - a));
    }
}
