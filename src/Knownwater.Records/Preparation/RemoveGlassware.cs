using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Takes a piece of glassware out of use, with a reason; it can be undone.</summary>
public sealed class RemoveGlassware(RecordsContext records, Clock clock)
{
    /// <summary>The piece and the reason.</summary>
    public sealed record Command
    {
        /// <summary>The piece.</summary>
        public required Guid Piece { get; init; }

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
        var reason = fields.Needed("Reason", command.Reason, "Say why it goes: broken, lent, a slip. Waters made with it keep their values.");
        if (await records.Glassware.FirstOrDefaultAsync(g => g.Id == command.Piece, cancel) is not { } piece)
            return new Outcome.Refused(GlasswareFields.Gone);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        (piece.Deleted, piece.DeletedReason) = (true, reason);
        var entry = await act.Did($"{piece.Name} taken out of use: {reason.TrimEnd('.')}.", Subjects.Glassware, piece.Id, cancel);
        return new Outcome.Removed(entry.Id);
    }
}
