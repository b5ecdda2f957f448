using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Shows one known water with where its value and doubt come from.</summary>
public sealed class ViewReferenceWater(RecordsContext records, Clock clock)
{
    /// <summary>Reads the water.</summary>
    /// <param name="water">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The water; null where this bench has none of that key.</returns>
    public async Task<ReferenceWaterView?> Handle(Guid water, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if (await records.ReferenceWaters.AsNoTracking().FirstOrDefaultAsync(w => w.Id == water, cancel) is not { } row)
            return null;
        var used = records.CheckLevels.Where(l => l.ReferenceWaterId == water).Select(l => l.CheckId);
        var checks = await CheckReading.Lines(records, records.Checks.AsNoTracking().Where(c => used.Contains(c.Id)).OrderByDescending(c => c.StartedAt).Take(50), bench, cancel);
        return WaterReading.View(row, await records.Estimates.Read(row.EstimateId, cancel), bench, checks);
    }
}
