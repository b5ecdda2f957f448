using Knownwater.Records.Storage;

namespace Knownwater.Records.Instruments;

/// <summary>Takes a lot out of use: it is empty or discarded.</summary>
public sealed class EmptyLot(RecordsContext records, Clock clock)
{
    /// <summary>The lot.</summary>
    public sealed record Command
    {
        /// <summary>The lot.</summary>
        public required Guid Lot { get; init; }

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
        /// <summary>Out of use.</summary>
        public sealed record Emptied : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
