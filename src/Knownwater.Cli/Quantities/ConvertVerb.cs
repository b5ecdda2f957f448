using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Knownwater.Quantities;

namespace Knownwater.Cli.Quantities;

/// <summary><c>convert</c>: from one reporting form to another.</summary>
internal static class ConvertVerb
{
    public static Command Create(CommandLine line)
    {
        var quantity = new Argument<string>("QUANTITY") { Description = "A number with its form, such as \"5.2 mg/L NO3-N\"." };
        var form = new Argument<string>("FORM") { Description = "The form to write it in, such as \"mg/L NO3\"." };
        var salinity = new Option<string?>("--salinity") { Description = "Practical salinity of the water, where mass and volume meet." };
        var temperature = new Option<string?>("--temperature") { Description = "Its temperature, such as \"25 C\" or \"77 F\"." };
        var verb = new Command("convert", "Write a number in another reporting form.") { quantity, form, salinity, temperature };
        verb.SetAction(parsed =>
        {
            var from = QuantityText.ReadQuantity(parsed.GetRequiredValue(quantity), DecimalSign.Point);
            var to = ReportingForm.Parse(parsed.GetRequiredValue(form));
            var conversion = FormConversion.Convert(from.Value, from.Form, to, State(parsed.GetValue(salinity), parsed.GetValue(temperature)));
            var json = new JsonObject
            {
                ["value"] = Numbers.Json(conversion.Value),
                ["unit"] = to.Text,
                ["factor"] = Numbers.Json(conversion.Factor),
                ["steps"] = new JsonArray([.. conversion.Steps.Select(s => (JsonNode)s)]),
            };
            return line.Answer(parsed, json, text =>
            {
                text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{from} = {NumberWords.Plain(conversion.Value, 7, DecimalSign.Point)} {to.Text}"));
                foreach (var step in conversion.Steps)
                    text.WriteLine($"  {step}");
            });
        });
        return verb;
    }

    private static WaterState? State(string? salinity, string? temperature) => (salinity, temperature) switch
    {
        (null, null) => null,
        ({ } s, { } t) => new WaterState(Numbers.Plain(s, "--salinity"), Knownwater.Cli.Seawater.WaterArguments.Temperature(t)),
        _ => throw new ArgumentException("Salinity and temperature are needed together: give --salinity and --temperature."),
    };
}
