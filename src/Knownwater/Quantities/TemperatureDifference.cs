using System.Globalization;
using System.Text.Json.Serialization;
using Knownwater.Statistics;

namespace Knownwater.Quantities;

/// <summary>Difference of two temperatures; not a temperature, which has another zero.</summary>
/// <remarks>
/// One kelvin is one degree Celsius of difference.
/// Any finite number of kelvins; negative ones are differences. <c>default</c> is <see cref="Zero"/>. Equality and order are those of the number. Immutable.
/// </remarks>
public readonly record struct TemperatureDifference : IQuantity<TemperatureDifference>, IComparable<TemperatureDifference>, IComparable
{
    [JsonConstructor]
    private TemperatureDifference(double kelvins) => Kelvins = Require.Finite(kelvins);

    /// <summary>No temperature difference.</summary>
    [JsonIgnore]
    public static TemperatureDifference Zero => default;

    /// <summary>The temperature difference in kelvins, K.</summary>
    public double Kelvins { get; }

    static string IQuantity<TemperatureDifference>.BaseUnit => "K";

    double IQuantity<TemperatureDifference>.InBaseUnit => Kelvins;

    /// <summary>A temperature difference from kelvins.</summary>
    /// <param name="kelvins">Finite number of kelvins.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static TemperatureDifference FromKelvins(double kelvins) => new(kelvins);

    static TemperatureDifference IQuantity<TemperatureDifference>.FromBaseUnit(double value) => new(value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static TemperatureDifference operator +(TemperatureDifference a, TemperatureDifference b) => new(a.Kelvins + b.Kelvins);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static TemperatureDifference operator -(TemperatureDifference a, TemperatureDifference b) => new(a.Kelvins - b.Kelvins);

    /// <summary>Negation.</summary>
    /// <param name="a">Temperature difference.</param>
    public static TemperatureDifference operator -(TemperatureDifference a) => new(-a.Kelvins);

    /// <summary>Multiple.</summary>
    /// <param name="a">Temperature difference.</param>
    /// <param name="factor">Finite factor.</param>
    public static TemperatureDifference operator *(TemperatureDifference a, double factor) => new(a.Kelvins * factor);

    /// <summary>Multiple.</summary>
    /// <param name="factor">Finite factor.</param>
    /// <param name="a">Temperature difference.</param>
    public static TemperatureDifference operator *(double factor, TemperatureDifference a) => new(factor * a.Kelvins);

    /// <summary>Part.</summary>
    /// <param name="a">Temperature difference.</param>
    /// <param name="divisor">Finite divisor, not zero.</param>
    public static TemperatureDifference operator /(TemperatureDifference a, double divisor) => new(a.Kelvins / divisor);

    /// <summary>Ratio, a number.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static double operator /(TemperatureDifference a, TemperatureDifference b) => Require.Finite(a.Kelvins / b.Kelvins, nameof(b));

    /// <summary>Whether the first is below the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <(TemperatureDifference a, TemperatureDifference b) => a.Kelvins < b.Kelvins;

    /// <summary>Whether the first is above the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >(TemperatureDifference a, TemperatureDifference b) => a.Kelvins > b.Kelvins;

    /// <summary>Whether the first is at most the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <=(TemperatureDifference a, TemperatureDifference b) => a.Kelvins <= b.Kelvins;

    /// <summary>Whether the first is at least the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >=(TemperatureDifference a, TemperatureDifference b) => a.Kelvins >= b.Kelvins;

    /// <inheritdoc/>
    public int CompareTo(TemperatureDifference other) => Kelvins.CompareTo(other.Kelvins);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The object is no temperature difference.</exception>
    public int CompareTo(object? obj) => obj switch
    {
        null => 1,
        TemperatureDifference other => CompareTo(other),
        _ => throw new ArgumentException($"A temperature difference is compared with {obj.GetType().Name}; it must be another temperature difference.", nameof(obj)),
    };

    /// <summary>Number and unit in full, invariant.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Kelvins:R} K");
}
