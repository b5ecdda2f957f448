using System.Text.Json;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Puts the water of a preparation on the shelf, with its value as it was really made.</summary>
public sealed class FinishPreparation(RecordsContext records, Clock clock)
{
    /// <summary>The preparation.</summary>
    public sealed record Command
    {
        /// <summary>The preparation.</summary>
        public required Guid Preparation { get; init; }

        /// <summary>Last day of use, yyyy-MM-dd; may be empty.</summary>
        public string UseBy { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>It stands on the shelf.</summary>
        public sealed record Finished(Guid Water) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Finish(command, act, cancel), cancel);
    }

    private async Task<Outcome> Finish(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        if (await PreparationReading.Load(records, bench, command.Preparation, tracked: true, cancel) is not { } read)
            return new Outcome.Refused([new FieldFault("Preparation", "This preparation is not there any more. Look at the history, or plan another one.")]);
        var (row, steps, shelf) = read;
        if (row.DoneAt is not null && await records.ReferenceWaters.AsNoTracking().FirstOrDefaultAsync(w => w.PreparationId == row.Id && w.BottleId == null, cancel) is { } there)
            return new Outcome.Finished(there.Id);
        var acts = PreparationReading.Own(steps).Count * 3;
        if (row.ActsDone < acts)
            return new Outcome.Refused([new FieldFault("Preparation", $"Only {row.ActsDone} of {acts} acts are done. Finish them at the bench first.")]);
        var useBy = fields.Day("UseBy", command.UseBy);
        if (useBy < bench.Today)
            fields.Fault("UseBy", "The last day of use lies before today. Choose a later one, or leave it empty.");
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);

        var made = shelf.Evaluate(row, steps, asDone: true);
        var stock = await records.Stocks.FirstAsync(s => s.Id == row.StockId, cancel);
        var nutrientFree = await records.NutrientFreeWaters.FirstOrDefaultAsync(w => w.Id == row.NutrientFreeWaterId, cancel);
        var water = new ReferenceWater(records.BenchId, clock.NewId())
        {
            Label = row.Label,
            Code = await ShelfCode.NextWater(records, cancel),
            ParameterKey = stock.ParameterKey,
            OtherName = stock.OtherName,
            Form = stock.Form,
            Matrix = shelf.Water.Matrix,
            Salinity = made.Salinity,
            SalinityTyped = made.Salinity.ToString("0.#", System.Globalization.CultureInfo.InvariantCulture),
            EstimateId = await records.Estimates.Add(made.Concentration, stock.Form, "preparation", Inputs(row, steps), clock.NewId(), now, cancel),
            KnownTyped = Typed(made.Concentration.Value),
            DoubtTyped = Typed(made.Concentration.StandardUncertainty),
            DoubtKind = DoubtMeaning.Standard,
            Origin = Origin.OwnPreparation,
            OriginDetail = $"{shelf.Stock.Label}, {shelf.Stock.OriginWords}, in {shelf.Water.Label}",
            MadeOn = bench.Today,
            UseBy = useBy,
            PreparationId = row.Id,
            StockId = stock.Id,
            HidesOffset = shelf.HidesOffset,
            AmountMillilitres = made.MadeMillilitres,
            Who = fields.Optional("Who", command.Who, 40),
            AddedAt = now,
        };
        records.ReferenceWaters.Add(water);
        row.DoneAt = now;
        foreach (var value in shelf.Further)
        {
            var known = value.Evaluate(row, steps, asDone: true).Concentration;
            var further = PourAsItIs.Further(water, value.Row, await records.Estimates.Add(known, value.Row.Form, "preparation", Inputs(row, steps), clock.NewId(), now, cancel), clock.NewId());
            (further.KnownTyped, further.DoubtTyped, further.DoubtKind) = (Typed(known.Value), Typed(known.StandardUncertainty), DoubtMeaning.Standard);
            further.HidesOffset = value.HidesOffset;
            further.UseBy = useBy ?? WaterAgeing.UseBy(further, known.Value, bench);
            records.ReferenceWaters.Add(further);
        }
        water.UseBy ??= WaterAgeing.UseBy(water, made.Concentration.Value, bench);
        // a dilution that another preparation carries out is drawn there
        var (ofStock, ofWater) = (steps[0].SharedStepId is not null ? 0 : made.StockMillilitres ?? 0, Math.Max(0, (made.MadeMillilitres ?? 0) - (made.StockMillilitres ?? 0)));
        if (ofStock > 0)
            records.Draws.Add(new Draw(records.BenchId, clock.NewId()) { StockId = stock.Id, PreparationId = row.Id, Millilitres = ofStock, Who = water.Who, At = now });
        if (ofWater > 0 && nutrientFree is not null)
            records.Draws.Add(new Draw(records.BenchId, clock.NewId()) { NutrientFreeWaterId = nutrientFree.Id, PreparationId = row.Id, Millilitres = ofWater, Who = water.Who, At = now });
        await act.Did($"{water.Label} made and put on the shelf: {WaterReading.KnownWords(made.Concentration, shelf.Stock.Form, bench.Sign)}.", Subjects.Water, water.Id, cancel);
        return new Outcome.Finished(water.Id);
    }

    private static string Typed(double value) => value.ToString("R", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>What was dispensed, so that the model can be evaluated again.</summary>
    private static string Inputs(PreparationRow row, IReadOnlyList<PreparationStepRow> steps) => JsonSerializer.Serialize(new
    {
        row.StockId,
        row.NutrientFreeWaterId,
        row.TemperatureCelsius,
        row.Mixing,
        Steps = steps.Select(s => new { s.Carried.Id, Aliquot = s.Carried.AliquotDone ?? s.Aliquot, s.WithId, Made = s.Carried.MadeDone ?? s.Made, s.IsTotal, s.InId, Diluent = s.Diluent.ToString() }),
    });
}
