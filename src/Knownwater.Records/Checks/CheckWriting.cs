using Knownwater.Quantities;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Writes the rows of a new check.</summary>
internal static class CheckWriting
{
    /// <summary>The lots in use by a method.</summary>
    public static Task<List<Lot>> LotsInUse(RecordsContext records, Guid method, CancellationToken cancel) =>
        (from use in records.MethodLots.AsNoTracking()
         where use.MethodId == method && use.To == null
         join lot in records.Lots on use.LotId equals lot.Id
         where lot.EmptiedOn == null
         orderby lot.Name
         select lot).ToListAsync(cancel);

    /// <summary>Adds a check with its levels and the lots in use.</summary>
    public static async Task Add(RecordsContext records, Clock clock, Check check, IReadOnlyList<ReadLevel> levels, IReadOnlyList<Lot> lots, LocalDate day, Instant now, CancellationToken cancel, Func<Guid, int?>? onlyLevel = null)
    {
        records.Checks.Add(check);
        var ordinal = 0;
        Guid? shared = null;
        var planned = new List<(CheckLevel, int)>();
        foreach (var level in levels)
        {
            // the two series of a line check or changeover are of one water
            var estimate = shared ?? await records.Estimates.Add(level.Known, check.Form, "stated", "", clock.NewId(), now, cancel);
            if (check.Kind is not null)
                shared = estimate;
            var row = new CheckLevel(records.BenchId, clock.NewId())
            {
                CheckId = check.Id,
                Ordinal = ++ordinal,
                ReferenceWaterId = level.Water,
                EstimateId = estimate,
                KnownTyped = level.KnownTyped,
                DoubtTyped = level.DoubtTyped,
                DoubtKind = level.Kind,
                PlannedReplicates = level.Replicates,
                PriorSd = level.Prior?.Value,
                PriorDof = level.Prior?.Dof,
                PriorIsTypical = level.Prior?.IsTypical ?? false,
                PoolPrior = level.PoolPrior,
            };
            records.CheckLevels.Add(row);
            planned.Add((row, level.Replicates + check.ConditioningRuns));
        }
        await CheckDraws.Bring(records, clock, check, planned, cancel);
        foreach (var lot in lots)
            Add(records, clock, check, lot, day, onlyLevel?.Invoke(lot.Id));
    }

    /// <summary>Copies what a lot's bottle says into the check.</summary>
    public static void Add(RecordsContext records, Clock clock, Check check, Lot lot, LocalDate day, int? onlyLevel = null) =>
        records.CheckLots.Add(new CheckLot(records.BenchId, clock.NewId())
        {
            CheckId = check.Id,
            LotId = lot.Id,
            Name = lot.Name,
            Reagent = lot.Reagent,
            ExpiresOn = lot.ExpiresOn,
            Expired = lot.ExpiresOn < day,
            OnlyLevel = onlyLevel,
        });

    /// <summary>“Check started: nitrate, 5 readings at 10 mg/L.”</summary>
    public static string Started(Check check, Measured measured, IReadOnlyList<ReadLevel> levels, DecimalSign sign) => check.Kind is { } kind
        ? $"{(kind == CheckKind.Line ? "Line check" : "Changeover check")} started: {Words.Small(measured.Name)}, twice {Readings(levels[0].Replicates)} at {NumberWords.Plain(levels[0].Known.Value, 4, sign)}{Words.NoBreak}{measured.Form.UnitDisplay}."
        : $"Check started: {Words.Small(measured.Name)}, {Words.List(levels.Select(l => $"{Readings(l.Replicates)} at {NumberWords.Plain(l.Known.Value, 4, sign)}{Words.NoBreak}{measured.Form.UnitDisplay}").ToList())}.";

    public static string Readings(int count) => count == 1 ? "one reading" : $"{Words.Count(count)} readings";
}

/// <summary>Lots past their date: allowed with a reason.</summary>
internal static class ExpiredLots
{
    /// <summary>Faults where a lot was past its date and no reason is given; answers whether there is such a lot.</summary>
    public static bool Check(TypedFields fields, IReadOnlyList<Lot> lots, LocalDate day, LocalDate today, string reason)
    {
        var expired = lots.Where(l => l.ExpiresOn < day).ToList();
        if (expired.Count == 0)
            return false;
        if (fields.Optional("ExpiredLotReason", reason).Length == 0)
        {
            var names = Words.List(expired.Select(l => $"lot {l.Name}, good until {Words.Day(l.ExpiresOn!.Value, today)}").ToList());
            fields.Fault("ExpiredLotReason", $"Past its date: {names}. Open a fresh one, or say why you use it all the same.");
        }
        return true;
    }
}
