using Knownwater.Quantities;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Benches;

/// <summary>Shows the bench: whoever and whatever belongs together.</summary>
public sealed class ViewBench(RecordsContext records)
{
    /// <summary>Reads the bench.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The bench as a page shows it.</returns>
    public async Task<BenchView> Handle(CancellationToken cancel)
    {
        var bench = await records.Benches.AsNoTracking().SingleAsync(b => b.Id == records.BenchId, cancel);
        return new BenchView(bench.Id, bench.Name, bench.DecimalSign, bench.TimeZone, bench.MainUse, bench.IsInvented);
    }
}

/// <summary>The bench as a page shows it.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Name">Its name.</param>
/// <param name="DecimalSign">The owner's decimal sign; null until it was asked.</param>
/// <param name="TimeZone">Its time zone by the tz database, “Europe/Berlin”.</param>
/// <param name="MainUse">What it mostly looks after: decides default tolerances.</param>
/// <param name="IsInvented">Whether its data are the invented ones of the demo.</param>
public sealed record BenchView(Guid Id, string Name, DecimalSign? DecimalSign, string TimeZone, MainUse MainUse, bool IsInvented)
{
    /// <summary>The sign in which numbers are shown: the owner's, else the point.</summary>
    public DecimalSign Sign => DecimalSign ?? Quantities.DecimalSign.Point;
}
