using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Tanks;

/// <summary>Shows one tank with its latest readings and doses.</summary>
public sealed class ViewTank(RecordsContext records, Clock clock)
{
    private const int DosesShown = 10;

    /// <summary>Reads the tank.</summary>
    /// <param name="tank">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The tank; null where this bench has none of that key, or it was removed.</returns>
    public async Task<TankView?> Handle(Guid tank, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if (await records.Tanks.AsNoTracking().FirstOrDefaultAsync(t => t.Id == tank, cancel) is not { } row)
            return null;
        var readings = records.TankReadings.AsNoTracking().Where(r => r.TankId == tank);
        var latest = await readings.GroupBy(r => new { r.MethodId, r.ParameterKey, r.OtherName, r.InstrumentName })
            .Select(g => g.OrderByDescending(r => r.At).ThenByDescending(r => r.RecordedAt).First()).ToListAsync(cancel);
        var doses = records.Doses.AsNoTracking().Where(d => d.TankId == tank);
        // a slip is seen within the day; older acts stand in the history
        var last = await Undo.LastAct(records, tank, cancel) is { } act && bench.Now - act.At < Duration.FromDays(1) ? act : null;
        return new TankView
        {
            Id = row.Id,
            Name = row.Name,
            Kind = row.Kind,
            Matrix = Tank.MatrixOf(row.Kind),
            Words = TankRows.Say(row),
            Volume = row.VolumeTyped,
            Unit = row.VolumeUnit,
            Salinity = row.SalinityTyped,
            Note = row.Note,
            Latest = await TankRows.Views(records, [.. latest.OrderByDescending(r => r.At).ThenBy(r => TankRows.MeasuredOf(r).Name, StringComparer.Ordinal)], bench, cancel),
            Doses = await TankRows.Views(records, await doses.OrderByDescending(d => d.At).ThenByDescending(d => d.RecordedAt).Take(DosesShown).ToListAsync(cancel), bench, cancel),
            ReadingCount = await readings.CountAsync(cancel),
            DoseCount = await doses.CountAsync(cancel),
            NowTyped = EntryTime.Typed(bench.Now, bench),
            LastAct = last?.Sentence,
            LastActEntry = last?.Id,
        };
    }
}
