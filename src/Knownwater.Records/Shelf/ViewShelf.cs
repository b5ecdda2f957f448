using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Shows the whole shelf: what wants attention first, then known waters, stocks and nutrient-free waters with what is left of each.</summary>
public sealed class ViewShelf(RecordsContext records, Clock clock)
{
    /// <summary>Reads the shelf.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The shelf.</returns>
    public async Task<ShelfView> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var ages = await AgeToday.Read(records, bench, cancel);
        var waters = await new ListReferenceWaters(records, clock).Handle(new ListReferenceWaters.Query(), cancel);
        var stocks = await new ListStocks(records, clock).Handle(cancel);
        var nutrientFree = await new ListNutrientFree(records, clock).Handle(cancel);
        var kept = await records.Preparations.AsNoTracking().Select(p => p.Id).ToListAsync(cancel);
        return new ShelfView
        {
            Notes =
            [
                .. ages.OrderByDescending(a => a.IsNow).Select(a => new ShelfNote(a.Sentence, a.Reason) { Water = a.Water.Id, Again = a.Water.PreparationId is { } p && kept.Contains(p) ? p : null }),
                .. stocks.Where(s => s.PastUseBy).Select(s => new ShelfNote($"{Name(s.Code, s.Label)} is past its date. Open a fresh stock.", "Its value may have moved, and with it that of every water made from it.") { Stock = s.Id }),
                .. nutrientFree.Where(w => w.PastUseBy).Select(w => new ShelfNote($"{w.Label} is past its date. Take fresh water to prepare in.", "What it holds already may have risen.") { NutrientFree = w.Id }),
                .. waters.Where(w => w.Bottle is null && w.Amount.IsLow && !w.PastUseBy && !stocks.Any(s => s.Id == w.Stock && w.Preparation is null))
                    .Select(w => Low(Name(w.Code, w.Label), w.LeftWords) with { Water = w.Id, Again = w.Preparation is { } p && kept.Contains(p) ? p : null }),
                .. stocks.Where(s => s.Amount.IsLow && !s.PastUseBy).Select(s => Low(Name(s.Code, s.Label), s.LeftWords) with { Stock = s.Id }),
                .. nutrientFree.Where(w => w.Amount.IsLow && !w.PastUseBy).Select(w => Low(w.Label, w.LeftWords) with { NutrientFree = w.Id }),
            ],
            Waters = [.. waters.OrderByDescending(w => w.PastUseBy)],
            Stocks = [.. stocks.OrderByDescending(s => s.PastUseBy)],
            NutrientFree = [.. nutrientFree.OrderByDescending(w => w.PastUseBy)],
        };
    }

    private static ShelfNote Low(string name, string left) =>
        left.StartsWith("empty", StringComparison.Ordinal)
            ? new ShelfNote($"{name} is {left}.", "Take it off the shelf, or make or open another one.")
            : new ShelfNote($"{name} runs low: {left}.", "A tenth or less of what there was is left.");

    private static string Name(string code, string label) => code.Length > 0 && code != label ? $"{code} {label}" : label;
}
