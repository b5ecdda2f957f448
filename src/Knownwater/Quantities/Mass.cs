using System.Globalization;
using System.Text.Json.Serialization;
using Knownwater.Statistics;

namespace Knownwater.Quantities;

/// <summary>Mass.</summary>
/// <remarks>
/// Any finite number of grams; negative ones are differences. <c>default</c> is <see cref="Zero"/>. Equality and order are those of the number. Immutable.
/// </remarks>
public readonly record struct Mass : IQuantity<Mass>, IComparable<Mass>, IComparable
{
    [JsonConstructor]
    private Mass(double grams) => Grams = Require.Finite(grams);

    /// <summary>No mass.</summary>
    [JsonIgnore]
    public static Mass Zero => default;

    /// <summary>The mass in grams, g.</summary>
    public double Grams { get; }

    /// <summary>The mass in milligrams.</summary>
    [JsonIgnore]
    public double Milligrams => Grams * 1000;

    /// <summary>The mass in kilograms.</summary>
    [JsonIgnore]
    public double Kilograms => Grams / 1000;

    static string IQuantity<Mass>.BaseUnit => "g";

    double IQuantity<Mass>.InBaseUnit => Grams;

    /// <summary>A mass from grams.</summary>
    /// <param name="grams">Finite number of grams.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static Mass FromGrams(double grams) => new(grams);

    /// <summary>A mass from milligrams.</summary>
    /// <param name="milligrams">Finite number of milligrams.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static Mass FromMilligrams(double milligrams) => new(Require.Finite(milligrams) / 1000);

    /// <summary>A mass from kilograms.</summary>
    /// <param name="kilograms">Finite number of kilograms.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static Mass FromKilograms(double kilograms) => new(Require.Finite(kilograms) * 1000);

    static Mass IQuantity<Mass>.FromBaseUnit(double value) => new(value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static Mass operator +(Mass a, Mass b) => new(a.Grams + b.Grams);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static Mass operator -(Mass a, Mass b) => new(a.Grams - b.Grams);

    /// <summary>Negation.</summary>
    /// <param name="a">Mass.</param>
    public static Mass operator -(Mass a) => new(-a.Grams);

    /// <summary>Multiple.</summary>
    /// <param name="a">Mass.</param>
    /// <param name="factor">Finite factor.</param>
    public static Mass operator *(Mass a, double factor) => new(a.Grams * factor);

    /// <summary>Multiple.</summary>
    /// <param name="factor">Finite factor.</param>
    /// <param name="a">Mass.</param>
    public static Mass operator *(double factor, Mass a) => new(factor * a.Grams);

    /// <summary>Part.</summary>
    /// <param name="a">Mass.</param>
    /// <param name="divisor">Finite divisor, not zero.</param>
    public static Mass operator /(Mass a, double divisor) => new(a.Grams / divisor);

    /// <summary>Ratio, a number.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static double operator /(Mass a, Mass b) => Require.Finite(a.Grams / b.Grams, nameof(b));

    /// <summary>Whether the first is below the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <(Mass a, Mass b) => a.Grams < b.Grams;

    /// <summary>Whether the first is above the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >(Mass a, Mass b) => a.Grams > b.Grams;

    /// <summary>Whether the first is at most the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <=(Mass a, Mass b) => a.Grams <= b.Grams;

    /// <summary>Whether the first is at least the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >=(Mass a, Mass b) => a.Grams >= b.Grams;

    /// <inheritdoc/>
    public int CompareTo(Mass other) => Grams.CompareTo(other.Grams);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The object is no mass.</exception>
    public int CompareTo(object? obj) => obj switch
    {
        null => 1,
        Mass other => CompareTo(other),
        _ => throw new ArgumentException($"A mass is compared with {obj.GetType().Name}; it must be another mass.", nameof(obj)),
    };

    /// <summary>Number and unit in full, invariant.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Grams:R} g");
}
