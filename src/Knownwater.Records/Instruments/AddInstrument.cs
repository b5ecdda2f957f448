using Knownwater.Records.Storage;

namespace Knownwater.Records.Instruments;

/// <summary>Adds an instrument.</summary>
public sealed class AddInstrument(RecordsContext records, Clock clock)
{
    /// <summary>The instrument.</summary>
    public sealed record Command
    {
        /// <summary>What it is called at the bench.</summary>
        public required string Name { get; init; }

        /// <summary>Which kind it is.</summary>
        public InstrumentKind Kind { get; init; }

        /// <summary>Notes.</summary>
        public string Note { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The instrument is there.</summary>
        public sealed record Added(Guid Instrument) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
