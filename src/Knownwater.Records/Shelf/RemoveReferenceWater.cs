using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Takes a known water off the shelf, with a reason; it can be undone.</summary>
public sealed class RemoveReferenceWater(RecordsContext records, Clock clock)
{
    /// <summary>The water and the reason.</summary>
    public sealed record Command
    {
        /// <summary>The water.</summary>
        public required Guid Water { get; init; }

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
        var reason = fields.Needed("Reason", command.Reason, "Say why it goes off the shelf: used up, past its date, doubtful. It is only marked, and can be taken back.");
        if (await records.ReferenceWaters.FirstOrDefaultAsync(w => w.Id == command.Water, cancel) is not { } water)
            return new Outcome.Refused(WaterFields.Gone);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var bottle = water.BottleId ?? water.Id;
        foreach (var value in await records.ReferenceWaters.Where(w => w.Id == bottle || w.BottleId == bottle).ToListAsync(cancel))
            (value.Deleted, value.DeletedReason) = (true, reason);
        var entry = await act.Did($"{water.Label} taken off the shelf: {reason.TrimEnd('.')}.", Subjects.Water, water.Id, cancel);
        return new Outcome.Removed(entry.Id);
    }
}
