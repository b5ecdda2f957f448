using System.Data.Common;
using System.Globalization;
using Knownwater.Drift;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Drift;

/// <summary>What the course of a method comes to, kept under the method's key with the state of the records that it came from. It is no record of anybody's: it is made anew wherever that state has moved on.</summary>
internal sealed class KeptCourse(Guid benchId, Guid id) : BenchRow(benchId, id)
{
    /// <summary>Raised where the reckoning changes, so that what an older program kept is made anew.</summary>
    private const int Revision = 2;

    /// <summary>Checks from which on the scatter from day to day is the method’s own.</summary>
    private const int FewestForScatter = 3;

    /// <summary>What the doubt of a reading is made of.</summary>
    public const string ReadingMeans = "scatter of one reading and what differs from day to day";

    /// <summary>The state of the records that it came from.</summary>
    public string Stamp { get; set; } = "";

    /// <summary>The form of all that is in the unit of the method.</summary>
    public string Form { get; set; } = "";

    /// <summary>Scatter of single readings within a check, √(a² + (b·c)²); null where fewer than three checks count.</summary>
    public double? WithinAbsolute { get; set; }

    public double? WithinRelative { get; set; }

    /// <summary>Scatter from check to check at level c, s_b·(a + b·c): root of the posterior mean of its square times the tolerance.</summary>
    public double? BetweenAbsolute { get; set; }

    public double? BetweenRelative { get; set; }

    /// <summary>Step of the display.</summary>
    public double Resolution { get; set; }

    /// <summary>The day of the next check, counted from the beginning of 1970; null where no check counts.</summary>
    public double? NextDay { get; set; }

    public NextCheckReason? NextReason { get; set; }

    /// <summary>Chance that it reads wrong by more than its tolerance on that day.</summary>
    public double? NextChance { get; set; }

    /// <summary>Whether the day follows from what is common more than from this method.</summary>
    public bool PriorDriven { get; set; }

    public DriftEventKind? SinceKind { get; set; }

    /// <summary>What came after the last check, “lot A-20”; empty where nothing did.</summary>
    public string SinceLabel { get; set; } = "";

    public NextWords? Next(BenchSetting bench) => NextDay is { } day ? new NextWords(NextReason!.Value, day, NextChance!.Value, SinceKind, SinceLabel, PriorDriven, bench) : null;

    /// <summary>Half of the 95 % interval of one reading made on any day; null where that is not known.</summary>
    public double? HalfOfReading(double level, string form)
    {
        if (WithinAbsolute is not { } a || WithinRelative is not { } b || BetweenAbsolute is not { } c || BetweenRelative is not { } d || form != Form || level < 0)
            return null;
        return CourseReading.Half(DriftComponents.ReadingSd(double.Hypot(a, b * level), c + d * level, Resolution));
    }

    /// <summary>Reads what is kept of every method; what is stale or missing is made anew and kept.</summary>
    public static async Task<IReadOnlyDictionary<Guid, KeptCourse>> Read(RecordsContext records, BenchSetting bench, CancellationToken cancel)
    {
        var stamps = await Stamps(records, bench, cancel);
        var kept = await records.KeptCourses.AsNoTracking().ToDictionaryAsync(k => k.Id, cancel);
        var stale = stamps.Where(s => !kept.TryGetValue(s.Key, out var k) || k.Stamp != s.Value).ToList();
        if (stale.Count == 0)
            return kept;
        var perYear = await ViewDrift.ChecksPerYear(records, bench, cancel);
        List<KeptCourse> made = [];
        List<Raised> raised = [];
        foreach (var (method, stamp) in stale)
        {
            if (await MethodCourse.Read(records, bench, method, cancel) is not { } course)
                continue;
            var reading = course.History is null ? null : new CourseReading(course, bench, perYear);
            made.Add(Make(records, course, reading, stamp));
            raised.AddRange(reading?.Alarms.Where(a => a.Alarm).Select(a => new Raised(method, course.Checks[a.Check].Check.Id, a.Average > 0, reading.Explains(a))) ?? []);
        }
        await Keep(records, bench, made, raised, [.. kept.Keys], cancel);
        foreach (var course in made)
            kept[course.Id] = course;
        return kept;
    }

    /// <summary>An alarm as the chart has it now.</summary>
    private sealed record Raised(Guid Method, Guid Check, bool IsHigh, string Explained);

    private static KeptCourse Make(RecordsContext records, MethodCourse course, CourseReading? reading, string stamp)
    {
        var kept = new KeptCourse(records.BenchId, course.Method.Id) { Stamp = stamp, Form = course.Method.Form };
        if (reading is null)
            return kept;
        var (next, components) = (reading.Next, reading.Settled.Components);
        (kept.NextDay, kept.NextReason, kept.NextChance, kept.PriorDriven) = (next.Day, next.Reason, next.Probability, next.PriorDriven);
        (kept.SinceKind, kept.SinceLabel) = (next.Since?.Kind, next.Since?.Label ?? "");
        kept.Resolution = course.Checks[^1].Check.Resolution;
        if (reading.History.Checks.Count >= FewestForScatter)
        {
            (kept.WithinAbsolute, kept.WithinRelative) = (components.WithinCurve.Absolute, components.WithinCurve.Relative);
            (kept.BetweenAbsolute, kept.BetweenRelative) = (components.BetweenRms * reading.History.Tolerance.Absolute, components.BetweenRms * reading.History.Tolerance.Percent / 100);
        }
        return kept;
    }

    /// <summary>
    /// Keeps what was made, and records the alarms that are seen for the first time; one that was raised is never taken back here, only told whether a clear event explains it. Where another request did so at
    /// the same moment, or the store takes nothing now, what was made holds all the same and is kept another time.
    /// </summary>
    private static async Task Keep(RecordsContext records, BenchSetting bench, List<KeptCourse> made, List<Raised> raised, HashSet<Guid> there, CancellationToken cancel)
    {
        // nothing that was read beside it is saved with it
        records.StartAfresh();
        try
        {
            var methods = made.ConvertAll(m => m.Id);
            var seen = await records.DriftAlarms.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(a => methods.Contains(a.MethodId)).ToDictionaryAsync(a => a.CheckId, cancel);
            foreach (var alarm in raised)
            {
                if (seen.TryGetValue(alarm.Check, out var row))
                    row.Explained = alarm.Explained;
                else
                    records.DriftAlarms.Add(new DriftAlarm(records.BenchId, Guid.CreateVersion7(bench.Now.ToDateTimeOffset())) { MethodId = alarm.Method, CheckId = alarm.Check, IsHigh = alarm.IsHigh, SeenAt = bench.Now, Explained = alarm.Explained });
            }
            foreach (var course in made)
                records.Entry(course).State = there.Contains(course.Id) ? EntityState.Modified : EntityState.Added;
            await records.SaveChangesAsync(cancel);
        }
        catch (Exception fault) when (fault is DbException || Act.CameBetween(fault))
        {
            // see above
        }
        records.StartAfresh();
    }

    /// <summary>
    /// What each course depends on, as counts and sums of versions: no row is ever deleted and every change raises the version of its row, so that another state has another sum. The time of the last act
    /// tells a check that was opened again from another that was closed.
    /// </summary>
    private static async Task<Dictionary<Guid, string>> Stamps(RecordsContext records, BenchSetting bench, CancellationToken cancel)
    {
        string[] deleted = [RecordsContext.DeletedFilter];
        var methods = await records.Methods.AsNoTracking().Select(m => new { m.Id, m.InstrumentId, m.Version }).ToListAsync(cancel);
        var checks = await records.Checks.IgnoreQueryFilters(deleted).Where(c => c.MethodId != null && c.State != CheckState.Open)
            .GroupBy(c => c.MethodId).Select(g => new { g.Key, Count = g.Count(), Versions = g.Sum(c => c.Version), Last = g.Max(c => c.TouchedAt) }).ToDictionaryAsync(g => g.Key!.Value, cancel);
        var waters = await (
            from check in records.Checks
            where check.MethodId != null && check.State != CheckState.Open
            join level in records.CheckLevels on check.Id equals level.CheckId
            join water in records.ReferenceWaters.IgnoreQueryFilters(deleted) on level.ReferenceWaterId equals water.Id
            group water by check.MethodId into g
            select new { g.Key, Versions = g.Sum(w => w.Version) }).ToDictionaryAsync(g => g.Key!.Value, cancel);
        var lots = await (
            from use in records.MethodLots.IgnoreQueryFilters(deleted)
            join lot in records.Lots.IgnoreQueryFilters(deleted) on use.LotId equals lot.Id
            group new { Use = use.Version, Lot = lot.Version } by use.MethodId into g
            select new { g.Key, Count = g.Count(), Uses = g.Sum(v => v.Use), Lots = g.Sum(v => v.Lot) }).ToDictionaryAsync(g => g.Key, cancel);
        var settings = await records.InstrumentSettings.IgnoreQueryFilters(deleted)
            .GroupBy(s => s.InstrumentId).Select(g => new { g.Key, Count = g.Count(), Versions = g.Sum(s => s.Version) }).ToDictionaryAsync(g => g.Key, cancel);
        return methods.ToDictionary(m => m.Id, m =>
        {
            var (check, water, lot, setting) = (checks.GetValueOrDefault(m.Id), waters.GetValueOrDefault(m.Id), lots.GetValueOrDefault(m.Id), settings.GetValueOrDefault(m.InstrumentId));
            return string.Create(CultureInfo.InvariantCulture, $"{Revision} {bench.Watch.FalseAlarmsPerYear} {bench.Watch.Risk} {bench.Zone.Id} {m.Version} {check?.Count} {check?.Versions} {check?.Last.ToUnixTimeTicks()} {water?.Versions} {lot?.Count} {lot?.Uses} {lot?.Lots} {setting?.Count} {setting?.Versions}");
        });
    }
}
