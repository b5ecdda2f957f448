using System.Globalization;
using System.Text.Json.Serialization;
using Knownwater.Statistics;

namespace Knownwater.Quantities;

/// <summary>Volume, of liquids at 20 °C where nothing else is said.</summary>
/// <remarks>
/// Any finite number of millilitres; negative ones are differences. <c>default</c> is <see cref="Zero"/>. Equality and order are those of the number. Immutable.
/// </remarks>
public readonly record struct Volume : IQuantity<Volume>, IComparable<Volume>, IComparable
{
    [JsonConstructor]
    private Volume(double millilitres) => Millilitres = Require.Finite(millilitres);

    /// <summary>No volume.</summary>
    [JsonIgnore]
    public static Volume Zero => default;

    /// <summary>The volume in millilitres, mL.</summary>
    public double Millilitres { get; }

    /// <summary>The volume in microlitres.</summary>
    [JsonIgnore]
    public double Microlitres => Millilitres * 1000;

    /// <summary>The volume in litres.</summary>
    [JsonIgnore]
    public double Litres => Millilitres / 1000;

    static string IQuantity<Volume>.BaseUnit => "mL";

    double IQuantity<Volume>.InBaseUnit => Millilitres;

    /// <summary>A volume from millilitres.</summary>
    /// <param name="millilitres">Finite number of millilitres.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static Volume FromMillilitres(double millilitres) => new(millilitres);

    /// <summary>A volume from microlitres.</summary>
    /// <param name="microlitres">Finite number of microlitres.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static Volume FromMicrolitres(double microlitres) => new(Require.Finite(microlitres) / 1000);

    /// <summary>A volume from litres.</summary>
    /// <param name="litres">Finite number of litres.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static Volume FromLitres(double litres) => new(Require.Finite(litres) * 1000);

    static Volume IQuantity<Volume>.FromBaseUnit(double value) => new(value);

    /// <summary>Sum.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    public static Volume operator +(Volume a, Volume b) => new(a.Millilitres + b.Millilitres);

    /// <summary>Difference.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    public static Volume operator -(Volume a, Volume b) => new(a.Millilitres - b.Millilitres);

    /// <summary>Negation.</summary>
    /// <param name="a">Volume.</param>
    public static Volume operator -(Volume a) => new(-a.Millilitres);

    /// <summary>Multiple.</summary>
    /// <param name="a">Volume.</param>
    /// <param name="factor">Finite factor.</param>
    public static Volume operator *(Volume a, double factor) => new(a.Millilitres * factor);

    /// <summary>Multiple.</summary>
    /// <param name="factor">Finite factor.</param>
    /// <param name="a">Volume.</param>
    public static Volume operator *(double factor, Volume a) => new(factor * a.Millilitres);

    /// <summary>Part.</summary>
    /// <param name="a">Volume.</param>
    /// <param name="divisor">Finite divisor, not zero.</param>
    public static Volume operator /(Volume a, double divisor) => new(a.Millilitres / divisor);

    /// <summary>Ratio, a number.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    public static double operator /(Volume a, Volume b) => Require.Finite(a.Millilitres / b.Millilitres, nameof(b));

    /// <summary>Whether the first is below the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <(Volume a, Volume b) => a.Millilitres < b.Millilitres;

    /// <summary>Whether the first is above the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >(Volume a, Volume b) => a.Millilitres > b.Millilitres;

    /// <summary>Whether the first is at most the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator <=(Volume a, Volume b) => a.Millilitres <= b.Millilitres;

    /// <summary>Whether the first is at least the second.</summary>
    /// <param name="a">First.</param>
    /// <param name="b">Second.</param>
    public static bool operator >=(Volume a, Volume b) => a.Millilitres >= b.Millilitres;

    /// <inheritdoc/>
    public int CompareTo(Volume other) => Millilitres.CompareTo(other.Millilitres);

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The object is no volume.</exception>
    public int CompareTo(object? obj) => obj switch
    {
        null => 1,
        Volume other => CompareTo(other),
        _ => throw new ArgumentException($"A volume is compared with {obj.GetType().Name}; it must be another volume.", nameof(obj)),
    };

    /// <summary>Number and unit in full, invariant.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Millilitres:R} mL");
}
