using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Keeps one reading of a level, as typed.</summary>
public sealed class KeepReading(RecordsContext records, Clock clock)
{
    /// <summary>One reading.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Ordinal of the level, from one.</summary>
        public required int Level { get; init; }

        /// <summary>The number as typed; <c>&lt;0.02</c> and <c>&gt;50</c> are kept as limits.</summary>
        public required string Typed { get; init; }

        /// <summary>Whether a doubtful number was confirmed as read.</summary>
        public bool Confirmed { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Kept; the ordinal of the next reading of this level.</summary>
        public sealed record Kept(int Next) : Outcome;

        /// <summary>Kept; this level is complete, the next open level follows.</summary>
        public sealed record LevelDone(int NextLevel) : Outcome;

        /// <summary>Kept; all readings are in and the verdict stands.</summary>
        public sealed record CheckClosed(bool CanExtend) : Outcome;

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
