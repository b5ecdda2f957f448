using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Lists the known waters on the shelf.</summary>
public sealed class ListReferenceWaters(RecordsContext records, Clock clock)
{
    /// <summary>Which waters; what is null does not narrow.</summary>
    /// <param name="Parameter">Key of a parameter.</param>
    public sealed record Query(string? Parameter = null);

    /// <summary>Reads the shelf.</summary>
    /// <param name="query">Which waters.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The waters, the newest first.</returns>
    public async Task<IReadOnlyList<ReferenceWaterView>> Handle(Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var which = records.ReferenceWaters.AsNoTracking();
        if (query.Parameter is { Length: > 0 } key)
            which = which.Where(w => w.ParameterKey == key);
        var waters = await which.OrderByDescending(w => w.AddedAt).ThenBy(w => w.Label).ToListAsync(cancel);
        var known = await records.Estimates.Read(waters.Select(w => w.EstimateId).ToList(), cancel);
        var amount = await WaterReading.Amounts(records, waters, cancel);
        var others = await WaterReading.OthersInBottle(records, waters, cancel);
        return waters.Select(w => WaterReading.View(w, known[w.EstimateId], bench, amount(w), others(w), [])).ToList();
    }
}
