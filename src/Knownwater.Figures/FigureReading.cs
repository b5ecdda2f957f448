namespace Knownwater.Figures;

/// <summary>What a reading's number says: a value, or only a limit on one side.</summary>
public enum ReadingMark
{
    /// <summary>A measured value: a filled point.</summary>
    Measured,

    /// <summary>Below a limit, as in "&lt;0.02": an open arrow head that points down from the limit.</summary>
    Below,

    /// <summary>Above a limit, as in "&gt;50": an open arrow head that points up from the limit.</summary>
    Above,
}

/// <summary>One reading in a figure.</summary>
public sealed record FigureReading
{
    /// <summary>Makes a reading.</summary>
    /// <param name="value">The value, or the limit of a censored reading, in the figure's unit; finite.</param>
    /// <param name="label">The value as it is to be shown, without unit, with its "&lt;" or "&gt;" where it has one.</param>
    /// <param name="distanceLabel">The signed distance from the known value as it is to be shown; empty for a censored reading.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="value"/> is not finite.</exception>
    /// <exception cref="ArgumentException"><paramref name="label"/> is empty.</exception>
    public FigureReading(double value, string label, string distanceLabel = "")
    {
        Value = Guard.Finite(value);
        ArgumentException.ThrowIfNullOrWhiteSpace(label);
        Label = label;
        DistanceLabel = distanceLabel ?? "";
    }

    /// <summary>The value or limit, in the figure's unit.</summary>
    public double Value { get; }

    /// <summary>The value as shown.</summary>
    public string Label { get; }

    /// <summary>The distance from the known value as shown.</summary>
    public string DistanceLabel { get; }

    /// <summary>Whether the number is a value or a limit.</summary>
    public ReadingMark Mark { get; init; } = ReadingMark.Measured;

    /// <summary>Why the reading was left out of the mean; null when it counts. A reading that was left out stays in the picture, hollow, with a line through it.</summary>
    public string? ExcludedBecause { get; init; }

    /// <summary>True when the reading does not count.</summary>
    public bool IsExcluded => ExcludedBecause is not null;
}
