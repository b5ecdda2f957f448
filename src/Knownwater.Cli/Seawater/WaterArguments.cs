using Knownwater.Quantities;

namespace Knownwater.Cli.Seawater;

/// <summary>Arguments of the verbs about water.</summary>
internal static class WaterArguments
{
    /// <summary>A temperature; a plain number is °C.</summary>
    public static double Temperature(string text) =>
        NumberText.Read(text, DecimalSign.Point) is { Ok: true, Censoring: Censoring.None } plain ? plain.Value : QuantityText.ReadTemperatureCelsius(text, DecimalSign.Point);

    /// <summary>A number with one of some units, in the first of them; a plain number is in the first.</summary>
    /// <exception cref="QuantityFormatException">Its unit is not among them, or it is no number.</exception>
    public static double WithUnit(string text, string name, params ReadOnlySpan<(string Unit, double Factor)> units)
    {
        var trimmed = text.Trim();
        foreach (var (unit, factor) in units)
        {
            if (trimmed.EndsWith(unit, StringComparison.OrdinalIgnoreCase) && trimmed.Length > unit.Length)
                return factor * Numbers.Plain(trimmed[..^unit.Length].TrimEnd(), name);
        }
        if (NumberText.Read(trimmed, DecimalSign.Point) is { Ok: true, Censoring: Censoring.None } plain)
            return plain.Value;
        throw new QuantityFormatException($"{name} is “{text}”; its unit is not known here. Write it in {units[0].Unit}.");
    }
}
