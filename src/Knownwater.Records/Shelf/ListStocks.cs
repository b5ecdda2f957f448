using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Lists the stocks of the bench.</summary>
public sealed class ListStocks(RecordsContext records, Clock clock)
{
    /// <summary>Reads the list.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The stocks, one a bottle, the newest first.</returns>
    public async Task<IReadOnlyList<StockView>> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var rows = await records.Stocks.AsNoTracking().Where(s => s.BottleId == null).OrderByDescending(s => s.AddedAt).ThenBy(s => s.Label).ToListAsync(cancel);
        return await StockShelf.Read(records, rows, bench, cancel);
    }
}
