using System.Globalization;
using Knownwater.Quantities;

namespace Knownwater.Uncertainty;

/// <summary>An estimate of a quantity of a kind: the typed door to <see cref="Estimate"/>.</summary>
/// <remarks>
/// A thin wrapper: the number inside is in the base unit of the kind, and its sources and covariances are those of <see cref="Estimate"/>. Sums need one kind; a factor is a pure number; the
/// quotient of one kind is a pure number. Products of other kinds are in <see cref="QuantityProducts"/>. <c>default</c> is exactly zero. Equality is that of the number.
/// </remarks>
/// <typeparam name="Q">Kind of quantity.</typeparam>
/// <param name="Number">Estimate in the base unit of the kind.</param>
/// <example><code>
/// var stock = Estimate&lt;MassConcentration&gt;.From(MassConcentration.FromMilligramsPerLitre(1000), MassConcentration.FromMilligramsPerLitre(2.5), "stock");
/// var low = stock * 0.005;
/// </code></example>
public readonly record struct Estimate<Q>(Estimate Number) where Q : struct, IQuantity<Q>
{
    /// <summary>The value: best estimate.</summary>
    public Q Value => Q.FromBaseUnit(Number.Value);

    /// <summary>Combined standard uncertainty (k = 1).</summary>
    public Q StandardUncertainty => Q.FromBaseUnit(Number.StandardUncertainty);

    /// <summary>Effective degrees of freedom of the standard uncertainty.</summary>
    public double EffectiveDof => Number.EffectiveDof;

    /// <summary>An exact quantity.</summary>
    /// <param name="value">The quantity.</param>
    public static Estimate<Q> Exact(Q value) => new(Estimate.Exact(value.InBaseUnit));

    /// <summary>A quantity whose whole error is one source.</summary>
    /// <param name="value">The quantity.</param>
    /// <param name="source">The source, with u in the base unit of the kind.</param>
    /// <exception cref="ArgumentException">The source names another unit than the base unit of the kind.</exception>
    public static Estimate<Q> From(Q value, ErrorSource source)
    {
        ArgumentNullException.ThrowIfNull(source);
        if (source.Unit.Length > 0 && !string.Equals(source.Unit, Q.BaseUnit, StringComparison.Ordinal))
            throw new ArgumentException($"The source “{source.Name}” is in {source.Unit}, the quantity in {Q.BaseUnit}; state u in {Q.BaseUnit}.", nameof(source));
        return new(Estimate.From(value.InBaseUnit, source));
    }

    /// <summary>A quantity with a normal source of its own.</summary>
    /// <param name="value">The quantity.</param>
    /// <param name="standardUncertainty">u, zero or above; zero makes it exact.</param>
    /// <param name="name">Name of the source.</param>
    /// <param name="dof">Degrees of freedom of u; infinite where it is taken as known.</param>
    /// <exception cref="ArgumentException">As for <see cref="Estimate.From(double, double, string, string, double)"/>.</exception>
    public static Estimate<Q> From(Q value, Q standardUncertainty, string name, double dof = double.PositiveInfinity) =>
        new(Estimate.From(value.InBaseUnit, standardUncertainty.InBaseUnit, name, Q.BaseUnit, dof));

    /// <summary>An exact quantity.</summary>
    /// <param name="value">The quantity.</param>
    public static implicit operator Estimate<Q>(Q value) => Exact(value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static Estimate<Q> operator +(Estimate<Q> a, Estimate<Q> b) => new(a.Number + b.Number);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static Estimate<Q> operator -(Estimate<Q> a, Estimate<Q> b) => new(a.Number - b.Number);

    /// <summary>Negation.</summary>
    /// <param name="a">Quantity.</param>
    public static Estimate<Q> operator -(Estimate<Q> a) => new(-a.Number);

    /// <summary>Product with a pure number.</summary>
    /// <param name="a">Quantity.</param>
    /// <param name="factor">Pure number.</param>
    public static Estimate<Q> operator *(Estimate<Q> a, Estimate factor) => new(a.Number * factor);

    /// <summary>Product with a pure number.</summary>
    /// <param name="factor">Pure number.</param>
    /// <param name="a">Quantity.</param>
    public static Estimate<Q> operator *(Estimate factor, Estimate<Q> a) => new(factor * a.Number);

    /// <summary>Quotient by a pure number.</summary>
    /// <param name="a">Quantity.</param>
    /// <param name="divisor">Pure number, not zero.</param>
    public static Estimate<Q> operator /(Estimate<Q> a, Estimate divisor) => new(a.Number / divisor);

    /// <summary>Ratio of two quantities of one kind: a pure number.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static Estimate operator /(Estimate<Q> a, Estimate<Q> b) => a.Number / b.Number;

    /// <summary>Value, standard uncertainty and unit in full, invariant.</summary>
    public override string ToString() => Number.IsExact
        ? string.Create(CultureInfo.InvariantCulture, $"{Number.Value:R} {Q.BaseUnit}")
        : string.Create(CultureInfo.InvariantCulture, $"({Number.Value:R} ± {Number.StandardUncertainty:R}) {Q.BaseUnit} (k = 1)");
}
