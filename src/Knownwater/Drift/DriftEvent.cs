using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>A dated event that may have moved the bias of a method.</summary>
/// <param name="Day">Day it happened, on the scale of the checks. A check on that very day counts as made after it.</param>
/// <param name="Kind">What happened.</param>
/// <param name="Label">Which one, for people: “lot 2231”.</param>
public sealed record DriftEvent(double Day, DriftEventKind Kind, string Label)
{
    /// <inheritdoc cref="DriftEvent"/>
    public double Day { get; } = Require.Finite(Day, nameof(Day));

    /// <inheritdoc cref="DriftEvent"/>
    public string Label { get; } = !string.IsNullOrWhiteSpace(Label) ? Label : throw new ArgumentException("The event has no label. Say which lot, part or setting it was.", nameof(Label));

    /// <summary>Lots that came into use with it, by the names that the checks have for them; empty where it is no lot or they are not known.</summary>
    public IReadOnlyList<string> Lots { get; init; } = [];

    /// <summary>Whether it ends what was known of the level of the bias, so that the course is charted anew from here; true for a changed setting unless told otherwise.</summary>
    public bool StartsAnew { get; init; } = Kind == DriftEventKind.SettingChanged;
}
