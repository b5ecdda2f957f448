using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Plans a round: several methods that are checked together, with waters from the shelf or still to be made. First dilutions that its preparations have in common are made once.</summary>
public sealed class PlanRound(RecordsContext records, Clock clock)
{
    /// <summary>The most methods of a round.</summary>
    public const int MostMethods = 20;

    /// <summary>The round.</summary>
    public sealed record Command
    {
        /// <summary>What it is called; empty for its day.</summary>
        public string Label { get; init; } = "";

        /// <summary>Its methods, each with its waters.</summary>
        public required IReadOnlyList<MethodEntry> Methods { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>One method with its waters.</summary>
    /// <param name="Method">The method.</param>
    /// <param name="Bottles">Keys of known waters, or of preparations that are planned; an empty choice is left out.</param>
    public sealed record MethodEntry(Guid Method, IReadOnlyList<Guid?> Bottles);

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Planned; how many first dilutions are made once for several waters.</summary>
        public sealed record Planned(Guid Round, int SharedDilutions) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Plan(command, act, cancel), cancel);
    }

    private async Task<Outcome> Plan(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        var label = fields.Optional("Label", command.Label, 80);
        if (command.Methods.Count < 2)
            fields.Fault("Methods", command.Methods.Count == 0 ? "No method is chosen. Choose the methods that are checked together." : "One method alone is a check and needs no round. Choose another method too, or check it by itself.");
        if (command.Methods.Count > MostMethods)
            fields.Fault("Methods", $"A round takes {MostMethods} methods at the most; these are {command.Methods.Count}. Make two rounds.");
        if (command.Methods.Select(m => m.Method).Distinct().Count() < command.Methods.Count)
            fields.Fault("Methods", "A method is chosen twice. A round checks each of its methods once.");
        var round = new RoundRow(records.BenchId, clock.NewId()) { Label = label.Length > 0 ? label : $"Round of {Words.Day(bench.Today, bench.Today)}", Who = fields.Optional("Who", command.Who, 40), PlannedAt = now };
        var preparations = new List<Guid>();
        records.Rounds.Add(round);
        for (var i = 0; i < Math.Min(command.Methods.Count, MostMethods); i++)
            await Add(round, command.Methods[i], i, bench, fields, preparations, cancel);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var shared = await ShareDilutions(preparations, cancel);
        await act.Did($"{round.Label} planned: {Words.Count(command.Methods.Count)} methods{(shared > 0 ? $", {(shared == 1 ? "one dilution" : Words.Count(shared) + " dilutions")} made once for several waters" : "")}.", Subjects.Round, round.Id, cancel);
        return new Outcome.Planned(round.Id, shared);
    }

    private async Task Add(RoundRow round, MethodEntry entry, int place, BenchSetting bench, TypedFields fields, List<Guid> preparations, CancellationToken cancel)
    {
        if (await records.Methods.AsNoTracking().FirstOrDefaultAsync(m => m.Id == entry.Method, cancel) is not { } method)
        {
            fields.Fault($"Methods[{place}].Bottles[0]", "That method is not there any more. Leave it out.");
            return;
        }
        var measured = Records.Measured.Of(method.ParameterKey, method.OtherName, method.Form);
        var bottles = entry.Bottles.Select((b, i) => (Key: b, Field: $"Methods[{place}].Bottles[{i}]")).Where(b => b.Key is not null).ToList();
        if (bottles.Count == 0)
            fields.Fault($"Methods[{place}].Bottles[0]", $"No water is chosen for {Words.Small(measured.Name)}. Choose one from the shelf or one that is planned, or leave the method out.");
        if (bottles.Count > StartCheck.MostLevels)
            fields.Fault(bottles[StartCheck.MostLevels].Field, $"A check has {Words.Count(StartCheck.MostLevels)} levels at the most. Leave some waters out.");
        var row = new RoundMethod(records.BenchId, clock.NewId()) { RoundId = round.Id, MethodId = method.Id, Ordinal = place + 1 };
        records.RoundMethods.Add(row);
        var read = new List<(RoundBottle Bottle, string Field)>();
        foreach (var (key, field) in bottles)
        {
            if (read.Exists(r => r.Bottle.Key == key))
                fields.Fault(field, "This water is chosen twice for this method. Choose another level, or none.");
            else if (await RoundBottle.Read(records, bench, key!.Value, measured, cancel) is not { } bottle)
                fields.Fault(field, $"This water is gone, or is not known for {Words.Small(measured.Name)}. Choose another one.");
            else if (PlanFields.Mismatch(bottle.Matrix, bottle.Salinity, method, bench.Sign) is { } mismatch)
                fields.Fault(field, mismatch);
            else if (method.RangeHigh is { } high && bottle.Known.Value > high)
                fields.Fault(field, $"The method shows up to {Quantities.NumberWords.Plain(high, 5, bench.Sign)}{Words.NoBreak}{measured.Form.UnitDisplay}; {bottle.KnownWords} lies beyond. Choose a lower level.");
            else
                read.Add((bottle, field));
        }
        // a low level goes before a high one, so that residue of the high one does no harm
        foreach (var (bottle, ordinal) in read.Select(r => r.Bottle).OrderBy(b => b.Known.Value).Select((b, i) => (b, i + 1)))
        {
            records.RoundLevels.Add(new RoundLevel(records.BenchId, clock.NewId()) { RoundMethodId = row.Id, Ordinal = ordinal, ReferenceWaterId = bottle.Water, PreparationId = bottle.Water is null ? bottle.Preparation : null });
            if (bottle.Water is null && bottle.Preparation is { } preparation && !preparations.Contains(preparation))
                preparations.Add(preparation);
        }
    }

    /// <summary>Makes leading dilutions that are the same, step for step, once: the first preparation carries them out, the others take from its water where it holds enough.</summary>
    private async Task<int> ShareDilutions(List<Guid> ids, CancellationToken cancel)
    {
        var rows = await records.Preparations.AsNoTracking().Where(p => ids.Contains(p.Id) && p.DoneAt == null && p.ActsDone == 0).ToListAsync(cancel);
        var steps = (await records.PreparationSteps.Where(s => ids.Contains(s.PreparationId)).OrderBy(s => s.Ordinal).ToListAsync(cancel)).ToLookup(s => s.PreparationId);
        var carriers = new List<(PreparationRow Row, List<PreparationStepRow> Steps, Dictionary<Guid, double> Taken)>();
        var shared = 0;
        foreach (var row in rows.OrderBy(r => ids.IndexOf(r.Id)))
        {
            var own = steps[row.Id].ToList();
            if (own.Exists(s => s.SharedStepId is not null))
                continue;
            var best = carriers.Select(c => (Carrier: c, Length: Common(row, own, c))).OrderByDescending(c => c.Length).FirstOrDefault();
            if (best.Length == 0)
            {
                carriers.Add((row, own, own.Zip(own.Skip(1)).ToDictionary(p => p.First.Id, p => p.Second.Aliquot)));
                continue;
            }
            for (var i = 0; i < best.Length; i++)
                own[i].SharedStepId = best.Carrier.Steps[i].Id;
            best.Carrier.Taken[best.Carrier.Steps[best.Length - 1].Id] += own[best.Length].Aliquot;
            shared += best.Length;
        }
        return shared;

        static int Common(PreparationRow row, List<PreparationStepRow> own, (PreparationRow Row, List<PreparationStepRow> Steps, Dictionary<Guid, double> Taken) carrier)
        {
            if (row.StockId != carrier.Row.StockId || row.NutrientFreeWaterId != carrier.Row.NutrientFreeWaterId || row.TemperatureCelsius != carrier.Row.TemperatureCelsius || row.Mixing != carrier.Row.Mixing)
                return 0;
            // the last step is the water itself and stays each one's own
            var most = Math.Min(own.Count, carrier.Steps.Count) - 1;
            var length = 0;
            while (length < most && IsSame(own[length], carrier.Steps[length]))
                length++;
            // what is taken of the last common dilution has to be there
            while (length > 0 && carrier.Taken[carrier.Steps[length - 1].Id] + own[length].Aliquot > carrier.Steps[length - 1].Made)
                length--;
            return length;
        }

        static bool IsSame(PreparationStepRow a, PreparationStepRow b) =>
            (a.Aliquot, a.WithId, a.Made, a.IsTotal, a.InId, a.Diluent) == (b.Aliquot, b.WithId, b.Made, b.IsTotal, b.InId, b.Diluent);
    }
}
