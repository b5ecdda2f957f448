using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Knownwater.Quantities;
using Knownwater.Seawater;
using Knownwater.Uncertainty;

namespace Knownwater.Cli.Seawater;

/// <summary><c>carbonate</c>: the carbonate system of seawater from any two of its quantities.</summary>
internal static class CarbonateVerb
{
    /// <summary>What an electrode set with ordinary buffers shows more than the total scale in seawater: 0.10 to 0.13 (common practice).</summary>
    private const double BufferScale = 0.115, BufferScaleHalfRange = 0.015;

    public static Command Create(CommandLine line)
    {
        var alkalinity = new Option<string?>("--alkalinity") { Description = "Total alkalinity: \"8.0 dKH\", \"2300 umol/kg\"." };
        var dic = new Option<string?>("--dic") { Description = "Dissolved inorganic carbon: \"2000 umol/kg\"." };
        var ph = new Option<string?>("--ph") { Description = "pH; of which scale, --ph-scale says." };
        var pco2 = new Option<string?>("--pco2") { Description = "Partial pressure of carbon dioxide: \"420 uatm\"." };
        var salinity = new Option<string>("--salinity") { Description = "Practical salinity, 5 to 45.", Required = true };
        var temperature = new Option<string>("--temperature") { Description = "Temperature: \"25 C\" or \"77 F\".", Required = true };
        var scale = new Option<string?>("--ph-scale") { Description = "total, or nbs for an electrode set with ordinary buffers." };
        var borate = new Option<string?>("--borate") { Description = "Total borate: uppstrom (1974) unless lee (2010) is given." };
        var verb = new Command("carbonate", "The carbonate state of seawater from any two of alkalinity, carbon, pH and carbon dioxide.") { alkalinity, dic, ph, pco2, salinity, temperature, scale, borate };
        verb.SetAction(parsed =>
        {
            var state = new WaterState(Numbers.Plain(parsed.GetRequiredValue(salinity), salinity.Name), WaterArguments.Temperature(parsed.GetRequiredValue(temperature)));
            var onBuffers = (parsed.GetValue(scale) ?? "total").ToLowerInvariant() switch
            {
                "total" => false,
                "nbs" => true,
                var other => throw new ArgumentException($"The scale “{other}” is not known here. Give total, or nbs for an electrode set with ordinary buffers."),
            };
            if (onBuffers && parsed.GetValue(ph) is null)
                throw new ArgumentException("--ph-scale is given without --ph. Give the pH too, or leave the scale away.");
            var total = (parsed.GetValue(borate) ?? "uppstrom").ToLowerInvariant() switch
            {
                "uppstrom" or "uppström" => TotalBorate.Uppstrom1974,
                "lee" => TotalBorate.Lee2010,
                var other => throw new ArgumentException($"The total borate “{other}” is not known here. Give uppstrom or lee."),
            };
            Estimate? Read(Option<string?> option, Func<string, Estimate> read) => parsed.GetValue(option) is { } text ? read(text) : null;
            var given = new (Estimate? Value, string Name)[]
            {
                (Read(alkalinity, text => Micromoles(text, state)), alkalinity.Name),
                (Read(dic, text => Micromoles(text, state)), dic.Name),
                (Read(ph, text => Estimate.Exact(Numbers.Plain(text, ph.Name))
                    - (onBuffers ? Estimate.From(BufferScale, ErrorSource.Rectangular("scale of an electrode set with ordinary buffers", BufferScaleHalfRange)) : Estimate.Exact(0))), ph.Name),
                (Read(pco2, text => Estimate.Exact(WaterArguments.WithUnit(text, pco2.Name, ("uatm", 1), ("µatm", 1), ("ppm", 1)))), pco2.Name),
            };
            if (given.Count(g => g.Value is not null) != 2)
                throw new ArgumentException($"Two of --alkalinity, --dic, --ph and --pco2 say which water it is; {given.Count(g => g.Value is not null)} {(given.Count(g => g.Value is not null) == 1 ? "is" : "are")} given. Give two.");
            var (pair, first, second) = given switch
            {
                [{ Value: { } a }, { Value: { } c }, _, _] => (CarbonatePair.AlkalinityAndDic, a, c),
                [{ Value: { } a }, _, { Value: { } h }, _] => (CarbonatePair.AlkalinityAndPh, a, h),
                [{ Value: { } a }, _, _, { Value: { } g }] => (CarbonatePair.AlkalinityAndPco2, a, g),
                [_, { Value: { } c }, { Value: { } h }, _] => (CarbonatePair.DicAndPh, c, h),
                [_, { Value: { } c }, _, { Value: { } g }] => (CarbonatePair.DicAndPco2, c, g),
                _ => (CarbonatePair.PhAndPco2, given[2].Value!.Value, given[3].Value!.Value),
            };
            var water = new CarbonateWater { PracticalSalinity = Estimate.Exact(state.PracticalSalinity), TemperatureCelsius = Estimate.Exact(state.TemperatureCelsius), Borate = total };
            var system = CarbonateState.Of(water, pair, first, second);
            var json = new JsonObject
            {
                ["ph_total"] = Numbers.Json(system.PhTotal.Value),
                ["alkalinity_umol_per_kg"] = Numbers.Json(system.AlkalinityMicromolesPerKilogram.Value),
                ["dic_umol_per_kg"] = Numbers.Json(system.DicMicromolesPerKilogram.Value),
                ["pco2_uatm"] = Numbers.Json(system.Pco2Microatmospheres.Value),
                ["co2_umol_per_kg"] = Numbers.Json(system.Co2MicromolesPerKilogram.Value),
                ["bicarbonate_umol_per_kg"] = Numbers.Json(system.BicarbonateMicromolesPerKilogram.Value),
                ["carbonate_umol_per_kg"] = Numbers.Json(system.CarbonateMicromolesPerKilogram.Value),
                ["omega_aragonite"] = Numbers.Json(system.OmegaAragonite.Value),
                ["omega_calcite"] = Numbers.Json(system.OmegaCalcite.Value),
                ["constants"] = new JsonObject(system.Constants.Select(c => KeyValuePair.Create<string, JsonNode?>(c.Key, Numbers.Json(c.Value)))),
            };
            return line.Answer(parsed, json, text =>
            {
                string F(Estimate value, string format) => value.Value.ToString(format, CultureInfo.InvariantCulture) + (value.IsExact || value.StandardUncertainty == 0 ? "" : $" ± {(1.96 * value.StandardUncertainty).ToString("0.###", CultureInfo.InvariantCulture)}");
                text.WriteLine($"pH {F(system.PhTotal, "0.0000")} on the total scale; an electrode set with ordinary buffers reads about 0.1 higher in seawater");
                text.WriteLine($"  alkalinity {F(system.AlkalinityMicromolesPerKilogram, "0.0")} µmol/kg, inorganic carbon {F(system.DicMicromolesPerKilogram, "0.0")} µmol/kg");
                text.WriteLine($"  of it carbon dioxide {F(system.Co2MicromolesPerKilogram, "0.00")}, bicarbonate {F(system.BicarbonateMicromolesPerKilogram, "0.0")}, carbonate {F(system.CarbonateMicromolesPerKilogram, "0.0")} µmol/kg");
                text.WriteLine($"  carbon dioxide in balance with air of {F(system.Pco2Microatmospheres, "0.0")} µatm");
                text.WriteLine($"  saturation of aragonite {F(system.OmegaAragonite, "0.00")}, of calcite {F(system.OmegaCalcite, "0.00")}");
                text.WriteLine("Constants: Dickson, Sabine & Christian 2007, K1 and K2 of Lueker et al. 2000 (fitted for salinity 19 to 43 and 2 to 35 °C).");
            });
        });
        return verb;
    }

    private static Estimate Micromoles(string text, WaterState state)
    {
        var quantity = QuantityText.ReadQuantity(text, DecimalSign.Point);
        var form = ReportingForm.Parse("umol/kg");
        return Estimate.Exact(quantity.Form == form ? quantity.Value : FormConversion.Convert(quantity.Value, quantity.Form, form, state).Value);
    }
}
