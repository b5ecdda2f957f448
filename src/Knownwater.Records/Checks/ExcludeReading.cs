using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Leaves a reading out for a noted cause; the verdict with it stays beside.</summary>
public sealed class ExcludeReading(RecordsContext records, Clock clock)
{
    /// <summary>The reading and the cause.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Ordinal of the level, from one.</summary>
        public required int Level { get; init; }

        /// <summary>Ordinal of the reading within its level, from one.</summary>
        public required int Reading { get; init; }

        /// <summary>The cause that was seen; must be given.</summary>
        public required string Reason { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Left out; what was done in a sentence.</summary>
        public sealed record Excluded(string Sentence) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
