using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Lists the nutrient-free waters of the bench.</summary>
public sealed class ListNutrientFree(RecordsContext records, Clock clock)
{
    /// <summary>Reads the list.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The waters, the newest first.</returns>
    public async Task<IReadOnlyList<NutrientFreeView>> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var rows = await records.NutrientFreeWaters.AsNoTracking().OrderByDescending(w => w.AddedAt).ThenBy(w => w.Label).ToListAsync(cancel);
        return await NutrientFreeView.Read(records, rows, bench, cancel);
    }
}
