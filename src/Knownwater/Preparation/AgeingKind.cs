namespace Knownwater.Preparation;

/// <summary>How one kind of water changes with its age.</summary>
/// <remarks>One-sided: between a low and a high rate, in percent of the value a day. Common practice unless the source says otherwise.</remarks>
public sealed record AgeingKind
{
    /// <summary>Its key.</summary>
    public required string Key { get; init; }

    /// <summary>Its name: “weak phosphate water”.</summary>
    public required string Name { get; init; }

    /// <summary>Whether the value rises; else it falls, or stays where both rates are zero.</summary>
    public required bool IsUpward { get; init; }

    /// <summary>Low rate, percent a day.</summary>
    public required double LowPercentPerDay { get; init; }

    /// <summary>High rate, percent a day.</summary>
    public required double HighPercentPerDay { get; init; }

    /// <summary>Days it keeps; parts of a day for hours; null where nothing is said.</summary>
    public double? LifeDays { get; init; }

    /// <summary>Whether its life counts from the opening; else from the making.</summary>
    public required bool CountsFromOpening { get; init; }

    /// <summary>How it is kept, in words.</summary>
    public required string Container { get; init; }

    /// <summary>Why it changes, in words.</summary>
    public required string Mechanism { get; init; }

    /// <summary>Where the figures come from.</summary>
    public required string Source { get; init; }
}
