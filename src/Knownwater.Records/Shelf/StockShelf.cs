using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Reads stocks with their values and what else is in them.</summary>
internal static class StockShelf
{
    /// <summary>Writes what a stock holds besides its analyte.</summary>
    public static void Add(RecordsContext records, Clock clock, Stock stock, IReadOnlyList<(string Species, double Amount, ReportingForm Form, string Typed)> companions)
    {
        foreach (var (companion, ordinal) in companions.Select((c, i) => (c, i + 1)))
        {
            records.StockCompanions.Add(new StockCompanion(records.BenchId, clock.NewId())
            {
                StockId = stock.Id, Ordinal = ordinal, Species = companion.Species, PerLitreOfStock = companion.Amount, Form = companion.Form.Text, Typed = companion.Typed,
            });
        }
    }

    public static async Task<IReadOnlyList<StockView>> Read(RecordsContext records, IReadOnlyList<Stock> rows, BenchSetting bench, CancellationToken cancel)
    {
        var ids = rows.Select(r => r.BottleId ?? r.Id).Distinct().ToList();
        var further = (await records.Stocks.AsNoTracking().Where(s => s.BottleId != null && ids.Contains(s.BottleId.Value)).OrderBy(s => s.AddedAt).ToListAsync(cancel)).ToLookup(s => s.BottleId!.Value);
        var known = await records.Estimates.Read(rows.Concat(further.SelectMany(f => f)).Select(r => r.EstimateId).ToList(), cancel);
        var companions = (await records.StockCompanions.AsNoTracking().Where(c => ids.Contains(c.StockId)).OrderBy(c => c.Ordinal).ToListAsync(cancel)).ToLookup(c => c.StockId);
        var amount = await BottleAmount.Read(records, ids, cancel);
        return [.. rows.Select(r => StockView.Of(r, known[r.EstimateId], [.. companions[r.BottleId ?? r.Id].Select(c => new Companion(c.Species, c.PerLitreOfStock, ReportingForm.Parse(c.Form)))],
            amount(r.BottleId ?? r.Id, r.AmountMillilitres), [.. further[r.Id].Select(f => BottleValue.Of(f, known[f.EstimateId], bench.Sign))], bench))];
    }
}
