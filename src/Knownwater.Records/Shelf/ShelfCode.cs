using System.Globalization;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>Short codes for labels: KW-1, KW-2 … for known water, S-1, S-2 … for stocks; a code is never given twice on a bench.</summary>
internal static class ShelfCode
{
    public static async Task<string> NextWater(RecordsContext records, CancellationToken cancel) =>
        Next(Water, [.. await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Select(w => w.Code).ToListAsync(cancel), .. records.ReferenceWaters.Local.Select(w => w.Code)]);

    public static async Task<string> NextStock(RecordsContext records, CancellationToken cancel) =>
        Next(Stock, [.. await records.Stocks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Select(s => s.Code).ToListAsync(cancel), .. records.Stocks.Local.Select(s => s.Code)]);

    /// <summary>Gives codes to the waters of this bench that were put on the shelf before there were codes, in the order in which they came.</summary>
    public static async Task GiveToOld(RecordsContext records, CancellationToken cancel)
    {
        var without = await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(w => w.Code == "").OrderBy(w => w.AddedAt).ThenBy(w => w.Id).ToListAsync(cancel);
        foreach (var water in without)
            water.Code = await NextWater(records, cancel);
        await records.SaveChangesAsync(cancel);
    }

    private const string Water = "KW-";
    private const string Stock = "S-";

    private static string Next(string prefix, IReadOnlyList<string> codes) =>
        prefix + (codes.Where(c => c.StartsWith(prefix, StringComparison.Ordinal)).Select(c => int.TryParse(c.AsSpan(prefix.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : 0).DefaultIfEmpty().Max() + 1)
            .ToString(CultureInfo.InvariantCulture);
}
