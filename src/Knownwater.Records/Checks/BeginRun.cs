using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Begins the run of a check by its sheet, once what must hold before the first reading is seen to; or goes on with the one that is under way.</summary>
public sealed class BeginRun(RecordsContext records, Clock clock, ReadRunPlan plans)
{
    /// <summary>The run to begin.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>It is under way, begun now or before.</summary>
        public sealed record UnderWay(Guid Run) : Outcome;

        /// <summary>Nothing was written: what must hold before the first reading is not seen to yet. <see cref="PassGuards"/> comes first.</summary>
        public sealed record Before : Outcome;

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
        return RunLog.Save(records, () => Begin(command, cancel), cancel);
    }

    private async Task<Outcome> Begin(Command command, CancellationToken cancel)
    {
        var last = await RunLog.Last(records, command.Check, cancel);
        if (last is { EndedAt: null } && (await Progress(last, cancel)).Step < RunLog.Steps(last).Count)
            return new Outcome.UnderWay(last.Id);
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        if (rows.Check.State == CheckState.Stopped)
            return new Outcome.Refused([new FieldFault("", "This check was stopped. Start a new one; it stands alone.")]);
        if (rows.Complete)
            return new Outcome.Refused([new FieldFault("", "All readings of this check are in; there is nothing left to run. Its verdict stands.")]);
        if (await plans.Handle(command.Check, cancel) is not { } plan)
            return new Outcome.Refused(CheckFaults.Gone);
        if (plan.Hindrance is { } hindrance)
            return new Outcome.Refused([new FieldFault("", hindrance)]);
        if (rows.AsksBefore)
            return new Outcome.Before();
        var now = clock.Now;
        // One that was left at its last step is over; its place is free for the next.
        last?.EndedAt ??= now;
        // Readings that are in already, typed before the sheet was opened, are not asked for again.
        var steps = plan.Steps.Where(s => !RunLog.IsIn(s, rows)).Select((s, i) => s with { Index = i }).ToList();
        var run = new Run(records.BenchId, clock.NewId())
        {
            CheckId = command.Check,
            Ordinal = (last?.Ordinal ?? 0) + 1,
            Procedure = plan.ProcedureName,
            ProcedureVersion = plan.ProcedureVersion,
            Steps = RunLog.Write(steps),
            StartedAt = now,
        };
        records.Runs.Add(run);
        RunLog.Append(records, clock, run, new SentRunEvent { Key = command.RequestId ?? clock.NewId(), Kind = RunEventKind.Begun, Step = 0 }, Guid.Empty, command.Who.Trim());
        return new Outcome.UnderWay(run.Id);
    }

    private async Task<RunProgress> Progress(Run run, CancellationToken cancel) =>
        RunLog.Fold(RunLog.Steps(run).Count, await RunLog.Events(records, run.Id, cancel));
}
