using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Preparation;

/// <summary>Corrects a weighing that was typed wrongly, or takes out one that went wrong; the former one stays in the history.</summary>
public sealed class ChangeWeighing(RecordsContext records, Clock clock)
{
    /// <summary>The weighing as it shall be.</summary>
    public sealed record Command
    {
        /// <summary>The proof.</summary>
        public required Guid Proof { get; init; }

        /// <summary>Which weighing, from one.</summary>
        public required int Ordinal { get; init; }

        /// <summary>The weighing in g as typed; empty takes it out, which needs a reason.</summary>
        public string Typed { get; init; } = "";

        /// <summary>Why it is taken out.</summary>
        public string Reason { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Done.</summary>
        public sealed record Changed : Outcome;

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
        if (await ProofReading.Load(records, command.Proof, true, cancel) is not { } read)
            return new Outcome.Refused(ProofReading.Gone);
        var (row, weighings, piece, _, _) = read;
        if (row.DoneAt is not null)
            return new Outcome.Refused(ProofReading.Finished);
        if (weighings.Find(w => w.Ordinal == command.Ordinal) is not { } weighing)
            return new Outcome.Refused([new FieldFault("Typed", $"There is no weighing {command.Ordinal}. Look at the list.")]);
        if (command.Typed.Trim().Length == 0)
        {
            var reason = fields.Needed("Reason", command.Reason, "Write what the balance showed; or, to take the weighing out, say what went wrong with it.");
            if (!fields.Ok)
                return new Outcome.Refused(fields.Faults);
            (weighing.Deleted, weighing.DeletedReason) = (true, reason);
            row.TouchedAt = now;
            await act.Did($"Weighing {weighing.Ordinal} of {piece.Name}, {weighing.Typed}{Words.NoBreak}g, taken out: {reason.TrimEnd('.')}.", Subjects.Glassware, piece.Id, cancel);
            return new Outcome.Changed();
        }
        if (ProofReading.Grams(fields, bench, "Typed", command.Typed) is not { } grams)
            return new Outcome.Refused(fields.Faults);
        var former = weighing.Typed;
        (weighing.Typed, weighing.Grams) = (command.Typed.Trim(), grams);
        row.TouchedAt = now;
        await act.Did($"Weighing {weighing.Ordinal} of {piece.Name} changed from {former} to {weighing.Typed}{Words.NoBreak}g.", Subjects.Glassware, piece.Id, cancel);
        return new Outcome.Changed();
    }
}
