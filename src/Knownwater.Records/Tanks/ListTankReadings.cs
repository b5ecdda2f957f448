using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Lists the readings of a tank, the newest first, page by page; or finds one.</summary>
public sealed class ListTankReadings(RecordsContext records, Clock clock)
{
    /// <summary>Readings a page.</summary>
    public const int PageSize = 50;

    /// <summary>Reads one page of the list.</summary>
    /// <param name="tank">The tank.</param>
    /// <param name="page">Page, from one; beyond the last it is the last.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The readings with the number of pages, at least one.</returns>
    public async Task<TankPage<TankReadingView>> Handle(Guid tank, int page, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var which = records.TankReadings.AsNoTracking().Where(r => r.TankId == tank);
        var pages = Math.Max(1, (await which.CountAsync(cancel) + PageSize - 1) / PageSize);
        var here = Math.Clamp(page, 1, pages);
        var rows = await which.OrderByDescending(r => r.At).ThenByDescending(r => r.RecordedAt).ThenBy(r => r.ParameterKey).Skip((here - 1) * PageSize).Take(PageSize).ToListAsync(cancel);
        return new TankPage<TankReadingView>(await TankRows.Views(records, rows, bench, cancel), here, pages);
    }

    /// <summary>Finds one reading.</summary>
    /// <param name="reading">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The reading; null where there is none of that key, or it was removed.</returns>
    public async Task<TankReadingView?> Find(Guid reading, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var row = await records.TankReadings.AsNoTracking().FirstOrDefaultAsync(r => r.Id == reading && records.Tanks.Any(t => t.Id == r.TankId), cancel);
        return row is null ? null : (await TankRows.Views(records, [row], bench, cancel))[0];
    }
}

/// <summary>One page of a tank's readings or doses.</summary>
/// <typeparam name="T">What is listed.</typeparam>
/// <param name="Items">The entries, newest first.</param>
/// <param name="Page">This page, from one.</param>
/// <param name="Pages">How many pages there are; at least one.</param>
public sealed record TankPage<T>(IReadOnlyList<T> Items, int Page, int Pages);
