using Knownwater.Records.Storage;

namespace Knownwater.Records.Instruments;

/// <summary>Records a setting that was changed on an instrument: a dated event.</summary>
public sealed class RecordSetting(RecordsContext records, Clock clock)
{
    /// <summary>The setting.</summary>
    public sealed record Command
    {
        /// <summary>The instrument.</summary>
        public required Guid Instrument { get; init; }

        /// <summary>What was set: factor, offset, firmware.</summary>
        public required string What { get; init; }

        /// <summary>What it was.</summary>
        public string Old { get; init; } = "";

        /// <summary>What it is now.</summary>
        public required string New { get; init; }

        /// <summary>Why.</summary>
        public string Why { get; init; } = "";

        /// <summary>Day, yyyy-MM-dd; empty for today.</summary>
        public string On { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Recorded.</summary>
        public sealed record Recorded(Guid Setting) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
