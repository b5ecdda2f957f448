using System.Buffers.Text;
using System.Security.Cryptography;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Due;

/// <summary>Opens the one calendar of the bench under a new secret address; an older address ends.</summary>
public sealed class OpenCalendarFeed(RecordsContext records, Clock clock)
{
    /// <summary>Who does it.</summary>
    /// <remarks>There is no request key: the answer holds the secret, and the answers to requests are stored.</remarks>
    public sealed record Command
    {
        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Open; what the address ends in, which is nowhere else.</summary>
        public sealed record Opened(string Pass) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">Who does it.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, null, act => Open(act, cancel), cancel);
    }

    private async Task<Outcome> Open(Act act, CancellationToken cancel)
    {
        foreach (var former in await records.CalendarFeeds.ToListAsync(cancel))
            (former.Deleted, former.DeletedReason) = (true, "another address was made");
        var secret = RandomNumberGenerator.GetBytes(DevicePass.SecretBytes);
        var feed = new CalendarFeed(records.BenchId, clock.NewId()) { SecretHash = DevicePass.Hash(secret), OpenedAt = clock.Now };
        records.CalendarFeeds.Add(feed);
        await act.Did("Calendar opened under a new address.", Subjects.Calendar, feed.Id, cancel);
        return new Outcome.Opened($"{feed.Id:N}.{Base64Url.EncodeToString(secret)}");
    }
}
