using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Gives a round up, with a reason; it can be undone.</summary>
public sealed class RemoveRound(RecordsContext records, Clock clock)
{
    /// <summary>The round and the reason.</summary>
    public sealed record Command
    {
        /// <summary>The round.</summary>
        public required Guid Round { get; init; }

        /// <summary>Why; must be given.</summary>
        public required string Reason { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Marked; the entry by which it is undone.</summary>
        public sealed record Removed(Guid HistoryEntry) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Remove(command, act, cancel), cancel);
    }

    private async Task<Outcome> Remove(Command command, Act act, CancellationToken cancel)
    {
        var fields = new TypedFields(null);
        var reason = fields.Needed("Reason", command.Reason, "Say why it is given up. Its checks and waters stay, each for itself.");
        if (await records.Rounds.FirstOrDefaultAsync(r => r.Id == command.Round, cancel) is not { } round)
            return new Outcome.Refused([new FieldFault("Round", "This round is not there any more. Look at the rounds, or take it back in the history.")]);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        (round.Deleted, round.DeletedReason) = (true, reason);
        var entry = await act.Did($"{round.Label} given up: {reason.TrimEnd('.')}.", Subjects.Round, round.Id, cancel);
        return new Outcome.Removed(entry.Id);
    }
}
