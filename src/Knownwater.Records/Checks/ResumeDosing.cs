using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Notes that automatic dosing, paused for a check, listens again; until then it stays due.</summary>
public sealed class ResumeDosing(RecordsContext records, Clock clock)
{
    /// <summary>The check for which it was paused.</summary>
    public sealed record Command
    {
        /// <summary>The check; it may be discarded by now.</summary>
        public required Guid Check { get; init; }

        /// <summary>When, as in 10:40, on the bench’s clock; empty for now.</summary>
        public string At { get; init; } = "";

        /// <summary>The moment itself, where a device tells it; <see cref="At"/> is then left aside.</summary>
        public Instant? Moment { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Noted.</summary>
        public sealed record Resumed : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Resume(command, act, cancel), cancel);
    }

    private async Task<Outcome> Resume(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await records.Checks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).FirstOrDefaultAsync(c => c.Id == command.Check, cancel) is not { } check)
            return new Outcome.Refused(CheckFaults.Gone);
        if (check is not { DosingPausedAt: { } paused, DosingResumedAt: null })
            return new Outcome.Refused([new FieldFault("", "No dosing is noted as paused for this check.")]);
        var at = command.Moment ?? PassGuards.Time(fields, command.At, bench, "At");
        if (command.Moment is null && at < paused)
            fields.Fault("At", $"{command.At.Trim()} is before it was paused, {Words.ShortMoment(bench.At(paused), bench.Today)}.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        check.DosingResumedAt = at < paused ? paused : at;
        check.TouchedAt = CheckFaults.Later(check.TouchedAt, clock.Now);
        var method = check.MethodId is { } id ? (await CheckReading.Methods(records, [id], cancel)).GetValueOrDefault(id) : null;
        await act.Did($"Automatic dosing{(method is null ? "" : $" on {method.InstrumentName}")} listens again since {Words.ShortMoment(bench.At(at!.Value), bench.Today)}.", Subjects.Check, check.Id, cancel);
        return new Outcome.Resumed();
    }
}
