namespace Knownwater.Uncertainty;

/// <summary>A number with its derivative in one direction; nested, with second derivatives.</summary>
/// <remarks>Arithmetic of dual numbers: ε² = 0, so that f(x + ε) = f(x) + f′(x)ε, exact to rounding. <c>default</c> is the constant zero where the inner default is zero.</remarks>
/// <typeparam name="T">Inner number type; a block of numbers gives several derivatives a pass, a dual number second ones.</typeparam>
/// <param name="Value">Value.</param>
/// <param name="Derivative">Derivative.</param>
public readonly record struct Dual<T>(T Value, T Derivative) : IReal<Dual<T>> where T : IReal<T>
{
    /// <inheritdoc/>
    public static implicit operator Dual<T>(double value) => new(value, 0.0);

    /// <inheritdoc/>
    public static Dual<T> operator +(Dual<T> a, Dual<T> b) => new(a.Value + b.Value, a.Derivative + b.Derivative);

    /// <inheritdoc/>
    public static Dual<T> operator -(Dual<T> a, Dual<T> b) => new(a.Value - b.Value, a.Derivative - b.Derivative);

    /// <inheritdoc/>
    public static Dual<T> operator -(Dual<T> a) => new(-a.Value, -a.Derivative);

    /// <inheritdoc/>
    public static Dual<T> operator *(Dual<T> a, Dual<T> b) => new(a.Value * b.Value, a.Derivative * b.Value + a.Value * b.Derivative);

    /// <inheritdoc/>
    public static Dual<T> operator /(Dual<T> a, Dual<T> b)
    {
        var q = a.Value / b.Value;
        return new(q, (a.Derivative - q * b.Derivative) / b.Value);
    }

    /// <inheritdoc/>
    public static Dual<T> Sqrt(Dual<T> a)
    {
        var root = T.Sqrt(a.Value);
        return new(root, a.Derivative / (root + root));
    }

    /// <inheritdoc/>
    public static Dual<T> Exp(Dual<T> a)
    {
        var power = T.Exp(a.Value);
        return new(power, power * a.Derivative);
    }

    /// <inheritdoc/>
    public static Dual<T> Log(Dual<T> a) => new(T.Log(a.Value), a.Derivative / a.Value);

    /// <inheritdoc/>
    public static Dual<T> Pow(Dual<T> a, double exponent) => exponent == 0 ? new Dual<T>(1.0, 0.0)
        : new Dual<T>(T.Pow(a.Value, exponent), exponent * T.Pow(a.Value, exponent - 1) * a.Derivative);

    /// <inheritdoc/>
    public static Dual<T> Sin(Dual<T> a) => new(T.Sin(a.Value), T.Cos(a.Value) * a.Derivative);

    /// <inheritdoc/>
    public static Dual<T> Cos(Dual<T> a) => new(T.Cos(a.Value), -T.Sin(a.Value) * a.Derivative);

    /// <inheritdoc/>
    public static Dual<T> Max(Dual<T> a, Dual<T> b) => Select(a - b, a, b);

    /// <inheritdoc/>
    public static Dual<T> Min(Dual<T> a, Dual<T> b) => Select(b - a, a, b);

    /// <inheritdoc/>
    public static Dual<T> Select(Dual<T> sign, Dual<T> notNegative, Dual<T> otherwise) =>
        new(T.Select(sign.Value, notNegative.Value, otherwise.Value), T.Select(sign.Value, notNegative.Derivative, otherwise.Derivative));
}
