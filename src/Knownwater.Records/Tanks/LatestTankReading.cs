using Knownwater.Quantities;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Tanks;

/// <summary>Finds the last reading of tank water that an instrument gave of a parameter before a time: what was in its chamber before a check.</summary>
public sealed class LatestTankReading(RecordsContext records)
{
    /// <summary>Finds it.</summary>
    /// <param name="instrument">The instrument.</param>
    /// <param name="parameter">Key of the parameter.</param>
    /// <param name="before">The time; a reading of this very moment does not count.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The reading; null where there is none.</returns>
    public async Task<Found?> Handle(Guid instrument, string parameter, Instant before, CancellationToken cancel)
    {
        var row = await (
            from r in records.TankReadings.AsNoTracking()
            where r.ParameterKey == parameter && r.At < before
            join m in records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on r.MethodId equals m.Id
            where m.InstrumentId == instrument
            orderby r.At descending, r.RecordedAt descending
            select r).FirstOrDefaultAsync(cancel);
        return row is null ? null : new Found(row.Id, row.TankId, row.Value, row.Censoring, ReportingForm.Parse(row.Form), row.At);
    }

    /// <summary>A reading of tank water.</summary>
    /// <param name="Reading">Its key.</param>
    /// <param name="Tank">The tank.</param>
    /// <param name="Value">Its value; the limit where it is censored.</param>
    /// <param name="Censoring">Whether it is a limit.</param>
    /// <param name="Form">Reporting form of the value.</param>
    /// <param name="At">When it was read.</param>
    public sealed record Found(Guid Reading, Guid Tank, double Value, Censoring Censoring, ReportingForm Form, Instant At);
}
