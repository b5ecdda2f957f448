using System.Text.Json.Nodes;
using Knownwater.Quantities;

namespace Knownwater.Cli;

/// <summary>Numbers from arguments and into JSON.</summary>
internal static class Numbers
{
    /// <summary>A number for JSON; null where it is missing or not finite.</summary>
    public static JsonValue? Json(double? value) => value is { } number && double.IsFinite(number) ? JsonValue.Create(number) : null;

    /// <summary>Reads a plain number, with comma or point.</summary>
    /// <exception cref="QuantityFormatException">It is not one, or could mean two.</exception>
    public static double Plain(string text, string name)
    {
        var read = NumberText.Read(text, DecimalSign.Point);
        if (!read.Ok)
            throw new QuantityFormatException($"{name}: {read.Error}");
        if (read.Censoring != Censoring.None)
            throw new QuantityFormatException($"{name} is “{text}”, but a plain number is needed here.");
        return read.Value;
    }

    /// <summary>Reads a difference, such as a standard deviation, in the form of the reference: a plain number, a quantity, or percent of it.</summary>
    /// <exception cref="QuantityFormatException">It is not one.</exception>
    /// <exception cref="ArgumentOutOfRangeException">It is negative.</exception>
    public static double Size(string text, Quantity reference, string name)
    {
        double value;
        var trimmed = text.Trim();
        if (trimmed.EndsWith('%'))
            value = Plain(trimmed[..^1], name) / 100 * reference.Value;
        else if (NumberText.Read(trimmed, DecimalSign.Point) is { Ok: true, Censoring: Censoring.None } plain)
            value = plain.Value;
        else
        {
            var quantity = QuantityText.ReadQuantity(trimmed, DecimalSign.Point);
            value = quantity.Form == reference.Form ? quantity.Value : FormConversion.Convert(quantity.Value, quantity.Form, reference.Form).Value;
        }
        return value >= 0
            ? value
            : throw new ArgumentOutOfRangeException(name, value, $"{name} is {text}, but it must be zero or more.");
    }
}
