using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Marks a reading of a tank as removed; it can be undone.</summary>
public sealed class RemoveTankReading(RecordsContext records, Clock clock)
{
    /// <summary>The reading and the reason.</summary>
    public sealed record Command
    {
        /// <summary>The reading.</summary>
        public required Guid Reading { get; init; }

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
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        var reason = fields.Needed("Reason", command.Reason, "Say why it is removed. It is only marked, and can be taken back.");
        if (await records.TankReadings.FirstOrDefaultAsync(x => x.Id == command.Reading, cancel) is not { } row)
            return new Outcome.Refused(TankFaults.ReadingGone);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        (row.Deleted, row.DeletedReason) = (true, reason);
        var name = await records.Tanks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(t => t.Id == row.TankId).Select(t => t.Name).FirstAsync(cancel);
        var entry = await act.Did($"{name}: {TankRows.Say(row, bench)} removed: {reason.TrimEnd('.')}.", Subjects.Tank, row.TankId, cancel);
        return new Outcome.Removed(entry.Id);
    }
}
