namespace Knownwater.Statistics;

/// <summary>A number held as the unevaluated sum of two doubles: about 31 significant digits, the range of double.</summary>
/// <remarks>
/// Error-free transformations: Møller's and Knuth's sum, and the product by fused multiply-add. Relative errors: sum 3·2⁻¹⁰⁶, product 5·2⁻¹⁰⁶, quotient 10·2⁻¹⁰⁶
/// (Joldes, Muller and Popescu, Tight and rigorous error bounds for basic building blocks of double-word arithmetic, ACM TOMS 44, 2017). Inside an algorithm
/// it leaves the digits of its input as the only limit; a result is handed out as a double. An overflow ends in a number that is not finite.
/// </remarks>
internal readonly record struct DoubleDouble
{
    private DoubleDouble(double high, double low)
    {
        High = high;
        Low = low;
    }

    /// <summary>The nearest double.</summary>
    public double High { get; }

    /// <summary>What it leaves over, at most half a unit of its last place.</summary>
    public double Low { get; }

    /// <summary>A double, exactly.</summary>
    public static implicit operator DoubleDouble(double value) => new(value, 0);

    /// <summary>The nearest double.</summary>
    public static explicit operator double(DoubleDouble value) => value.High;

    /// <summary>a + b without any rounding.</summary>
    public static DoubleDouble Sum(double a, double b)
    {
        var sum = a + b;
        var part = sum - a;
        return new(sum, a - (sum - part) + (b - part));
    }

    /// <summary>a − b without any rounding.</summary>
    public static DoubleDouble Difference(double a, double b) => Sum(a, -b);

    /// <summary>a · b without any rounding, short of underflow.</summary>
    public static DoubleDouble Product(double a, double b)
    {
        var product = a * b;
        return new(product, Math.FusedMultiplyAdd(a, b, -product));
    }

    public static DoubleDouble operator +(DoubleDouble a, DoubleDouble b)
    {
        var high = Sum(a.High, b.High);
        var low = Sum(a.Low, b.Low);
        var first = Ordered(high.High, high.Low + low.High);
        return Ordered(first.High, low.Low + first.Low);
    }

    public static DoubleDouble operator -(DoubleDouble a) => new(-a.High, -a.Low);

    public static DoubleDouble operator -(DoubleDouble a, DoubleDouble b) => a + -b;

    public static DoubleDouble operator *(DoubleDouble a, DoubleDouble b)
    {
        var high = Product(a.High, b.High);
        var cross = Math.FusedMultiplyAdd(a.Low, b.High, Math.FusedMultiplyAdd(a.High, b.Low, a.Low * b.Low));
        return Ordered(high.High, high.Low + cross);
    }

    public static DoubleDouble operator /(DoubleDouble a, DoubleDouble b)
    {
        var first = a.High / b.High;
        var rest = a - b * first;
        var second = rest.High / b.High;
        rest -= b * second;
        return Ordered(first, second) + rest.High / b.High;
    }

    /// <summary>Square root of a number that is zero or above.</summary>
    public static DoubleDouble Sqrt(DoubleDouble a)
    {
        if (a.High <= 0)
            return 0;
        // one step of Newton's from the root in double
        var root = Math.Sqrt(a.High);
        return Ordered(root, (a - Product(root, root)).High / (2 * root));
    }

    /// <summary>Whether it is a finite number.</summary>
    public bool IsFinite => double.IsFinite(High);

    /// <summary>a + b without rounding, where a is zero or not below b in size.</summary>
    private static DoubleDouble Ordered(double a, double b)
    {
        var sum = a + b;
        return new(sum, b - (sum - a));
    }
}
