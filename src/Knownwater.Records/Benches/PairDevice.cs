using System.Buffers.Text;
using System.Security.Cryptography;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Benches;

/// <summary>Lets a device in from now on. Whoever calls it has verified the one-time code.</summary>
public sealed class PairDevice(RecordsContext records, Clock clock)
{
    /// <summary>Characters that a name may have.</summary>
    public const int LongestName = 40;

    /// <summary>The device.</summary>
    /// <remarks>There is no request key: the answer holds the secret, and the answers to requests are stored. The code is good once, which keeps a repeated post from pairing twice.</remarks>
    public sealed record Command
    {
        /// <summary>How the keeper knows it; empty for “Phone”.</summary>
        public string Name { get; init; } = "";

        /// <summary>Whether the pairing runs over https.</summary>
        public required bool OverHttps { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Paired; what the device shows from now on, which is nowhere else.</summary>
        public sealed record Paired(Guid Device, string Pass) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Whether a name will do, before a code is spent on it.</summary>
    /// <param name="name">The name as typed.</param>
    /// <returns>What is wrong with it; empty where nothing is.</returns>
    public static IReadOnlyList<FieldFault> FaultsOf(string name)
    {
        var fields = new TypedFields(null);
        fields.Optional("Name", name, LongestName);
        return fields.Faults;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">The device.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, null, act => Pair(command, act, cancel), cancel);
    }

    private async Task<Outcome> Pair(Command command, Act act, CancellationToken cancel)
    {
        var fields = new TypedFields(null);
        var name = fields.Optional("Name", command.Name, LongestName);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        name = await Unlike(name.Length > 0 ? name : "Phone", cancel);
        var secret = RandomNumberGenerator.GetBytes(DevicePass.SecretBytes);
        var now = clock.Now;
        var device = new PairedDevice(records.BenchId, clock.NewId())
        {
            Name = name,
            SecretHash = DevicePass.Hash(secret),
            OverHttps = command.OverHttps,
            PairedAt = now,
            LastSeenHour = DevicePass.HourOf(now),
        };
        records.PairedDevices.Add(device);
        await act.Did($"{name} paired{(command.OverHttps ? "" : " over plain http")}.", Subjects.Phone, device.Id, cancel);
        return new Outcome.Paired(device.Id, $"{device.Id:N}.{Base64Url.EncodeToString(secret)}");
    }

    /// <summary>The name, with a number behind it where another device has it.</summary>
    private async Task<string> Unlike(string name, CancellationToken cancel)
    {
        var taken = await records.PairedDevices.Where(d => d.Name.StartsWith(name)).Select(d => d.Name).ToListAsync(cancel);
        for (var n = 1; ; n++)
        {
            var candidate = n == 1 ? name : $"{name} {n}";
            if (!taken.Contains(candidate, StringComparer.Ordinal))
                return candidate;
        }
    }
}
