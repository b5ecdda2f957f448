using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Shows one piece of glassware.</summary>
public sealed class ViewGlassware(RecordsContext records, Clock clock)
{
    private const int MostWaters = 50;

    /// <summary>Reads the piece.</summary>
    /// <param name="piece">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The piece; null where this bench has none of that key.</returns>
    public async Task<GlasswareView?> Handle(Guid piece, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        return await records.Glassware.AsNoTracking().FirstOrDefaultAsync(g => g.Id == piece, cancel) is { } row 
            ? GlasswareShelf.View(row, await records.GlasswareProofs.AsNoTracking().Where(p => p.PieceId == piece).ToListAsync(cancel), bench) with { Anew = await Anew(bench, piece, cancel) }
            : null;
    }

    private async Task<IReadOnlyList<AnewLine>> Anew(BenchSetting bench, Guid piece, CancellationToken cancel)
    {
        var used = records.PreparationSteps.AsNoTracking().Where(s => s.WithId == piece || s.InId == piece).Select(s => (Guid?)s.PreparationId);
        var lines = new List<AnewLine>();
        foreach (var water in await records.ReferenceWaters.AsNoTracking().Where(w => used.Contains(w.PreparationId)).OrderByDescending(w => w.AddedAt).Take(MostWaters).ToListAsync(cancel))
        {
            if (await ReckonAnew.Offer(records, bench, water, cancel) is { Length: > 0 } words)
                lines.Add(new AnewLine(water.Id, water.Label, words));
        }
        return lines;
    }
}
