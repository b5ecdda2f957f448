using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Finds what a code on a label stands for.</summary>
public sealed class FindByCode(RecordsContext records)
{
    /// <summary>What was found.</summary>
    /// <param name="Water">Key of a known water; null where the code is a stock's.</param>
    /// <param name="Stock">Key of a stock; null where the code is a water's.</param>
    public sealed record Found(Guid? Water, Guid? Stock);

    /// <summary>Looks a code up.</summary>
    /// <param name="code">The code, or the whole text that a square code held; upper or lower case.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>What it stands for; null where this bench has no such code on the shelf.</returns>
    public async Task<Found?> Handle(string code, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(code);
        var first = code.Trim().Split(' ', 2)[0].ToUpperInvariant();
        if (first.Length is 0 or > 20)
            return null;
        if (await records.ReferenceWaters.AsNoTracking().Where(w => w.Code == first).Select(w => (Guid?)w.Id).FirstOrDefaultAsync(cancel) is { } water)
            return new Found(water, null);
        return await records.Stocks.AsNoTracking().Where(s => s.Code == first).Select(s => (Guid?)s.Id).FirstOrDefaultAsync(cancel) is { } stock ? new Found(null, stock) : null;
    }
}
