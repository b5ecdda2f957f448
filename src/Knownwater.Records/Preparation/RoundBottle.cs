using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Knownwater.Records.Preparation;

/// <summary>A water of a round: one on the shelf, or one that is still to be made.</summary>
internal sealed record RoundBottle(Guid Key, string Label, Estimate Known, string KnownWords, Matrix? Matrix, double? Salinity)
{
    /// <summary>The water; null until it is made.</summary>
    public Guid? Water { get; init; }

    /// <summary>What it was or is made by; null where it was bought.</summary>
    public Guid? Preparation { get; init; }

    /// <summary>Days that it keeps from now on; null where it keeps.</summary>
    public double? KeepsDays { get; init; }

    /// <summary>What its stock brings besides its analyte.</summary>
    public IReadOnlyList<OtherParameter> Others { get; init; } = [];

    /// <summary>What may be said of its age; null where nothing.</summary>
    public string? AgeNote { get; init; }

    /// <summary>Reads a known water or a planned preparation by its key, in the form of what is measured; a preparation that is done is its water. Null where it is gone or is not known for that.</summary>
    public static async Task<RoundBottle?> Read(RecordsContext records, BenchSetting bench, Guid key, Measured measured, CancellationToken cancel)
    {
        var waters = records.ReferenceWaters.AsNoTracking();
        var made = await waters.Where(w => w.Id == key || w.PreparationId == key).ToListAsync(cancel);
        if (made.Find(w => w.Id == key || measured.IsSameAs(w.ParameterKey, w.OtherName)) is { } water)
            return measured.IsSameAs(water.ParameterKey, water.OtherName) ? await OfWater(records, bench, key, water, measured, cancel) : null;
        if (await PreparationReading.Load(records, bench, key, tracked: false, cancel) is not { Row.DoneAt: null } read)
            return null;
        var (row, steps, first) = read;
        if (first.Further.Prepend(first).FirstOrDefault(f => measured.IsSameAs(f.Row.ParameterKey, f.Row.OtherName)) is not { } fields || measured.FactorFrom(fields.Stock.Form) is not { } factor)
            return null;
        var water1 = fields.Evaluate(row, steps, asDone: true);
        var known = factor == 1 ? water1.Concentration : water1.Concentration * factor;
        return new RoundBottle(key, row.Label, known, WaterReading.KnownWords(known, measured.Form, bench.Sign), fields.Water.Matrix, water1.Salinity)
        {
            Preparation = key,
            KeepsDays = Ageing.LifeDays(Ageing.Find(measured.Parameter, known.Value, measured.Form, AgeingMedium.Water), isCertifiedBottle: false),
            Others = water1.Others,
        };
    }

    private static async Task<RoundBottle?> OfWater(RecordsContext records, BenchSetting bench, Guid key, ReferenceWater water, Measured measured, CancellationToken cancel)
    {
        var form = ReportingForm.Parse(water.Form);
        if (measured.FactorFrom(form) is not { } factor)
            return null;
        var made = await records.Estimates.Read(water.EstimateId, cancel);
        var known = factor * WaterAgeing.Now(water, made, bench.Now);
        var last = WaterAgeing.LastHour(water, made.Value, bench);
        var days = last is { } hour ? Math.Max(0, (hour - bench.Now).TotalDays) : water.UseBy is { } useBy ? Math.Max(0, Period.DaysBetween(bench.Today, useBy)) : (double?)null;
        var others = water.PreparationId is { } id && await PreparationReading.Load(records, bench, id, tracked: false, cancel) is { } read ? read.Fields.Evaluate(read.Row, read.Steps, asDone: true).Others : [];
        return new RoundBottle(key, water.Label, known, WaterReading.KnownWords(known, measured.Form, bench.Sign), water.Matrix, water.Salinity)
        {
            Water = water.Id,
            Preparation = water.PreparationId,
            KeepsDays = days,
            Others = others,
            AgeNote = WaterAgeing.IsPast(water, made.Value, bench) ? $"{water.Label} is past its date. Make it fresh before its check."
                : last is { } until ? $"{water.Label} keeps until {Words.ShortMoment(bench.At(until), bench.Today)}. {WaterAgeing.Reason(water, made.Value, bench.Sign)}"
                : water.UseBy == bench.Today ? $"{water.Label} keeps until tonight. {WaterAgeing.Reason(water, made.Value, bench.Sign)}"
                : water.UseBy == bench.Today.PlusDays(1) ? $"{water.Label} keeps until tomorrow night. {WaterAgeing.Reason(water, made.Value, bench.Sign)}"
                : null,
        };
    }

    /// <summary>Whether it brings so much of another analyte that a check of that would see it.</summary>
    public bool Brings(Measured other, Tolerance tolerance) =>
        Others.Any(o => other.FactorFrom(o.Form) is { } factor && Math.Abs(factor * o.Added) > Math.Max(tolerance.Absolute, 0));
}
