using System.Globalization;
using System.Text.Json.Serialization;
using Knownwater.Statistics;

namespace Knownwater.Quantities;

/// <summary>Mass of an analyte per mass of solution.</summary>
/// <remarks>
/// Any finite number of milligrams per kilogram; negative ones are differences. <c>default</c> is <see cref="Zero"/>. Equality and order are those of the number. Immutable.
/// </remarks>
public readonly record struct MassContent : IQuantity<MassContent>, IComparable<MassContent>, IComparable
{
    [JsonConstructor]
    private MassContent(double milligramsPerKilogram) => MilligramsPerKilogram = Require.Finite(milligramsPerKilogram);

    /// <summary>No mass content.</summary>
    [JsonIgnore]
    public static MassContent Zero => default;

    /// <summary>The mass content in milligrams per kilogram, mg/kg.</summary>
    public double MilligramsPerKilogram { get; }

    /// <summary>The mass content in micrograms per kilogram.</summary>
    [JsonIgnore]
    public double MicrogramsPerKilogram => MilligramsPerKilogram * 1000;

    static string IQuantity<MassContent>.BaseUnit => "mg/kg";

    double IQuantity<MassContent>.InBaseUnit => MilligramsPerKilogram;

    /// <summary>A mass content from milligrams per kilogram.</summary>
    /// <param name="milligramsPerKilogram">Finite number of milligrams per kilogram.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static MassContent FromMilligramsPerKilogram(double milligramsPerKilogram) => new(milligramsPerKilogram);

    /// <summary>A mass content from micrograms per kilogram.</summary>
    /// <param name="microgramsPerKilogram">Finite number of micrograms per kilogram.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static MassContent FromMicrogramsPerKilogram(double microgramsPerKilogram) => new(Require.Finite(microgramsPerKilogram) / 1000);

    static MassContent IQuantity<MassContent>.FromBaseUnit(double value) => new(value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static MassContent operator +(MassContent a, MassContent b) => new(a.MilligramsPerKilogram + b.MilligramsPerKilogram);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static MassContent operator -(MassContent a, MassContent b) => new(a.MilligramsPerKilogram - b.MilligramsPerKilogram);

    /// <summary>Negation.</summary>
    /// <param name="a">Mass content.</param>
    public static MassContent operator -(MassContent a) => new(-a.MilligramsPerKilogram);

    /// <summary>Multiple.</summary>
    /// <param name="a">Mass content.</param>
    /// <param name="factor">Finite factor.</param>
    public static MassContent operator *(MassContent a, double factor) => new(a.MilligramsPerKilogram * factor);

    /// <summary>Multiple.</summary>
    /// <param name="factor">Finite factor.</param>
    /// <param name="a">Mass content.</param>
    public static MassContent operator *(double factor, MassContent a) => new(factor * a.MilligramsPerKilogram);

    /// <summary>Part.</summary>
    /// <param name="a">Mass content.</param>
    /// <param name="divisor">Finite divisor, not zero.</param>
    public static MassContent operator /(MassContent a, double divisor) => new(a.MilligramsPerKilogram / divisor);

    /// <summary>Ratio, a number.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static double operator /(MassContent a, MassContent b) => Require.Finite(a.MilligramsPerKilogram / b.MilligramsPerKilogram, nameof(b));

    /// <summary>Whether the first is below the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <(MassContent a, MassContent b) => a.MilligramsPerKilogram < b.MilligramsPerKilogram;

    /// <summary>Whether the first is above the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >(MassContent a, MassContent b) => a.MilligramsPerKilogram > b.MilligramsPerKilogram;

    /// <summary>Whether the first is at most the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <=(MassContent a, MassContent b) => a.MilligramsPerKilogram <= b.MilligramsPerKilogram;

    /// <summary>Whether the first is at least the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >=(MassContent a, MassContent b) => a.MilligramsPerKilogram >= b.MilligramsPerKilogram;

    /// <inheritdoc/>
    public int CompareTo(MassContent other) => MilligramsPerKilogram.CompareTo(other.MilligramsPerKilogram);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The object is no mass content.</exception>
    public int CompareTo(object? obj) => obj switch
    {
        null => 1,
        MassContent other => CompareTo(other),
        _ => throw new ArgumentException($"A mass content is compared with {obj.GetType().Name}; it must be another mass content.", nameof(obj)),
    };

    /// <summary>Number and unit in full, invariant.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{MilligramsPerKilogram:R} mg/kg");
}
