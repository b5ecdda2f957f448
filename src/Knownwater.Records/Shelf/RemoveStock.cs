using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Takes a stock off the shelf, with a reason; it can be undone.</summary>
public sealed class RemoveStock(RecordsContext records, Clock clock)
{
    /// <summary>The stock and the reason.</summary>
    public sealed record Command
    {
        /// <summary>The stock.</summary>
        public required Guid Stock { get; init; }

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
        var reason = fields.Needed("Reason", command.Reason, "Say why it goes off the shelf: used up, past its date, doubtful. Waters made from it keep their values.");
        if (await records.Stocks.FirstOrDefaultAsync(s => s.Id == command.Stock, cancel) is not { } stock)
            return new Outcome.Refused([new FieldFault("Stock", "This stock is not on the shelf any more. Look at the stocks, or take it back in the history.")]);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var bottle = stock.BottleId ?? stock.Id;
        foreach (var value in await records.Stocks.Where(s => s.Id == bottle || s.BottleId == bottle).ToListAsync(cancel))
            (value.Deleted, value.DeletedReason) = (true, reason);
        var entry = await act.Did($"{stock.Label} taken off the shelf: {reason.TrimEnd('.')}.", Subjects.Stock, stock.Id, cancel);
        return new Outcome.Removed(entry.Id);
    }
}
