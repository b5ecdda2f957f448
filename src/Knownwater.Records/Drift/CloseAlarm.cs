using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Drift;

/// <summary>Closes an alarm, or all open ones of its method, with what it was. It can be undone.</summary>
public sealed class CloseAlarm(RecordsContext records, Clock clock)
{
    /// <summary>The alarm, and what it was.</summary>
    public sealed record Command
    {
        /// <summary>The alarm.</summary>
        public required Guid Alarm { get; init; }

        /// <summary>What it was; must be given.</summary>
        public required string Reason { get; init; }

        /// <summary>Whether all other open alarms of its method are closed with it.</summary>
        public bool Others { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Closed; the method, and the entry by which it is undone.</summary>
        public sealed record Closed(Guid Method, Guid HistoryEntry) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">The alarm, and what it was.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Close(command, act, cancel), cancel);
    }

    private async Task<Outcome> Close(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.DriftAlarms.FirstOrDefaultAsync(a => a.Id == command.Alarm, cancel) is not { } alarm)
            return new Outcome.Refused([new FieldFault("", "This alarm is not in the records. Open the course of the method again; what stands there can be closed.")]);
        if (alarm.ClosedAt is { } at)
            return new Outcome.Refused([new FieldFault("", $"It was closed on {Words.Day(bench.DayOf(at), bench.Today)} already: {alarm.ClosedReason}")]);
        var reason = fields.Needed("Reason", command.Reason, "What it was is not said. Write it, as in: the reagent was mixed wrongly; or: looked into, nothing found.", 500);
        var who = fields.Optional("Who", command.Who, 40);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var check = await records.Checks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().FirstAsync(c => c.Id == alarm.CheckId, cancel);
        List<DriftAlarm> closing = [alarm];
        if (command.Others)
            closing.AddRange(await records.DriftAlarms.Where(a => a.MethodId == alarm.MethodId && a.Id != alarm.Id && a.ClosedAt == null && a.Explained == "").ToListAsync(cancel));
        foreach (var one in closing)
            (one.ClosedAt, one.ClosedReason, one.ClosedBy) = (clock.Now, reason, who);
        var title = Words.Small(await MethodCourse.TitleOf(records, alarm.MethodId, cancel));
        var entry = await act.Did($"{(closing.Count == 1 ? $"Alarm of {Words.Day(bench.DayOf(check.StartedAt), bench.Today)}" : $"{Words.Capital(Words.Count(closing.Count))} alarms")} closed, {title}: {reason.TrimEnd('.')}.", Subjects.Alarm, alarm.MethodId, cancel);
        return new Outcome.Closed(alarm.MethodId, entry.Id);
    }
}
