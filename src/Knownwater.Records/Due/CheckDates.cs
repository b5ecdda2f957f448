using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
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
/// <param name="Next">The day by its course, and why; null where no check against known water counts yet.</param>
internal sealed record CheckDate(InstrumentView Instrument, MethodView Method, Check? Last, LocalDate? LastOn, NextWords? Next)
{
    /// <summary>“Nitrate on Harbour analyser”; with the water where the instrument reads it in both.</summary>
    public string Name => MethodCourse.Titled(Method.ParameterName, Instrument.Methods.Any(m => m.ParameterName == Method.ParameterName && m.Matrix != Method.Matrix) ? Method.Matrix : null, Instrument.Name);

    /// <summary>The dates of all methods that are not being checked at this moment.</summary>
    public static async Task<IReadOnlyList<CheckDate>> Read(RecordsContext records, BenchSetting bench, CancellationToken cancel)
    {
        var instruments = await InstrumentReading.Read(records, records.Instruments, bench, cancel);
        var methods = instruments.SelectMany(i => i.Methods.Select(m => (Instrument: i, Method: m))).ToList();
        var last = await InstrumentReading.LastChecks(records, methods.Select(m => m.Method.Id).ToList(), cancel);
        var busy = (await records.Checks.Where(c => c.State == CheckState.Open && c.MethodId != null).Select(c => c.MethodId!.Value).ToListAsync(cancel)).ToHashSet();
        var courses = await KeptCourse.Read(records, bench, cancel);
        return [.. methods.Where(m => !busy.Contains(m.Method.Id)).Select(m =>
        {
            var check = last.GetValueOrDefault(m.Method.Id);
            return new CheckDate(m.Instrument, m.Method, check, check is null ? null : bench.DayOf(check.StartedAt), courses.GetValueOrDefault(m.Method.Id)?.Next(bench));
        })];
    }
}
