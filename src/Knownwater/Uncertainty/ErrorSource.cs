using System.Buffers.Binary;
using System.Globalization;
using System.Runtime.CompilerServices;
using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

/// <summary>One cause of error with an identity: a stock's certificate, a pipette's gain, a flask, the noise of one mean.</summary>
/// <remarks>
/// <para>The source stands for one standardised random quantity ξ (mean 0, standard deviation 1); an <see cref="Estimate"/> holds its signed contribution c = sensitivity × u from each
/// of its sources, so that covariances are sums of products. Two sources are independent; what is correlated is written as several shared sources.</para>
/// <para>Identity is the <see cref="Id"/>: two objects of one id are one source with one ξ wherever estimates meet, also where one of them states a u that was mended since. Immutable; equality
/// is that of the id.</para>
/// </remarks>
/// <example><code>
/// var certificate = ErrorSource.Expanded("nitrate stock, certificate", expandedUncertainty: 5, coverageFactor: 2, unit: "mg/L");
/// var stock = Estimate.From(1000, certificate);
/// </code></example>
public sealed partial class ErrorSource : IEquatable<ErrorSource>
{
    /// <summary>A source as it is recorded.</summary>
    /// <param name="id">Identity, not empty.</param>
    /// <param name="name">What it is called in a budget, not blank.</param>
    /// <param name="standardUncertainty">Standard uncertainty u in <paramref name="unit"/>; finite and above zero. What is exact has no source.</param>
    /// <param name="unit">Unit of u as written, for display only; empty for dimension one.</param>
    /// <param name="dof">Degrees of freedom of u, above zero; infinite for a u that is taken as known.</param>
    /// <param name="shape">Distribution of the error.</param>
    /// <param name="family">Identity shared by all sources whose u rests on one estimate of variance; null where u has its own.</param>
    /// <param name="topToBase">Ratio β of top to base of a trapezium, 0 (triangle) to 1 (rectangle); only with <see cref="SourceShape.Trapezoidal"/> and <see cref="SourceShape.Censored"/>, else null.</param>
    /// <exception cref="ArgumentException">The id is empty, the name blank, or a ratio is given or missing against the shape.</exception>
    /// <exception cref="ArgumentOutOfRangeException">u is not finite and above zero, dof is not above zero, the shape is unknown, or the ratio is not within 0 to 1.</exception>
    public ErrorSource(Guid id, string name, double standardUncertainty, string unit = "", double dof = double.PositiveInfinity,
        SourceShape shape = SourceShape.Normal, Guid? family = null, double? topToBase = null)
    {
        if (id == Guid.Empty)
            throw new ArgumentException("The id of an error source is empty; give each source an identity of its own.", nameof(id));
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(unit);
        Require.Positive(standardUncertainty);
        Require.Dof(dof);
        if (!Enum.IsDefined(shape))
            throw new ArgumentOutOfRangeException(nameof(shape), shape, $"{shape} is no shape of an error source.");
        if (family == Guid.Empty)
            throw new ArgumentException("The family of an error source is empty; give null where it has none.", nameof(family));
        if ((shape is SourceShape.Trapezoidal or SourceShape.Censored) != topToBase.HasValue)
            throw new ArgumentException($"The shape is {shape} and the ratio of top to base {(topToBase is { } given ? given.ToString(CultureInfo.InvariantCulture) : "missing")}; a trapezium and a censored source need the ratio, no other shape has one.", nameof(topToBase));
        if (topToBase is { } ratio)
            Ratio(ratio);
        Id = id;
        Name = name;
        StandardUncertainty = standardUncertainty;
        Unit = unit;
        Dof = dof;
        Shape = shape;
        Family = family;
        TopToBase = topToBase;
        Span<byte> bytes = stackalloc byte[16];
        id.TryWriteBytes(bytes, bigEndian: true, out _);
        Order = BinaryPrimitives.ReadInt64BigEndian(bytes) ^ BinaryPrimitives.ReadInt64BigEndian(bytes[8..]);
    }

    /// <summary>Identity, kept in the records.</summary>
    public Guid Id { get; }

    /// <summary>Name for a budget.</summary>
    public string Name { get; }

    /// <summary>Standard uncertainty u (k = 1), in <see cref="Unit"/>.</summary>
    public double StandardUncertainty { get; }

    /// <summary>Unit of u as written; empty for dimension one.</summary>
    public string Unit { get; }

    /// <summary>Degrees of freedom of u; +∞ where u is taken as known.</summary>
    public double Dof { get; }

    /// <summary>Distribution of the error.</summary>
    public SourceShape Shape { get; }

    /// <summary>Identity of the variance estimate that this source shares with others; null where it has its own.</summary>
    public Guid? Family { get; }

    /// <summary>Ratio β of top to base of a trapezium, the one-sided one of a censored source too; null for every other shape.</summary>
    public double? TopToBase { get; }

    /// <summary>Place in the sorted arrays of estimates. It follows from the id, so that two objects of one id always meet in a merge.</summary>
    internal long Order { get; }

    /// <summary>A normal source with a standard uncertainty.</summary>
    /// <param name="name">Name for a budget.</param>
    /// <param name="standardUncertainty">u, finite and above zero.</param>
    /// <param name="unit">Unit of u.</param>
    /// <param name="dof">Degrees of freedom; infinite where u is taken as known.</param>
    /// <param name="family">Identity of a shared variance estimate, if any.</param>
    /// <param name="id">Identity; a new one where null.</param>
    /// <exception cref="ArgumentException">As for the constructor.</exception>
    public static ErrorSource Normal(string name, double standardUncertainty, string unit = "", double dof = double.PositiveInfinity, Guid? family = null, Guid? id = null) =>
        new(id ?? Guid.NewGuid(), name, standardUncertainty, unit, dof, SourceShape.Normal, family);

    /// <summary>A normal source from an expanded uncertainty: u = U/k (JCGM 100:2008, 4.3.3).</summary>
    /// <param name="name">Name for a budget.</param>
    /// <param name="expandedUncertainty">U, finite and above zero.</param>
    /// <param name="coverageFactor">k as stated with U, above zero.</param>
    /// <param name="unit">Unit of U.</param>
    /// <param name="dof">Degrees of freedom; infinite where nothing is stated.</param>
    /// <param name="id">Identity; a new one where null.</param>
    /// <exception cref="ArgumentException">As for the constructor, or k is not above zero.</exception>
    public static ErrorSource Expanded(string name, double expandedUncertainty, double coverageFactor, string unit = "", double dof = double.PositiveInfinity, Guid? id = null)
    {
        Require.Positive(expandedUncertainty);
        Require.Positive(coverageFactor);
        return new(id ?? Guid.NewGuid(), name, expandedUncertainty / coverageFactor, unit, dof);
    }

    /// <summary>A rectangular source from a half-width: u = a/√3 (JCGM 100:2008, 4.3.7).</summary>
    /// <param name="name">Name for a budget.</param>
    /// <param name="halfWidth">Half-width a, finite and above zero.</param>
    /// <param name="unit">Unit of a.</param>
    /// <param name="id">Identity; a new one where null.</param>
    /// <exception cref="ArgumentException">As for the constructor.</exception>
    public static ErrorSource Rectangular(string name, double halfWidth, string unit = "", Guid? id = null) =>
        new(id ?? Guid.NewGuid(), name, Require.Positive(halfWidth) / Math.Sqrt(3), unit, shape: SourceShape.Rectangular);

    /// <summary>A triangular source from a half-width: u = a/√6 (JCGM 100:2008, 4.3.9).</summary>
    /// <param name="name">Name for a budget.</param>
    /// <param name="halfWidth">Half-width a, finite and above zero.</param>
    /// <param name="unit">Unit of a.</param>
    /// <param name="id">Identity; a new one where null.</param>
    /// <exception cref="ArgumentException">As for the constructor.</exception>
    public static ErrorSource Triangular(string name, double halfWidth, string unit = "", Guid? id = null) =>
        new(id ?? Guid.NewGuid(), name, Require.Positive(halfWidth) / Math.Sqrt(6), unit, shape: SourceShape.Triangular);

    /// <summary>A trapezoidal source: u = a·√((1 + β²)/6) (JCGM 100:2008, 4.3.9).</summary>
    /// <param name="name">Name for a budget.</param>
    /// <param name="halfWidth">Half-width a of the base, finite and above zero.</param>
    /// <param name="topToBase">Ratio β of top to base, 0 to 1.</param>
    /// <param name="unit">Unit of a.</param>
    /// <param name="id">Identity; a new one where null.</param>
    /// <exception cref="ArgumentException">As for the constructor.</exception>
    public static ErrorSource Trapezoidal(string name, double halfWidth, double topToBase, string unit = "", Guid? id = null) =>
        new(id ?? Guid.NewGuid(), name, Require.Positive(halfWidth) * Math.Sqrt((1 + Ratio(topToBase) * topToBase) / 6), unit, shape: SourceShape.Trapezoidal, topToBase: topToBase);

    /// <summary>A cyclic source from its amplitude: u = a/√2 (JCGM 101:2008, 6.4.6).</summary>
    /// <param name="name">Name for a budget.</param>
    /// <param name="amplitude">Amplitude a, finite and above zero.</param>
    /// <param name="unit">Unit of a.</param>
    /// <param name="id">Identity; a new one where null.</param>
    /// <exception cref="ArgumentException">As for the constructor.</exception>
    public static ErrorSource ArcSine(string name, double amplitude, string unit = "", Guid? id = null) =>
        new(id ?? Guid.NewGuid(), name, Require.Positive(amplitude) / Math.Sqrt(2), unit, shape: SourceShape.ArcSine);

    /// <summary>The rounding of a display with steps of q: rectangular between ±q/2, u = q/√12 (JCGM 100:2008, F.2.2.1).</summary>
    /// <param name="name">Name for a budget.</param>
    /// <param name="step">Step q of the display, finite and above zero.</param>
    /// <param name="unit">Unit of q.</param>
    /// <param name="id">Identity; a new one where null.</param>
    /// <exception cref="ArgumentException">As for the constructor.</exception>
    public static ErrorSource ResolutionStep(string name, double step, string unit = "", Guid? id = null) =>
        new(id ?? Guid.NewGuid(), name, Require.Positive(step) / Math.Sqrt(12), unit, shape: SourceShape.Resolution);

    /// <summary>What a reading below a limit L leaves unknown of a quantity that cannot be negative; <see cref="Estimate.Below"/> gives the value with it.</summary>
    /// <remarks>
    /// With nothing else known of the quantity and a reading error that is rectangular between ±w, the chance to read below L is 1 up to L − w and falls in a straight line to 0 at L + w. So the
    /// density is flat from 0 to L − w and falls to 0 at L + w: a trapezium with its ramp on one side and β = (L − w)/(L + w). With w = 0 it is rectangular, u = L/√12.
    /// </remarks>
    /// <param name="name">Name for a budget.</param>
    /// <param name="limit">L, finite and above zero.</param>
    /// <param name="readingHalfWidth">Half-width w of the error of the reading, 0 to L; half a display step, say.</param>
    /// <param name="unit">Unit of L.</param>
    /// <param name="id">Identity; a new one where null.</param>
    /// <exception cref="ArgumentException">As for the constructor, or w is not within 0 to L.</exception>
    public static ErrorSource Censored(string name, double limit, double readingHalfWidth = 0, string unit = "", Guid? id = null)
    {
        var (foot, ratio) = Trapezium(limit, readingHalfWidth);
        return new(id ?? Guid.NewGuid(), name, foot * CensoredMoments(ratio).Sd, unit, shape: SourceShape.Censored, topToBase: ratio);
    }

    /// <summary>The noise of a mean of n readings: scaled t, u = s/√n with the degrees of freedom of s (JCGM 100:2008, 4.2.3; JCGM 101:2008, 6.4.9).</summary>
    /// <param name="name">Name for a budget.</param>
    /// <param name="standardDeviation">s of one reading, finite and above zero.</param>
    /// <param name="n">Number of readings in the mean, at least 1.</param>
    /// <param name="unit">Unit of s.</param>
    /// <param name="dof">Degrees of freedom of s; n − 1 where null, which needs at least 2 readings.</param>
    /// <param name="family">Identity of a pooled variance that other means use too, if any.</param>
    /// <param name="id">Identity; a new one where null.</param>
    /// <exception cref="ArgumentException">As for the constructor, or n is too small.</exception>
    public static ErrorSource MeanOfReadings(string name, double standardDeviation, int n, string unit = "", double? dof = null, Guid? family = null, Guid? id = null)
    {
        Require.Positive(standardDeviation);
        Require.AtLeast(n, dof is null ? 2 : 1);
        return new(id ?? Guid.NewGuid(), name, standardDeviation / Math.Sqrt(n), unit, dof ?? n - 1, SourceShape.ScaledT, family);
    }

    /// <summary>Degrees of freedom of a standard uncertainty that is itself known to a relative uncertainty: ν = 1/(2r²) (JCGM 100:2008, G.4.2, equation G.3).</summary>
    /// <param name="relativeUncertainty">r = Δu/u, finite and above zero; 0.25 for a u that is right to 25 %, which gives 8.</param>
    /// <exception cref="ArgumentOutOfRangeException">r is not finite and above zero.</exception>
    public static double DofOfReliability(double relativeUncertainty) => 0.5 / (Require.Positive(relativeUncertainty) * relativeUncertainty);

    /// <inheritdoc/>
    public bool Equals(ErrorSource? other) => other is not null && Id == other.Id;

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as ErrorSource);

    /// <inheritdoc/>
    public override int GetHashCode() => Id.GetHashCode();

    /// <summary>Name, u and unit.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Name}: u = {StandardUncertainty}{(Unit.Length > 0 ? " " : "")}{Unit}");

    private static double Ratio(double topToBase) => topToBase is >= 0 and <= 1 ? topToBase
        : throw new ArgumentOutOfRangeException(nameof(topToBase), topToBase, $"The ratio of top to base is {topToBase.ToString(CultureInfo.InvariantCulture)}; it must lie between 0 and 1.");

    /// <summary>Sorting of sources: by <see cref="Order"/>, in the rare tie by id; zero for one id.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static int Compare(ErrorSource a, ErrorSource b) =>
        ReferenceEquals(a, b) ? 0 : a.Order != b.Order ? (a.Order < b.Order ? -1 : 1) : a.Id.CompareTo(b.Id);
}
