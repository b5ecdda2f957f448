using System.Globalization;
using System.Text.Json.Serialization;
using Knownwater.Statistics;

namespace Knownwater.Quantities;

/// <summary>Mass of a liquid per volume.</summary>
/// <remarks>
/// Any finite number of kilograms per cubic metre; negative ones are differences. <c>default</c> is <see cref="Zero"/>. Equality and order are those of the number. Immutable.
/// </remarks>
public readonly record struct Density : IQuantity<Density>, IComparable<Density>, IComparable
{
    [JsonConstructor]
    private Density(double kilogramsPerCubicMetre) => KilogramsPerCubicMetre = Require.Finite(kilogramsPerCubicMetre);

    /// <summary>No density.</summary>
    [JsonIgnore]
    public static Density Zero => default;

    /// <summary>The density in kilograms per cubic metre, kg/m³.</summary>
    public double KilogramsPerCubicMetre { get; }

    /// <summary>The density in grams per millilitre.</summary>
    [JsonIgnore]
    public double GramsPerMillilitre => KilogramsPerCubicMetre / 1000;

    static string IQuantity<Density>.BaseUnit => "kg/m³";

    double IQuantity<Density>.InBaseUnit => KilogramsPerCubicMetre;

    /// <summary>A density from kilograms per cubic metre.</summary>
    /// <param name="kilogramsPerCubicMetre">Finite number of kilograms per cubic metre.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static Density FromKilogramsPerCubicMetre(double kilogramsPerCubicMetre) => new(kilogramsPerCubicMetre);

    /// <summary>A density from grams per millilitre.</summary>
    /// <param name="gramsPerMillilitre">Finite number of grams per millilitre.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static Density FromGramsPerMillilitre(double gramsPerMillilitre) => new(Require.Finite(gramsPerMillilitre) * 1000);

    static Density IQuantity<Density>.FromBaseUnit(double value) => new(value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static Density operator +(Density a, Density b) => new(a.KilogramsPerCubicMetre + b.KilogramsPerCubicMetre);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static Density operator -(Density a, Density b) => new(a.KilogramsPerCubicMetre - b.KilogramsPerCubicMetre);

    /// <summary>Negation.</summary>
    /// <param name="a">Density.</param>
    public static Density operator -(Density a) => new(-a.KilogramsPerCubicMetre);

    /// <summary>Multiple.</summary>
    /// <param name="a">Density.</param>
    /// <param name="factor">Finite factor.</param>
    public static Density operator *(Density a, double factor) => new(a.KilogramsPerCubicMetre * factor);

    /// <summary>Multiple.</summary>
    /// <param name="factor">Finite factor.</param>
    /// <param name="a">Density.</param>
    public static Density operator *(double factor, Density a) => new(factor * a.KilogramsPerCubicMetre);

    /// <summary>Part.</summary>
    /// <param name="a">Density.</param>
    /// <param name="divisor">Finite divisor, not zero.</param>
    public static Density operator /(Density a, double divisor) => new(a.KilogramsPerCubicMetre / divisor);

    /// <summary>Ratio, a number.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static double operator /(Density a, Density b) => Require.Finite(a.KilogramsPerCubicMetre / b.KilogramsPerCubicMetre, nameof(b));

    /// <summary>Whether the first is below the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <(Density a, Density b) => a.KilogramsPerCubicMetre < b.KilogramsPerCubicMetre;

    /// <summary>Whether the first is above the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >(Density a, Density b) => a.KilogramsPerCubicMetre > b.KilogramsPerCubicMetre;

    /// <summary>Whether the first is at most the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <=(Density a, Density b) => a.KilogramsPerCubicMetre <= b.KilogramsPerCubicMetre;

    /// <summary>Whether the first is at least the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >=(Density a, Density b) => a.KilogramsPerCubicMetre >= b.KilogramsPerCubicMetre;

    /// <inheritdoc/>
    public int CompareTo(Density other) => KilogramsPerCubicMetre.CompareTo(other.KilogramsPerCubicMetre);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The object is no density.</exception>
    public int CompareTo(object? obj) => obj switch
    {
        null => 1,
        Density other => CompareTo(other),
        _ => throw new ArgumentException($"A density is compared with {obj.GetType().Name}; it must be another density.", nameof(obj)),
    };

    /// <summary>Number and unit in full, invariant.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{KilogramsPerCubicMetre:R} kg/m³");
}
