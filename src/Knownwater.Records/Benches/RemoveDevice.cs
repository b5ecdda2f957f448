using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Benches;

/// <summary>Takes a device away: from its next request on it is refused. It can be undone.</summary>
public sealed class RemoveDevice(RecordsContext records, Clock clock)
{
    /// <summary>The device.</summary>
    public sealed record Command
    {
        /// <summary>The device.</summary>
        public required Guid Device { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Taken away; the entry by which it is undone.</summary>
        public sealed record Removed(Guid HistoryEntry) : Outcome;

        /// <summary>It is not there, or not any more.</summary>
        public sealed record Missing : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Remove(command, act, cancel), cancel);
    }

    private async Task<Outcome> Remove(Command command, Act act, CancellationToken cancel)
    {
        if (await records.PairedDevices.FirstOrDefaultAsync(d => d.Id == command.Device, cancel) is not { } device)
            return new Outcome.Missing();
        (device.Deleted, device.DeletedReason) = (true, "taken away");
        var entry = await act.Did($"{device.Name} taken away: it opens nothing here any more.", Subjects.Phone, device.Id, cancel);
        return new Outcome.Removed(entry.Id);
    }
}
