using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Preparation;
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
        var others = row.StockId is not { } stock ? [] : await records.ReferenceWaters.AsNoTracking()
            .Where(w => w.StockId == stock && w.Id != water && w.ParameterKey == row.ParameterKey && w.Form == row.Form && w.Matrix == row.Matrix).ToListAsync(cancel);
        var values = await records.Estimates.Read(others.Select(w => w.EstimateId).ToList(), cancel);
        var amount = await WaterReading.Amounts(records, [row], cancel);
        var inBottle = await WaterReading.OthersInBottle(records, [row], cancel);
        var known = await records.Estimates.Read(row.EstimateId, cancel);
        return WaterReading.View(row, known, bench, amount(row), inBottle(row), checks, await WaterReading.Bought(records, bench, row, known, cancel)) with
        {
            AnewWords = await ReckonAnew.Offer(records, bench, row, cancel),
            SameStock = [.. others.OrderBy(w => values[w.EstimateId].Value).Select(w => new WaterLine(w.Id, w.Label, w.Origin, WaterReading.KnownWords(values[w.EstimateId], Quantities.ReportingForm.Parse(w.Form), bench.Sign)))],
        };
    }
}
