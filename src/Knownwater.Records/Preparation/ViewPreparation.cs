using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Shows one preparation.</summary>
public sealed class ViewPreparation(RecordsContext records, Clock clock)
{
    /// <summary>Reads the preparation.</summary>
    /// <param name="preparation">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The preparation; null where this bench has none of that key.</returns>
    public async Task<PreparationView?> Handle(Guid preparation, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if (await PreparationReading.Load(records, bench, preparation, tracked: false, cancel) is not { } read)
            return null;
        var water = await records.ReferenceWaters.AsNoTracking().Where(w => w.PreparationId == preparation && w.BottleId == null).Select(w => (Guid?)w.Id).FirstOrDefaultAsync(cancel);
        return PreparationReading.View(read.Row, read.Steps, read.Fields, water, bench);
    }
}
