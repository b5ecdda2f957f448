namespace Knownwater.Records.Instruments;

/// <summary>One step of a procedure; its texts may hold the words of <see cref="Procedure.Blanks"/> in braces.</summary>
public sealed record ProcedureStep
{
    /// <summary>Name of the step within its procedure: small letters, digits and hyphens.</summary>
    public required string Key { get; init; }

    /// <summary>When it applies.</summary>
    public required ProcedureWhen When { get; init; }

    /// <summary>What it is.</summary>
    public required ProcedureStepKind Kind { get; init; }

    /// <summary>What to do, one sentence.</summary>
    public required string Act { get; init; }

    /// <summary>What is heard or seen before it; null where it follows at once.</summary>
    public string? Cue { get; init; }

    /// <summary>The button, named by what was done.</summary>
    public required string Done { get; init; }

    /// <summary>Seconds of a timer; null without one.</summary>
    public int? Seconds { get; init; }

    /// <summary>Whether the timer takes as long as the method says that a reading takes; then <see cref="Seconds"/> counts only where the method does not say.</summary>
    public bool TakesReadingTime { get; init; }

    /// <summary>Whether the end of the timer may sound or vibrate.</summary>
    public bool Signal { get; init; }

    /// <summary>The reason; the figure of a rinse is computed and added.</summary>
    public string? Why { get; init; }

    /// <summary>What the hand must mind here.</summary>
    public string? Caution { get; init; }
}
