using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Preparation;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Shelf;

/// <summary>A background as typed: how much of one parameter a nutrient-free water holds already, and who says so.</summary>
internal sealed record BackgroundFields(string Parameter, string OtherName, string Form, string Value, string Doubt, BackgroundOrigin Origin, Guid? Method)
{
    /// <summary>Reads it into a row with its estimate; null with faults where it cannot be.</summary>
    public static async Task<Background?> Read(RecordsContext records, Clock clock, BenchSetting bench, TypedFields fields, NutrientFreeWater water, BackgroundFields typed, CancellationToken cancel)
    {
        var measured = Measured.Read(fields, typed.Parameter, typed.OtherName, typed.Form);
        if (fields.Read("Background", typed.Value) is not { } reading || measured is null)
            return null;
        if (!PreparationFields.IsPerLitre(measured.Form))
            fields.Fault("Form", $"Known water is made by volume, but {measured.Form.Display} is not per litre. Choose a unit per litre.");
        if (reading.Value < 0 || reading.Censoring == Censoring.Above)
            fields.Fault("Background", $"{typed.Value.Trim()} is no background. Write what the water holds, zero or above, or the limit below which it lies as in <0.02.");
        var limit = reading.Censoring == Censoring.Below;
        var doubt = limit ? reading.Value / 2 : fields.NeededNumber("BackgroundDoubt", typed.Doubt, "a doubt", $"The doubt of the background is missing. Write how far it may be off, in {measured.Form.UnitDisplay}; 0 takes it as exact.", 0);
        if (limit && typed.Origin is BackgroundOrigin.NotMeasured or BackgroundOrigin.AnalyserUnderCheck)
            fields.Fault("BackgroundOrigin", "A limit counts only where another instrument or a certificate gives it: below its own limit the analyser under check cannot see its offset. Write the value it showed, or choose where the limit comes from.");
        var method = typed.Origin == BackgroundOrigin.AnalyserUnderCheck ? await MethodOf(records, fields, typed.Method, measured, cancel) : null;
        if (!fields.Ok || doubt is not { } half)
            return null;
        // below a limit of another instrument all values from zero to it are equally likely
        var value = limit ? reading.Value / 2 : reading.Value;
        var name = $"background of {water.Label}, {NutrientFreeView.OriginWords(typed.Origin).Split(':')[0]}";
        var estimate = half > 0 ? Estimate.From(value, ErrorSource.Rectangular(name, half, measured.Form.Text, clock.NewId())) : Estimate.Exact(value);
        if (method is { } read)
            estimate += await Offset(records, bench, read, measured, cancel);
        return new Background(records.BenchId, clock.NewId())
        {
            WaterId = water.Id,
            ParameterKey = measured.Key,
            OtherName = measured.OtherName,
            Form = measured.Form.Text,
            Typed = typed.Value.Trim(),
            DoubtTyped = typed.Doubt.Trim(),
            Origin = typed.Origin,
            MethodId = method?.Id,
            EstimateId = await records.Estimates.Add(estimate, measured.Form.Text, "stated", "", clock.NewId(), clock.Now, cancel),
        };
    }

    private static async Task<Method?> MethodOf(RecordsContext records, TypedFields fields, Guid? id, Measured measured, CancellationToken cancel)
    {
        if (id is not { } key)
            return null;
        var method = await records.Methods.AsNoTracking().FirstOrDefaultAsync(m => m.Id == key, cancel);
        if (method is null)
            fields.Fault("BackgroundMethod", "That method is not there any more. Choose another one, or none.");
        else if (!measured.IsSameAs(method.ParameterKey, method.OtherName))
            fields.Fault("BackgroundMethod", $"That method does not measure {Words.Small(measured.Name)}. Choose the one that the background was read on.");
        return method;
    }

    /// <summary>
    /// The offset of the analyser that read the background: zero, with the absolute part of the tolerance as its limits, because nothing
    /// better is known of it before the check. Its identity is the method's, so that all waters whose background was read there share it,
    /// and the difference of two levels is free of it.
    /// </summary>
    private static async Task<Estimate> Offset(RecordsContext records, BenchSetting bench, Method method, Measured measured, CancellationToken cancel)
    {
        var own = Measured.Of(method.ParameterKey, method.OtherName, method.Form);
        var fields = bench.Fields();
        if (own.FactorFrom(own.Form) is null || new PlanFields(records, bench, fields).Tolerance("", "", own, method) is not { } allowed || measured.FactorFrom(own.Form) is not { } factor || allowed.Tolerance.Absolute == 0)
            return Estimate.Exact(0);
        var half = allowed.Tolerance.Absolute * Math.Abs(factor);
        var instrument = await records.Instruments.AsNoTracking().IgnoreQueryFilters([RecordsContext.DeletedFilter]).Where(i => i.Id == method.InstrumentId).Select(i => i.Name).FirstAsync(cancel);
        var id = SourceIdentity.Of(method.Id, string.Create(System.Globalization.CultureInfo.InvariantCulture, $"offset where a background was read, {half:R} {measured.Form.Text}"));
        return Estimate.From(0, ErrorSource.Rectangular($"offset of {instrument} at the background", half, measured.Form.Text, id));
    }
}
