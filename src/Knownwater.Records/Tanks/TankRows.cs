using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
using Knownwater.Records.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tanks;

/// <summary>Reads tanks, their readings and their doses into what pages show.</summary>
internal static class TankRows
{
    public static Measured MeasuredOf(TankReading reading) => Measured.Of(reading.ParameterKey, reading.OtherName, reading.Form);

    /// <summary>“8.2 dKH”.</summary>
    public static string Number(TankReading reading, BenchSetting bench) =>
        $"{Words.Typed(reading.Typed, reading.Value, reading.Censoring, bench.Sign)}{Words.NoBreak}{ReportingForm.Parse(reading.Form).Display}";

    /// <summary>“alkalinity 8.2 dKH”.</summary>
    public static string Say(TankReading reading, BenchSetting bench) => $"{Words.Small(MeasuredOf(reading).Name)} {Number(reading, bench)}";

    /// <summary>“38 mL of potassium nitrate”.</summary>
    public static string Say(Dose dose) => $"{dose.AmountTyped} of {dose.What}";

    /// <summary>“Reef, 280 L, salinity 35”.</summary>
    public static string Say(Tank tank)
    {
        var parts = new List<string> { Words.Capital(Words.Kind(tank.Kind)) };
        if (tank.VolumeTyped.Length > 0)
            parts.Add($"{tank.VolumeTyped}{Words.NoBreak}{(tank.VolumeUnit == TankVolumeUnit.UsGallons ? "US gallons" : "L")}");
        if (tank.SalinityTyped.Length > 0)
            parts.Add($"salinity {tank.SalinityTyped}");
        return string.Join(", ", parts);
    }

    /// <summary>The last number that each of the methods gave in a tank; limits do not count.</summary>
    public static async Task<Dictionary<Guid, double>> LastNumbers(RecordsContext records, Guid tank, IReadOnlyList<Guid> methods, CancellationToken cancel)
    {
        if (methods.Count == 0)
            return [];
        var last = await records.TankReadings.AsNoTracking().Where(r => r.TankId == tank && r.MethodId != null && methods.Contains(r.MethodId.Value) && r.Censoring == Censoring.None)
            .GroupBy(r => r.MethodId).Select(g => g.OrderByDescending(r => r.At).ThenByDescending(r => r.RecordedAt).First()).ToListAsync(cancel);
        return last.ToDictionary(r => r.MethodId!.Value, r => r.Value);
    }

    /// <summary>Readings as pages show them, in the order given.</summary>
    public static async Task<IReadOnlyList<TankReadingView>> Views(RecordsContext records, IReadOnlyList<TankReading> readings, BenchSetting bench, CancellationToken cancel)
    {
        var names = await Names(records, readings.Select(r => r.TankId), cancel);
        var ids = readings.Select(r => r.MethodId).OfType<Guid>().Distinct().ToList();
        var methods = await CheckReading.Methods(records, ids, cancel);
        var kits = (await records.Methods.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(m => m.Scale != null && ids.Contains(m.Id)).ToListAsync(cancel)).ToDictionary(m => m.Id, KitScale.Of);
        var marks = await DoubtMarks.Of(records, readings, bench, cancel);
        var courses = ids.Count == 0 ? null : await KeptCourse.Read(records, bench, cancel);
        string GiveOrTake(TankReading reading) =>
            reading is { MethodId: { } of, Censoring: Censoring.None } && courses?.GetValueOrDefault(of)?.HalfOfReading(reading.Value, reading.Form) is { } half
                ? $"±{Words.Narrow}{NumberWords.Plain(half, 2, bench.Sign)}{Words.NoBreak}{ReportingForm.Parse(reading.Form).UnitDisplay}" : "";
        KitScale? Kit(TankReading reading) => reading.MethodId is { } of ? kits.GetValueOrDefault(of) : null;
        return [.. readings.Select(r => new TankReadingView(
            r.Id, r.TankId, names[r.TankId], r.MethodId, MeasuredOf(r).Name, ReportingForm.Parse(r.Form), r.MethodId is { } m && methods.TryGetValue(m, out var method) ? method.InstrumentName : r.InstrumentName,
            r.Typed, Number(r, bench), r.At, EntryTime.Typed(r.At, bench), Words.ShortMoment(bench.At(r.At), bench.Today), r.Who, r.Note)
        {
            ReadingUnit = Kit(r)?.Unit(ReportingForm.Parse(r.Form)) ?? ReportingForm.Parse(r.Form).Display,
            ScaleHint = Kit(r)?.Hint(ReportingForm.Parse(r.Form), bench.Sign) ?? "",
            ScaleChoices = Kit(r)?.Choices(bench.Sign) ?? [],
            GiveOrTake = GiveOrTake(r),
            Doubt = marks.GetValueOrDefault(r.Id),
        })];
    }

    /// <summary>Doses as pages show them, in the order given.</summary>
    public static async Task<IReadOnlyList<DoseView>> Views(RecordsContext records, IReadOnlyList<Dose> doses, BenchSetting bench, CancellationToken cancel)
    {
        var names = await Names(records, doses.Select(d => d.TankId), cancel);
        var marks = await DoubtMarks.Of(records, doses, bench, cancel);
        return [.. doses.Select(d => new DoseView(
            d.Id, d.TankId, names[d.TankId], d.What, d.AmountTyped, d.ParameterKey, Parameter.Find(d.ParameterKey)?.Name ?? "", d.Kind, Words.Kind(d.Kind), d.IsAutomatic,
            d.At, EntryTime.Typed(d.At, bench), Words.ShortMoment(bench.At(d.At), bench.Today), d.Who, d.Note) { Doubt = marks.GetValueOrDefault(d.Id) })];
    }

    private static async Task<Dictionary<Guid, string>> Names(RecordsContext records, IEnumerable<Guid> tanks, CancellationToken cancel)
    {
        var ids = tanks.Distinct().ToList();
        return await records.Tanks.IgnoreQueryFilters([RecordsContext.DeletedFilter]).AsNoTracking().Where(t => ids.Contains(t.Id)).ToDictionaryAsync(t => t.Id, t => t.Name, cancel);
    }
}
