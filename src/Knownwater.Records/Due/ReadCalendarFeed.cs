using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Due;

/// <summary>Reads the days for who knows the secret address; and tells whether the calendar is open.</summary>
public sealed class ReadCalendarFeed(RecordsContext records, Clock clock, ListDates dates)
{
    /// <summary>The days, where the address is that of the open calendar.</summary>
    /// <param name="pass">What the address ends in.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>What falls on a day; null for any other address.</returns>
    public async Task<IReadOnlyList<DatedItem>?> Handle(string pass, CancellationToken cancel) =>
        DevicePass.Read(pass) is var (key, secret)
        && await records.CalendarFeeds.AsNoTracking().FirstOrDefaultAsync(f => f.Id == key, cancel) is { } feed
        && DevicePass.Fits(secret, feed.SecretHash)
            ? await dates.Handle(cancel)
            : null;

    /// <summary>The day on which the calendar was opened, in words; null where it is closed.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    public async Task<string?> OpenSince(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        return await records.CalendarFeeds.AsNoTracking().FirstOrDefaultAsync(cancel) is { } feed ? Words.Day(bench.DayOf(feed.OpenedAt), bench.Today) : null;
    }
}
