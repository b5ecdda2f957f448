using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Checks;

/// <summary>Reads the fields that planning and starting a check have in common.</summary>
internal sealed class PlanFields(RecordsContext records, BenchSetting bench, TypedFields fields)
{
    /// <summary>The method; null where none was named, or with a fault where it is gone.</summary>
    public async Task<Method?> Method(Guid? id, CancellationToken cancel)
    {
        if (id is not { } key)
            return null;
        var method = await records.Methods.AsNoTracking().FirstOrDefaultAsync(m => m.Id == key, cancel);
        if (method is null)
            fields.Fault("Method", "That method is not there any more. Choose another one, or none.");
        return method;
    }

    /// <summary>What is measured; a method's own where one is named.</summary>
    public Measured? Measured(string parameter, string otherName, string form, Method? method)
    {
        if (method is not null && parameter.Trim().Length == 0)
            (parameter, otherName) = (method.ParameterKey, method.OtherName);
        var measured = Records.Measured.Read(fields, parameter, otherName, form, method?.ParameterKey == parameter.Trim() ? method.Form : null);
        if (measured is null || method is null)
            return measured;
        var own = Records.Measured.Of(method.ParameterKey, method.OtherName, method.Form);
        if (!measured.IsSameAs(method.ParameterKey, method.OtherName))
        {
            fields.Fault("Method", $"This method measures {Words.Small(own.Name)}, not {Words.Small(measured.Name)}. Choose another method, or {Words.Small(own.Name)}.");
            return null;
        }
        if (!measured.Form.Equals(own.Form))
        {
            fields.Fault("Form", $"This method shows {own.Form.Display}. Write the numbers of the check in that form.", new Offer($"Use {own.Form.Display}", own.Form.Text));
            return null;
        }
        return measured;
    }

    /// <summary>The tolerance as typed, else the method's, else the default of the main use, with where it comes from.</summary>
    public (Tolerance Tolerance, string Source)? Tolerance(string absolute, string percent, Measured measured, Method? method)
    {
        if (absolute.Trim().Length + percent.Trim().Length > 0)
        {
            var before = fields.Faults.Count;
            var a = fields.Number("ToleranceAbsolute", absolute, "a tolerance", 0) ?? 0;
            var p = fields.Number("TolerancePercent", percent.Trim().TrimEnd('%'), "a tolerance", 0, 100) ?? 0;
            if (fields.Faults.Count > before)
                return null;
            if (a + p > 0)
                return (new Tolerance(a, p), "");
            fields.Fault("ToleranceAbsolute", "A tolerance of nothing can never be met. Say how wrong a reading may be before you would act differently.");
            return null;
        }
        if (method is { } m && (m.ToleranceAbsolute ?? 0) + (m.TolerancePercent ?? 0) > 0)
            return (new Tolerance(m.ToleranceAbsolute ?? 0, m.TolerancePercent ?? 0), "");
        var use = UsualUse.For(bench.MainUse, method?.Matrix);
        return Default(measured, use) is { } usual ? (usual, DefaultSource(measured, use)) : Missing();

        (Tolerance, string)? Missing()
        {
            fields.Fault("ToleranceAbsolute", $"There is no usual tolerance for {Words.Small(measured.Name)} in {measured.Form.Display}. Say how wrong a reading may be before you would act differently.");
            return null;
        }
    }

    /// <summary>The default tolerance in the form of the check; null where none is listed.</summary>
    private static Tolerance? Default(Measured measured, MainUse use)
    {
        if (measured.Key == Records.Measured.Other || measured.Parameter.DefaultTolerance(use) is not { } usual || UsualScatter.Factor(measured) is not { } factor)
            return null;
        return new Tolerance(usual.Absolute * factor, usual.Percent);
    }

    private static string DefaultSource(Measured measured, MainUse use) => $"{Use(use)}; {measured.Parameter.Source}";

    /// <summary>The display step: as typed, else the method's, else none.</summary>
    public double Resolution(string typed, Method? method) =>
        fields.Number("Resolution", typed, "the display step", 0) ?? method?.Resolution ?? 0;

    /// <summary>The minutes a reading takes: as typed, else the method's; null where unknown.</summary>
    public double? Minutes(string typed, Method? method) =>
        fields.Number("MinutesPerReading", typed, "the time of a reading", 0, 1440) ?? method?.MinutesPerReading;

    /// <summary>A water from the shelf as the reference of a level; null with faults where it does not fit.</summary>
    public async Task<(ReferenceWater Water, Estimate Known)?> Water(string field, Guid id, Measured measured, Method? method, CancellationToken cancel)
    {
        if (await records.ReferenceWaters.AsNoTracking().FirstOrDefaultAsync(w => w.Id == id, cancel) is not { } water)
        {
            fields.Fault(field, "That water is not on the shelf any more. Choose another one.");
            return null;
        }
        if (!measured.IsSameAs(water.ParameterKey, water.OtherName))
        {
            var own = Records.Measured.Of(water.ParameterKey, water.OtherName, water.Form);
            fields.Fault(field, $"{water.Label} is known for {Words.Small(own.Name)}, not for {Words.Small(measured.Name)}. Choose another water.");
            return null;
        }
        if (Mismatch(water.Matrix, water.Salinity, method, bench.Sign) is { } mismatch)
        {
            fields.Fault(field, mismatch);
            return null;
        }
        var known = WaterAgeing.Now(water, await records.Estimates.Read(water.EstimateId, cancel), bench.Now);
        var form = ReportingForm.Parse(water.Form);
        if (measured.FactorFrom(form) is { } factor)
            return (water, factor == 1 ? known : known * factor);
        fields.Fault(field, $"{water.Label} is known in {form.Display}, and that cannot be turned into {measured.Form.Display} by a factor alone. Put the value on the shelf in {measured.Form.Display}.");
        return null;
    }

    /// <summary>Why a water does not fit a method, in a sentence; null where it does.</summary>
    public static string? Mismatch(Matrix? matrix, double? salinity, Method? method, DecimalSign sign)
    {
        if (method is null || matrix is not { } water)
            return null;
        if (water != method.Matrix)
        {
            return water == Matrix.FreshWater
                ? "This water is fresh, the method is for seawater. Choose another water, or another method."
                : "This water is seawater, the method is for fresh water. Choose another water, or another method.";
        }
        if (water == Matrix.Seawater && salinity is { } s && (s < method.SalinityLow || s > method.SalinityHigh))
        {
            var range = (method.SalinityLow, method.SalinityHigh) switch
            {
                ({ } low, { } high) => $"{NumberWords.Plain(low, 4, sign)} to {NumberWords.Plain(high, 4, sign)}",
                ({ } low, null) => $"{NumberWords.Plain(low, 4, sign)} upward",
                (_, { } high) => $"up to {NumberWords.Plain(high, 4, sign)}",
                _ => "",
            };
            return $"This water has salinity {NumberWords.Plain(s, 4, sign)}, the method is for {range}. Choose another water, or another method.";
        }
        return null;
    }

    /// <summary>Faults of a level that the method cannot show or the tolerance cannot judge.</summary>
    public void Level(string field, double known, Tolerance tolerance, Measured measured, Method? method)
    {
        var unit = Words.NoBreak + measured.Form.UnitDisplay;
        if (!(tolerance.At(known) > 0))
            fields.Fault("ToleranceAbsolute", "Near zero a tolerance in percent alone is nothing. Add a part in " + measured.Form.UnitDisplay + ".");
        if (method?.RangeHigh is { } high && known > high)
            fields.Fault(field, $"The method shows up to {NumberWords.Plain(high, 5, bench.Sign)}{unit}; {NumberWords.Plain(known, 5, bench.Sign)}{unit} lies beyond. Choose a lower level.");
    }

    private static string Use(MainUse use) => use switch
    {
        MainUse.FishOnlyMarine => "usual for a fish-only marine tank",
        MainUse.FreshWater => "usual for fresh water",
        _ => "usual for a reef",
    };
}

/// <summary>One level ready to be written.</summary>
internal sealed record ReadLevel(Guid? Water, Estimate Known, string KnownTyped, string DoubtTyped, DoubtMeaning Kind, int Replicates, PriorSd? Prior, bool PoolPrior);
