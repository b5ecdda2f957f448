using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Reads a preparation into what pages show.</summary>
internal static class PreparationReading
{
    public static PreparationView View(PreparationRow row, IReadOnlyList<PreparationStepRow> steps, PreparationFields fields, Guid? water, BenchSetting bench)
    {
        var planned = fields.Evaluate(row, steps, asDone: false);
        var done = fields.Evaluate(row, steps, asDone: true);
        var form = fields.Stock.Form;
        var sign = bench.Sign;
        var facts = new List<NumberLine>
        {
            new("Made from", $"{fields.Stock.Label}, {fields.Stock.KnownWords}, {fields.Stock.OriginWords}"),
            new("Made in", $"{fields.Water.Label}, {Words.Small(fields.Water.KindWords)}"),
            new("Salinity of the water made", NumberWords.Plain(done.Salinity, 3, sign)),
        };
        if (done.StockMillilitres is { } stock && done.MadeMillilitres is { } made)
            facts.Add(new NumberLine("Amounts", $"{NumberWords.Plain(stock, 3, sign)}{Words.NoBreak}mL of stock, {NumberWords.Plain(made, 3, sign)}{Words.NoBreak}mL made"));
        foreach (var other in fields.Further)
            facts.Add(new NumberLine("Also known in it", $"{other.Stock.ParameterName}, {WaterReading.KnownWords(other.Evaluate(row, steps, asDone: true).Concentration, other.Stock.Form, sign)}"));
        foreach (var other in done.Others)
            facts.Add(new NumberLine("Also in it", $"{other.Name}, {NumberWords.Plain(other.Added, 3, sign)}{Words.NoBreak}{other.Form.Display}"));
        var largest = done.Concentration.LargestAmong(s => done.Bought.Contains(s.Id));
        var cautions = new List<string>();
        if (fields.Stock.PastUseBy)
            cautions.Add($"{fields.Stock.Label} is past its date. Its value may have moved.");
        if (fields.Water.PastUseBy)
            cautions.Add($"{fields.Water.Label} is past its date. Its background may have risen.");
        if (fields.HidesOffset && steps.Count > 0)
            cautions.Add("An offset of the analyser would hide in the background of this water. Make two levels and judge by their difference, or have the background measured elsewhere.");
        cautions.AddRange(done.Cautions.Where(c => !c.StartsWith("The water is taken as free", StringComparison.Ordinal)));
        return new PreparationView
        {
            Id = row.Id,
            Label = row.Label,
            ParameterName = fields.Stock.ParameterName,
            FurtherNames = [.. fields.Further.Select(f => f.Stock.ParameterName)],
            Matrix = fields.Water.Matrix,
            Form = form,
            ValueWords = WaterReading.KnownWords(done.Concentration, form, sign),
            PlannedWords = WaterReading.KnownWords(planned.Concentration, form, sign),
            LargestBoughtWords = largest is { } bought && bought.Value * bought.Value > 0.01 * done.Concentration.StandardUncertainty * done.Concentration.StandardUncertainty
                ? $"Of what only another bottle makes smaller, the largest part is {bought.Source.Name}." : "",
            Doubts = WaterReading.Doubts(done.Concentration, form, sign, done.Bought.Contains),
            Facts = facts,
            Cautions = cautions,
            Acts = Acts(row, steps, fields, bench),
            ActsDone = row.ActsDone,
            Slips = row.Slips.Split('\n', StringSplitOptions.RemoveEmptyEntries),
            DoneAt = row.DoneAt,
            Water = water,
            Plan = new PlanPreparation.Command
            {
                Label = row.Label,
                Stock = row.StockId,
                Water = row.NutrientFreeWaterId,
                Steps = [.. steps.Select(s => new PlanPreparation.StepEntry { Aliquot = s.AliquotTyped, With = s.WithId, Made = s.MadeTyped, IsTotal = s.IsTotal, In = s.InId, Diluent = s.Diluent })],
                Temperature = row.TemperatureTyped,
                Mixing = row.MixingTyped,
                Target = row.TargetTyped,
            },
            PlannedAtWords = Words.Moment(bench.At(row.PlannedAt)),
        };
    }

    /// <summary>Reads a preparation with what it is made of.</summary>
    /// <param name="records">The unit of work.</param>
    /// <param name="bench">Its bench.</param>
    /// <param name="id">The preparation.</param>
    /// <param name="tracked">Whether its rows shall be changed.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <param name="withLaterProofs">Whether proofs count that were finished after the water was made.</param>
    public static async Task<(PreparationRow Row, List<PreparationStepRow> Steps, PreparationFields Fields)?> Load(RecordsContext records, BenchSetting bench, Guid id, bool tracked, CancellationToken cancel, bool withLaterProofs = false)
    {
        var rows = tracked ? records.Preparations : records.Preparations.AsNoTracking();
        if (await rows.FirstOrDefaultAsync(p => p.Id == id, cancel) is not { } row)
            return null;
        var steps = await (tracked ? records.PreparationSteps : records.PreparationSteps.AsNoTracking()).Where(s => s.PreparationId == id).OrderBy(s => s.Ordinal).ToListAsync(cancel);
        await ReadShared(records, steps, cancel);
        var pieces = steps.SelectMany(s => new[] { s.WithId, s.InId }).Distinct().ToList();
        var fields = await PreparationFields.Read(records, bench, row.StockId, row.NutrientFreeWaterId, pieces, cancel, withLaterProofs ? null : row.DoneAt)
            ?? throw new InvalidOperationException($"Preparation {id} names a stock or a water that is not in the records.");
        return (row, steps, fields);
    }

    /// <summary>The steps that this preparation carries out itself; the others come from another one.</summary>
    public static IReadOnlyList<PreparationStepRow> Own(IReadOnlyList<PreparationStepRow> steps) => [.. steps.Where(s => s.SharedStepId is null)];

    private static async Task ReadShared(RecordsContext records, IReadOnlyList<PreparationStepRow> steps, CancellationToken cancel)
    {
        var own = steps.Select(s => s.Id).ToList();
        var takers = await (
            from s in records.PreparationSteps.AsNoTracking()
            where s.SharedStepId != null && own.Contains(s.SharedStepId.Value)
            join p in records.Preparations on s.PreparationId equals p.Id
            orderby p.PlannedAt
            select new { Step = s.SharedStepId!.Value, s.PreparationId, s.Ordinal, p.Label }).ToListAsync(cancel);
        // of several dilutions in common the last one is poured from
        foreach (var taker in takers.GroupBy(t => t.PreparationId).Select(g => g.MaxBy(t => t.Ordinal)!))
        {
            var step = steps.First(s => s.Id == taker.Step);
            step.KeptFor = [.. step.KeptFor, taker.Label];
        }
        var ids = steps.Select(s => s.SharedStepId).OfType<Guid>().ToList();
        if (ids.Count == 0)
            return;
        string[] deleted = [RecordsContext.DeletedFilter];
        var carried = await records.PreparationSteps.AsNoTracking().IgnoreQueryFilters(deleted).Where(s => ids.Contains(s.Id)).ToDictionaryAsync(s => s.Id, cancel);
        var owners = carried.Values.Select(s => s.PreparationId).Distinct().ToList();
        var labels = await records.Preparations.AsNoTracking().IgnoreQueryFilters(deleted).Where(r => owners.Contains(r.Id)).ToDictionaryAsync(r => r.Id, r => r.Label, cancel);
        foreach (var step in steps)
        {
            if (step.SharedStepId is { } id)
                (step.Carried, step.CarriedFor) = (carried[id], labels[carried[id].PreparationId]);
        }
    }

    /// <summary>Three acts a step of its own: for a total the aliquot comes first, else the water, and the mixing last.</summary>
    private static List<BenchAct> Acts(PreparationRow row, IReadOnlyList<PreparationStepRow> steps, PreparationFields fields, BenchSetting bench)
    {
        var acts = new List<BenchAct>();
        for (var i = 0; i < steps.Count; i++)
        {
            var step = steps[i];
            if (step.SharedStepId is not null)
                continue;
            var (with, inside) = (fields.Pieces[step.WithId], fields.Pieces[step.InId]);
            var what = i == 0 ? fields.Stock.Label : steps[i - 1].CarriedFor.Length > 0 ? $"the {Words.Nth(i)} dilution of {steps[i - 1].CarriedFor}" : "the water of the step before";
            var diluent = step.Diluent == Diluent.PureWater ? "purified water" : fields.Water.Label;
            var cue = steps.Count == 1 ? "" : $"Dilution {Words.Count(i + 1)} of {Words.Count(steps.Count)} · ";
            string Size(double value, string unit) => $"{NumberWords.Plain(value, 6, bench.Sign)}{Words.NoBreak}{unit}";
            string Plain(double value, string unit) => $"{NumberWords.Plain(value, 6, bench.Sign)} {unit}";
            string Real(double? value, string unit) => value is { } v ? Size(v, unit) : "as planned";
            BenchAct Aliquot(bool last)
            {
                var act = with.IsBalance
                    ? $"Tare. Weigh in {Size(step.Aliquot, "g")} of {what}."
                    : $"Rinse {with.Name} with {what}. {(last ? "Add" : "Put")} {Size(step.Aliquot, "mL")} of it {(last ? "to the water" : inside.IsBalance ? "into the bottle on the balance" : $"into {inside.Name}")}.";
                return new BenchAct(0, cue + (i == 0 ? "the stock" : "the aliquot"), act, with.IsBalance ? "Weighed" : "Pipetted",
                    "Its pipette or balance is usually the largest part of the doubt: take your time here.", i == 0 ? "Gloves and goggles for a standard in acid. Its data sheet has the last word." : "", Plain(step.Aliquot, with.Unit), with.Unit, Real(step.AliquotDone, with.Unit));
            }
            BenchAct Made(bool first)
            {
                var act = inside.IsBalance
                    ? first
                        ? $"Empty bottle on {inside.Name}. Tare. Pour in {Size(step.Made, "g")} of {diluent}."
                        : step.IsTotal ? $"Fill with {diluent} until {inside.Name} shows {Size(step.Made, "g")} in all." : $"Add {Size(step.Made, "g")} of {diluent}."
                    : step.IsTotal ? $"Fill {inside.Name} with {diluent} to {Size(step.Made, "mL")}." : $"Measure {Size(step.Made, "mL")} of {diluent} with {inside.Name} into a clean bottle.";
                return new BenchAct(0, cue + "the water", act, inside.IsBalance ? "Poured" : "Filled",
                    inside.HasOneMark ? "The lower edge of the meniscus touches the mark, seen at eye level." : "What matters is what the display or scale says, not that it is round: write what is there.", "", Plain(step.Made, inside.Unit), inside.Unit, Real(step.MadeDone, inside.Unit));
            }
            acts.AddRange(step.IsTotal ? [Aliquot(last: false), Made(first: false)] : [Made(first: true), Aliquot(last: true)]);
            acts.Add(new BenchAct(0, cue + "mixing", "Close it. Turn it over twenty times.", "Mixed", "What is not mixed reads high in one pour and low in the next.", step.KeptFor.Count > 0 ? $"Keep what is left: {Words.List(step.KeptFor)} {(step.KeptFor.Count == 1 ? "is" : "are")} made from it too."
                : i == steps.Count - 1 ? "Label it now. Known water never goes into a tank." : "", "", "", ""));
        }
        return [.. acts.Select((a, i) => a with { Cue = Words.Capital(a.Cue), Ordinal = i + 1, DoneWords = i < row.ActsDone ? a.DoneWords : "" })];
    }
}
