using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Drops a proof with a reason: an open one, or one that went wrong or no longer holds. Waters made with it keep their values.</summary>
public sealed class RemoveProof(RecordsContext records, Clock clock)
{
    /// <summary>The proof and the reason.</summary>
    public sealed record Command
    {
        /// <summary>The proof.</summary>
        public required Guid Proof { get; init; }

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
        var reason = fields.Needed("Reason", command.Reason, "Say why it goes: it fell, a new seal, other tips, a slip. Waters made with it keep their values.");
        if (await records.GlasswareProofs.FirstOrDefaultAsync(p => p.Id == command.Proof, cancel) is not { } row)
            return new Outcome.Refused(ProofReading.Gone);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var name = await records.Glassware.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(g => g.Id == row.PieceId).Select(g => g.Name).FirstAsync(cancel);
        (row.Deleted, row.DeletedReason) = (true, reason);
        var entry = await act.Did($"A proof of {name} dropped: {reason.TrimEnd('.')}.", Subjects.Glassware, row.PieceId, cancel);
        return new Outcome.Removed(entry.Id);
    }
}
