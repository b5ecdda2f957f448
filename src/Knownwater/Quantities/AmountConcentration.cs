using System.Globalization;
using System.Text.Json.Serialization;
using Knownwater.Statistics;

namespace Knownwater.Quantities;

/// <summary>Amount of substance of an analyte per volume of solution.</summary>
/// <remarks>
/// Any finite number of millimoles per litre; negative ones are differences. <c>default</c> is <see cref="Zero"/>. Equality and order are those of the number. Immutable.
/// </remarks>
public readonly record struct AmountConcentration : IQuantity<AmountConcentration>, IComparable<AmountConcentration>, IComparable
{
    [JsonConstructor]
    private AmountConcentration(double millimolesPerLitre) => MillimolesPerLitre = Require.Finite(millimolesPerLitre);

    /// <summary>No amount concentration.</summary>
    [JsonIgnore]
    public static AmountConcentration Zero => default;

    /// <summary>The amount concentration in millimoles per litre, mmol/L.</summary>
    public double MillimolesPerLitre { get; }

    /// <summary>The amount concentration in micromoles per litre.</summary>
    [JsonIgnore]
    public double MicromolesPerLitre => MillimolesPerLitre * 1000;

    static string IQuantity<AmountConcentration>.BaseUnit => "mmol/L";

    double IQuantity<AmountConcentration>.InBaseUnit => MillimolesPerLitre;

    /// <summary>An amount concentration from millimoles per litre.</summary>
    /// <param name="millimolesPerLitre">Finite number of millimoles per litre.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static AmountConcentration FromMillimolesPerLitre(double millimolesPerLitre) => new(millimolesPerLitre);

    /// <summary>An amount concentration from micromoles per litre.</summary>
    /// <param name="micromolesPerLitre">Finite number of micromoles per litre.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static AmountConcentration FromMicromolesPerLitre(double micromolesPerLitre) => new(Require.Finite(micromolesPerLitre) / 1000);

    static AmountConcentration IQuantity<AmountConcentration>.FromBaseUnit(double value) => new(value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static AmountConcentration operator +(AmountConcentration a, AmountConcentration b) => new(a.MillimolesPerLitre + b.MillimolesPerLitre);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static AmountConcentration operator -(AmountConcentration a, AmountConcentration b) => new(a.MillimolesPerLitre - b.MillimolesPerLitre);

    /// <summary>Negation.</summary>
    /// <param name="a">Amount concentration.</param>
    public static AmountConcentration operator -(AmountConcentration a) => new(-a.MillimolesPerLitre);

    /// <summary>Multiple.</summary>
    /// <param name="a">Amount concentration.</param>
    /// <param name="factor">Finite factor.</param>
    public static AmountConcentration operator *(AmountConcentration a, double factor) => new(a.MillimolesPerLitre * factor);

    /// <summary>Multiple.</summary>
    /// <param name="factor">Finite factor.</param>
    /// <param name="a">Amount concentration.</param>
    public static AmountConcentration operator *(double factor, AmountConcentration a) => new(factor * a.MillimolesPerLitre);

    /// <summary>Part.</summary>
    /// <param name="a">Amount concentration.</param>
    /// <param name="divisor">Finite divisor, not zero.</param>
    public static AmountConcentration operator /(AmountConcentration a, double divisor) => new(a.MillimolesPerLitre / divisor);

    /// <summary>Ratio, a number.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static double operator /(AmountConcentration a, AmountConcentration b) => Require.Finite(a.MillimolesPerLitre / b.MillimolesPerLitre, nameof(b));

    /// <summary>Whether the first is below the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <(AmountConcentration a, AmountConcentration b) => a.MillimolesPerLitre < b.MillimolesPerLitre;

    /// <summary>Whether the first is above the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >(AmountConcentration a, AmountConcentration b) => a.MillimolesPerLitre > b.MillimolesPerLitre;

    /// <summary>Whether the first is at most the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <=(AmountConcentration a, AmountConcentration b) => a.MillimolesPerLitre <= b.MillimolesPerLitre;

    /// <summary>Whether the first is at least the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >=(AmountConcentration a, AmountConcentration b) => a.MillimolesPerLitre >= b.MillimolesPerLitre;

    /// <inheritdoc/>
    public int CompareTo(AmountConcentration other) => MillimolesPerLitre.CompareTo(other.MillimolesPerLitre);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The object is no amount concentration.</exception>
    public int CompareTo(object? obj) => obj switch
    {
        null => 1,
        AmountConcentration other => CompareTo(other),
        _ => throw new ArgumentException($"An amount concentration is compared with {obj.GetType().Name}; it must be another amount concentration.", nameof(obj)),
    };

    /// <summary>Number and unit in full, invariant.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{MillimolesPerLitre:R} mmol/L");
}
