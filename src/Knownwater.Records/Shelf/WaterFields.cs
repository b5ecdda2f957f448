using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Preparation;

namespace Knownwater.Records.Shelf;

/// <summary>The fields of a known water as typed.</summary>
internal sealed record WaterFields(
    string Label, string Parameter, string OtherName, string Form, Matrix Matrix, string Salinity, string Known, string Doubt, DoubtMeaning DoubtKind, Origin Origin,
    string OriginDetail, string MadeOn, string UseBy, string Amount)
{
    public static IReadOnlyList<FieldFault> Gone { get; } = [new FieldFault("Water", "This water is not on the shelf any more. Look at the shelf, or take it back in the history.")];

    /// <summary>Reads them into a water; null with faults where the known value cannot be read.</summary>
    public static (Measured Measured, KnownValue Value)? Read(TypedFields fields, BenchSetting bench, ReferenceWater water, WaterFields typed)
    {
        water.Label = fields.Needed("Label", typed.Label, "The bottle has no label yet. Write one that you will find again, as in KW-1.", 80);
        water.Matrix = typed.Matrix;
        (water.Salinity, water.SalinityTyped) = (fields.Number("Salinity", typed.Salinity, "a salinity", 0, 120), typed.Salinity.Trim());
        if (typed.Matrix == Matrix.FreshWater && water.Salinity > 3)
            fields.Fault("Salinity", $"Water of salinity {water.SalinityTyped} is not fresh. Choose seawater, or a lower salinity.");
        water.Origin = typed.Origin;
        water.OriginDetail = fields.Optional("OriginDetail", typed.OriginDetail, 300);
        water.MadeOn = fields.Day("MadeOn", typed.MadeOn);
        water.UseBy = fields.Day("UseBy", typed.UseBy);
        if (water.MadeOn > water.UseBy)
            fields.Fault("UseBy", "The last day of use lies before the day it was made. Change one of them.");
        (water.AmountMillilitres, water.AmountTyped) = (AmountText.Read(fields, bench, "Amount", typed.Amount, isMass: false, "an amount"), typed.Amount.Trim());
        var measured = Measured.Read(fields, typed.Parameter, typed.OtherName, typed.Form);
        if (measured is null)
            return null;
        (water.ParameterKey, water.OtherName, water.Form) = (measured.Key, measured.OtherName, measured.Form.Text);
        (water.KnownTyped, water.DoubtTyped, water.DoubtKind) = (typed.Known.Trim(), typed.Doubt.Trim(), typed.DoubtKind);
        return KnownValue.Read(fields, "", typed.Known, typed.Doubt, typed.DoubtKind, measured.Form) is { } value ? (measured, value) : null;
    }
}
