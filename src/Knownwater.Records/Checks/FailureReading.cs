using Knownwater.Checks;
using Knownwater.Records.Benches;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Knownwater.Records.Tanks;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Reads what to do after a check that failed or cannot tell yet. The order of the search is common practice: likely and cheap first.</summary>
internal static class FailureReading
{
    private const string Maintenance = "Maintenance, the daily dose: go on at the last proven rate, set by hand or by a timer. Do not stop it, and do not let these readings steer it.";
    private const string Correction = "Corrections: make none, up or down, until a check passes.";

    private const string Emergency =
        "Emergency (animals in distress, ammonia, nitrite in soft fresh water, copper, a spill, a stuck doser): act at once, a large water change needs no proof. Neutralise chlorine and chloramine first; match temperature, salinity and pH. Do not answer an overdose with its opposite. Data sheets have the last word.";

    /// <summary>Reads it; null for a check that reads right or has no verdict.</summary>
    public static async Task<AfterFailure?> Read(RecordsContext records, CheckRows rows, BenchSetting bench, CancellationToken cancel)
    {
        var check = rows.Check;
        if (check.State == CheckState.Open || JudgeLevel.Over(rows) is not (Verdict.ReadsHigh or Verdict.ReadsLow or Verdict.CannotTell))
            return null;
        var kind = await (
            from m in records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking()
            where m.Id == check.MethodId
            join i in records.Instruments.IgnoreQueryFilters([RecordsContext.DeletedFilter]) on m.InstrumentId equals i.Id
            select (InstrumentKind?)i.Kind).FirstOrDefaultAsync(cancel);
        var failed = check.Verdict is Verdict.ReadsHigh or Verdict.ReadsLow;
        var span = failed ? await LookBack.SpanOf(records, check, cancel) : null;
        var (readings, doses) = span is null ? (0, 0) : (await span.ReadingsInDoubt(records).CountAsync(cancel), await span.DosesInDoubt(records).CountAsync(cancel));
        return new AfterFailure(
            [Maintenance, Correction, Emergency],
            check.MethodId is { } method ? await Rates(records, check, method, bench, cancel) : [],
            failed ? Steps(kind) : [],
            readings + doses > 0 ? $"{Words.Capital(DoubtWords.Count(readings, doses))} {DoubtWords.Are(readings, doses)} in doubt, {span!.SinceWords(bench)}." : "",
            span is not null);
    }

    /// <summary>Of each tank that the method reads, the last maintenance dose before the last check that read right; where there is none, the last one recorded before the check.</summary>
    private static async Task<IReadOnlyList<HeldRate>> Rates(RecordsContext records, Check check, Guid method, BenchSetting bench, CancellationToken cancel)
    {
        var good = await records.Checks.AsNoTracking().Where(c => c.MethodId == method && c.State == CheckState.Closed && c.Verdict == Verdict.ReadsRight && c.StartedAt < check.StartedAt)
            .OrderByDescending(c => c.StartedAt).Select(c => (Instant?)c.StartedAt).FirstOrDefaultAsync(cancel);
        var (parameter, until) = (check.ParameterKey, check.StartedAt);
        Task<List<Dose>> Last(Instant before) => records.Doses.AsNoTracking()
            .Where(d => d.ParameterKey == parameter && d.Kind == DoseKind.Maintenance && d.At <= before && records.TankReadings.Any(r => r.TankId == d.TankId && r.MethodId == method))
            .GroupBy(d => d.TankId).Select(g => g.OrderByDescending(d => d.At).ThenByDescending(d => d.RecordedAt).First()).ToListAsync(cancel);
        List<Dose> doses = [.. good is { } proven ? await Last(proven) : [], .. await Last(until)];
        var names = await records.Tanks.AsNoTracking().ToDictionaryAsync(t => t.Id, t => t.Name, cancel);
        return [.. doses.Where(d => names.ContainsKey(d.TankId)).GroupBy(d => d.TankId).Select(g => g.OrderBy(d => d.At).First()).OrderBy(d => names[d.TankId], StringComparer.Ordinal)
            .Select(d => new HeldRate(d.TankId, names[d.TankId], $"{d.AmountTyped} of {d.What}", Words.Day(bench.DayOf(d.At), bench.Today), d.At <= good))];
    }

    private static string[] Steps(InstrumentKind? kind)
    {
        var byHand = kind == InstrumentKind.HandKit;
        return
        [
            "Read the labels again. The unit and the form (as NO₃ or as N, as PO₄ or as P), a method for sea or for fresh water, and the sums behind the known water.",
            byHand ? "Check again with clean rinses. Rinse the vial twice with the known water, and measure the volume exactly." : "Check again with clean rinses. Look for bubbles, close the lid, and give the exact volume.",
            byHand ? "Run a blank. Where it reads high, clean the vial and take fresh blank water." : "Run a blank. Where it reads high, clean the chamber and its window, and take fresh blank water.",
            byHand ? "Look at the reagents. Date, colour, anything that settled; shake them, and replace what is suspect." : "Look at the reagents. Date, level, air in the lines, anything that settled; prime the lines, and replace what is suspect.",
            "Mind temperature and time. Water, reagents and instrument stand at one room temperature; wait the full time of the method.",
            "Make fresh known water. First from the same stock with other glassware, then from a second stock that does not come from the first; the two agree before the instrument is blamed.",
            "Open a new lot of reagent. Run the old and the new on the same water.",
            .. byHand ? Array.Empty<string>() : ["Look at the mechanics. Weigh ten strokes of the pump; then tubing, valve, stirrer, light source."],
            "Only now set a factor. Prove it with another known water than the one that it was set by.",
            byHand ? "Replace the kit. What is in doubt stays marked until you clear it." : "Have it serviced. What is in doubt stays marked until you clear it.",
        ];
    }
}
