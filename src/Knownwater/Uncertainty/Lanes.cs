using System.Globalization;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Knownwater.Uncertainty;

/// <summary>Eight numbers side by side as number type of a model: one evaluation is eight trials.</summary>
/// <remarks>
/// One 512-bit vector; the runtime uses two of 256 bits where the processor has no wider ones, with the same results to the last bit. Arithmetic follows the rules of double, lane by lane.
/// Sums and products are not fused; powers are those of <see cref="Math"/>, one lane after the other. <c>default</c> is zero in every lane.
/// </remarks>
public readonly struct Lanes : IReal<Lanes>, IEquatable<Lanes>
{
    /// <summary>How many numbers there are side by side.</summary>
    public const int Count = 8;

    /// <summary>Eight numbers.</summary>
    /// <param name="values">The numbers.</param>
    public Lanes(Vector512<double> values) => Values = values;

    /// <summary>The numbers as a vector.</summary>
    public Vector512<double> Values { get; }

    /// <summary>One of the numbers.</summary>
    /// <param name="lane">Its place, 0 to 7.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such lane.</exception>
    public double this[int lane] => Values[lane];

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static implicit operator Lanes(double value) => new(Vector512.Create(value));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes operator +(Lanes a, Lanes b) => new(a.Values + b.Values);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes operator -(Lanes a, Lanes b) => new(a.Values - b.Values);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes operator -(Lanes a) => new(-a.Values);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes operator *(Lanes a, Lanes b) => new(a.Values * b.Values);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes operator /(Lanes a, Lanes b) => new(a.Values / b.Values);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes Sqrt(Lanes a) => new(Vector512.Sqrt(a.Values));

    /// <inheritdoc/>
    public static Lanes Exp(Lanes a) => new(Vector512.Exp(a.Values));

    /// <inheritdoc/>
    public static Lanes Log(Lanes a) => new(Vector512.Log(a.Values));

    /// <inheritdoc/>
    public static Lanes Pow(Lanes a, double exponent)
    {
        Span<double> values = stackalloc double[Count];
        a.Values.CopyTo(values);
        foreach (ref var value in values)
            value = Math.Pow(value, exponent);
        return new(Vector512.Create<double>(values));
    }

    /// <inheritdoc/>
    public static Lanes Sin(Lanes a) => new(Vector512.Sin(a.Values));

    /// <inheritdoc/>
    public static Lanes Cos(Lanes a) => new(Vector512.Cos(a.Values));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes Max(Lanes a, Lanes b) => new(Vector512.Max(a.Values, b.Values));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes Min(Lanes a, Lanes b) => new(Vector512.Min(a.Values, b.Values));

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes Select(Lanes sign, Lanes notNegative, Lanes otherwise) =>
        new(Vector512.ConditionalSelect(Vector512.GreaterThanOrEqual(sign.Values, Vector512<double>.Zero), notNegative.Values, otherwise.Values));

    /// <inheritdoc/>
    public bool Equals(Lanes other) => Values.Equals(other.Values);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is Lanes other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode() => Values.GetHashCode();

    /// <summary>Whether all lanes are equal.</summary>
    /// <param name="a">First block.</param>
    /// <param name="b">Second block.</param>
    public static bool operator ==(Lanes a, Lanes b) => a.Equals(b);

    /// <summary>Whether a lane differs.</summary>
    /// <param name="a">First block.</param>
    /// <param name="b">Second block.</param>
    public static bool operator !=(Lanes a, Lanes b) => !a.Equals(b);

    /// <summary>The eight numbers in invariant form.</summary>
    public override string ToString()
    {
        var values = Values;
        return string.Join(' ', Enumerable.Range(0, Count).Select(i => values[i].ToString("R", CultureInfo.InvariantCulture)));
    }
}
