using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Reads stocks with their values and what else is in them.</summary>
internal static class StockShelf
{
    public static async Task<IReadOnlyList<StockView>> Read(RecordsContext records, IReadOnlyList<Stock> rows, BenchSetting bench, CancellationToken cancel)
    {
        var ids = rows.Select(r => r.Id).ToList();
        var known = await records.Estimates.Read(rows.Select(r => r.EstimateId).ToList(), cancel);
        var companions = (await records.StockCompanions.AsNoTracking().Where(c => ids.Contains(c.StockId)).OrderBy(c => c.Ordinal).ToListAsync(cancel)).ToLookup(c => c.StockId);
        return [.. rows.Select(r => StockView.Of(r, known[r.EstimateId], [.. companions[r.Id].Select(c => new Companion(c.Species, c.PerLitreOfStock, ReportingForm.Parse(c.Form)))], bench))];
    }
}
