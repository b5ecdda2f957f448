using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Keeps one reading of a level, as typed.</summary>
public sealed class KeepReading(RecordsContext records, Clock clock)
{
    /// <summary>One reading.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Ordinal of the level, from one.</summary>
        public required int Level { get; init; }

        /// <summary>The number as typed; <c>&lt;0.02</c> and <c>&gt;50</c> are kept as limits.</summary>
        public required string Typed { get; init; }

        /// <summary>Ordinal that the reading shall have within its level, from one; null takes the next.</summary>
        public int? Reading { get; init; }

        /// <summary>Ordinal that it shall have among the conditioning runs of its level, from one; null takes what comes next.</summary>
        public int? ConditioningRun { get; init; }

        /// <summary>When it was read; null for now. One that lay on a device without the network was read before it comes.</summary>
        public Instant? At { get; init; }

        /// <summary>Whether a doubtful number was confirmed as read.</summary>
        public bool Confirmed { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Kept; the ordinal of the next reading of this level.</summary>
        public sealed record Kept(int Next) : Outcome;

        /// <summary>Kept; this level is complete, the next open level follows.</summary>
        public sealed record LevelDone(int NextLevel) : Outcome;

        /// <summary>Kept; all readings are in and the verdict stands.</summary>
        public sealed record CheckClosed(bool CanExtend) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Keep(command, act, cancel), cancel);
    }

    private async Task<Outcome> Keep(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        if (rows.Check.State == CheckState.Stopped)
            return new Outcome.Refused([new FieldFault("", "This check was stopped. Start a new one; it stands alone.")]);
        if (rows.Level(command.Level) is not { } level)
            return new Outcome.Refused(CheckFaults.NoLevel(command.Level, rows));
        var conditions = rows.ConditioningToGo(level) > 0;
        if (OutOfTurn(command, level, conditions) is { } sentence)
            return new Outcome.Refused([new FieldFault("Reading", sentence)]);
        if (level.Complete)
            return new Outcome.Refused([new FieldFault("Typed", $"All {CheckWriting.Readings(level.Planned)} of this level are in; the number was fixed before the first. Further readings are a new check.")]);
        var read = ReadingText.Read(fields, command.Typed, command.Confirmed || conditions, rows, level, null, bench.OwnSign);
        if (read.Reading is not { } reading)
            return new Outcome.Refused(fields.Faults);
        if (read.Doubt is { } doubt)
            return new Outcome.Doubtful(doubt, read.Offers);

        if (conditions)
            return await Condition(command, act, rows, level, reading, fields, cancel);
        var replicate = new Replicate(records.BenchId, clock.NewId())
        {
            LevelId = level.Row.Id,
            Ordinal = level.Replicates.Count + 1,
            Typed = command.Typed.Trim(),
            Value = reading.Value,
            Censoring = reading.Censoring,
            At = Instant.Min(command.At ?? now, now),
            Who = fields.Optional("Who", command.Who, 40),
        };
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.Replicates.Add(replicate);
        level.Replicates.Add(replicate);
        rows.Check.TouchedAt = CheckFaults.Later(rows.Check.TouchedAt, now);
        var canExtend = level.Complete && JudgeLevel.Write(rows, now);
        var at = rows.Levels.Count > 1 ? $" of level {level.Row.Ordinal}" : "";
        var unit = KitScale.Of(rows.Check)?.Seen(replicate.Value, replicate.Censoring, bench.Sign) is { } seen ? $"{seen}, {NumberWords.Plain(replicate.Value, 6, bench.Sign)} {rows.Measured.Form.UnitDisplay}" : $"{replicate.Typed} {rows.Measured.Form.UnitDisplay}";
        await act.Did($"Reading {replicate.Ordinal}{at} kept: {unit}.", Subjects.Check, rows.Check.Id, cancel);
        return rows.Current is not { } next ? new Outcome.CheckClosed(canExtend)
            : level.Complete ? new Outcome.LevelDone(next.Row.Ordinal)
            : new Outcome.Kept(level.Replicates.Count + 1);
    }

    /// <summary>A run that was declared not to count: kept beside the readings, never among them.</summary>
    private async Task<Outcome> Condition(Command command, Act act, CheckRows rows, LevelRows level, NumberReading reading, TypedFields fields, CancellationToken cancel)
    {
        var run = new ConditioningRun(records.BenchId, clock.NewId())
        {
            LevelId = level.Row.Id,
            Ordinal = level.Conditioning.Count + 1,
            Typed = command.Typed.Trim(),
            Value = reading.Value,
            Censoring = reading.Censoring,
            At = Instant.Min(command.At ?? clock.Now, clock.Now),
            Who = fields.Optional("Who", command.Who, 40),
        };
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.ConditioningRuns.Add(run);
        level.Conditioning.Add(run);
        rows.Check.TouchedAt = CheckFaults.Later(rows.Check.TouchedAt, clock.Now);
        await act.Did($"Conditioning run {run.Ordinal} of {rows.Check.ConditioningRuns}{CheckFaults.At(rows, level)} kept: {run.Typed}. It does not count.", Subjects.Check, rows.Check.Id, cancel);
        return new Outcome.Kept(level.Replicates.Count + 1);
    }

    /// <summary>Why it cannot take the place that it names; null where it can, or names none.</summary>
    private static string? OutOfTurn(Command command, LevelRows level, bool conditions)
    {
        var next = conditions ? level.Conditioning.Count + 1 : level.Replicates.Count + 1;
        return command switch
        {
            { Reading: null, ConditioningRun: null } => null,
            { Reading: { } place } when level.Reading(place) is { } taken => $"Reading {place} is in already: {taken.Typed}.",
            { Reading: { } place } when !conditions && place == next => null,
            { ConditioningRun: { } place } when place <= level.Conditioning.Count => $"Conditioning run {place} is in already: {level.Conditioning[place - 1].Typed}.",
            { ConditioningRun: { } place } when conditions && place == next => null,
            _ => $"{(conditions ? "Conditioning run" : "Reading")} {next} comes first; it is not in yet.",
        };
    }
}
