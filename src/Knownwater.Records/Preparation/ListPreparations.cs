using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Lists the preparations that are planned or under way.</summary>
public sealed class ListPreparations(RecordsContext records, Clock clock)
{
    /// <summary>Reads the list.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>Preparations whose water is not on the shelf yet, the newest first.</returns>
    public async Task<IReadOnlyList<PreparationView>> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var views = new List<PreparationView>();
        foreach (var id in await records.Preparations.AsNoTracking().Where(p => p.DoneAt == null).OrderByDescending(p => p.PlannedAt).Select(p => p.Id).Take(50).ToListAsync(cancel))
        {
            if (await PreparationReading.Load(records, bench, id, tracked: false, cancel) is { } read)
                views.Add(PreparationReading.View(read.Row, read.Steps, read.Fields, null, bench));
        }
        return views;
    }
}
