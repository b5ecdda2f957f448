using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Lists the glassware of the bench.</summary>
public sealed class ListGlassware(RecordsContext records, Clock clock)
{
    /// <summary>Reads the list.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>Pieces by kind and name.</returns>
    public async Task<IReadOnlyList<GlasswareView>> Handle(CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var rows = await records.Glassware.AsNoTracking().ToListAsync(cancel);
        var proofs = (await records.GlasswareProofs.AsNoTracking().ToListAsync(cancel)).ToLookup(p => p.PieceId);
        return [.. rows.Select(r => GlasswareShelf.View(r, [.. proofs[r.Id]], bench)).OrderBy(v => v.Kind).ThenBy(v => v.Name, StringComparer.CurrentCultureIgnoreCase)];
    }
}
