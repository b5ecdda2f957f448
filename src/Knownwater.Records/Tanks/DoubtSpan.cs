using System.Linq.Expressions;
using Knownwater.Checks;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Tanks;

/// <summary>
/// A time in which a method is not to be believed: from the last check that read right to the next one that does, where a check between read
/// high or low. It follows from the checks and is not stored, so that nothing is forgotten and nothing stays when a check is discarded.
/// </summary>
/// <param name="Method">The method.</param>
/// <param name="ParameterKey">Its parameter.</param>
/// <param name="From">When the last check before that read right was started; null where there is none.</param>
/// <param name="Until">When the next check that reads right was started; null where there is none yet.</param>
/// <param name="Failures">The checks between that read high or low, in order; at least one.</param>
internal sealed record DoubtSpan(Guid Method, string ParameterKey, Instant? From, Instant? Until, IReadOnlyList<DoubtSpan.Failure> Failures)
{
    /// <summary>A check that read high or low.</summary>
    public sealed record Failure(Guid Check, Instant At, Instant ClosedAt);

    /// <summary>When the doubt was raised last: what was cleared before that is in doubt again.</summary>
    public Instant RaisedAt => Failures.Max(f => f.ClosedAt);

    public bool Covers(Instant at) => !(at <= From) && !(at >= Until);

    /// <summary>The spans of the methods that are asked for and had a check that failed, in the order of time.</summary>
    public static async Task<IReadOnlyList<DoubtSpan>> Read(RecordsContext records, Expression<Func<Check, bool>> which, CancellationToken cancel)
    {
        var judged = records.Checks.AsNoTracking().Where(c => c.MethodId != null && c.Verdict != null && c.State != CheckState.Open);
        var failing = judged.Where(which).Where(c => c.Verdict == Verdict.ReadsHigh || c.Verdict == Verdict.ReadsLow).Select(c => c.MethodId);
        var rows = await judged.Where(c => failing.Contains(c.MethodId)).OrderBy(c => c.StartedAt).ThenBy(c => c.TouchedAt)
            .Select(c => new { c.Id, Method = c.MethodId!.Value, c.ParameterKey, c.State, c.StartedAt, c.ClosedAt, c.Verdict }).ToListAsync(cancel);
        var spans = new List<DoubtSpan>();
        foreach (var method in rows.GroupBy(r => r.Method))
        {
            Instant? from = null;
            var failures = new List<Failure>();
            foreach (var row in method)
            {
                if (row.Verdict is Verdict.ReadsHigh or Verdict.ReadsLow)
                {
                    failures.Add(new Failure(row.Id, row.StartedAt, row.ClosedAt ?? row.StartedAt));
                }
                else if (row is { Verdict: Verdict.ReadsRight, State: CheckState.Closed })
                {
                    if (failures.Count > 0)
                        spans.Add(new DoubtSpan(method.Key, row.ParameterKey, from, row.StartedAt, failures));
                    (from, failures) = (row.StartedAt, []);
                }
            }

            if (failures.Count > 0)
                spans.Add(new DoubtSpan(method.Key, method.First().ParameterKey, from, null, failures));
        }

        return spans;
    }

    /// <summary>The readings that the method gave in this time, cleared ones too.</summary>
    public IQueryable<TankReading> Readings(RecordsContext records)
    {
        var method = Method;
        var readings = records.TankReadings.AsNoTracking().Where(r => r.MethodId == method && records.Tanks.Any(t => t.Id == r.TankId));
        if (From is { } from)
            readings = readings.Where(r => r.At > from);
        return Until is { } until ? readings.Where(r => r.At < until) : readings;
    }

    /// <summary>The doses of its parameter in this time, in the tanks that it reads; cleared ones too.</summary>
    public IQueryable<Dose> Doses(RecordsContext records)
    {
        var (method, parameter) = (Method, ParameterKey);
        var doses = records.Doses.AsNoTracking().Where(d => d.ParameterKey == parameter && records.Tanks.Any(t => t.Id == d.TankId) && records.TankReadings.Any(r => r.TankId == d.TankId && r.MethodId == method));
        if (From is { } from)
            doses = doses.Where(d => d.At > from);
        return Until is { } until ? doses.Where(d => d.At < until) : doses;
    }

    /// <summary>The readings that are in doubt still.</summary>
    public IQueryable<TankReading> ReadingsInDoubt(RecordsContext records)
    {
        var (method, raised) = (Method, RaisedAt);
        return Readings(records).Where(r => !records.DoubtClearings.Any(c => c.ReadingId == r.Id && c.MethodId == method && c.At >= raised));
    }

    /// <summary>The doses that are in doubt still.</summary>
    public IQueryable<Dose> DosesInDoubt(RecordsContext records)
    {
        var (method, raised) = (Method, RaisedAt);
        return Doses(records).Where(d => !records.DoubtClearings.Any(c => c.DoseId == d.Id && c.MethodId == method && c.At >= raised));
    }

    /// <summary>“since 12 August, when it last read right”, or “from the first one on: no check before read right”.</summary>
    public string SinceWords(BenchSetting bench) =>
        From is { } from ? $"since {Words.Day(bench.DayOf(from), bench.Today)}, when it last read right" : "from the first one on, since no check before read right";
}
