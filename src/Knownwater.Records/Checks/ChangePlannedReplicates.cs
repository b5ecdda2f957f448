using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Changes the number of readings before the first one.</summary>
public sealed class ChangePlannedReplicates(RecordsContext records, Clock clock)
{
    /// <summary>The number.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Number of readings a level as typed.</summary>
        public required string Replicates { get; init; }

        /// <summary>Ordinal of one level; null for all.</summary>
        public int? Level { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The number stands.</summary>
        public sealed record Changed(int Replicates) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
