using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Due;

/// <summary>Lists what falls on a day: the next check of each method, the last days of lots, known waters and stocks.</summary>
public sealed class ListDates(RecordsContext records, Clock clock)
{
    private const int DaysBack = 90, DaysAhead = 400;

    /// <summary>Reads the days from a quarter back to a year ahead.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>What falls on a day, in order of time.</returns>
    public async Task<IReadOnlyList<DatedItem>> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var (from, to) = (bench.Today.PlusDays(-DaysBack), bench.Today.PlusDays(DaysAhead));
        var items = new List<DatedItem>();
        foreach (var date in await CheckDate.Read(records, bench, cancel))
        {
            if (date.Next is { } next)
                items.Add(new DatedItem(next.On, new DueItem(DueKind.CheckIsOld, DueWhen.Soon, $"Check {Words.Small(date.Name)}.", next.ReasonWords, DueAct.PlanCheck, "Plan a check", Method: date.Method.Id, Instrument: date.Instrument.Id), $"check-{date.Method.Id:N}"));
        }

        var lots = await (
            from use in records.MethodLots.AsNoTracking()
            where use.To == null
            join lot in records.Lots on use.LotId equals lot.Id
            where lot.EmptiedOn == null && lot.ExpiresOn != null
            join method in records.Methods on use.MethodId equals method.Id
            select new { Lot = lot, method.InstrumentId }).ToListAsync(cancel);
        foreach (var use in lots.DistinctBy(u => u.Lot.Id))
            items.Add(new DatedItem(use.Lot.ExpiresOn!.Value, new DueItem(DueKind.LotExpires, DueWhen.Soon, $"Lot {use.Lot.Name} is good until today.", "An old reagent changes how the method reads.", DueAct.OpenInstrument, "Open the instrument", Instrument: use.InstrumentId, Lot: use.Lot.Id), $"lot-{use.Lot.Id:N}"));
        foreach (var water in await records.ReferenceWaters.AsNoTracking().Where(w => w.UseBy != null).ToListAsync(cancel))
            items.Add(new DatedItem(water.UseBy!.Value, new DueItem(DueKind.WaterPastUse, DueWhen.Soon, $"{Name(water.Code, water.Label)} keeps until today.", "Old known water no longer holds what its label says.", DueAct.OpenWater, "Open the water", Water: water.Id), $"water-{water.Id:N}"));
        foreach (var stock in await records.Stocks.AsNoTracking().Where(s => s.UseBy != null && s.BottleId == null).ToListAsync(cancel))
            items.Add(new DatedItem(stock.UseBy!.Value, new DueItem(DueKind.StockPastUse, DueWhen.Soon, $"{Name(stock.Code, stock.Label)} is good until today.", "Its value may move from then on, and with it that of every water made from it.", DueAct.OpenStock, "Open the stock", Stock: stock.Id), $"stock-{stock.Id:N}"));
        return [.. items.Where(i => i.On >= from && i.On <= to).OrderBy(i => i.On).ThenBy(i => i.Item.Kind).ThenBy(i => i.Key, StringComparer.Ordinal)];
    }

    private static string Name(string code, string label) => code.Length > 0 && !label.Contains(code, StringComparison.OrdinalIgnoreCase) ? $"{code} {label}" : label;
}
