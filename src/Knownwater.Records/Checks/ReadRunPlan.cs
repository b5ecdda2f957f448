using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Gives the steps of a check by the procedure of its instrument.</summary>
public sealed class ReadRunPlan(RecordsContext records, Clock clock)
{
    /// <summary>Reads the plan.</summary>
    /// <param name="check">The check.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <param name="procedureVersion">Version of the procedure that a run has begun with; null for the one that stands now.</param>
    /// <returns>The steps, or why there are none; null where this bench has no such check, or it was discarded.</returns>
    public async Task<RunPlan?> Handle(Guid check, CancellationToken cancel, int? procedureVersion = null)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if ((await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.Id == check), cancel)).SingleOrDefault() is not { } rows)
            return null;
        RunPlan None(string sentence) => new(check, "", 0, [], sentence);
        if (await Where(records, rows, cancel) is not var (method, instrument))
            return None(NoMethod);
        if (await ProcedureReading.Read(records, instrument.Id, instrument.Kind, procedureVersion, cancel) is not var (procedure, version))
            return None(Procedure.Shipped(instrument.Kind) is null ? ByPost(instrument) : $"Version {procedureVersion} of the procedure is not in the records.");
        return new RunPlan(check, procedure.Name, version, RunSteps.Of(procedure, await Facts(rows, method, instrument, bench, cancel)), null);
    }

    /// <summary>Why a check without a method has no steps.</summary>
    internal const string NoMethod = "This check names no method, so there is no procedure to follow. Say which method it is, or type its readings one by one.";

    /// <summary>Why a laboratory has no steps.</summary>
    internal static string ByPost(Instrument instrument) => $"{Words.Capital(instrument.Name)} is a laboratory: the known water goes there by post like any sample. Type its results as readings.";

    /// <summary>The method of a check and its instrument, removed ones too; null where it names none.</summary>
    internal static async Task<(Method Method, Instrument Instrument)?> Where(RecordsContext records, CheckRows rows, CancellationToken cancel)
    {
        if (rows.Check.MethodId is not { } id)
            return null;
        var method = await records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().FirstAsync(m => m.Id == id, cancel);
        return (method, await records.Instruments.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().FirstAsync(i => i.Id == method.InstrumentId, cancel));
    }

    private async Task<RunSteps.Facts> Facts(CheckRows rows, Method method, Instrument instrument, BenchSetting bench, CancellationToken cancel)
    {
        var ids = rows.Levels.Select(l => l.Row.ReferenceWaterId).OfType<Guid>().ToList();
        var waters = await records.ReferenceWaters.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(w => ids.Contains(w.Id)).ToDictionaryAsync(w => w.Id, cancel);
        var form = rows.Measured.Form;
        return new RunSteps.Facts(
            [.. rows.Levels.Select(l => new RunSteps.Level(
                l.Row.Ordinal,
                l.Planned,
                l.Row.ReferenceWaterId is { } id && waters.GetValueOrDefault(id) is { } water ? Label(water) : "the known water",
                WaterReading.KnownWords(l.Known, form, bench.Sign),
                l.Known.Value,
                rows.Check.ConditioningRuns))],
            $"{Words.Small(rows.Measured.Name)} in {(method.Matrix == Matrix.FreshWater ? "fresh water" : "seawater")}",
            form.UnitDisplay,
            method.SampleVolumeMillilitres,
            rows.Check.MinutesPerReading ?? method.MinutesPerReading,
            bench.Sign)
        {
            Kind = rows.Check.Kind ?? CheckKind.Usual,
            Instrument = instrument.Kind,
        };
    }

    private static string Label(ReferenceWater water) =>
        water.Code.Length == 0 || water.Label.Contains(water.Code, StringComparison.OrdinalIgnoreCase) ? water.Label : $"{water.Label} ({water.Code})";
}
