namespace Knownwater.Quantities;

/// <summary>A number in a reporting form with its doubt, as read from text: 1000 mg/L NO3 ± 0.5 %.</summary>
/// <param name="Value">The number; finite.</param>
/// <param name="Form">The form that value and doubt are in.</param>
/// <param name="Doubt">What stands behind ±, in <paramref name="Form"/>; finite, zero or above.</param>
/// <param name="Kind">What the doubt stands for.</param>
/// <param name="CoverageFactor">k of an expanded uncertainty, above zero; null for any other kind.</param>
/// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
public sealed record UncertainQuantity(double Value, ReportingForm Form, double Doubt, DoubtKind Kind, double? CoverageFactor)
{
    /// <summary>The number, in <see cref="Form"/>.</summary>
    public double Value { get; } = double.IsFinite(Value)
        ? Value
        : throw new ArgumentOutOfRangeException(nameof(Value), Value, $"{Value} is no quantity; only finite numbers are.");

    /// <summary>The form that value and doubt are in.</summary>
    public ReportingForm Form { get; } = Form ?? throw new ArgumentNullException(nameof(Form));

    /// <summary>What stands behind ±, in <see cref="Form"/>.</summary>
    public double Doubt { get; } = double.IsFinite(Doubt) && Doubt >= 0
        ? Doubt
        : throw new ArgumentOutOfRangeException(nameof(Doubt), Doubt, $"A doubt of {Doubt} cannot be. Give it without a sign, zero or above.");

    /// <summary>k of an expanded uncertainty; null for any other kind.</summary>
    public double? CoverageFactor { get; } = Kind == DoubtKind.Expanded == CoverageFactor is > 0 and < double.PositiveInfinity && (Kind == DoubtKind.Expanded || CoverageFactor is null)
        ? CoverageFactor
        : throw new ArgumentOutOfRangeException(nameof(CoverageFactor), CoverageFactor, $"A coverage factor of {CoverageFactor} does not go with a doubt of this kind: an expanded uncertainty has one above zero, any other doubt has none.");

    /// <summary>The standard uncertainty (k = 1), in <see cref="Form"/>: a/√3 for a half-width (JCGM 100:2008, 4.3.7), U/k for an expanded uncertainty (4.3.3).</summary>
    public double StandardUncertainty => Kind switch
    {
        DoubtKind.HalfWidth => Doubt / Math.Sqrt(3),
        DoubtKind.Expanded => Doubt / CoverageFactor!.Value,
        _ => 0,
    };
}
