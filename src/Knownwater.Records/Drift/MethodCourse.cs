using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Drift;

/// <summary>The checks of a method with what they were made with and what happened between them, as the library takes them. Days count from the beginning of 1970.</summary>
internal sealed class MethodCourse
{
    /// <summary>The newest checks that the model takes in; older ones are shown as they were found.</summary>
    public const int MostChecks = 60;

    private MethodCourse(Method method, Instrument instrument, Measured measured, IReadOnlyList<CheckRows> checks, DriftHistory? history, IReadOnlyList<LotSpan> lots, IReadOnlyList<InstrumentSetting> settings, int all) =>
        (Method, Instrument, Measured, Checks, History, Lots, Settings, All) = (method, instrument, measured, checks, history, lots, settings, all);

    public Method Method { get; }

    public Instrument Instrument { get; }

    public Measured Measured { get; }

    /// <summary>The checks of the history in its order.</summary>
    public IReadOnlyList<CheckRows> Checks { get; }

    /// <summary>The history; null where no check counts.</summary>
    public DriftHistory? History { get; }

    /// <summary>Lots in order of time, what was in use together standing together.</summary>
    public IReadOnlyList<LotSpan> Lots { get; }

    public IReadOnlyList<InstrumentSetting> Settings { get; }

    /// <summary>Names of the lots by their keys.</summary>
    public required IReadOnlyDictionary<string, string> LotNames { get; init; }

    /// <summary>Number of all checks that count, also of those before the history.</summary>
    public int All { get; }

    /// <summary>“Nitrate on the harbour analyser”; with the water where the instrument reads it in both.</summary>
    public required string Title { get; init; }

    public static double Day(Instant at) => (at - NodaConstants.UnixEpoch).TotalDays;

    public static double Day(LocalDate on, BenchSetting bench) => Day(bench.Zone.AtStartOfDay(on).ToInstant());

    public static LocalDate On(double day, BenchSetting bench) => bench.DayOf(NodaConstants.UnixEpoch + Duration.FromDays(day));

    /// <summary>The checks of a method that count for its course: closed, of known water, in its form.</summary>
    public static IQueryable<Check> Counted(RecordsContext records, Guid method, string form) =>
        records.Checks.AsNoTracking().Where(c => c.MethodId == method && c.State == CheckState.Closed && c.Kind == null && c.Verdict != null && c.Form == form);

    /// <summary>Reads the course of a method; null where this bench has none of that key.</summary>
    public static async Task<MethodCourse?> Read(RecordsContext records, BenchSetting bench, Guid id, CancellationToken cancel)
    {
        if (await records.Methods.AsNoTracking().FirstOrDefaultAsync(m => m.Id == id, cancel) is not { } method)
            return null;
        var instrument = await records.Instruments.AsNoTracking().FirstAsync(i => i.Id == method.InstrumentId, cancel);
        var measured = Measured.Of(method.ParameterKey, method.OtherName, method.Form);
        var counted = Counted(records, id, method.Form);
        var rows = await CheckRows.Read(records, counted.OrderByDescending(c => c.StartedAt).Take(MostChecks), cancel);
        var settings = await records.InstrumentSettings.AsNoTracking().Where(s => s.InstrumentId == instrument.Id).OrderBy(s => s.On).ThenBy(s => s.RecordedAt).ToListAsync(cancel);
        var lots = await Spans(records, id, bench, cancel);
        var changeovers = await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.MethodId == id && c.State == CheckState.Closed && c.Kind == CheckKind.Changeover && c.Form == method.Form && c.Difference != null).OrderByDescending(c => c.StartedAt).Take(MostChecks), cancel);
        var (checks, history) = await Together(records, bench, [.. rows.OrderBy(r => r.Check.StartedAt)], changeovers, measured, lots, settings, cancel);
        return new MethodCourse(method, instrument, measured, checks, history, lots, settings, await counted.CountAsync(cancel))
        {
            LotNames = await LotNamesOf(records, id, cancel),
            Title = await Titled(records, method, instrument.Name, measured, cancel),
        };
    }

    private static async Task<(List<CheckRows>, DriftHistory?)> Together(RecordsContext records, BenchSetting bench, IReadOnlyList<CheckRows> rows, IReadOnlyList<CheckRows> changeovers, Measured measured, IReadOnlyList<LotSpan> lots, IReadOnlyList<InstrumentSetting> settings, CancellationToken cancel)
    {
        if (rows.Count == 0)
            return ([], null);
        var last = rows[^1].Check;
        var tolerance = new Tolerance(last.ToleranceAbsolute, last.TolerancePercent);
        var ids = rows.SelectMany(r => r.Levels).Select(l => l.Row.ReferenceWaterId).OfType<Guid>().Distinct().ToList();
        var waters = await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(w => ids.Contains(w.Id)).ToDictionaryAsync(w => w.Id, cancel);
        var used = (await records.CheckLots.AsNoTracking().Where(l => rows.Select(r => r.Check.Id).Contains(l.CheckId)).Select(l => new { l.CheckId, l.LotId }).ToListAsync(cancel)).ToLookup(l => l.CheckId, l => l.LotId.ToString());
        List<CheckRows> kept = [];
        List<DriftCheck> checks = [];
        foreach (var row in rows)
        {
            var levels = row.Levels.Where(l => l.Row is { Mean: not null, HasLimits: false, JudgedReplicates: > 0 } && l.Known.Value >= 0 && tolerance.At(l.Known.Value) > 0).ToList();
            if (levels.Count == 0)
                continue;
            var water = levels.OrderByDescending(l => l.Known.Value).Select(l => l.Row.ReferenceWaterId is { } w ? waters.GetValueOrDefault(w) : null).FirstOrDefault(w => w is not null);
            kept.Add(row);
            checks.Add(new DriftCheck
            {
                Day = Day(row.Check.StartedAt),
                Levels = [.. levels.Select(l => new DriftLevel
                {
                    Known = l.Known.Value,
                    Bias = l.Row.Mean!.Value - l.Known,
                    Replicates = l.Row.JudgedReplicates,
                    Sd = l.Row.JudgedReplicates > 1 ? l.Row.Sd : null,
                    Resolution = row.Check.Resolution,
                })],
                // where the check does not say, what was in use that day
                Lots = used[row.Check.Id].Any() ? [.. used[row.Check.Id].Order(StringComparer.Ordinal)] : lots.LastOrDefault(l => l.From <= bench.DayOf(row.Check.StartedAt))?.Lots ?? [],
                Stock = (water?.StockId ?? water?.Id)?.ToString(),
                Preparation = (water?.PreparationId ?? water?.Id)?.ToString(),
            });
        }
        if (checks.Count == 0)
            return ([], null);
        // a lot is an event where checks were made before it, be it on another lot or on one that was not written down
        var events = lots.Where(l => Day(l.From, bench) > checks[0].Day).Select(l => new DriftEvent(Day(l.From, bench), DriftEventKind.LotOpened, $"lot {l.OpenedName}") { Lots = l.Opened })
            .Concat(settings.Select(s => new DriftEvent(Day(s.On, bench), DriftEventKind.SettingChanged, Setting(s)))).ToList();
        return (kept, new DriftHistory(tolerance, checks, events, Typical(measured, last.Matrix), await Steps(records, changeovers, tolerance, cancel)));
    }

    /// <summary>The step of each changeover between the lots in use in its two series.</summary>
    private static async Task<List<Changeover>> Steps(RecordsContext records, IReadOnlyList<CheckRows> changeovers, Tolerance tolerance, CancellationToken cancel)
    {
        var ids = changeovers.Select(c => c.Check.Id).ToList();
        var used = (await records.CheckLots.AsNoTracking().Where(l => ids.Contains(l.CheckId)).ToListAsync(cancel)).ToLookup(l => l.CheckId);
        List<Changeover> steps = [];
        foreach (var row in changeovers)
        {
            if (row.Levels is not [{ Row: { Mean: { } one, HasLimits: false, JudgedReplicates: > 0 } former }, { Row: { Mean: { } two, HasLimits: false, JudgedReplicates: > 0 } present }])
                continue;
            IReadOnlyList<string> InUse(int other) => [.. used[row.Check.Id].Where(l => l.OnlyLevel != other).Select(l => l.LotId.ToString()).Order(StringComparer.Ordinal)];
            var (from, to, level) = (InUse(2), InUse(1), row.Check.SteadyWater ? one : row.Levels[0].Known.Value);
            if (from.SequenceEqual(to) || level < 0 || tolerance.At(level) <= 0)
                continue;
            double squares = 0, dof = 0;
            foreach (var series in (ReadOnlySpan<CheckLevel>)[former, present])
            {
                if (series is not { JudgedReplicates: > 1, Sd: { } sd })
                    continue;
                squares += sd * sd * (series.JudgedReplicates - 1);
                dof += series.JudgedReplicates - 1;
            }
            steps.Add(new Changeover
            {
                Day = Day(row.Check.StartedAt),
                From = from,
                To = to,
                Level = level,
                Step = two - one,
                FromReplicates = former.JudgedReplicates,
                ToReplicates = present.JudgedReplicates,
                Sd = dof > 0 ? Math.Sqrt(squares / dof) : null,
                SdDof = dof > 0 ? dof : null,
                Resolution = row.Check.Resolution,
            });
        }
        return steps;
    }

    /// <summary>“factor from 1.00 to 1.02”.</summary>
    public static string Setting(InstrumentSetting setting) =>
        setting.Old.Length > 0 && setting.New.Length > 0 ? $"{Words.Small(setting.What)} from {setting.Old} to {setting.New}" : setting.New.Length > 0 ? $"{Words.Small(setting.What)} to {setting.New}" : Words.Small(setting.What);

    private static TypicalSd? Typical(Measured measured, Matrix? matrix) =>
        measured.Key != Measured.Other && measured.Parameter.TypicalSd(matrix ?? Matrix.Seawater) is { } typical && UsualScatter.Factor(measured) is { } factor
            ? new TypicalSd(typical.Absolute * factor, typical.Relative, typical.Source)
            : null;

    /// <summary>The title of a method, removed or not.</summary>
    public static async Task<string> TitleOf(RecordsContext records, Guid id, CancellationToken cancel)
    {
        var method = await records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().FirstAsync(m => m.Id == id, cancel);
        var instrument = await records.Instruments.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().FirstAsync(i => i.Id == method.InstrumentId, cancel);
        return await Titled(records, method, instrument.Name, Measured.Of(method.ParameterKey, method.OtherName, method.Form), cancel);
    }

    private static async Task<string> Titled(RecordsContext records, Method method, string instrument, Measured measured, CancellationToken cancel)
    {
        var twin = await records.Methods.AnyAsync(m => m.InstrumentId == method.InstrumentId && m.ParameterKey == method.ParameterKey && m.OtherName == method.OtherName && m.Matrix != method.Matrix, cancel);
        return Titled(measured.Name, twin ? method.Matrix : null, instrument);
    }

    /// <summary>“Nitrate on the harbour analyser”; with the water where the instrument reads it in both.</summary>
    public static string Titled(string parameter, Matrix? told, string instrument) =>
        $"{parameter}{told switch { null => "", Matrix.FreshWater => " in fresh water", _ => " in seawater" }} on {instrument}";

    private static async Task<Dictionary<string, string>> LotNamesOf(RecordsContext records, Guid method, CancellationToken cancel)
    {
        var names = await (
            from used in records.CheckLots.AsNoTracking()
            join check in records.Checks on used.CheckId equals check.Id
            where check.MethodId == method
            select new { used.LotId, used.Name }).Distinct().ToListAsync(cancel);
        var written = await (
            from use in records.MethodLots.AsNoTracking()
            where use.MethodId == method
            join lot in records.Lots.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on use.LotId equals lot.Id
            select new { LotId = lot.Id, lot.Name }).ToListAsync(cancel);
        // as it is called now, before what its label said in an old check
        return written.Concat(names).DistinctBy(n => n.LotId).ToDictionary(n => n.LotId.ToString(), n => n.Name, StringComparer.Ordinal);
    }

    private static async Task<List<LotSpan>> Spans(RecordsContext records, Guid method, BenchSetting bench, CancellationToken cancel)
    {
        var uses = await (
            from use in records.MethodLots.AsNoTracking()
            where use.MethodId == method
            join lot in records.Lots.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on use.LotId equals lot.Id
            select new { lot.Id, lot.Name, use.From, use.To }).ToListAsync(cancel);
        // where one lot follows another the former ends
        var starts = uses.Select(u => u.From).Distinct().Order().ToList();
        return [.. starts.Select((from, i) =>
        {
            var inUse = uses.Where(u => u.From <= from && (u.To is null || u.To > from || u.From == from)).OrderBy(u => u.From).ThenBy(u => u.Name, StringComparer.Ordinal).ToList();
            return new LotSpan(string.Join(" + ", inUse.Select(u => u.Name)), from, i + 1 < starts.Count ? starts[i + 1] : bench.Today.PlusDays(1), [.. inUse.Select(u => u.Id.ToString()).Order(StringComparer.Ordinal)])
            {
                OpenedName = string.Join(" + ", inUse.Where(u => u.From == from).Select(u => u.Name)),
                Opened = [.. inUse.Where(u => u.From == from).Select(u => u.Id.ToString())],
            };
        })];
    }
}

/// <summary>A span in which the same lots were in use.</summary>
/// <param name="Name">“N-13”, or “A-3 + B-2”.</param>
/// <param name="From">First day.</param>
/// <param name="To">The day on which it ended.</param>
/// <param name="Lots">Keys of the lots.</param>
internal sealed record LotSpan(string Name, LocalDate From, LocalDate To, IReadOnlyList<string> Lots)
{
    /// <summary>What came into use on its first day.</summary>
    public required string OpenedName { get; init; }

    /// <summary>Keys of what came into use on its first day.</summary>
    public required IReadOnlyList<string> Opened { get; init; }
}
