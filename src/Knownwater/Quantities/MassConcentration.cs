using System.Globalization;
using System.Text.Json.Serialization;
using Knownwater.Statistics;

namespace Knownwater.Quantities;

/// <summary>Mass of an analyte per volume of solution.</summary>
/// <remarks>
/// Never “ppm”: in seawater mg/L and mg/kg differ by two to three per cent.
/// Any finite number of milligrams per litre; negative ones are differences. <c>default</c> is <see cref="Zero"/>. Equality and order are those of the number. Immutable.
/// </remarks>
public readonly record struct MassConcentration : IQuantity<MassConcentration>, IComparable<MassConcentration>, IComparable
{
    [JsonConstructor]
    private MassConcentration(double milligramsPerLitre) => MilligramsPerLitre = Require.Finite(milligramsPerLitre);

    /// <summary>No mass concentration.</summary>
    [JsonIgnore]
    public static MassConcentration Zero => default;

    /// <summary>The mass concentration in milligrams per litre, mg/L.</summary>
    public double MilligramsPerLitre { get; }

    /// <summary>The mass concentration in micrograms per litre.</summary>
    [JsonIgnore]
    public double MicrogramsPerLitre => MilligramsPerLitre * 1000;

    static string IQuantity<MassConcentration>.BaseUnit => "mg/L";

    double IQuantity<MassConcentration>.InBaseUnit => MilligramsPerLitre;

    /// <summary>A mass concentration from milligrams per litre.</summary>
    /// <param name="milligramsPerLitre">Finite number of milligrams per litre.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static MassConcentration FromMilligramsPerLitre(double milligramsPerLitre) => new(milligramsPerLitre);

    /// <summary>A mass concentration from micrograms per litre.</summary>
    /// <param name="microgramsPerLitre">Finite number of micrograms per litre.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static MassConcentration FromMicrogramsPerLitre(double microgramsPerLitre) => new(Require.Finite(microgramsPerLitre) / 1000);

    static MassConcentration IQuantity<MassConcentration>.FromBaseUnit(double value) => new(value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static MassConcentration operator +(MassConcentration a, MassConcentration b) => new(a.MilligramsPerLitre + b.MilligramsPerLitre);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static MassConcentration operator -(MassConcentration a, MassConcentration b) => new(a.MilligramsPerLitre - b.MilligramsPerLitre);

    /// <summary>Negation.</summary>
    /// <param name="a">Mass concentration.</param>
    public static MassConcentration operator -(MassConcentration a) => new(-a.MilligramsPerLitre);

    /// <summary>Multiple.</summary>
    /// <param name="a">Mass concentration.</param>
    /// <param name="factor">Finite factor.</param>
    public static MassConcentration operator *(MassConcentration a, double factor) => new(a.MilligramsPerLitre * factor);

    /// <summary>Multiple.</summary>
    /// <param name="factor">Finite factor.</param>
    /// <param name="a">Mass concentration.</param>
    public static MassConcentration operator *(double factor, MassConcentration a) => new(factor * a.MilligramsPerLitre);

    /// <summary>Part.</summary>
    /// <param name="a">Mass concentration.</param>
    /// <param name="divisor">Finite divisor, not zero.</param>
    public static MassConcentration operator /(MassConcentration a, double divisor) => new(a.MilligramsPerLitre / divisor);

    /// <summary>Ratio, a number.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static double operator /(MassConcentration a, MassConcentration b) => Require.Finite(a.MilligramsPerLitre / b.MilligramsPerLitre, nameof(b));

    /// <summary>Whether the first is below the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <(MassConcentration a, MassConcentration b) => a.MilligramsPerLitre < b.MilligramsPerLitre;

    /// <summary>Whether the first is above the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >(MassConcentration a, MassConcentration b) => a.MilligramsPerLitre > b.MilligramsPerLitre;

    /// <summary>Whether the first is at most the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <=(MassConcentration a, MassConcentration b) => a.MilligramsPerLitre <= b.MilligramsPerLitre;

    /// <summary>Whether the first is at least the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >=(MassConcentration a, MassConcentration b) => a.MilligramsPerLitre >= b.MilligramsPerLitre;

    /// <inheritdoc/>
    public int CompareTo(MassConcentration other) => MilligramsPerLitre.CompareTo(other.MilligramsPerLitre);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The object is no mass concentration.</exception>
    public int CompareTo(object? obj) => obj switch
    {
        null => 1,
        MassConcentration other => CompareTo(other),
        _ => throw new ArgumentException($"A mass concentration is compared with {obj.GetType().Name}; it must be another mass concentration.", nameof(obj)),
    };

    /// <summary>Number and unit in full, invariant.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{MilligramsPerLitre:R} mg/L");
}
