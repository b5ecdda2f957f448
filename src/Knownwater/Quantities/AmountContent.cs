using System.Globalization;
using System.Text.Json.Serialization;
using Knownwater.Statistics;

namespace Knownwater.Quantities;

/// <summary>Amount of substance of an analyte per mass of solution.</summary>
/// <remarks>
/// Any finite number of millimoles per kilogram; negative ones are differences. <c>default</c> is <see cref="Zero"/>. Equality and order are those of the number. Immutable.
/// </remarks>
public readonly record struct AmountContent : IQuantity<AmountContent>, IComparable<AmountContent>, IComparable
{
    [JsonConstructor]
    private AmountContent(double millimolesPerKilogram) => MillimolesPerKilogram = Require.Finite(millimolesPerKilogram);

    /// <summary>No amount content.</summary>
    [JsonIgnore]
    public static AmountContent Zero => default;

    /// <summary>The amount content in millimoles per kilogram, mmol/kg.</summary>
    public double MillimolesPerKilogram { get; }

    /// <summary>The amount content in micromoles per kilogram.</summary>
    [JsonIgnore]
    public double MicromolesPerKilogram => MillimolesPerKilogram * 1000;

    static string IQuantity<AmountContent>.BaseUnit => "mmol/kg";

    double IQuantity<AmountContent>.InBaseUnit => MillimolesPerKilogram;

    /// <summary>An amount content from millimoles per kilogram.</summary>
    /// <param name="millimolesPerKilogram">Finite number of millimoles per kilogram.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static AmountContent FromMillimolesPerKilogram(double millimolesPerKilogram) => new(millimolesPerKilogram);

    /// <summary>An amount content from micromoles per kilogram.</summary>
    /// <param name="micromolesPerKilogram">Finite number of micromoles per kilogram.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static AmountContent FromMicromolesPerKilogram(double micromolesPerKilogram) => new(Require.Finite(micromolesPerKilogram) / 1000);

    static AmountContent IQuantity<AmountContent>.FromBaseUnit(double value) => new(value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static AmountContent operator +(AmountContent a, AmountContent b) => new(a.MillimolesPerKilogram + b.MillimolesPerKilogram);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static AmountContent operator -(AmountContent a, AmountContent b) => new(a.MillimolesPerKilogram - b.MillimolesPerKilogram);

    /// <summary>Negation.</summary>
    /// <param name="a">Amount content.</param>
    public static AmountContent operator -(AmountContent a) => new(-a.MillimolesPerKilogram);

    /// <summary>Multiple.</summary>
    /// <param name="a">Amount content.</param>
    /// <param name="factor">Finite factor.</param>
    public static AmountContent operator *(AmountContent a, double factor) => new(a.MillimolesPerKilogram * factor);

    /// <summary>Multiple.</summary>
    /// <param name="factor">Finite factor.</param>
    /// <param name="a">Amount content.</param>
    public static AmountContent operator *(double factor, AmountContent a) => new(factor * a.MillimolesPerKilogram);

    /// <summary>Part.</summary>
    /// <param name="a">Amount content.</param>
    /// <param name="divisor">Finite divisor, not zero.</param>
    public static AmountContent operator /(AmountContent a, double divisor) => new(a.MillimolesPerKilogram / divisor);

    /// <summary>Ratio, a number.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static double operator /(AmountContent a, AmountContent b) => Require.Finite(a.MillimolesPerKilogram / b.MillimolesPerKilogram, nameof(b));

    /// <summary>Whether the first is below the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <(AmountContent a, AmountContent b) => a.MillimolesPerKilogram < b.MillimolesPerKilogram;

    /// <summary>Whether the first is above the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >(AmountContent a, AmountContent b) => a.MillimolesPerKilogram > b.MillimolesPerKilogram;

    /// <summary>Whether the first is at most the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <=(AmountContent a, AmountContent b) => a.MillimolesPerKilogram <= b.MillimolesPerKilogram;

    /// <summary>Whether the first is at least the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >=(AmountContent a, AmountContent b) => a.MillimolesPerKilogram >= b.MillimolesPerKilogram;

    /// <inheritdoc/>
    public int CompareTo(AmountContent other) => MillimolesPerKilogram.CompareTo(other.MillimolesPerKilogram);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The object is no amount content.</exception>
    public int CompareTo(object? obj) => obj switch
    {
        null => 1,
        AmountContent other => CompareTo(other),
        _ => throw new ArgumentException($"An amount content is compared with {obj.GetType().Name}; it must be another amount content.", nameof(obj)),
    };

    /// <summary>Number and unit in full, invariant.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{MillimolesPerKilogram:R} mmol/kg");
}
