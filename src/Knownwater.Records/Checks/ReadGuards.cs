using Knownwater.Records.Benches;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Shows what must hold before the first reading of a check.</summary>
public sealed class ReadGuards(RecordsContext records, Clock clock)
{
    /// <summary>Looks at the guards.</summary>
    /// <param name="check">The check.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The guards; null where this bench has no such check, or it was discarded.</returns>
    public async Task<GuardsView?> Handle(Guid check, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var rows = (await CheckRows.Read(records, records.Checks.AsNoTracking().Where(c => c.Id == check), cancel)).SingleOrDefault();
        return rows is null ? null : await View(records, rows, bench, cancel);
    }

    internal static async Task<GuardsView> View(RecordsContext records, CheckRows rows, BenchSetting bench, CancellationToken cancel)
    {
        var lines = await CheckReading.Methods(records, rows.Check.MethodId is { } id ? [id] : [], cancel);
        GuardsView Of(string? hindrance, string procedure, Guid? instrument, IReadOnlyList<GuardView> guards) => new()
        {
            Check = rows.Check.Id, Title = CheckReading.Title(rows, lines), State = rows.Check.State, Hindrance = hindrance, Procedure = procedure, Instrument = instrument, Guards = guards,
            Summary = hindrance ?? Guards.Summary(guards),
        };
        if (await ReadRunPlan.Where(records, rows, cancel) is not var (method, instrument))
            return Of(ReadRunPlan.NoMethod, "", null, []);
        if (await ProcedureReading.Read(records, instrument.Id, instrument.Kind, null, cancel) is not var (procedure, version))
            return Of(ReadRunPlan.ByPost(instrument), "", instrument.Id, []);
        return Of(null, version == 0 ? procedure.Name : $"{procedure.Name}, version {version}", instrument.Id, await Guards.Look(records, rows, method, instrument, procedure, bench, cancel));
    }
}
