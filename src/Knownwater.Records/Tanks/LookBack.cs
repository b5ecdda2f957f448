using Knownwater.Checks;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Looks back from a check: every reading and dose since the last good check of its method that is in doubt by it.</summary>
/// <remarks>
/// A good check is one that reads right over all its levels. In doubt are all readings of the method between the good check before and the
/// good check after, and all doses of its parameter in the tanks that it reads. Other methods are not in doubt by it.
/// </remarks>
public sealed class LookBack(RecordsContext records, Clock clock)
{
    /// <summary>The most readings, and the most doses, that are listed; the newest are.</summary>
    public const int MostListed = 200;

    /// <summary>Looks back.</summary>
    /// <param name="check">The check.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>What is in doubt and what was cleared; null where this bench has no such check.</returns>
    public async Task<LookBackView?> Handle(Guid check, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if ((await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.Id == check), cancel)).SingleOrDefault() is not { } rows)
            return null;
        var methods = await CheckReading.Methods(records, rows.Check.MethodId is { } m ? [m] : [], cancel);
        var view = new LookBackView
        {
            Check = check,
            Title = CheckReading.Title(rows, methods),
            Sentence = CheckReading.Sentence(rows, bench.Sign),
            DayWords = Words.Day(bench.DayOf(rows.Check.StartedAt), bench.Today),
            Parameter = Words.Small(rows.Measured.Name),
            Verdict = rows.Check.Verdict,
            HasMethod = rows.Check.MethodId is not null,
        };
        if (await SpanOf(records, rows.Check, cancel) is not { } span)
            return view;
        var (readings, doses) = (span.ReadingsInDoubt(records), span.DosesInDoubt(records));
        var last = await Undo.LastAct(records, check, cancel);
        var undone = last?.Changes.Contains(nameof(DoubtClearing), StringComparison.Ordinal) == true ? last : null;
        return view with
        {
            SinceWords = span.SinceWords(bench),
            UntilWords = span.Until is { } until ? $"It read right again on {Words.Day(bench.DayOf(until), bench.Today)}." : "",
            Readings = await TankRows.Views(records, await readings.OrderByDescending(r => r.At).ThenByDescending(r => r.RecordedAt).Take(MostListed).ToListAsync(cancel), bench, cancel),
            Doses = await TankRows.Views(records, await doses.OrderByDescending(d => d.At).ThenByDescending(d => d.RecordedAt).Take(MostListed).ToListAsync(cancel), bench, cancel),
            ReadingCount = await readings.CountAsync(cancel),
            DoseCount = await doses.CountAsync(cancel),
            Cleared = await Cleared(span, bench, cancel),
            LastAct = undone?.Sentence,
            LastActEntry = undone?.Id,
        };
    }

    /// <summary>The span of doubt that a check belongs to; null where it did not fail or has no method.</summary>
    internal static async Task<DoubtSpan?> SpanOf(RecordsContext records, Check check, CancellationToken cancel) =>
        check.MethodId is { } method && check.Verdict is Verdict.ReadsHigh or Verdict.ReadsLow
            ? (await DoubtSpan.Read(records, c => c.MethodId == method, cancel)).FirstOrDefault(s => s.Failures.Any(f => f.Check == check.Id))
            : null;

    private async Task<IReadOnlyList<ClearedLine>> Cleared(DoubtSpan span, BenchSetting bench, CancellationToken cancel)
    {
        var (method, raised) = (span.Method, span.RaisedAt);
        var valid = records.DoubtClearings.AsNoTracking().Where(c => c.MethodId == method && c.At >= raised);
        var readings = await (from r in span.Readings(records) join c in valid on (Guid?)r.Id equals c.ReadingId orderby r.At descending select new { Reading = r, Clearing = c }).Take(MostListed).ToListAsync(cancel);
        var doses = await (from d in span.Doses(records) join c in valid on (Guid?)d.Id equals c.DoseId orderby d.At descending select new { Dose = d, Clearing = c }).Take(MostListed).ToListAsync(cancel);
        string Why(DoubtClearing c) => $"{c.Reason.TrimEnd('.')}{(c.Who.Length > 0 ? $" ({c.Who})" : "")}, {Words.Day(bench.DayOf(c.At), bench.Today)}";
        return
        [
            .. (await TankRows.Views(records, [.. readings.Select(r => r.Reading)], bench, cancel)).Zip(readings, (v, r) => new ClearedLine($"{v.TankName}: {v.Words}, {v.WhenWords}", Why(r.Clearing))),
            .. (await TankRows.Views(records, [.. doses.Select(d => d.Dose)], bench, cancel)).Zip(doses, (v, d) => new ClearedLine($"{v.TankName}: {v.Amount} of {v.What}, {v.WhenWords}", Why(d.Clearing))),
        ];
    }
}
