namespace Knownwater.Quantities;

/// <summary>A physical quantity: a number with one base unit, as a type of its own.</summary>
/// <remarks>What <see cref="Uncertainty.Estimate{Q}"/> needs to know of it. The members are for the library; people use the named units of each type.</remarks>
/// <typeparam name="Q">The quantity type itself.</typeparam>
public interface IQuantity<Q> where Q : struct, IQuantity<Q>
{
    /// <summary>The base unit as written, as “mg/L”.</summary>
    static abstract string BaseUnit { get; }

    /// <summary>The number of base units.</summary>
    double InBaseUnit { get; }

    /// <summary>The quantity from a number of base units.</summary>
    /// <param name="value">Finite number.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    static abstract Q FromBaseUnit(double value);
}
