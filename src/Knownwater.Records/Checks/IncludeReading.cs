using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Takes a reading in again that was left out.</summary>
public sealed class IncludeReading(RecordsContext records, Clock clock)
{
    /// <summary>The reading.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Ordinal of the level, from one.</summary>
        public required int Level { get; init; }

        /// <summary>Ordinal of the reading within its level, from one.</summary>
        public required int Reading { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Taken in; what was done in a sentence.</summary>
        public sealed record Included(string Sentence) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Include(command, act, cancel), cancel);
    }

    private async Task<Outcome> Include(Command command, Act act, CancellationToken cancel)
    {
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        if (rows.Level(command.Level) is not { } level)
            return new Outcome.Refused(CheckFaults.NoLevel(command.Level, rows));
        if (level.Reading(command.Reading) is not { } replicate)
            return new Outcome.Refused(CheckFaults.NoReading(command.Reading));
        if (replicate.ExcludedReason is null)
            return new Outcome.Refused([new FieldFault("", $"Reading {replicate.Ordinal} counts already.")]);
        replicate.ExcludedReason = null;
        rows.Check.TouchedAt = CheckFaults.Later(rows.Check.TouchedAt, clock.Now);
        JudgeLevel.Write(rows, clock.Now);
        var sentence = $"Reading {replicate.Ordinal}{CheckFaults.At(rows, level)} taken in again.";
        await act.Did(sentence, Subjects.Check, rows.Check.Id, cancel);
        return new Outcome.Included(sentence);
    }
}
