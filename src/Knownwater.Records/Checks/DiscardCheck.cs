using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Marks a check as discarded, with a reason; it can be undone.</summary>
public sealed class DiscardCheck(RecordsContext records, Clock clock)
{
    /// <summary>The check and the reason.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Why; must be given.</summary>
        public required string Reason { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Marked; the entry by which it is undone.</summary>
        public sealed record Discarded(Guid HistoryEntry) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Discard(command, act, cancel), cancel);
    }

    private async Task<Outcome> Discard(Command command, Act act, CancellationToken cancel)
    {
        var fields = new TypedFields(null);
        var reason = fields.Needed("Reason", command.Reason, "Say why the check is discarded. It is only marked, and can be taken back.");
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        await CheckDraws.Bring(records, clock, rows, onlyTaken: true, cancel);
        rows.Check.Deleted = true;
        rows.Check.DeletedReason = reason;
        rows.Check.TouchedAt = CheckFaults.Later(rows.Check.TouchedAt, clock.Now);
        var entry = await act.Did($"Check of {Words.Small(rows.Measured.Name)} discarded: {reason.TrimEnd('.')}.", Subjects.Check, rows.Check.Id, cancel);
        return new Outcome.Discarded(entry.Id);
    }
}
