using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>One event of a run as a device sends it.</summary>
public sealed record SentRunEvent
{
    /// <summary>Key that the device gave it.</summary>
    public required Guid Key { get; init; }

    /// <summary>What happened.</summary>
    public required RunEventKind Kind { get; init; }

    /// <summary>The step that it was done at, from zero.</summary>
    public required int Step { get; init; }

    /// <summary>The reading as typed, the words of a note or slip; empty else.</summary>
    public string Text { get; init; } = "";

    /// <summary>Whether a doubtful reading was confirmed as read.</summary>
    public bool Confirmed { get; init; }

    /// <summary>Whether the reading is typed anew in place of the one that is in.</summary>
    public bool Again { get; init; }

    /// <summary>When, by the device's clock; null for now.</summary>
    public Instant? At { get; init; }

    /// <summary>How long it lay on the device before it was sent; zero or more.</summary>
    public Duration Age { get; init; } = Duration.Zero;
}
