using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Preparation;

/// <summary>Reads the glassware of a bench as the library takes it.</summary>
internal static class GlasswareShelf
{
    /// <summary>The pieces by key with the proofs that hold; with removed pieces where a preparation still names them.</summary>
    /// <param name="records">The unit of work.</param>
    /// <param name="ids">Keys of the pieces.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <param name="asOf">Proofs finished after this moment do not count, so that what was made before keeps its value; null for now.</param>
    public static async Task<IReadOnlyDictionary<Guid, Glassware>> Read(RecordsContext records, IReadOnlyCollection<Guid> ids, CancellationToken cancel, Instant? asOf = null)
    {
        var rows = await records.Glassware.AsNoTracking().IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(g => ids.Contains(g.Id)).ToListAsync(cancel);
        var proofs = (await records.GlasswareProofs.AsNoTracking().Where(p => ids.Contains(p.PieceId) && p.Proves).ToListAsync(cancel)).ToLookup(p => p.PieceId);
        return rows.ToDictionary(r => r.Id, r => Piece(r, [.. proofs[r.Id].Where(p => asOf is null || p.DoneAt <= asOf)]));
    }

    /// <summary>One piece with its proofs.</summary>
    public static Glassware Piece(GlasswarePiece row, IReadOnlyList<GlasswareProofRow> proofs) => new()
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
        Proofs = [.. proofs.Where(p => p is { Proves: true, DoneAt: not null }).OrderBy(p => p.DoneAt).Select(p => new GlasswareProof { Id = p.Id, Setting = p.Setting, Bias = p.Bias, BiasU = p.BiasU, BiasDof = p.BiasDof, Sd = p.Sd, SdDof = p.SdDof })],
    };

    public static GlasswareView View(GlasswarePiece row, IReadOnlyList<GlasswareProofRow> proofs, BenchSetting bench)
    {
        var piece = Piece(row, proofs);
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
            Proofs = [.. proofs.OrderBy(p => p.DoneAt is not null).ThenByDescending(p => p.DoneAt ?? p.StartedAt).Select(p => ProofReading.Line(p, row, bench))],
            Typed = new GlasswareTyped(row.NominalTyped, row.LeastTyped, row.ToleranceTyped, row.Triangular, row.RepeatabilityTyped, row.ReadabilityTyped, row.Basis),
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
