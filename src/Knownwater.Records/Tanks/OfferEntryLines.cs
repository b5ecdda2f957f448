using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Offers the lines of a form for readings of a tank: one a method that fits its water.</summary>
public sealed class OfferEntryLines(RecordsContext records, Clock clock)
{
    /// <summary>Reads the lines.</summary>
    /// <param name="tank">The tank.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The methods by instrument and name, those that were used in this tank first; empty where there is no such tank.</returns>
    public async Task<IReadOnlyList<EntryLine>> Handle(Guid tank, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        if (await records.Tanks.AsNoTracking().FirstOrDefaultAsync(t => t.Id == tank, cancel) is not { } row)
            return [];
        var matrix = Tank.MatrixOf(row.Kind);
        var methods = await (
            from m in records.Methods.AsNoTracking()
            where m.Matrix == matrix
            join i in records.Instruments on m.InstrumentId equals i.Id
            select new { Method = m, Instrument = i.Name }).ToListAsync(cancel);
        var last = (await records.TankReadings.AsNoTracking().Where(r => r.TankId == tank && r.MethodId != null).GroupBy(r => r.MethodId)
            .Select(g => g.OrderByDescending(r => r.At).ThenByDescending(r => r.RecordedAt).First()).ToListAsync(cancel)).ToDictionary(r => r.MethodId!.Value);
        return [.. methods
            .Select(m => (m.Instrument, Measured: Measured.Of(m.Method.ParameterKey, m.Method.OtherName, m.Method.Form), m.Method.Id, Kit: KitScale.Of(m.Method), Last: last.GetValueOrDefault(m.Method.Id)))
            .OrderBy(m => m.Last is null).ThenBy(m => m.Instrument, StringComparer.Ordinal).ThenBy(m => m.Measured.Name, StringComparer.Ordinal)
            .Select(m => new EntryLine(m.Id, m.Measured.Name, m.Measured.Form, m.Instrument, m.Last is { } r ? $"last {TankRows.Number(r, bench)}, {Words.ShortMoment(bench.At(r.At), bench.Today)}" : "", m.Kit?.Unit(m.Measured.Form) ?? m.Measured.Form.Display, m.Kit?.Hint(m.Measured.Form, bench.Sign) ?? "", m.Kit?.Choices(bench.Sign) ?? []))];
    }
}

/// <summary>One line of the form.</summary>
/// <param name="Method">The method.</param>
/// <param name="Parameter">Name of its parameter.</param>
/// <param name="Form">Its reporting form.</param>
/// <param name="Instrument">Name of its instrument.</param>
/// <param name="LastWords">“last 8.2 dKH, 3 September, 09:40”; empty where it was not used in this tank yet.</param>
/// <param name="ReadingUnit">What stands beside the number as it is typed: the form's unit, or drops.</param>
/// <param name="ScaleHint">What may be typed for a kit, in a sentence; empty where the method has a display.</param>
/// <param name="ScaleChoices">All that may be typed for a kit where that is a short list; else empty.</param>
public sealed record EntryLine(Guid Method, string Parameter, ReportingForm Form, string Instrument, string LastWords, string ReadingUnit, string ScaleHint, IReadOnlyList<Offer> ScaleChoices);
