using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Uncertainty;

/// <summary>Writes estimates as rows and reads them back with the identity of their sources: one object a source in a unit of work.</summary>
internal sealed class EstimateShelf(RecordsContext records)
{
    private readonly Dictionary<Guid, ErrorSource> _sources = [];

    /// <summary>Adds the rows of an estimate; its sources are added where the store has them not yet.</summary>
    public async Task<Guid> Add(Estimate estimate, string form, string model, string inputs, Guid id, Instant now, CancellationToken cancel)
    {
        records.EstimateRows.Add(new EstimateRow(records.BenchId, id) { Value = estimate.Value, Form = form, Model = model, Inputs = inputs, RecordedAt = now });
        var sources = estimate.Contributions.Select(c => c.Source).ToList();
        var ids = sources.Select(s => s.Id).ToList();
        var known = (await records.ErrorSources.Where(s => ids.Contains(s.Id)).Select(s => s.Id).ToListAsync(cancel)).ToHashSet();
        known.UnionWith(records.ErrorSources.Local.Select(s => s.Id));
        var ordinal = 0;
        foreach (var part in estimate.Contributions)
        {
            var source = part.Source;
            _sources.TryAdd(source.Id, source);
            if (known.Add(source.Id))
            {
                records.ErrorSources.Add(new ErrorSourceRow(records.BenchId, source.Id)
                {
                    Name = source.Name,
                    Shape = source.Shape,
                    StandardUncertainty = source.StandardUncertainty,
                    Unit = source.Unit,
                    Dof = source.Dof,
                    Family = source.Family,
                    TopToBase = source.TopToBase,
                });
            }
            if (part.Value == 0)
                continue;
            records.EstimateParts.Add(new EstimatePart(records.BenchId, Guid.CreateVersion7(now.ToDateTimeOffset())) { EstimateId = id, SourceId = source.Id, Ordinal = ++ordinal, Contribution = part.Value });
        }
        return id;
    }

    /// <summary>Reads one estimate.</summary>
    public async Task<Estimate> Read(Guid id, CancellationToken cancel) => (await Read([id], cancel))[id];

    /// <summary>Reads estimates, each with its sources.</summary>
    public async Task<IReadOnlyDictionary<Guid, Estimate>> Read(IReadOnlyCollection<Guid> ids, CancellationToken cancel)
    {
        var wanted = ids.Distinct().ToList();
        var rows = await records.EstimateRows.AsNoTracking().Where(e => wanted.Contains(e.Id)).Select(e => new { e.Id, e.Value }).ToListAsync(cancel);
        var parts = await records.EstimateParts.AsNoTracking().Where(p => wanted.Contains(p.EstimateId))
            .OrderBy(p => p.Ordinal)
            .Join(records.ErrorSources, p => p.SourceId, s => s.Id, (p, s) => new { p.EstimateId, p.Contribution, Source = s })
            .ToListAsync(cancel);
        var byEstimate = parts.ToLookup(p => p.EstimateId);
        return rows.ToDictionary(r => r.Id, r => Estimate.FromRows(r.Value, byEstimate[r.Id].Select(p => (Identify(p.Source), p.Contribution))));
    }

    private ErrorSource Identify(ErrorSourceRow row)
    {
        if (!_sources.TryGetValue(row.Id, out var source))
        {
            source = new ErrorSource(row.Id, row.Name, row.StandardUncertainty, row.Unit, row.Dof, row.Shape, row.Family, row.TopToBase);
            _sources.Add(row.Id, source);
        }
        return source;
    }
}
