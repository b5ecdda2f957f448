using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>What a check takes of the waters on the shelf: the sample of its method for every reading.</summary>
internal static class CheckDraws
{
    /// <summary>Brings what was drawn in line with the number of readings; draws nothing where the sample of the method is not known.</summary>
    public static async Task Bring(RecordsContext records, Clock clock, Check check, IReadOnlyList<(CheckLevel Level, int Readings)> levels, CancellationToken cancel)
    {
        var fromShelf = levels.Where(l => l.Level.ReferenceWaterId is not null).ToList();
        if (fromShelf.Count == 0 || check.MethodId is not { } method
            || await records.Methods.Where(m => m.Id == method).Select(m => m.SampleVolumeMillilitres).FirstOrDefaultAsync(cancel) is not { } sample)
            return;
        var ids = fromShelf.Select(l => l.Level.Id).ToList();
        var there = await records.Draws.Where(d => d.CheckLevelId != null && ids.Contains(d.CheckLevelId.Value)).ToDictionaryAsync(d => d.CheckLevelId!.Value, cancel);
        var waterIds = fromShelf.Select(l => l.Level.ReferenceWaterId!.Value).Distinct().ToList();
        var waters = await records.ReferenceWaters.AsNoTracking().Where(w => waterIds.Contains(w.Id)).ToDictionaryAsync(w => w.Id, cancel);
        foreach (var (level, readings) in fromShelf)
        {
            if (there.TryGetValue(level.Id, out var draw))
            {
                draw.Millilitres = sample * readings;
            }
            else if (readings > 0 && waters.TryGetValue(level.ReferenceWaterId!.Value, out var water))
            {
                // a bottle that is used as it is stands on the shelf once, as its stock
                records.Draws.Add(new Draw(records.BenchId, clock.NewId())
                {
                    WaterId = water.IsStockItself ? null : water.BottleId ?? water.Id,
                    StockId = water.IsStockItself ? water.StockId : null,
                    CheckLevelId = level.Id,
                    Millilitres = sample * readings,
                    Who = check.Who,
                    At = clock.Now,
                });
            }
        }
    }

    /// <summary>The same for the levels of a check as it stands.</summary>
    /// <param name="records">The unit of work.</param>
    /// <param name="clock">The clock of the store.</param>
    /// <param name="rows">The check.</param>
    /// <param name="onlyTaken">Whether only the readings that were taken count, because no more will come.</param>
    /// <param name="cancel">Cancels the act.</param>
    public static Task Bring(RecordsContext records, Clock clock, CheckRows rows, bool onlyTaken, CancellationToken cancel) =>
        Bring(records, clock, rows.Check, [.. rows.Levels.Select(l => (l.Row, onlyTaken ? l.Replicates.Count + l.Conditioning.Count : l.Planned + rows.Check.ConditioningRuns))], cancel);
}
