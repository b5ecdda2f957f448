using Knownwater.Quantities;
using Knownwater.Records.Drift;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Benches;

/// <summary>What every use case needs to know of its bench: decimal sign, zone, today, how its drift is watched.</summary>
internal sealed record BenchSetting(DecimalSign? OwnSign, DateTimeZone Zone, MainUse MainUse, DriftWatch Watch, Instant Now)
{
    public DecimalSign Sign => OwnSign ?? DecimalSign.Point;

    public LocalDate Today => Now.InZone(Zone).Date;

    public static async Task<BenchSetting> Read(RecordsContext records, Instant now, CancellationToken cancel)
    {
        var bench = await records.Benches.AsNoTracking().FirstOrDefaultAsync(b => b.Id == records.BenchId, cancel)
            ?? throw new InvalidOperationException($"There is no bench {records.BenchId} in this store. Open the store with one of its benches.");
        return new BenchSetting(bench.DecimalSign, DateTimeZoneProviders.Tzdb.GetZoneOrNull(bench.TimeZone) ?? DateTimeZone.Utc, bench.MainUse, DriftWatch.Of(bench), now);
    }

    public TypedFields Fields() => new(OwnSign);

    public ZonedDateTime At(Instant instant) => instant.InZone(Zone);

    public LocalDate DayOf(Instant instant) => At(instant).Date;
}
