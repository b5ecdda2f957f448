using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Takes a ready-to-use bottle as known water, as it is: with the value, the doubt and the error source of its certificate.</summary>
public sealed class PourAsItIs(RecordsContext records, Clock clock)
{
    /// <summary>The bottle.</summary>
    public sealed record Command
    {
        /// <summary>The stock.</summary>
        public required Guid Stock { get; init; }

        /// <summary>What the water is.</summary>
        public Matrix Matrix { get; init; }

        /// <summary>Practical salinity as typed; needed for seawater.</summary>
        public string Salinity { get; init; } = "";

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>It stands on the shelf as known water.</summary>
        public sealed record Poured(Guid Water) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Pour(command, act, cancel), cancel);
    }

    private async Task<Outcome> Pour(Command command, Act act, CancellationToken cancel)
    {
        var now = clock.Now;
        var bench = await BenchSetting.Read(records, now, cancel);
        var fields = bench.Fields();
        if (await records.Stocks.FirstOrDefaultAsync(s => s.Id == command.Stock && s.BottleId == null, cancel) is not { } stock)
            return new Outcome.Refused([new FieldFault("Stock", "This stock is not on the shelf any more. Look at the stocks, or take it back in the history.")]);
        var salinity = command.Matrix == Matrix.Seawater
            ? fields.NeededNumber("Salinity", command.Salinity, "a salinity", "The salinity is missing. A standard in pure water is fresh water; a seawater method needs seawater.", 3, 42)
            : fields.Number("Salinity", command.Salinity, "the salinity of fresh water", 0, 3);
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        var water = new ReferenceWater(records.BenchId, clock.NewId())
        {
            Label = stock.Label,
            Code = await ShelfCode.NextWater(records, cancel),
            ParameterKey = stock.ParameterKey,
            OtherName = stock.OtherName,
            Form = stock.Form,
            Matrix = command.Matrix,
            Salinity = salinity,
            SalinityTyped = command.Salinity.Trim(),
            EstimateId = stock.EstimateId,
            KnownTyped = stock.KnownTyped,
            DoubtTyped = stock.DoubtTyped,
            DoubtKind = stock.DoubtKind,
            Origin = stock.Origin,
            OriginDetail = stock.OriginDetail,
            MadeOn = stock.OpenedOn,
            UseBy = stock.UseBy,
            StockId = stock.Id,
            Who = fields.Optional("Who", command.Who, 40),
            AddedAt = now,
        };
        records.ReferenceWaters.Add(water);
        foreach (var value in await records.Stocks.AsNoTracking().Where(s => s.BottleId == stock.Id).ToListAsync(cancel))
            records.ReferenceWaters.Add(Further(water, value, value.EstimateId, clock.NewId()));
        await act.Did($"{stock.Label} is used as known water, as it is.", Subjects.Water, water.Id, cancel);
        return new Outcome.Poured(water.Id);
    }

    /// <summary>A further value of the same bottle.</summary>
    internal static ReferenceWater Further(ReferenceWater first, Stock value, Guid estimate, Guid id) => new(first.BenchId, id)
    {
        BottleId = first.Id,
        Label = first.Label,
        ParameterKey = value.ParameterKey,
        OtherName = value.OtherName,
        Form = value.Form,
        Matrix = first.Matrix,
        Salinity = first.Salinity,
        SalinityTyped = first.SalinityTyped,
        EstimateId = estimate,
        KnownTyped = value.KnownTyped,
        DoubtTyped = value.DoubtTyped,
        DoubtKind = value.DoubtKind,
        Origin = first.Origin,
        OriginDetail = first.OriginDetail,
        MadeOn = first.MadeOn,
        UseBy = first.UseBy,
        PreparationId = first.PreparationId,
        StockId = first.StockId,
        AmountMillilitres = first.AmountMillilitres,
        HidesOffset = first.HidesOffset,
        Who = first.Who,
        AddedAt = first.AddedAt,
    };
}
