using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Instruments;

/// <summary>Shows the procedure of an instrument with its versions.</summary>
public sealed class ViewProcedure(RecordsContext records, Clock clock)
{
    /// <summary>Reads the procedure.</summary>
    /// <param name="instrument">The instrument.</param>
    /// <param name="version">A version, 0 for the one that comes with the program; null for the one that stands.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The procedure; null where there is no such instrument or version.</returns>
    public async Task<ProcedureView?> Handle(Guid instrument, int? version, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        return await records.Instruments.AsNoTracking().FirstOrDefaultAsync(i => i.Id == instrument, cancel) is { } row
            ? await ProcedureReading.View(records, row, version, bench, cancel)
            : null;
    }
}
