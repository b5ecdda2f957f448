namespace Knownwater.Records.Checks;

/// <summary>What happened in a run.</summary>
public enum RunEventKind
{
    /// <summary>The run was begun.</summary>
    Begun = 0,

    /// <summary>A step was done.</summary>
    Done = 1,

    /// <summary>One step back.</summary>
    Back = 2,

    /// <summary>The timer of a step was started, or started again.</summary>
    TimerStarted = 3,

    /// <summary>The reading of a step was typed.</summary>
    ReadingKept = 4,

    /// <summary>A note.</summary>
    Note = 5,

    /// <summary>A slip of the hand.</summary>
    Slip = 6,

    /// <summary>A photo.</summary>
    Photo = 7,

    /// <summary>The run was ended.</summary>
    Ended = 8,
}
