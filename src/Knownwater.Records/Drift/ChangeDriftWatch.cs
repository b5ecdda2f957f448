using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Drift;

/// <summary>Says how many false alarms the owner bears and at which chance of reading wrong a check is due; both hold for the whole bench. It can be undone.</summary>
public sealed class ChangeDriftWatch(RecordsContext records, Clock clock)
{
    /// <summary>What the owner bears, as typed.</summary>
    public sealed record Command
    {
        /// <summary>False alarms in a year over all methods, 0.1 to 12.</summary>
        public string FalseAlarms { get; init; } = "";

        /// <summary>Chance of reading wrong at which a check is due, in percent, 1 to 50.</summary>
        public string Risk { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>It holds from now on; the entry by which it is undone.</summary>
        public sealed record Changed(Guid HistoryEntry) : Outcome;

        /// <summary>It was so already.</summary>
        public sealed record AsItWas : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Reads what holds now.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>What holds, in figures for a form and in words.</returns>
    public async Task<DriftWatchView> Read(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        return new DriftWatchView(NumberWords.Plain(bench.Watch.FalseAlarmsPerYear, 6, bench.Sign), NumberWords.Plain(bench.Watch.RiskPercent, 6, bench.Sign), bench.Watch.AlarmWords(bench.Sign), bench.Watch.RiskWords(bench.Sign));
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What the owner bears.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Change(command, act, cancel), cancel);
    }

    private async Task<Outcome> Change(Command command, Act act, CancellationToken cancel)
    {
        var setting = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = setting.Fields();
        var alarms = fields.NeededNumber("FalseAlarms", command.FalseAlarms, "the number of false alarms in a year", "Write how many false alarms in a year you bear, all methods together. One is usual.");
        if (alarms < DriftWatch.FewestAlarms)
            fields.Fault("FalseAlarms", $"{command.FalseAlarms.Trim()} is below {Show(DriftWatch.FewestAlarms)}, one in ten years. An alarm that is so sure not to be false comes months after the method began to read wrong. Write {Show(DriftWatch.FewestAlarms)} or more.");
        if (alarms > DriftWatch.MostAlarms)
            fields.Fault("FalseAlarms", $"{command.FalseAlarms.Trim()} is above {Show(DriftWatch.MostAlarms)}, one a month. Then most alarms are false, and nobody looks into them. Write {Show(DriftWatch.MostAlarms)} or less.");
        var risk = fields.NeededNumber("Risk", command.Risk, "the chance in percent", "Write at which chance of reading wrong a check is due, in percent. 10 is usual.");
        if (risk < DriftWatch.LeastRiskPercent)
            fields.Fault("Risk", $"{command.Risk.Trim()} is below {Show(DriftWatch.LeastRiskPercent)}{Words.Narrow}%. No method is so sure on the day after its check, so that every one would be due at all times. Write {Show(DriftWatch.LeastRiskPercent)} or more.");
        if (risk > DriftWatch.GreatestRiskPercent)
            fields.Fault("Risk", $"{command.Risk.Trim()} is above {Show(DriftWatch.GreatestRiskPercent)}{Words.Narrow}%. By then it is likelier to read wrong than right. Write {Show(DriftWatch.GreatestRiskPercent)} or less.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var watch = new DriftWatch(alarms!.Value, risk!.Value / 100);
        if (watch == setting.Watch)
            return new Outcome.AsItWas();
        var bench = await records.Benches.SingleAsync(b => b.Id == records.BenchId, cancel);
        (bench.FalseAlarmsPerYear, bench.RiskOfWrong) = (watch.FalseAlarmsPerYear, watch.Risk);
        var entry = await act.Did($"Drift: {watch.AlarmWords(setting.Sign)} over all methods, and a check is due at a chance of {watch.RiskWords(setting.Sign)}.", Subjects.DriftWatch, bench.Id, cancel);
        return new Outcome.Changed(entry.Id);

        string Show(double value) => NumberWords.Plain(value, 3, setting.Sign);
    }
}

/// <summary>What the owner of a bench bears, as a page shows it.</summary>
/// <param name="FalseAlarms">False alarms in a year as they stand in a field: “1”.</param>
/// <param name="Risk">Chance of reading wrong as it stands in a field, in percent: “10”.</param>
/// <param name="AlarmWords">“one false alarm a year”.</param>
/// <param name="RiskWords">“10 %”.</param>
public sealed record DriftWatchView(string FalseAlarms, string Risk, string AlarmWords, string RiskWords);
