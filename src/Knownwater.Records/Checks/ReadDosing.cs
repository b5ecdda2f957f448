using Knownwater.Checks;
using Knownwater.Records.Benches;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Shows automatic dosing that was paused for a check.</summary>
public sealed class ReadDosing(RecordsContext records, Clock clock)
{
    /// <summary>Reads it.</summary>
    /// <param name="check">The check; it may be discarded by now.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>What was paused; null where nothing was for this check.</returns>
    public async Task<DosingView?> Handle(Guid check, CancellationToken cancel) =>
        (await Read(records, records.Checks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(c => c.Id == check && c.DosingPausedAt != null), await BenchSetting.Read(records, clock.Now, cancel), cancel)).SingleOrDefault();

    /// <summary>What is paused still, the longest first; of discarded checks too.</summary>
    internal static Task<IReadOnlyList<DosingView>> StillPaused(RecordsContext records, BenchSetting bench, CancellationToken cancel) =>
        Read(records, records.Checks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(c => c.DosingPausedAt != null && c.DosingResumedAt == null).OrderBy(c => c.DosingPausedAt), bench, cancel);

    private static async Task<IReadOnlyList<DosingView>> Read(RecordsContext records, IQueryable<Check> which, BenchSetting bench, CancellationToken cancel)
    {
        var rows = await CheckRows.Read(records, which.AsNoTracking(), cancel);
        var methods = await CheckReading.Methods(records, rows.Select(r => r.Check.MethodId).OfType<Guid>().Distinct().ToList(), cancel);
        return [.. rows.Select(r => new DosingView(
            r.Check.Id,
            CheckReading.Title(r, methods),
            Words.ShortMoment(bench.At(r.Check.DosingPausedAt!.Value), bench.Today),
            r.Check.DosingResumedAt is { } resumed ? Words.ShortMoment(bench.At(resumed), bench.Today) : "",
            r.Check.Verdict,
            Advice(r.Check)))];
    }

    private static string Advice(Check check) => check switch
    {
        { State: CheckState.Open, Deleted: false } => "Pause every automatic dosing that listens to this analyser until the last reading is in. It would take the known water for your tank.",
        { Verdict: Verdict.ReadsHigh or Verdict.ReadsLow } => "The check failed; resume only as after a failure. Hold the last proven daily rate by hand or by a fixed timer, make no correction, and let nothing listen until a check passes.",
        { Verdict: Verdict.CannotTell } => "The check can’t tell yet. Until one can, hold the last proven daily rate by hand or by a fixed timer, and make no correction.",
        _ => "Rinse with tank water, take one tank reading and look at it. If this tank can have that number, let dosing listen again.",
    };
}
