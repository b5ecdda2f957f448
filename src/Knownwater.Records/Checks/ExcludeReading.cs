using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Leaves a reading out for a noted cause; the verdict with it stays beside.</summary>
public sealed class ExcludeReading(RecordsContext records, Clock clock)
{
    /// <summary>The reading and the cause.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Ordinal of the level, from one.</summary>
        public required int Level { get; init; }

        /// <summary>Ordinal of the reading within its level, from one.</summary>
        public required int Reading { get; init; }

        /// <summary>The cause that was seen; must be given.</summary>
        public required string Reason { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Left out; what was done in a sentence.</summary>
        public sealed record Excluded(string Sentence) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Exclude(command, act, cancel), cancel);
    }

    private async Task<Outcome> Exclude(Command command, Act act, CancellationToken cancel)
    {
        var fields = new TypedFields(null);
        var reason = fields.Needed("Reason", command.Reason, "A reading is left out for a cause that was seen, not because it is unwelcome. Write the cause.");
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        if (rows.Level(command.Level) is not { } level)
            return new Outcome.Refused(CheckFaults.NoLevel(command.Level, rows));
        if (level.Reading(command.Reading) is not { } replicate)
            return new Outcome.Refused(CheckFaults.NoReading(command.Reading));
        if (replicate.ExcludedReason is not null)
            fields.Fault("", $"Reading {replicate.Ordinal} is left out already. Take it in again first.");
        else if (level.Replicates.Count(r => r.ExcludedReason is null) == 1 && level.Complete)
            fields.Fault("", "This is the last reading that counts, and one must stay. Discard the check instead.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        replicate.ExcludedReason = reason;
        rows.Check.TouchedAt = CheckFaults.Later(rows.Check.TouchedAt, clock.Now);
        JudgeLevel.Write(rows, clock.Now);
        var sentence = $"Reading {replicate.Ordinal}{CheckFaults.At(rows, level)} left out: {reason.TrimEnd('.')}.";
        await act.Did(sentence, Subjects.Check, rows.Check.Id, cancel);
        return new Outcome.Excluded(sentence);
    }
}
