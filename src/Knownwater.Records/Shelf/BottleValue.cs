using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Shelf;

/// <summary>One further value of a bottle that is known for several analytes.</summary>
/// <param name="Id">Its key.</param>
/// <param name="ParameterName">“Phosphate”.</param>
/// <param name="KnownWords">“1.020 ± 0.010 mg/L PO₄”, at 95 %.</param>
/// <param name="KnownTyped">Its value as typed.</param>
/// <param name="DoubtTyped">Its doubt as typed.</param>
/// <param name="DoubtKind">What the doubt means.</param>
public sealed record BottleValue(Guid Id, string ParameterName, string KnownWords, string KnownTyped, string DoubtTyped, DoubtMeaning DoubtKind)
{
    internal static BottleValue Of(Stock row, Estimate known, DecimalSign sign) => Of(row.Id, Measured.Of(row.ParameterKey, row.OtherName, row.Form), known, row.KnownTyped, row.DoubtTyped, row.DoubtKind, sign);

    internal static BottleValue Of(ReferenceWater row, Estimate known, DecimalSign sign) => Of(row.Id, Measured.Of(row.ParameterKey, row.OtherName, row.Form), known, row.KnownTyped, row.DoubtTyped, row.DoubtKind, sign);

    private static BottleValue Of(Guid id, Measured measured, Estimate known, string knownTyped, string doubtTyped, DoubtMeaning kind, DecimalSign sign) =>
        new(id, measured.Name, WaterReading.KnownWords(known, measured.Form, sign), knownTyped, doubtTyped, kind);
}
