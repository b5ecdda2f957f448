using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using NodaTime.Text;

namespace Knownwater.Records.Checks;

/// <summary>Keeps what the person says of the guards before a check, and answers whether it may begin.</summary>
public sealed class PassGuards(RecordsContext records, Clock clock)
{
    /// <summary>What is said; numbers and times as typed.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Whether automatic dosing was paused.</summary>
        public bool DosingPaused { get; init; }

        /// <summary>When it was paused, as in 09:05, on the bench’s clock; empty for now.</summary>
        public string PausedAt { get; init; } = "";

        /// <summary>Guards that the person confirms.</summary>
        public IReadOnlyList<GuardKind> Confirmed { get; init; } = [];

        /// <summary>Why one goes on although a guard stands in the way.</summary>
        public IReadOnlyDictionary<GuardKind, string> Reasons { get; init; } = new Dictionary<GuardKind, string>();

        /// <summary>Sample volume of the method in mL, where it is not noted yet.</summary>
        public string SampleVolume { get; init; } = "";

        /// <summary>What the other kind of water may do to a reading, at most, in percent; asked for where one goes on with it, and put into the doubt of the known value.</summary>
        public string MatrixEffect { get; init; } = "";

        /// <summary>Temperature of known water, reagents and instrument in °C; may be empty.</summary>
        public string Temperature { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>All hold, or one goes on with a reason: the run may begin.</summary>
        public sealed record Passed : Outcome;

        /// <summary>What was said is kept, but something needs the person or stands in the way; each stands beside its guard.</summary>
        public sealed record NotYet(IReadOnlyList<FieldFault> Faults) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Pass(command, act, cancel), cancel);
    }

    private async Task<Outcome> Pass(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var who = fields.Optional("Who", command.Who, 40);
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        if (rows.Check.State != CheckState.Open)
            return new Outcome.Refused([new FieldFault("", "This check takes no more readings. Start a new one; it stands alone.")]);
        if (await ReadRunPlan.Where(records, rows, cancel) is not var (method, instrument))
            return new Outcome.Refused([new FieldFault("", ReadRunPlan.NoMethod)]);
        if (await ProcedureReading.Read(records, instrument.Id, instrument.Kind, null, cancel) is not var (procedure, _))
            return new Outcome.Refused([new FieldFault("", ReadRunPlan.ByPost(instrument))]);

        var volume = method.SampleVolumeMillilitres is null ? fields.Number("SampleVolume", command.SampleVolume, "a sample volume", 0, 10_000, aboveLeast: true) : null;
        var temperature = fields.Number("Temperature", command.Temperature, "the temperature at the bench", -5, 60);
        var effect = fields.Number("MatrixEffect", command.MatrixEffect.Trim().TrimEnd('%'), "what the other water does to a reading", 0, 100);
        var paused = command.DosingPaused ? Time(fields, command.PausedAt, bench) : null;
        foreach (var (kind, reason) in command.Reasons)
            fields.Optional($"Reasons.{kind}", reason, 500);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);

        var changed = false;
        if (volume is not null && await records.Methods.FirstOrDefaultAsync(m => m.Id == method.Id, cancel) is { } own)
        {
            (own.SampleVolumeMillilitres, own.SampleVolumeTyped) = (volume, command.SampleVolume.Trim());
            (method.SampleVolumeMillilitres, changed) = (volume, true);
        }
        if (paused is { } at && rows.Check is not { DosingPausedAt: not null, DosingResumedAt: null })
        {
            (rows.Check.DosingPausedAt, rows.Check.DosingResumedAt, rows.Check.AutomationPaused, changed) = (at, null, true, true);
        }

        if (temperature is not null)
            (rows.Check.TemperatureCelsius, rows.Check.TemperatureTyped, changed) = (temperature, command.Temperature.Trim(), true);

        // first as the records have it without what was said, then what is said of each
        var kept = (await records.CheckGuards.Where(g => g.CheckId == rows.Check.Id).ToListAsync(cancel)).ToDictionary(g => g.Kind);
        var faults = new List<FieldFault>();
        var overridden = 0;
        foreach (var guard in await Guards.Look(records, rows, method, instrument, procedure, bench, cancel))
        {
            var reason = command.Reasons.GetValueOrDefault(guard.Kind, "").Trim();
            var former = kept.GetValueOrDefault(guard.Kind);
            switch (guard.State)
            {
                case GuardState.InTheWay when guard.Kind == GuardKind.Matrix && reason.Length > 0 && effect is null:
                    faults.Add(new FieldFault("MatrixEffect", "Known water of another kind is refused unless its error is in the budget. Say how far it may move a reading at most, in percent; or take other water."));
                    break;
                case GuardState.InTheWay when guard.Kind == GuardKind.Matrix && reason.Length > 0 && rows.Levels.Any(l => l.Replicates.Count + l.Conditioning.Count > 0):
                    faults.Add(new FieldFault("Reasons.Matrix", "Readings are in already, and the doubt of a known value stands from the first one. Start a new check; it stands alone."));
                    break;
                case GuardState.InTheWay when guard.Kind == GuardKind.Matrix && reason.Length > 0:
                    await Widen(rows, method, effect!.Value / 100, bench, now, cancel);
                    overridden++;
                    changed |= Keep(former, guard, guard.Sentence, reason, rows, who, now);
                    break;
                case GuardState.InTheWay or GuardState.Overridden when reason.Length > 0 || guard.Reason.Length > 0:
                    overridden++;
                    changed |= Keep(former, guard, guard.Sentence, reason.Length > 0 ? reason : guard.Reason, rows, who, now);
                    break;
                case GuardState.InTheWay:
                    faults.Add(new FieldFault($"Reasons.{guard.Kind}", guard.Kind == GuardKind.SampleVolume
                        ? "The sample volume is not noted. Write it here, or say why you go on without it."
                        : $"{guard.ToDo} Or say why you go on all the same; that stands beside the verdict."));
                    break;
                case GuardState.NeedsYou when command.Confirmed.Contains(guard.Kind):
                    changed |= Keep(former, guard, "", "", rows, who, now);
                    break;
                case GuardState.NeedsYou:
                    faults.Add(new FieldFault($"Confirmed.{guard.Kind}", guard.Kind == GuardKind.Dosing ? "Say that it is paused, or that nothing listens." : "Look, and tick it when it is so."));
                    break;
                case GuardState.Holds when guard is { Said: true, Kind: not GuardKind.Dosing } && former is not null && !command.Confirmed.Contains(guard.Kind):
                    // the tick was taken back
                    (former.Deleted, former.DeletedReason, changed) = (true, "taken back", true);
                    faults.Add(new FieldFault($"Confirmed.{guard.Kind}", "Look, and tick it when it is so."));
                    break;
                default:
                    // what once stood in the way holds by now: the reason is no longer one
                    if (former is { Reason.Length: > 0 })
                    {
                        (former.Deleted, former.DeletedReason, changed) = (true, "it holds now", true);
                    }
                    break;
            }
        }
        if (faults.Count == 0 && rows.Check.BeforeAt is null)
            (rows.Check.BeforeAt, changed) = (now, true);
        if (changed)
        {
            rows.Check.TouchedAt = CheckFaults.Later(rows.Check.TouchedAt, now);
            var so = faults.Count > 0 ? "what holds so far is noted" : overridden == 0 ? "all holds" : $"begun with {(overridden == 1 ? "one thing" : Words.Count(overridden) + " things")} in the way";
            await act.Did($"Before the check of {Words.Small(rows.Measured.Name)}: {so}.", Subjects.Check, rows.Check.Id, cancel);
        }
        return faults.Count == 0 ? new Outcome.Passed() : new Outcome.NotYet(faults);
    }

    /// <summary>Puts what the other kind of water may do, a half-width as a share of the value, into the known values concerned; one source for all of them.</summary>
    private async Task Widen(CheckRows rows, Method method, double halfWidth, BenchSetting bench, Instant now, CancellationToken cancel)
    {
        if (halfWidth == 0)
            return;
        var factor = Estimate.From(1, ErrorSource.Rectangular("known water of another kind than the method’s", halfWidth, id: SourceIdentity.Of(rows.Check.Id, "kind of water")));
        foreach (var level in await Guards.Mismatched(records, rows, method, bench, cancel))
        {
            level.Row.EstimateId = await records.Estimates.Add(level.Known * factor, rows.Check.Form, "stated", "", clock.NewId(), now, cancel);
        }
    }

    private bool Keep(CheckGuard? former, GuardView guard, string fault, string reason, CheckRows rows, string who, Instant now)
    {
        if (former is not null && former.Fault == fault && former.Reason == reason)
            return false;
        var row = former ?? new CheckGuard(records.BenchId, clock.NewId()) { CheckId = rows.Check.Id, Kind = guard.Kind };
        (row.Fault, row.Reason, row.Who, row.At) = (fault, reason, who, now);
        if (former is null)
            records.CheckGuards.Add(row);
        return true;
    }

    /// <summary>A time of today as typed; now where nothing was typed.</summary>
    internal static Instant? Time(TypedFields fields, string typed, BenchSetting bench, string field = "PausedAt")
    {
        if (typed.Trim().Length == 0)
            return bench.Now;
        var parsed = LocalTimePattern.CreateWithInvariantCulture("H:mm").Parse(typed.Trim().Replace('.', ':'));
        if (!parsed.Success)
        {
            fields.Fault(field, $"“{typed.Trim()}” is not a time. Write hours and minutes as in 09:05, or leave it empty for now.");
            return null;
        }
        var at = bench.Today.At(parsed.Value).InZoneLeniently(bench.Zone).ToInstant();
        if (at <= bench.Now)
            return at;
        fields.Fault(field, $"{typed.Trim()} has not come yet. Write the time at which it was done, or leave it empty for now.");
        return null;
    }
}
