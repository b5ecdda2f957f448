using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Tells of readings and doses whether a failed check has put them in doubt.</summary>
internal static class DoubtMarks
{
    /// <summary>The marks of readings; those that no failed check concerns have none.</summary>
    public static async Task<Dictionary<Guid, DoubtMark>> Of(RecordsContext records, IReadOnlyList<TankReading> readings, BenchSetting bench, CancellationToken cancel)
    {
        var methods = readings.Select(r => r.MethodId).OfType<Guid>().Distinct().ToList();
        if (methods.Count == 0)
            return [];
        var spans = await DoubtSpan.Read(records, c => methods.Contains(c.MethodId!.Value), cancel);
        var concerned = readings.Select(r => (r.Id, Spans: spans.Where(s => s.Method == r.MethodId && s.Covers(r.At)).ToList())).Where(r => r.Spans.Count > 0).ToList();
        var ids = concerned.Select(r => r.Id).ToList();
        var clearings = ids.Count == 0 ? [] : await records.DoubtClearings.AsNoTracking().Where(c => c.ReadingId != null && ids.Contains(c.ReadingId.Value)).ToListAsync(cancel);
        return concerned.ToDictionary(r => r.Id, r => Mark(r.Spans, clearings.Where(c => c.ReadingId == r.Id), bench));
    }

    /// <summary>The marks of doses; those that no failed check concerns have none.</summary>
    public static async Task<Dictionary<Guid, DoubtMark>> Of(RecordsContext records, IReadOnlyList<Dose> doses, BenchSetting bench, CancellationToken cancel)
    {
        var parameters = doses.Select(d => d.ParameterKey).Where(p => p.Length > 0).Distinct().ToList();
        if (parameters.Count == 0)
            return [];
        var spans = await DoubtSpan.Read(records, c => parameters.Contains(c.ParameterKey), cancel);
        if (spans.Count == 0)
            return [];
        var (tanks, methods) = (doses.Select(d => d.TankId).Distinct().ToList(), spans.Select(s => s.Method).Distinct().ToList());
        var reads = (await records.TankReadings.AsNoTracking().Where(r => r.MethodId != null && methods.Contains(r.MethodId.Value) && tanks.Contains(r.TankId))
            .Select(r => new { r.TankId, r.MethodId }).Distinct().ToListAsync(cancel)).Select(r => (r.TankId, r.MethodId!.Value)).ToHashSet();
        var concerned = doses.Select(d => (d.Id, Spans: spans.Where(s => s.ParameterKey == d.ParameterKey && s.Covers(d.At) && reads.Contains((d.TankId, s.Method))).ToList())).Where(d => d.Spans.Count > 0).ToList();
        var ids = concerned.Select(d => d.Id).ToList();
        var clearings = ids.Count == 0 ? [] : await records.DoubtClearings.AsNoTracking().Where(c => c.DoseId != null && ids.Contains(c.DoseId.Value)).ToListAsync(cancel);
        return concerned.ToDictionary(d => d.Id, d => Mark(d.Spans, clearings.Where(c => c.DoseId == d.Id), bench));
    }

    private static DoubtMark Mark(List<DoubtSpan> spans, IEnumerable<DoubtClearing> clearings, BenchSetting bench)
    {
        var cleared = clearings.OrderByDescending(c => c.At).ToList();
        DoubtClearing? Clears(DoubtSpan span) => cleared.Find(c => c.MethodId == span.Method && c.At >= span.RaisedAt);
        if (spans.Find(s => Clears(s) is null) is { } open)
            return new DoubtMark(open.Failures[^1].Check, true, $"in doubt by the check of {Words.Day(bench.DayOf(open.Failures[^1].At), bench.Today)}");
        var last = Clears(spans[^1])!;
        return new DoubtMark(spans[^1].Failures[^1].Check, false, $"cleared: {last.Reason.TrimEnd('.')}{(last.Who.Length > 0 ? $" ({last.Who})" : "")}");
    }
}
