using Knownwater.Quantities;

namespace Knownwater.Records.Instruments;

/// <summary>The fields of a method as typed.</summary>
internal sealed record MethodFields(
    string Parameter, string OtherName, string Form, Matrix Matrix, string SalinityLow, string SalinityHigh, string SampleVolume, string RangeLow,
    string RangeHigh, string Resolution, string MinutesPerReading, string ToleranceAbsolute, string TolerancePercent, ScaleFields Scale)
{
    /// <summary>Reads them into a method; null with faults where what is measured cannot be read.</summary>
    public static Measured? Read(TypedFields fields, Method method, MethodFields typed)
    {
        var measured = Measured.Read(fields, typed.Parameter, typed.OtherName, typed.Form);
        method.ParameterKey = measured?.Key ?? method.ParameterKey;
        method.OtherName = measured?.OtherName ?? method.OtherName;
        method.Form = measured?.Form.Text ?? method.Form;
        method.Matrix = typed.Matrix;
        var fresh = typed.Matrix == Matrix.FreshWater;
        (method.SalinityLow, method.SalinityLowTyped) = (fields.Number("SalinityLow", typed.SalinityLow, "a salinity", 0, 120), typed.SalinityLow.Trim());
        (method.SalinityHigh, method.SalinityHighTyped) = (fields.Number("SalinityHigh", typed.SalinityHigh, "a salinity", 0, 120), typed.SalinityHigh.Trim());
        if (method.SalinityLow > method.SalinityHigh)
            fields.Fault("SalinityHigh", $"The greatest salinity, {method.SalinityHighTyped}, is below the least, {method.SalinityLowTyped}. Exchange the two.");
        if (fresh && method.SalinityLow > 3)
            fields.Fault("SalinityLow", $"Water of salinity {method.SalinityLowTyped} is not fresh. Choose seawater, or a lower salinity.");
        (method.SampleVolumeMillilitres, method.SampleVolumeTyped) = (fields.Number("SampleVolume", typed.SampleVolume, "a sample volume", 0, 10_000, aboveLeast: true), typed.SampleVolume.Trim());
        (method.RangeLow, method.RangeLowTyped) = (fields.Number("RangeLow", typed.RangeLow, "the range", 0), typed.RangeLow.Trim());
        (method.RangeHigh, method.RangeHighTyped) = (fields.Number("RangeHigh", typed.RangeHigh, "the range", 0, aboveLeast: true), typed.RangeHigh.Trim());
        if (method.RangeLow >= method.RangeHigh)
            fields.Fault("RangeHigh", $"The range ends at {method.RangeHighTyped} but begins at {method.RangeLowTyped}. Exchange the two.");
        typed.Scale.Read(fields, method);
        (method.Resolution, method.ResolutionTyped) = (fields.Number("Resolution", typed.Resolution, "the display step", 0), typed.Resolution.Trim());
        (method.MinutesPerReading, method.MinutesPerReadingTyped) = (fields.Number("MinutesPerReading", typed.MinutesPerReading, "the time of a reading", 0, 1440), typed.MinutesPerReading.Trim());
        (method.ToleranceAbsolute, method.ToleranceAbsoluteTyped) = (fields.Number("ToleranceAbsolute", typed.ToleranceAbsolute, "a tolerance", 0), typed.ToleranceAbsolute.Trim());
        (method.TolerancePercent, method.TolerancePercentTyped) = (fields.Number("TolerancePercent", typed.TolerancePercent.Trim().TrimEnd('%'), "a tolerance", 0, 100), typed.TolerancePercent.Trim().TrimEnd('%').Trim());
        if ((method.ToleranceAbsolute ?? method.TolerancePercent) is not null && (method.ToleranceAbsolute ?? 0) + (method.TolerancePercent ?? 0) == 0)
            fields.Fault("ToleranceAbsolute", "A tolerance of nothing can never be met. Leave both parts empty for the usual one.");
        return measured;
    }
}
