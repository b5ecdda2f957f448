using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Benches;

/// <summary>Tells whether a request comes from a paired device, and notes the hour in which it was seen.</summary>
/// <remarks>It asks the records each time, so that a device that was taken away is refused with its next request.</remarks>
public sealed class RecogniseDevice(RecordsContext records, Clock clock)
{
    /// <summary>Looks at what a device shows.</summary>
    /// <param name="pass">Its pass; null where it shows none.</param>
    /// <param name="overHttps">Whether it comes over https; a device is known only over what it was paired over.</param>
    /// <param name="cancel">Cancels the looking.</param>
    /// <returns>The device; null where it is not paired, or not any more.</returns>
    public async Task<Guid?> Handle(string? pass, bool overHttps, CancellationToken cancel)
    {
        if (DevicePass.Read(pass) is not var (key, secret))
            return null;
        var device = await records.PairedDevices.AsNoTracking().FirstOrDefaultAsync(d => d.Id == key, cancel);
        if (device is null || device.OverHttps != overHttps || !DevicePass.Fits(secret, device.SecretHash))
            return null;
        var hour = DevicePass.HourOf(clock.Now);
        if (device.LastSeenHour < hour)
            await records.PairedDevices.Where(d => d.Id == key && d.LastSeenHour < hour).ExecuteUpdateAsync(d => d.SetProperty(x => x.LastSeenHour, hour), cancel);
        return device.Id;
    }
}
