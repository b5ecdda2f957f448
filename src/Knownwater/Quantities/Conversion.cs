namespace Knownwater.Quantities;

/// <summary>A value taken from one reporting form to another, with the way it went.</summary>
public sealed record Conversion
{
    /// <summary>The value in the form <see cref="To"/>.</summary>
    public required double Value { get; init; }

    /// <summary>The form the value was given in.</summary>
    public required ReportingForm From { get; init; }

    /// <summary>The form it is in now.</summary>
    public required ReportingForm To { get; init; }

    /// <summary>What one unit of <see cref="From"/> is in <see cref="To"/>; differences and uncertainties scale by it. Of a temperature, the size of one degree.</summary>
    public required double Factor { get; init; }

    /// <summary>The steps in words, each a full line: what it was divided or multiplied by, and why.</summary>
    public required IReadOnlyList<string> Steps { get; init; }
}
