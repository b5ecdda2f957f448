namespace Knownwater.Records.Instruments;

/// <summary>One change of a procedure; texts and numbers as typed.</summary>
public abstract record ProcedureEdit
{
    private ProcedureEdit()
    {
    }

    /// <summary>Name, source and volumes.</summary>
    /// <param name="Name">What it is called.</param>
    /// <param name="Source">Where it comes from.</param>
    /// <param name="Residual">What stays behind when the chamber is emptied, mL.</param>
    /// <param name="Rinse">Volume of a rinse, mL.</param>
    public sealed record Head(string Name, string Source, string Residual, string Rinse) : ProcedureEdit;

    /// <summary>Changes a step, or adds one.</summary>
    public sealed record Step : ProcedureEdit
    {
        /// <summary>The step to change; empty to add one.</summary>
        public string Key { get; init; } = "";

        /// <summary>The step after which a new one stands; empty for before all others.</summary>
        public string After { get; init; } = "";

        /// <summary>When it applies.</summary>
        public required ProcedureWhen When { get; init; }

        /// <summary>What it is.</summary>
        public required ProcedureStepKind Kind { get; init; }

        /// <summary>What is heard or seen before it.</summary>
        public string Cue { get; init; } = "";

        /// <summary>What to do.</summary>
        public string Act { get; init; } = "";

        /// <summary>The word of the button.</summary>
        public string Done { get; init; } = "";

        /// <summary>Minutes of a timer.</summary>
        public string Minutes { get; init; } = "";

        /// <summary>Whether it takes as long as the method’s reading.</summary>
        public bool TakesReadingTime { get; init; }

        /// <summary>Whether the end of the timer may sound.</summary>
        public bool Signal { get; init; }

        /// <summary>The reason.</summary>
        public string Why { get; init; } = "";

        /// <summary>The caution.</summary>
        public string Caution { get; init; } = "";
    }

    /// <summary>Moves a step by one place.</summary>
    /// <param name="Key">The step.</param>
    /// <param name="Up">Whether to an earlier place.</param>
    public sealed record Move(string Key, bool Up) : ProcedureEdit;

    /// <summary>Leaves a step out.</summary>
    /// <param name="Key">The step.</param>
    public sealed record LeaveOut(string Key) : ProcedureEdit;

    /// <summary>Takes an older version again.</summary>
    /// <param name="Version">The version; 0 for the one that comes with the program.</param>
    public sealed record Again(int Version) : ProcedureEdit;

    /// <summary>Takes a whole document.</summary>
    /// <param name="Text">The JSON text.</param>
    public sealed record Whole(string Text) : ProcedureEdit;
}
