using Knownwater.Records.Storage;

namespace Knownwater.Records.History;

/// <summary>Undoes one act: the rows it touched become what they were.</summary>
public sealed class Undo(RecordsContext records, Clock clock)
{
    /// <summary>The act.</summary>
    public sealed record Command
    {
        /// <summary>The entry of the history; or name a check instead.</summary>
        public Guid? Entry { get; init; }

        /// <summary>A check whose last act is undone.</summary>
        public Guid? LastActOfCheck { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Undone; what was undone in a sentence, and the check it belonged to.</summary>
        public sealed record Undone(string Sentence, Guid? Check) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel) => throw new NotImplementedException();
}
