using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Instruments;

/// <summary>Changes what is said of a lot.</summary>
public sealed class ChangeLot(RecordsContext records, Clock clock)
{
    /// <summary>The lot as it shall be.</summary>
    public sealed record Command
    {
        /// <summary>The lot.</summary>
        public required Guid Lot { get; init; }

        /// <summary>What is on the bottle.</summary>
        public required string Name { get; init; }

        /// <summary>What is in it.</summary>
        public string Reagent { get; init; } = "";

        /// <summary>Day it was opened, yyyy-MM-dd; empty for today.</summary>
        public string OpenedOn { get; init; } = "";

        /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
        public string ExpiresOn { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Changed.</summary>
        public sealed record Changed : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Change(command, act, cancel), cancel);
    }

    private async Task<Outcome> Change(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.Lots.FirstOrDefaultAsync(l => l.Id == command.Lot, cancel) is not { } lot)
            return new Outcome.Refused(InstrumentFaults.LotGone);
        var former = lot.OpenedOn;
        LotFields.Read(fields, lot, command.Name, command.Reagent, command.OpenedOn, command.ExpiresOn, bench.Today);
        if (lot.EmptiedOn < lot.OpenedOn)
            fields.Fault("OpenedOn", $"The lot went out of use on {Words.Day(lot.EmptiedOn.Value, bench.Today)}; it was opened before that.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        if (former != lot.OpenedOn)
        {
            foreach (var use in await records.MethodLots.Where(u => u.LotId == lot.Id && u.From == former).ToListAsync(cancel))
                use.From = lot.OpenedOn;
        }
        await act.Did($"Lot {lot.Name} changed.", Subjects.Lot, lot.Id, cancel);
        return new Outcome.Changed();
    }
}
