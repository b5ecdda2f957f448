using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Instruments;

/// <summary>Opens a lot of reagent for one or several methods.</summary>
public sealed class OpenLot(RecordsContext records, Clock clock)
{
    /// <summary>The lot.</summary>
    public sealed record Command
    {
        /// <summary>Methods that use it; at least one.</summary>
        public required IReadOnlyList<Guid> Methods { get; init; }

        /// <summary>What is on the bottle.</summary>
        public required string Name { get; init; }

        /// <summary>What is in it.</summary>
        public string Reagent { get; init; } = "";

        /// <summary>Day it was opened, yyyy-MM-dd; empty for today.</summary>
        public string OpenedOn { get; init; } = "";

        /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
        public string ExpiresOn { get; init; } = "";

        /// <summary>Whether the lots of the same reagent in use by these methods are taken out of use the same day.</summary>
        public bool ReplacesFormer { get; init; } = true;

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The lot is in use.</summary>
        public sealed record Opened(Guid Lot) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Open(command, act, cancel), cancel);
    }

    private async Task<Outcome> Open(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var lot = new Lot(records.BenchId, clock.NewId()) { RecordedAt = now };
        LotFields.Read(fields, lot, command.Name, command.Reagent, command.OpenedOn, command.ExpiresOn, bench.Today);
        var wanted = command.Methods.Distinct().ToList();
        var methods = await records.Methods.AsNoTracking().Where(m => wanted.Contains(m.Id)).ToListAsync(cancel);
        if (wanted.Count == 0)
            fields.Fault("Methods", "No method is chosen. Choose those that use this bottle.");
        else if (methods.Count < wanted.Count)
            fields.Fault("Methods", "One of the methods is not there any more. Choose again.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        if (command.ReplacesFormer)
        {
            var former = await (from use in records.MethodLots where wanted.Contains(use.MethodId) && use.To == null
                                join old in records.Lots on use.LotId equals old.Id where old.Reagent == lot.Reagent select use).ToListAsync(cancel);
            foreach (var use in former)
                use.To = lot.OpenedOn < use.From ? use.From : lot.OpenedOn;
        }
        records.Lots.Add(lot);
        foreach (var method in methods)
            records.MethodLots.Add(new MethodLot(records.BenchId, clock.NewId()) { MethodId = method.Id, LotId = lot.Id, From = lot.OpenedOn });
        var reagent = lot.Reagent.Length > 0 ? $" of {lot.Reagent}" : "";
        await act.Did($"Lot {lot.Name}{reagent} opened on {Words.Day(lot.OpenedOn, bench.Today)} for {Words.List(methods.Select(m => Words.Small(Measured.Of(m.ParameterKey, m.OtherName, m.Form).Name)).Distinct().ToList())}.", Subjects.Lot, lot.Id, cancel);
        return new Outcome.Opened(lot.Id);
    }
}
