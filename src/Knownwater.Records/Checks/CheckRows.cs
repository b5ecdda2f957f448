using Knownwater.Checks;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>A check with all rows that belong to it.</summary>
internal sealed record CheckRows(Check Check, Measured Measured, IReadOnlyList<LevelRows> Levels)
{
    public LevelRows? Current => Levels.FirstOrDefault(l => !l.Complete);

    public bool Complete => Levels.All(l => l.Complete);

    /// <summary>Whether what must hold before the first reading is to be seen to still: the check takes readings on a method, none is in, and nobody has looked.</summary>
    public bool AsksBefore => Check is { State: CheckState.Open, MethodId: not null, BeforeAt: null } && Levels.All(l => l.Replicates.Count + l.Conditioning.Count == 0);

    /// <summary>Conditioning runs that a level still takes before its first reading.</summary>
    public int ConditioningToGo(LevelRows level) => level.Replicates.Count > 0 ? 0 : Math.Max(0, Check.ConditioningRuns - level.Conditioning.Count);

    /// <summary>What is compared on one water; null in a usual check.</summary>
    public SameWaterKind? Compared => Check.Kind switch { CheckKind.Line => SameWaterKind.Line, CheckKind.Changeover => SameWaterKind.Changeover, _ => null };

    public LevelRows? Level(int ordinal) => Levels.FirstOrDefault(l => l.Row.Ordinal == ordinal);

    /// <summary>Reads a check for changing; null where this bench has none of that key.</summary>
    public static async Task<CheckRows?> Read(RecordsContext records, Guid id, CancellationToken cancel) =>
        (await Read(records, records.Checks.Where(c => c.Id == id), cancel)).SingleOrDefault();

    /// <summary>Reads checks in the order given.</summary>
    public static async Task<IReadOnlyList<CheckRows>> Read(RecordsContext records, IQueryable<Check> which, CancellationToken cancel)
    {
        var checks = await which.ToListAsync(cancel);
        var checkIds = checks.Select(c => c.Id).ToList();
        var levels = await records.CheckLevels.Where(l => checkIds.Contains(l.CheckId)).OrderBy(l => l.Ordinal).ToListAsync(cancel);
        var levelIds = levels.Select(l => l.Id).ToList();
        var replicates = (await records.Replicates.Where(r => levelIds.Contains(r.LevelId)).OrderBy(r => r.Ordinal).ToListAsync(cancel)).ToLookup(r => r.LevelId);
        var conditioning = checks.Exists(c => c.ConditioningRuns > 0)
            ? (await records.ConditioningRuns.Where(r => levelIds.Contains(r.LevelId)).OrderBy(r => r.Ordinal).ToListAsync(cancel)).ToLookup(r => r.LevelId)
            : Enumerable.Empty<ConditioningRun>().ToLookup(r => r.LevelId);
        var known = await records.Estimates.Read(levels.Select(l => l.EstimateId).ToList(), cancel);
        var byCheck = levels.ToLookup(l => l.CheckId);
        return checks.Select(c => new CheckRows(
            c,
            Records.Measured.Of(c.ParameterKey, c.OtherName, c.Form),
            byCheck[c.Id].Select(l => new LevelRows(l, known[l.EstimateId], replicates[l.Id].ToList(), conditioning[l.Id].ToList())).ToList())).ToList();
    }
}

/// <summary>A level with its known value and its readings in order.</summary>
internal sealed record LevelRows(CheckLevel Row, Estimate Known, List<Replicate> Replicates, List<ConditioningRun> Conditioning)
{
    public int Planned => Row.PlannedReplicates + Row.ExtendedBy;

    public bool Complete => Replicates.Count >= Planned;

    public Replicate? Reading(int ordinal) => Replicates.Find(r => r.Ordinal == ordinal);
}
