using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Drift;

/// <summary>The alarms that were raised, as they stand.</summary>
internal static class AlarmLines
{
    /// <summary>The alarms of a method, or of all; the newest check first. One whose check was taken away is not among them.</summary>
    public static async Task<IReadOnlyList<DriftAlarmLine>> Read(RecordsContext records, Guid? method, BenchSetting bench, CancellationToken cancel)
    {
        var rows = await (
            from alarm in records.DriftAlarms.AsNoTracking()
            where method == null || alarm.MethodId == method
            join check in records.Checks on alarm.CheckId equals check.Id
            orderby check.StartedAt descending
            select new { Alarm = alarm, check.StartedAt }).ToListAsync(cancel);
        return [.. rows.Select(r => Line(r.Alarm, r.StartedAt, bench))];
    }

    private static DriftAlarmLine Line(DriftAlarm alarm, Instant at, BenchSetting bench) => new(
        alarm.Id, alarm.MethodId, alarm.CheckId, Words.Day(bench.DayOf(at), bench.Today), alarm.IsHigh,
        alarm.ClosedAt is { } closed ? $"closed on {Words.Day(bench.DayOf(closed), bench.Today)}{(alarm.ClosedBy.Length > 0 ? $" by {alarm.ClosedBy}" : "")}: {alarm.ClosedReason}"
            : alarm.Explained.Length > 0 ? $"explained by {alarm.Explained}" : $"open since {Words.Day(bench.DayOf(alarm.SeenAt), bench.Today)}",
        alarm.ClosedAt is null && alarm.Explained.Length == 0);
}
