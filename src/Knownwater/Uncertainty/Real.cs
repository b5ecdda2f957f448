using System.Globalization;

namespace Knownwater.Uncertainty;

/// <summary>A plain number as number type of a model: a double, nothing more.</summary>
/// <remarks>Follows the rules of double: what has no value is NaN or infinite, and whoever evaluates a model looks at the end. <c>default</c> is zero.</remarks>
/// <param name="Value">The number.</param>
public readonly record struct Real(double Value) : IReal<Real>
{
    /// <inheritdoc/>
    public static implicit operator Real(double value) => new(value);

    /// <summary>The number as a double.</summary>
    /// <param name="a">Number.</param>
    public static explicit operator double(Real a) => a.Value;

    /// <inheritdoc/>
    public static Real operator +(Real a, Real b) => new(a.Value + b.Value);

    /// <inheritdoc/>
    public static Real operator -(Real a, Real b) => new(a.Value - b.Value);

    /// <inheritdoc/>
    public static Real operator -(Real a) => new(-a.Value);

    /// <inheritdoc/>
    public static Real operator *(Real a, Real b) => new(a.Value * b.Value);

    /// <inheritdoc/>
    public static Real operator /(Real a, Real b) => new(a.Value / b.Value);

    /// <inheritdoc/>
    public static Real Sqrt(Real a) => new(Math.Sqrt(a.Value));

    /// <inheritdoc/>
    public static Real Exp(Real a) => new(Math.Exp(a.Value));

    /// <inheritdoc/>
    public static Real Log(Real a) => new(Math.Log(a.Value));

    /// <inheritdoc/>
    public static Real Pow(Real a, double exponent) => new(Math.Pow(a.Value, exponent));

    /// <inheritdoc/>
    public static Real Sin(Real a) => new(Math.Sin(a.Value));

    /// <inheritdoc/>
    public static Real Cos(Real a) => new(Math.Cos(a.Value));

    /// <inheritdoc/>
    public static Real Max(Real a, Real b) => new(Math.Max(a.Value, b.Value));

    /// <inheritdoc/>
    public static Real Min(Real a, Real b) => new(Math.Min(a.Value, b.Value));

    /// <inheritdoc/>
    public static Real Select(Real sign, Real notNegative, Real otherwise) => sign.Value >= 0 ? notNegative : otherwise;

    /// <summary>The number in invariant form.</summary>
    public override string ToString() => Value.ToString("R", CultureInfo.InvariantCulture);
}
