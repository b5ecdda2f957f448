using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Knownwater.Quantities;
using Knownwater.Seawater;

namespace Knownwater.Cli.Seawater;

/// <summary><c>ammonia</c>: the un-ionised part of total ammonia.</summary>
internal static class AmmoniaVerb
{
    public static Command Create(CommandLine line)
    {
        var total = new Option<string>("--total") { Description = "Total ammonia with its form: \"0.5 mg/L NH3-N\".", Required = true };
        var ph = new Option<string>("--ph") { Description = "pH.", Required = true };
        var temperature = new Option<string>("--temperature") { Description = "Temperature: \"25 C\" or \"77 F\".", Required = true };
        var salinity = new Option<string?>("--salinity") { Description = "Practical salinity; fresh water unless given." };
        var verb = new Command("ammonia", "How much of the ammonia is un-ionised, the part that harms?") { total, ph, temperature, salinity };
        verb.SetAction(parsed =>
        {
            var quantity = QuantityText.ReadQuantity(parsed.GetRequiredValue(total), DecimalSign.Point);
            if (quantity.Value < 0)
                throw new ArgumentException($"A total of {parsed.GetRequiredValue(total)} is below zero. Check the reading.");
            var species = quantity.Form.Species;
            if (species is not ("N" or "NH3" or "NH4" or "NH3-N" or "NH4-N"))
                throw new ArgumentException($"“{parsed.GetRequiredValue(total)}” is no form of ammonia. Write it as in 0.5 mg/L NH3-N, mg/L NH3 or mg/L NH4.");
            var t = WaterArguments.Temperature(parsed.GetRequiredValue(temperature));
            double? s = parsed.GetValue(salinity) is { } given ? Numbers.Plain(given, salinity.Name) : null;
            var acidity = Numbers.Plain(parsed.GetRequiredValue(ph), ph.Name);
            var pka = Ammonia.Pka(t, s);
            var fraction = Ammonia.FractionUnionised(acidity, pka);
            var highest = Ammonia.FractionUnionised(acidity, Ammonia.LowestPka(t, s));
            var json = new JsonObject
            {
                ["fraction_unionised"] = Numbers.Json(fraction),
                ["unionised"] = Numbers.Json(fraction * quantity.Value),
                ["unit"] = quantity.Form.Text,
                ["pka"] = Numbers.Json(pka),
                ["fraction_unionised_at_most"] = Numbers.Json(highest),
            };
            return line.Answer(parsed, json, text =>
            {
                string Number(double value) => NumberWords.Plain(value, 3, DecimalSign.Point);
                text.WriteLine($"{Number(fraction * quantity.Value)} {quantity.Form.Text} un-ionised: {Number(100 * fraction)} % of {Number(quantity.Value)}");
                text.WriteLine($"  pKa {pka.ToString("0.0000", CultureInfo.InvariantCulture)}, {(s is > Ammonia.FreshUpTo ? "seawater (Bell et al. 2007, corrigendum 2008)" : "fresh water (Emerson et al. 1975)")}");
                if (highest > fraction)
                    text.WriteLine($"  with a pH on the total scale it may be {Number(highest * quantity.Value)}, {Number(100 * highest)} %: the scale of that equation is not certain. For a warning take the higher figure.");
            });
        });
        return verb;
    }
}
