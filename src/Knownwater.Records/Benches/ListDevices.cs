using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Benches;

/// <summary>Lists the devices that may open the bench from the network.</summary>
public sealed class ListDevices(RecordsContext records, Clock clock)
{
    /// <summary>Reads the list.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The devices, the last one seen first.</returns>
    public async Task<IReadOnlyList<DeviceView>> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var devices = await records.PairedDevices.AsNoTracking().OrderByDescending(d => d.LastSeenHour).ThenByDescending(d => d.PairedAt).ToListAsync(cancel);
        return [.. devices.Select(d => new DeviceView(d.Id, d.Name, d.OverHttps, Words.Day(bench.DayOf(d.PairedAt), bench.Today), Seen(bench, d)))];
    }

    private static string Seen(BenchSetting bench, PairedDevice device)
    {
        if (device.LastSeenHour == DevicePass.HourOf(bench.Now))
            return "in this hour";
        var at = bench.At(device.LastSeenHour);
        return $"{Words.Day(at.Date, bench.Today)}, in the hour from {at.Hour:00}:{at.Minute:00}";
    }
}

/// <summary>A paired device as a page shows it.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Name">How the keeper knows it.</param>
/// <param name="OverHttps">Whether it was paired over https.</param>
/// <param name="PairedWords">The day on which it was paired.</param>
/// <param name="SeenWords">When it was last seen, to the hour.</param>
public sealed record DeviceView(Guid Id, string Name, bool OverHttps, string PairedWords, string SeenWords);
