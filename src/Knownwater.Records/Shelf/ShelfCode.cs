using System.Globalization;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Short codes for labels: KW-1, KW-2 … for known water, S-1, S-2 … for stocks; a code is never given twice on a bench.</summary>
internal static class ShelfCode
{
    public static async Task<string> NextWater(RecordsContext records, CancellationToken cancel) =>
        Next("KW-", await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Select(w => w.Code).ToListAsync(cancel));

    public static async Task<string> NextStock(RecordsContext records, CancellationToken cancel) =>
        Next("S-", await records.Stocks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Select(s => s.Code).ToListAsync(cancel));

    private static string Next(string prefix, IEnumerable<string> codes) =>
        prefix + (codes.Where(c => c.StartsWith(prefix, StringComparison.Ordinal)).Select(c => int.TryParse(c.AsSpan(prefix.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : 0).DefaultIfEmpty().Max() + 1)
            .ToString(CultureInfo.InvariantCulture);
}
