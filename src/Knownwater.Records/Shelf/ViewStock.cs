using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Shows one stock.</summary>
public sealed class ViewStock(RecordsContext records, Clock clock)
{
    /// <summary>Reads the stock.</summary>
    /// <param name="stock">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The stock; null where this bench has none of that key.</returns>
    public async Task<StockView?> Handle(Guid stock, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        // a further value is shown with its bottle
        var bottle = await records.Stocks.AsNoTracking().Where(s => s.Id == stock).Select(s => s.BottleId).FirstOrDefaultAsync(cancel) ?? stock;
        return await records.Stocks.AsNoTracking().FirstOrDefaultAsync(s => s.Id == bottle, cancel) is { } row ? (await StockShelf.Read(records, [row], bench, cancel))[0] : null;
    }
}
