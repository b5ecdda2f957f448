using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Corrects a reading that was typed wrongly; the former one stays in the history.</summary>
public sealed class ChangeReading(RecordsContext records, Clock clock)
{
    /// <summary>The reading as it shall be.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Ordinal of the level, from one.</summary>
        public required int Level { get; init; }

        /// <summary>Ordinal of the reading within its level, from one.</summary>
        public required int Reading { get; init; }

        /// <summary>The number as typed.</summary>
        public required string Typed { get; init; }

        /// <summary>Whether a doubtful number was confirmed as read.</summary>
        public bool Confirmed { get; init; }

        /// <summary>Why; demanded once the verdict stands.</summary>
        public string Reason { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Changed; what was done in a sentence.</summary>
        public sealed record Changed(string Sentence) : Outcome;

        /// <summary>The number is so far from its fellows that it is asked about; the same command with <c>Confirmed</c> keeps it.</summary>
        public sealed record Doubtful(string Sentence, IReadOnlyList<Offer> Offers) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Change(command, act, cancel), cancel);
    }

    private async Task<Outcome> Change(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        if (rows.Level(command.Level) is not { } level)
            return new Outcome.Refused(CheckFaults.NoLevel(command.Level, rows));
        if (level.Reading(command.Reading) is not { } replicate)
            return new Outcome.Refused(CheckFaults.NoReading(command.Reading));
        var reason = fields.Optional("Reason", command.Reason);
        if (level.Complete && reason.Length == 0)
            fields.Fault("Reason", "The verdict on this level is known already. Say why the reading is changed; both stay in the history.");
        var read = ReadingText.Read(fields, command.Typed, command.Confirmed, rows, level, replicate, bench.OwnSign);
        if (read.Reading is not { } reading || !fields.Ok)
            return new Outcome.Refused(fields.Faults);
        if (read.Doubt is { } doubt)
            return new Outcome.Doubtful(doubt, read.Offers);
        var former = replicate.Typed;
        replicate.Typed = command.Typed.Trim();
        replicate.Value = reading.Value;
        replicate.Censoring = reading.Censoring;
        rows.Check.TouchedAt = CheckFaults.Later(rows.Check.TouchedAt, now);
        if (rows.Check.State != CheckState.Open || level.Complete)
            JudgeLevel.Write(rows, now);
        var why = reason.Length > 0 ? $": {reason.TrimEnd('.')}" : "";
        var sentence = $"Reading {replicate.Ordinal}{CheckFaults.At(rows, level)} changed from {former} to {replicate.Typed}{why}.";
        await act.Did(sentence, Subjects.Check, rows.Check.Id, cancel);
        return new Outcome.Changed(sentence);
    }
}
