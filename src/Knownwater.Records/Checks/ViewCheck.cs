using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Shows one check with everything behind it.</summary>
public sealed class ViewCheck(RecordsContext records, Clock clock)
{
    /// <summary>Reads the check.</summary>
    /// <param name="check">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The check; null where this bench has none of that key, or it was discarded.</returns>
    public async Task<CheckView?> Handle(Guid check, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var rows = (await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.Id == check), cancel)).SingleOrDefault();
        return rows is null ? null : await CheckReading.View(records, rows, bench, cancel);
    }
}
