using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Instruments;

/// <summary>Records a setting that was changed on an instrument: a dated event.</summary>
public sealed class RecordSetting(RecordsContext records, Clock clock)
{
    /// <summary>The setting.</summary>
    public sealed record Command
    {
        /// <summary>The instrument.</summary>
        public required Guid Instrument { get; init; }

        /// <summary>What was set: factor, offset, firmware.</summary>
        public required string What { get; init; }

        /// <summary>What it was.</summary>
        public string Old { get; init; } = "";

        /// <summary>What it is now.</summary>
        public required string New { get; init; }

        /// <summary>Why.</summary>
        public string Why { get; init; } = "";

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
        /// <summary>Recorded.</summary>
        public sealed record Recorded(Guid Setting) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Record(command, act, cancel), cancel);
    }

    private async Task<Outcome> Record(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        if (await records.Instruments.AsNoTracking().FirstOrDefaultAsync(i => i.Id == command.Instrument, cancel) is not { } instrument)
            return new Outcome.Refused(InstrumentFaults.InstrumentGone);
        var what = fields.Needed("What", command.What, "What was set is not said. Write it as the instrument names it: factor, offset, firmware.", 80);
        var value = fields.Needed("New", command.New, "What it is now is not said.", 80);
        var old = fields.Optional("Old", command.Old, 80);
        var why = fields.Optional("Why", command.Why, 500);
        var who = fields.Optional("Who", command.Who, 40);
        var on = fields.Day("On", command.On) ?? bench.Today;
        if (on > bench.Today)
            fields.Fault("On", $"{Words.DayAndYear(on)} has not come yet. Write the day on which it was set.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var setting = new InstrumentSetting(records.BenchId, clock.NewId()) { InstrumentId = instrument.Id, On = on, What = what, Old = old, New = value, Why = why, Who = who, RecordedAt = now };
        records.InstrumentSettings.Add(setting);
        var from = old.Length > 0 ? $" from {old}" : "";
        await act.Did($"{instrument.Name}: {what} set{from} to {value} on {Words.Day(on, bench.Today)}.", Subjects.Instrument, instrument.Id, cancel);
        return new Outcome.Recorded(setting.Id);
    }
}
