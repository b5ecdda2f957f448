using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Notes that some of a bottle was used: known water, a stock, or nutrient-free water.</summary>
public sealed class DrawFromShelf(RecordsContext records, Clock clock)
{
    /// <summary>The bottle and the amount.</summary>
    public sealed record Command
    {
        /// <summary>Key of the known water, the stock or the nutrient-free water.</summary>
        public required Guid Bottle { get; init; }

        /// <summary>How much was used as typed: a number in mL, or one with its unit.</summary>
        public required string Amount { get; init; }

        /// <summary>Initials of who does it; may be empty.</summary>
        public string Who { get; init; } = "";

        /// <summary>Key that makes a repeated request harmless.</summary>
        public Guid? RequestId { get; init; }
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>Noted; the entry by which it is undone.</summary>
        public sealed record Drawn(Guid HistoryEntry) : Outcome;

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
        return Act.Run<Outcome>(records, clock, command.Who, command.RequestId, act => Take(command, act, cancel), cancel);
    }

    private async Task<Outcome> Take(Command command, Act act, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        var draw = new Draw(records.BenchId, clock.NewId()) { At = clock.Now, Typed = (command.Amount ?? "").Trim(), Who = fields.Optional("Who", command.Who, 40) };
        string label, kind;
        double? whole;
        var water = await records.ReferenceWaters.AsNoTracking().FirstOrDefaultAsync(w => w.Id == command.Bottle, cancel);
        if (water?.BottleId is { } first)
            water = await records.ReferenceWaters.AsNoTracking().FirstOrDefaultAsync(w => w.Id == first, cancel);
        var bottle = water is { IsStockItself: true, StockId: { } itself } ? itself : water?.Id ?? command.Bottle;
        if (water is { IsStockItself: false })
        {
            (draw.WaterId, label, kind, whole) = (water.Id, water.Label, Subjects.Water, water.AmountMillilitres);
        }
        else if (await records.Stocks.AsNoTracking().FirstOrDefaultAsync(s => s.Id == bottle, cancel) is { } stock)
        {
            (draw.StockId, label, kind, whole) = (stock.Id, stock.Label, Subjects.Stock, stock.AmountMillilitres);
        }
        else if (await records.NutrientFreeWaters.AsNoTracking().FirstOrDefaultAsync(w => w.Id == bottle, cancel) is { } nutrientFree)
        {
            (draw.NutrientFreeWaterId, label, kind, whole) = (nutrientFree.Id, nutrientFree.Label, Subjects.NutrientFree, nutrientFree.AmountMillilitres);
        }
        else
        {
            return new Outcome.Refused([new FieldFault("Bottle", "This bottle is not on the shelf any more. Look at the shelf, or take it back in the history.")]);
        }

        if (draw.Typed.Length == 0)
            fields.Fault("Used", "How much was used is not said. Write it in mL, as in 20, or with its unit.");
        draw.Millilitres = AmountText.Read(fields, bench, "Used", draw.Typed, isMass: false, "an amount used") ?? 0;
        if (fields.Ok && (await BottleAmount.Read(records, [bottle], cancel))(bottle, whole).Left is { } left && draw.Millilitres > left * (1 + 1e-9))
        {
            fields.Fault("Used", left == 0
                ? $"By the records {label} is empty. Take it off the shelf, or correct how much there was."
                : $"{Amount(draw.Millilitres, bench.Sign)} is more than the {Amount(left, bench.Sign)} that are left by the records. Write less, or say that it is empty.");
        }
        if (!fields.Ok)
            return new Outcome.Refused(fields.Faults);
        records.Draws.Add(draw);
        var entry = await act.Did($"{Amount(draw.Millilitres, bench.Sign)} of {label} used.", kind, bottle, cancel);
        return new Outcome.Drawn(entry.Id);
    }

    private static string Amount(double millilitres, DecimalSign sign) => $"{NumberWords.Plain(millilitres, 4, sign)}{Words.NoBreak}mL";
}
