using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Due;

/// <summary>Closes the calendar: its address answers no more. It can be undone.</summary>
public sealed class CloseCalendarFeed(RecordsContext records, Clock clock)
{
    /// <summary>Who does it.</summary>
    public sealed record Command
    {
        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Closed; the entry by which it is undone.</summary>
        public sealed record Closed(Guid HistoryEntry) : Outcome;

        /// <summary>It was not open.</summary>
        public sealed record Missing : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">Who does it.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Close(act, cancel), cancel);
    }

    private async Task<Outcome> Close(Act act, CancellationToken cancel)
    {
        if (await records.CalendarFeeds.FirstOrDefaultAsync(cancel) is not { } feed)
            return new Outcome.Missing();
        (feed.Deleted, feed.DeletedReason) = (true, "closed");
        var entry = await act.Did("Calendar closed: its address answers no more.", Subjects.Calendar, feed.Id, cancel);
        return new Outcome.Closed(entry.Id);
    }
}
