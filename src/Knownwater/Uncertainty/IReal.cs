namespace Knownwater.Uncertainty;

/// <summary>A number that a measurement model can be evaluated in: a plain one, one with its derivative, an estimate.</summary>
/// <remarks>Every member has a meaning for blocks of numbers too. A model must not branch on a value; where it has to, <see cref="Max"/>, <see cref="Min"/> and <see cref="Select"/> do it for each number of a block.</remarks>
/// <typeparam name="T">The number type itself.</typeparam>
public interface IReal<T> where T : IReal<T>
{
    /// <summary>A constant.</summary>
    /// <param name="value">Finite number.</param>
    static abstract implicit operator T(double value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    static abstract T operator +(T a, T b);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    static abstract T operator -(T a, T b);

    /// <summary>Negation.</summary>
    /// <param name="a">Number.</param>
    static abstract T operator -(T a);

    /// <summary>Product.</summary>
    /// <param name="a">First factor.</param>
    /// <param name="b">Second factor.</param>
    static abstract T operator *(T a, T b);

    /// <summary>Quotient.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    static abstract T operator /(T a, T b);

    /// <summary>Square root.</summary>
    /// <param name="a">Number, zero or above.</param>
    static abstract T Sqrt(T a);

    /// <summary>Exponential function.</summary>
    /// <param name="a">Number.</param>
    static abstract T Exp(T a);

    /// <summary>Natural logarithm.</summary>
    /// <param name="a">Number, above zero.</param>
    static abstract T Log(T a);

    /// <summary>Power with a constant exponent.</summary>
    /// <param name="a">Base, above zero unless the exponent is a whole number.</param>
    /// <param name="exponent">Exponent.</param>
    static abstract T Pow(T a, double exponent);

    /// <summary>Sine.</summary>
    /// <param name="a">Angle, rad.</param>
    static abstract T Sin(T a);

    /// <summary>Cosine.</summary>
    /// <param name="a">Angle, rad.</param>
    static abstract T Cos(T a);

    /// <summary>The larger of two numbers.</summary>
    /// <param name="a">First number; taken where both are equal.</param>
    /// <param name="b">Second number.</param>
    static abstract T Max(T a, T b);

    /// <summary>The smaller of two numbers.</summary>
    /// <param name="a">First number; taken where both are equal.</param>
    /// <param name="b">Second number.</param>
    static abstract T Min(T a, T b);

    /// <summary>One of two numbers, by the sign of a third: both are evaluated.</summary>
    /// <param name="sign">The number that decides.</param>
    /// <param name="notNegative">The result where it is zero or above.</param>
    /// <param name="otherwise">The result where it is below zero.</param>
    static abstract T Select(T sign, T notNegative, T otherwise);
}
