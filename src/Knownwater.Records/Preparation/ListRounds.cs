using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Lists the rounds of the bench, the newest first.</summary>
public sealed class ListRounds(RecordsContext records, Clock clock)
{
    private const int Most = 100;

    /// <summary>Reads the list.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The rounds, at most a hundred.</returns>
    public async Task<IReadOnlyList<RoundLine>> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        return await Read(records, bench, cancel);
    }

    internal static async Task<IReadOnlyList<RoundLine>> Read(RecordsContext records, BenchSetting bench, CancellationToken cancel)
    {
        var rounds = await records.Rounds.AsNoTracking().OrderByDescending(r => r.PlannedAt).Take(Most).ToListAsync(cancel);
        var ids = rounds.Select(r => r.Id).ToList();
        var methods = (await (
            from line in records.RoundMethods.AsNoTracking()
            where ids.Contains(line.RoundId)
            join method in records.Methods.AsNoTracking().IgnoreQueryFilters([RecordsContext.DeletedFilter]) on line.MethodId equals method.Id
            orderby line.Ordinal
            select new { line.RoundId, Method = method }).ToListAsync(cancel)).ToLookup(m => m.RoundId, m => m.Method);
        var checks = (await records.Checks.AsNoTracking().Where(c => c.RoundId != null && ids.Contains(c.RoundId.Value) && c.State != CheckState.Open).Select(c => new { c.RoundId, c.MethodId }).ToListAsync(cancel)).ToLookup(c => c.RoundId, c => c.MethodId);
        return [.. rounds.Select(r => new RoundLine(r.Id, r.Label, Words.Day(bench.DayOf(r.PlannedAt), bench.Today),
            Words.Capital(Words.List([.. methods[r.Id].Select(m => Words.Small(Measured.Of(m.ParameterKey, m.OtherName, m.Form).Name)).Distinct()])),
            methods[r.Id].Count(m => checks[r.Id].Contains(m.Id)), methods[r.Id].Count()))];
    }
}
