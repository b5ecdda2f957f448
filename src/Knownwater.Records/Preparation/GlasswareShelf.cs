using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Preparation;

/// <summary>Reads the glassware of a bench as the library takes it.</summary>
internal static class GlasswareShelf
{
    /// <summary>The pieces by key; with removed ones where a preparation still names them.</summary>
    public static async Task<IReadOnlyDictionary<Guid, Glassware>> Read(RecordsContext records, IReadOnlyCollection<Guid> ids, CancellationToken cancel)
    {
        var rows = await records.Glassware.AsNoTracking().IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(g => ids.Contains(g.Id)).ToListAsync(cancel);
        return rows.ToDictionary(r => r.Id, Piece);
    }

    /// <summary>One piece.</summary>
    public static Glassware Piece(GlasswarePiece row) => new()
    {
        Id = row.Id,
        Name = row.Name,
        Kind = row.Kind,
        Nominal = row.Nominal,
        Least = row.Least,
        Tolerance = row.Tolerance,
        ToleranceIsRelative = row.ToleranceIsRelative,
        Shape = row.Triangular ? SourceShape.Triangular : SourceShape.Rectangular,
        Repeatability = row.Repeatability,
        Readability = row.Readability,
    };

    public static GlasswareView View(GlasswarePiece row, BenchSetting bench)
    {
        var piece = Piece(row);
        string Size(double value) => $"{NumberWords.Plain(value, 4, bench.Sign)}{Words.NoBreak}{piece.Unit}";
        var limit = row.ToleranceIsRelative ? $"{NumberWords.Plain(100 * row.Tolerance, 3, bench.Sign)}{Words.Narrow}%" : Size(row.Tolerance);
        var lines = new List<NumberLine> { new("Limit of error", row.Tolerance == 0 ? "taken as none" : $"{limit} to both sides, {(row.Triangular ? "most likely near the middle" : "all between equally likely")}") };
        if (row.Repeatability > 0)
            lines.Add(new NumberLine("Between deliveries", $"{Size(row.Repeatability)}, one standard deviation"));
        if (row.Readability is { } d)
            lines.Add(new NumberLine("Step of the display", Size(d)));
        lines.Add(new NumberLine("Figures from", row.Basis.Length > 0 ? row.Basis : "not said"));
        var spread = row.Repeatability > 0 ? $"; {Size(row.Repeatability)} between deliveries" : "";
        return new GlasswareView
        {
            Id = row.Id,
            Name = row.Name,
            Kind = row.Kind,
            KindWords = (row.Nominal, row.Least) switch
            {
                ({ } to, { } from) => $"{Kind(row.Kind)}, {NumberWords.Plain(from, 4, bench.Sign)} to {Size(to)}",
                ({ } size, null) => $"{Kind(row.Kind)}, {Size(size)}",
                _ => Kind(row.Kind),
            },
            LimitWords = $"off by {limit} at the most{spread}",
            Figures = lines,
            Piece = piece,
        };
    }

    public static string Kind(GlasswareKind kind) => kind switch
    {
        GlasswareKind.Flask => "Volumetric flask",
        GlasswareKind.BulbPipette => "Bulb pipette",
        GlasswareKind.GraduatedPipette => "Graduated pipette",
        GlasswareKind.PistonPipette => "Piston pipette",
        GlasswareKind.Cylinder => "Measuring cylinder",
        GlasswareKind.Burette => "Burette",
        GlasswareKind.Syringe => "Syringe",
        _ => "Balance",
    };
}
