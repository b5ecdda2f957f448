using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Lists the bench's tanks.</summary>
public sealed class ListTanks(RecordsContext records, Clock clock)
{
    /// <summary>Reads the list.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The tanks by name.</returns>
    public async Task<IReadOnlyList<TankLine>> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var tanks = await records.Tanks.AsNoTracking().OrderBy(t => t.Name).ToListAsync(cancel);
        var last = (await records.TankReadings.AsNoTracking().GroupBy(r => r.TankId).Select(g => new { Tank = g.Key, At = g.Max(r => r.At) }).ToListAsync(cancel)).ToDictionary(x => x.Tank, x => x.At);
        return [.. tanks.Select(t => new TankLine(t.Id, t.Name, TankRows.Say(t), last.TryGetValue(t.Id, out var at) ? $"last read {Words.ShortMoment(bench.At(at), bench.Today)}" : "not read yet"))];
    }
}
