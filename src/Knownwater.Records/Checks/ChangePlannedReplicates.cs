using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Changes the number of readings before the first one.</summary>
public sealed class ChangePlannedReplicates(RecordsContext records, Clock clock)
{
    /// <summary>The number.</summary>
    public sealed record Command
    {
        /// <summary>The check.</summary>
        public required Guid Check { get; init; }

        /// <summary>Number of readings a level as typed.</summary>
        public required string Replicates { get; init; }

        /// <summary>Ordinal of one level; null for all.</summary>
        public int? Level { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The number stands.</summary>
        public sealed record Changed(int Replicates) : Outcome;

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
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        if (await CheckRows.Read(records, command.Check, cancel) is not { } rows)
            return new Outcome.Refused(CheckFaults.Gone);
        if (rows.Check.State == CheckState.Stopped)
            return new Outcome.Refused([new FieldFault("Replicates", "This check was stopped. Start a new one; it stands alone.")]);
        if (rows.Levels.Any(l => l.Replicates.Count > 0))
            return new Outcome.Refused([new FieldFault("Replicates", "The number of readings stands once the first reading is in, so that nobody reads on until the answer pleases. Stop this check and start another, or read on.")]);
        var levels = command.Level is { } ordinal ? rows.Levels.Where(l => l.Row.Ordinal == ordinal).ToList() : rows.Levels;
        if (levels.Count == 0)
            return new Outcome.Refused(CheckFaults.NoLevel(command.Level ?? 0, rows));
        var number = fields.Whole("Replicates", command.Replicates, "the number of readings", "How many readings is not said. Choose a number.", 1, StartCheck.MostReadings);
        if (number == 1 && levels.Any(l => l.Row.PriorIsTypical || !(l.Row.PriorDof >= UsualScatter.OwnFrom)))
            fields.Fault("Replicates", "One reading says nothing of its own scatter, and this method has too little history at this level. Take three or more.");
        if (!fields.Ok || number is not { } n)
            return new Outcome.Refused(fields.Faults);
        foreach (var level in levels)
            level.Row.PlannedReplicates = n;
        await CheckDraws.Bring(records, clock, rows, onlyTaken: false, cancel);
        rows.Check.TouchedAt = CheckFaults.Later(rows.Check.TouchedAt, clock.Now);
        await act.Did($"Number of readings changed to {n}.", Subjects.Check, rows.Check.Id, cancel);
        return new Outcome.Changed(n);
    }
}
