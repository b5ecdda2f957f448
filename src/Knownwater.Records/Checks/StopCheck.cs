using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Stops a check here: unfinished, or without the extension that was declared.</summary>
public sealed class StopCheck(RecordsContext records, Clock clock)
{
    /// <summary>The check.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Why; may be empty.</summary>
        public string Reason { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Stopped; what was done in a sentence.</summary>
        public sealed record Stopped(string Sentence) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Stop(command, act, cancel), cancel);
    }

    private async Task<Outcome> Stop(Command command, Act act, CancellationToken cancel)
    {
        var fields = new TypedFields(null);
        var reason = fields.Optional("Reason", command.Reason);
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        var check = rows.Check;
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        string sentence;
        if (check.State == CheckState.Open)
        {
            check.State = CheckState.Stopped;
            check.ClosedAt = clock.Now;
            check.StopReason = reason;
            JudgeLevel.Write(rows, clock.Now);
            await CheckDraws.Bring(records, clock, rows, onlyTaken: true, cancel);
            var taken = rows.Levels.Sum(l => l.Replicates.Count);
            sentence = $"Check stopped after {taken} of {CheckWriting.Readings(rows.Levels.Sum(l => l.Planned))}{(reason.Length > 0 ? ": " + reason.TrimEnd('.') : "")}.";
        }
        else if (check is { State: CheckState.Closed, ExtensionDeclared: true, ExtensionTaken: false, ExtensionRenounced: false })
        {
            check.ExtensionRenounced = true;
            sentence = "Check left as it is, without its extension.";
        }
        else
        {
            return new Outcome.Refused([new FieldFault("", "This check takes no more readings already; nothing needs to be stopped.")]);
        }
        check.TouchedAt = CheckFaults.Later(check.TouchedAt, clock.Now);
        await act.Did(sentence, Subjects.Check, check.Id, cancel);
        return new Outcome.Stopped(sentence);
    }
}
