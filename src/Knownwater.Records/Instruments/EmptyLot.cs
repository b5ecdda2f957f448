using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Instruments;

/// <summary>Takes a lot out of use: it is empty or discarded.</summary>
public sealed class EmptyLot(RecordsContext records, Clock clock)
{
    /// <summary>The lot.</summary>
    public sealed record Command
    {
        /// <summary>The lot.</summary>
        public required Guid Lot { get; init; }

        /// <summary>Day, yyyy-MM-dd; empty for today.</summary>
        public string On { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Out of use.</summary>
        public sealed record Emptied : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Empty(command, act, cancel), cancel);
    }

    private async Task<Outcome> Empty(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.Lots.FirstOrDefaultAsync(l => l.Id == command.Lot, cancel) is not { } lot)
            return new Outcome.Refused(InstrumentFaults.LotGone);
        var on = fields.Day("On", command.On) ?? bench.Today;
        if (lot.EmptiedOn is { } already)
            fields.Fault("", $"Lot {lot.Name} is out of use since {Words.Day(already, bench.Today)} already.");
        else if (on < lot.OpenedOn)
            fields.Fault("On", $"Lot {lot.Name} was opened on {Words.Day(lot.OpenedOn, bench.Today)}, after that day. Write a later one.");
        else if (on > bench.Today)
            fields.Fault("On", $"{Words.DayAndYear(on)} has not come yet. Write the day on which it went out of use.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        lot.EmptiedOn = on;
        foreach (var use in await records.MethodLots.Where(u => u.LotId == lot.Id && u.To == null).ToListAsync(cancel))
            use.To = on < use.From ? use.From : on;
        await act.Did($"Lot {lot.Name} taken out of use on {Words.Day(on, bench.Today)}.", Subjects.Lot, lot.Id, cancel);
        return new Outcome.Emptied();
    }
}
