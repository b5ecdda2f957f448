using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>One run as a page or a device shows it.</summary>
public sealed record RunView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>The check that it runs.</summary>
    public required Guid Check { get; init; }

    /// <summary>Changes whenever the run or its check does.</summary>
    public required string Mark { get; init; }

    /// <summary>“Alkalinity on the harbour analyser”.</summary>
    public required string Title { get; init; }

    /// <summary>Name of the parameter.</summary>
    public required string ParameterName { get; init; }

    /// <summary>Unit of its readings.</summary>
    public required string Unit { get; init; }

    /// <summary>What may be typed on the reading scale of a hand kit, in a sentence; empty where it has a display.</summary>
    public required string ScaleHint { get; init; }

    /// <summary>Name of the procedure that it follows.</summary>
    public required string Procedure { get; init; }

    /// <summary>Its version at the start of the run.</summary>
    public required int ProcedureVersion { get; init; }

    /// <summary>The steps, frozen at the start.</summary>
    public required IReadOnlyList<RunStep> Steps { get; init; }

    /// <summary>The step to do next, from zero; the number of steps when all are done.</summary>
    public required int Step { get; init; }

    /// <summary>When the timers of steps were started, by step; only those that have one.</summary>
    public required IReadOnlyDictionary<int, Instant> Starts { get; init; }

    /// <summary>Whether the run was ended.</summary>
    public required bool Ended { get; init; }

    /// <summary>Where the check stands.</summary>
    public required CheckState CheckState { get; init; }

    /// <summary>Whether the person said that automatic dosing was paused.</summary>
    public required bool AutomationPaused { get; init; }

    /// <summary>The levels of the check with the readings that are in.</summary>
    public required IReadOnlyList<RunLevel> Levels { get; init; }

    /// <summary>“about 36 minutes left”; empty where a reading’s time is not known or none is left.</summary>
    public required string LeftWords { get; init; }

    /// <summary>When it was begun, in words.</summary>
    public required string StartedWords { get; init; }

    /// <summary>What happened, in the order of the records.</summary>
    public required IReadOnlyList<RunEventLine> Events { get; init; }

    /// <summary>The present instant by the clock of the records.</summary>
    public required Instant Now { get; init; }

    /// <summary>The step to do next; null when all are done.</summary>
    public RunStep? Current => Step < Steps.Count ? Steps[Step] : null;

    /// <summary>The reading of a step as typed; null where it is not in or the step takes none.</summary>
    /// <param name="step">The step.</param>
    public string? Reading(RunStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        var level = Levels.FirstOrDefault(l => l.Ordinal == step.Level);
        return step switch
        {
            { Replicate: { } r } => level?.Readings.ElementAtOrDefault(r - 1),
            { Conditioning: { } c } => level?.Conditioning.ElementAtOrDefault(c - 1),
            _ => null,
        };
    }

    /// <summary>Which reading a step serves: “Alkalinity · level 1 of 2, reading 3 of 5”.</summary>
    /// <param name="step">The step; null when all are done.</param>
    public string Where(RunStep? step)
    {
        if (step is not { Level: { } l } || Levels.FirstOrDefault(x => x.Ordinal == l) is not { } level)
            return ParameterName;
        var at = level.Series.Length > 0 ? $"{level.Series}, " : Levels.Count > 1 ? $"level {l} of {Levels.Count}, " : "";
        return step.Conditioning is { } run ? $"{ParameterName} · {at}conditioning run {run}" : $"{ParameterName} · {at}reading {step.Replicate} of {level.Planned}";
    }
}

/// <summary>A level in a run.</summary>
/// <param name="Ordinal">From one.</param>
/// <param name="KnownWords">“7.90 ± 0.08 dKH”.</param>
/// <param name="Planned">Readings planned.</param>
/// <param name="Readings">Readings that are in, as typed, in order.</param>
/// <param name="Conditioning">Conditioning runs that are in, as typed, in order.</param>
/// <param name="Series">“by hand”, “with the new bottle”; empty in a usual check.</param>
public sealed record RunLevel(int Ordinal, string KnownWords, int Planned, IReadOnlyList<string> Readings, IReadOnlyList<string> Conditioning, string Series);

/// <summary>One event of a run in words.</summary>
/// <param name="Ordinal">Its place, from one.</param>
/// <param name="Kind">What happened.</param>
/// <param name="Step">At which step, from zero.</param>
/// <param name="Text">The reading as typed, the words of a note or slip; empty else.</param>
/// <param name="Who">Initials; may be empty.</param>
/// <param name="TimeWords">When, by the clock of the records: “09:41:07”.</param>
/// <param name="Sentence">All of that in a sentence.</param>
/// <param name="Photo">Key of its photo; null where it is none.</param>
public sealed record RunEventLine(int Ordinal, RunEventKind Kind, int Step, string Text, string Who, string TimeWords, string Sentence, Guid? Photo);
