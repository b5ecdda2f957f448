using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Shows one piece of glassware.</summary>
public sealed class ViewGlassware(RecordsContext records, Clock clock)
{
    /// <summary>Reads the piece.</summary>
    /// <param name="piece">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The piece; null where this bench has none of that key.</returns>
    public async Task<GlasswareView?> Handle(Guid piece, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        return await records.Glassware.AsNoTracking().FirstOrDefaultAsync(g => g.Id == piece, cancel) is { } row 
            ? GlasswareShelf.View(row, await records.GlasswareProofs.AsNoTracking().Where(p => p.PieceId == piece).ToListAsync(cancel), bench)
            : null;
    }
}
