using Knownwater.Quantities;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Starts a check: fixes plan and number of readings before the first one.</summary>
public sealed class StartCheck(RecordsContext records, Clock clock)
{
    /// <summary>The plan of a check; numbers as typed. A quick verdict is a check without method.</summary>
    public sealed record Command
    {
        /// <summary>Key of a listed parameter, or <c>other</c>.</summary>
        public required string Parameter { get; init; }

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Reporting form as text, <c>mg/L Cd</c>; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>Method under check; null for none yet.</summary>
        public Guid? Method { get; init; }

        /// <summary>One to six levels.</summary>
        public required IReadOnlyList<LevelEntry> Levels { get; init; }

        /// <summary>Tolerance in the form's unit as typed; both parts empty for the method's, else the default of the main use.</summary>
        public string ToleranceAbsolute { get; init; } = "";

        /// <summary>Tolerance in percent of the known value as typed.</summary>
        public string TolerancePercent { get; init; } = "";

        /// <summary>Number of readings a level as typed.</summary>
        public string Replicates { get; init; } = "";

        /// <summary>Whether one extension is declared beforehand.</summary>
        public bool ExtensionDeclared { get; init; }

        /// <summary>Whether the typical scatter of the parameter is pooled as a weak prior, until the method has its own history.</summary>
        public bool UseTypicalScatter { get; init; }

        /// <summary>Step of the display as typed; empty for the method's, else none.</summary>
        public string Resolution { get; init; } = "";

        /// <summary>Minutes that a reading takes as typed; empty for the method's, else unknown.</summary>
        public string MinutesPerReading { get; init; } = "";

        /// <summary>Whether the person said that automatic dosing is paused.</summary>
        public bool AutomationPaused { get; init; }

        /// <summary>Why a lot past its date is used all the same; only asked for where there is one.</summary>
        public string ExpiredLotReason { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The check was started and takes readings.</summary>
        public sealed record Started(Guid Check) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}

/// <summary>One level as entered: a water from the shelf, or a value typed with its doubt.</summary>
public sealed record LevelEntry
{
    /// <summary>Water from the shelf; then the typed value is not read.</summary>
    public Guid? ReferenceWater { get; init; }

    /// <summary>Known value as typed, in the form of the check.</summary>
    public string Known { get; init; } = "";

    /// <summary>Its doubt as typed; “0” is taken as exact.</summary>
    public string Doubt { get; init; } = "";

    /// <summary>What the doubt means.</summary>
    public DoubtKind DoubtKind { get; init; }

    /// <summary>Number of readings at this level as typed; empty for the check's.</summary>
    public string Replicates { get; init; } = "";
}
