namespace Knownwater.Checks;

/// <summary>An earlier check of the same method in the same matrix.</summary>
/// <remarks>Exclude checks that a later correction of the records made void. Corrections fitted by the program are not applied: the biases are those of the plain readings.</remarks>
public sealed record EarlierCheck
{
    /// <summary>How many days before the failed check; above zero.</summary>
    public required double DaysBefore { get; init; }

    /// <summary>Its levels, at least one.</summary>
    public required IReadOnlyList<EarlierLevel> Levels { get; init; }

    /// <summary>What it was made with.</summary>
    public CheckCarriers Carriers { get; init; } = new();
}
