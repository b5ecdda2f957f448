using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Lists the doses of a tank, the newest first, page by page; or finds one.</summary>
public sealed class ListDoses(RecordsContext records, Clock clock)
{
    /// <summary>Doses a page.</summary>
    public const int PageSize = 50;

    /// <summary>Reads one page of the list.</summary>
    /// <param name="tank">The tank.</param>
    /// <param name="page">Page, from one; beyond the last it is the last.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The doses with the number of pages, at least one.</returns>
    public async Task<TankPage<DoseView>> Handle(Guid tank, int page, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var which = records.Doses.AsNoTracking().Where(d => d.TankId == tank);
        var pages = Math.Max(1, (await which.CountAsync(cancel) + PageSize - 1) / PageSize);
        var here = Math.Clamp(page, 1, pages);
        var rows = await which.OrderByDescending(d => d.At).ThenByDescending(d => d.RecordedAt).ThenBy(d => d.What).Skip((here - 1) * PageSize).Take(PageSize).ToListAsync(cancel);
        return new TankPage<DoseView>(await TankRows.Views(records, rows, bench, cancel), here, pages);
    }

    /// <summary>Finds one dose.</summary>
    /// <param name="dose">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The dose; null where there is none of that key, or it was removed.</returns>
    public async Task<DoseView?> Find(Guid dose, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var row = await records.Doses.AsNoTracking().FirstOrDefaultAsync(d => d.Id == dose && records.Tanks.Any(t => t.Id == d.TankId), cancel);
        return row is null ? null : (await TankRows.Views(records, [row], bench, cancel))[0];
    }
}
