using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Due;

/// <summary>When a method is to be checked again.</summary>
/// <param name="Instrument">Its instrument.</param>
/// <param name="Method">The method.</param>
/// <param name="Last">Its last closed check; null where there is none.</param>
/// <param name="LastOn">The day of that check.</param>
/// <param name="NewLot">A lot opened since; null where there is none.</param>
/// <param name="On">The day; null where it was never checked.</param>
internal sealed record CheckDate(InstrumentView Instrument, MethodView Method, Check? Last, LocalDate? LastOn, LotView? NewLot, LocalDate? On)
{
    /// <summary>A check no longer says how the method reads after so many days; common practice.</summary>
    public const int DaysBetween = 60;

    /// <summary>“Nitrate on Harbour analyser”.</summary>
    public string Name => $"{Method.ParameterName} on {Instrument.Name}";

    /// <summary>The dates of all methods that are not being checked at this moment.</summary>
    public static async Task<IReadOnlyList<CheckDate>> Read(RecordsContext records, BenchSetting bench, CancellationToken cancel)
    {
        var instruments = await InstrumentReading.Read(records, records.Instruments, bench, cancel);
        var methods = instruments.SelectMany(i => i.Methods.Select(m => (Instrument: i, Method: m))).ToList();
        var last = await InstrumentReading.LastChecks(records, methods.Select(m => m.Method.Id).ToList(), cancel);
        var busy = (await records.Checks.Where(c => c.State == CheckState.Open && c.MethodId != null).Select(c => c.MethodId!.Value).ToListAsync(cancel)).ToHashSet();
        return [.. methods.Where(m => !busy.Contains(m.Method.Id)).Select(m => Of(m.Instrument, m.Method, last.GetValueOrDefault(m.Method.Id), bench))];
    }

    private static CheckDate Of(InstrumentView instrument, MethodView method, Check? last, BenchSetting bench)
    {
        if (last is null)
            return new CheckDate(instrument, method, null, null, null, null);
        var on = bench.DayOf(last.StartedAt);
        var lot = method.Lots.Where(l => l.InUse && l.OpenedOn > on).OrderBy(l => l.OpenedOn).FirstOrDefault();
        return new CheckDate(instrument, method, last, on, lot, lot?.OpenedOn ?? on.PlusDays(DaysBetween));
    }
}
