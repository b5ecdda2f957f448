using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Records one act at the bench: what was really dispensed, or a step back.</summary>
public sealed class RecordAct(RecordsContext records, Clock clock)
{
    /// <summary>The act.</summary>
    public sealed record Command
    {
        /// <summary>The preparation.</summary>
        public required Guid Preparation { get; init; }

        /// <summary>Which act, from one: the next one, or the one to go back to.</summary>
        public required int Ordinal { get; init; }

        /// <summary>Whether the act is taken back.</summary>
        public bool Back { get; init; }

        /// <summary>What was really dispensed; empty for as planned.</summary>
        public string Amount { get; init; } = "";

        /// <summary>What went otherwise; may be empty.</summary>
        public string Slip { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Recorded; what it means for the value, empty where it went as planned.</summary>
        public sealed record Recorded(string Rescue) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;

        /// <summary>The preparation is not there.</summary>
        public sealed record Gone : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Record(command, act, cancel), cancel);
    }

    private async Task<Outcome> Record(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if (await PreparationReading.Load(records, bench, command.Preparation, tracked: true, cancel) is not { } read)
            return new Outcome.Gone();
        var (row, steps, shelf) = read;
        if (row.DoneAt is not null)
            return new Outcome.Refused([new FieldFault("Amount", $"{row.Label} is on the shelf already; its value stands. Plan another preparation.")]);
        var own = PreparationReading.Own(steps);
        var acts = own.Count * 3;
        if (command.Back)
        {
            if (command.Ordinal < 1 || command.Ordinal > row.ActsDone)
                return new Outcome.Recorded("");
            if (await BuiltOn(own, command.Ordinal, cancel) is { } built)
                return new Outcome.Refused([new FieldFault("Amount", $"{built} was made from this dilution already, so that it stands. Plan another preparation, or go on.")]);
            row.ActsDone = command.Ordinal - 1;
            for (var i = row.ActsDone; i < acts; i++)
                Set(own, i, null, "");
            await act.Did($"{row.Label}: back to act {command.Ordinal}.", Subjects.Preparation, row.Id, cancel);
            return new Outcome.Recorded("");
        }
        // an act that another device recorded already is not recorded twice
        if (command.Ordinal != row.ActsDone + 1 || command.Ordinal > acts)
            return new Outcome.Recorded("");
        if (row.ActsDone == 0 && await NotMadeYet(steps, cancel) is { } first)
            return new Outcome.Refused([new FieldFault("Amount", $"What is taken comes from {first}, and its dilution is not made yet. Make that one first.")]);
        var fields = bench.Fields();
        var (step, part) = (own[(command.Ordinal - 1) / 3], Part(own, command.Ordinal - 1));
        var piece = part == Measured.Aliquot ? shelf.Pieces[step.WithId] : shelf.Pieces[step.InId];
        var planned = part == Measured.Aliquot ? step.Aliquot : step.Made;
        var amount = part == Measured.Nothing ? null : AmountText.Read(fields, bench, "Amount", command.Amount, piece.IsBalance, "what was dispensed");
        var slip = fields.Optional("Slip", command.Slip, 300);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var rescue = "";
        if (amount is { } real && Math.Abs(real - planned) > 1e-9 * planned)
        {
            Set(own, command.Ordinal - 1, real, command.Amount.Trim());
            try
            {
                var value = WaterReading.KnownWords(shelf.Evaluate(row, steps, asDone: true).Concentration, shelf.Stock.Form, bench.Sign);
                rescue = $"You are at {NumberWords.Plain(real, 6, bench.Sign)}{Words.NoBreak}{piece.Unit} instead of {NumberWords.Plain(planned, 6, bench.Sign)}: carry on, the value is now {value}.";
            }
            catch (PreparationException refusal)
            {
                fields.Fault("Amount", refusal.Message);
                return new Outcome.Refused(fields.Faults);
            }
        }
        row.ActsDone++;
        if (slip.Length > 0)
            row.Slips += (row.Slips.Length > 0 ? "\n" : "") + $"Act {command.Ordinal}: {slip}";
        await act.Did($"{row.Label}: act {command.Ordinal} of {acts} done{(rescue.Length > 0 ? $" with {command.Amount.Trim()}" : "")}.", Subjects.Preparation, row.Id, cancel);
        return new Outcome.Recorded(rescue);
    }

    /// <summary>Label of the preparation whose dilution is shared and not made yet; null where nothing is missing.</summary>
    private async Task<string?> NotMadeYet(IReadOnlyList<PreparationStepRow> steps, CancellationToken cancel)
    {
        var shared = steps.Where(s => s.SharedStepId is not null).ToList();
        if (shared.Count == 0)
            return null;
        var owner = shared[0].Carried.PreparationId;
        var done = await records.Preparations.AsNoTracking().Where(p => p.Id == owner).Select(p => p.ActsDone).FirstOrDefaultAsync(cancel);
        return done < 3 * shared.Count ? shared[0].CarriedFor : null;
    }

    /// <summary>Label of a preparation that was begun from a dilution which a step back would undo; null where there is none.</summary>
    private async Task<string?> BuiltOn(IReadOnlyList<PreparationStepRow> own, int back, CancellationToken cancel)
    {
        var undone = own.Skip((back - 1) / 3).Select(s => s.Id).ToList();
        var followers = await records.PreparationSteps.AsNoTracking().Where(s => s.SharedStepId != null && undone.Contains(s.SharedStepId.Value)).Select(s => s.PreparationId).Distinct().ToListAsync(cancel);
        return followers.Count == 0 ? null : await records.Preparations.AsNoTracking().Where(p => followers.Contains(p.Id) && p.ActsDone > 0).Select(p => p.Label).FirstOrDefaultAsync(cancel);
    }

    private enum Measured
    {
        Aliquot,
        Made,
        Nothing,
    }

    private static Measured Part(IReadOnlyList<PreparationStepRow> steps, int act) => (act % 3, steps[act / 3].IsTotal) switch
    {
        (2, _) => Measured.Nothing,
        (0, true) or (1, false) => Measured.Aliquot,
        _ => Measured.Made,
    };

    private static void Set(IReadOnlyList<PreparationStepRow> steps, int act, double? amount, string typed)
    {
        var step = steps[act / 3];
        switch (Part(steps, act))
        {
            case Measured.Aliquot:
                (step.AliquotDone, step.AliquotDoneTyped) = (amount, typed);
                break;
            case Measured.Made:
                (step.MadeDone, step.MadeDoneTyped) = (amount, typed);
                break;
        }
    }
}
