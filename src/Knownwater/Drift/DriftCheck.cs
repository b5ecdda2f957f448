namespace Knownwater.Drift;

/// <summary>One check in the history of its method.</summary>
/// <remarks>Stock, preparation and lots are any texts that tell one from another, such as identities in the records. What waters share in error follows from the ancestry of the biases, not from these names.</remarks>
public sealed record DriftCheck
{
    /// <summary>Day on which it was made, counted from any day.</summary>
    public required double Day { get; init; }

    /// <summary>Its levels, at least one.</summary>
    public required IReadOnlyList<DriftLevel> Levels { get; init; }

    /// <summary>Lots of the reagents in use.</summary>
    public IReadOnlyList<string> Lots { get; init; } = [];

    /// <summary>Stock of the known water; null where it is not known.</summary>
    public string? Stock { get; init; }

    /// <summary>Preparation of the known water; null where it was prepared for this check alone.</summary>
    public string? Preparation { get; init; }
}
