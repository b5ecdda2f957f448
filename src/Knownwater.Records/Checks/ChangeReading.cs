using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Corrects a reading that was typed wrongly; the former one stays in the history.</summary>
public sealed class ChangeReading(RecordsContext records, Clock clock)
{
    /// <summary>The reading as it shall be.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Ordinal of the level, from one.</summary>
        public required int Level { get; init; }

        /// <summary>Ordinal of the reading within its level, from one.</summary>
        public required int Reading { get; init; }

        /// <summary>The number as typed.</summary>
        public required string Typed { get; init; }

        /// <summary>Whether a doubtful number was confirmed as read.</summary>
        public bool Confirmed { get; init; }

        /// <summary>Why; demanded once the verdict stands.</summary>
        public string Reason { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Changed; what was done in a sentence.</summary>
        public sealed record Changed(string Sentence) : Outcome;

        /// <summary>The number is so far from its fellows that it is asked about; the same command with <c>Confirmed</c> keeps it.</summary>
        public sealed record Doubtful(string Sentence, IReadOnlyList<Offer> Offers) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
