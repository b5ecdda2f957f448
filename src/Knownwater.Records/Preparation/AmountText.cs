using Knownwater.Quantities;
using Knownwater.Records.Benches;

namespace Knownwater.Records.Preparation;

/// <summary>Reads an amount as typed: a bare number in the unit of the piece, or a number with its unit.</summary>
internal static class AmountText
{
    /// <summary>mL or g; null with a fault where it cannot be read. Empty is null without one.</summary>
    public static double? Read(TypedFields fields, BenchSetting bench, string field, string? typed, bool isMass, string what, bool zeroToo = false)
    {
        if (string.IsNullOrWhiteSpace(typed))
            return null;
        var text = typed.Trim();
        if (!text.Any(char.IsLetter))
            return fields.Number(field, text, what, 0, aboveLeast: !zeroToo);
        try
        {
            var value = isMass ? QuantityText.ReadMassGrams(text, bench.OwnSign) : QuantityText.ReadVolumeMillilitres(text, bench.OwnSign);
            if (value > 0 || (zeroToo && value == 0))
                return value;
            fields.Fault(field, $"{text} does not do: {what} is {(zeroToo ? "0 or more" : "above 0")}.");
        }
        catch (QuantityFormatException fault)
        {
            fields.Fault(field, fault.Message);
        }
        return null;
    }
}
