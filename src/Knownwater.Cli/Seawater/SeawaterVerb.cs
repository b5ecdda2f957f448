using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Knownwater.Seawater;

namespace Knownwater.Cli.Seawater;

/// <summary><c>seawater</c>: salinities, densities, conductivity and specific gravities of one water.</summary>
internal static class SeawaterVerb
{
    public static Command Create(CommandLine line)
    {
        var salinity = new Option<string?>("--salinity") { Description = "Practical salinity, a plain number such as 35." };
        var conductivity = new Option<string?>("--conductivity") { Description = "Conductivity at that temperature: \"53.1 mS/cm\"." };
        var density = new Option<string?>("--density") { Description = "Density at that temperature: \"1023.3 kg/m3\" or \"1.0233 g/mL\"." };
        var temperature = new Option<string>("--temperature") { Description = "Temperature: \"25 C\" or \"77 F\".", Required = true };
        var pressure = new Option<string?>("--pressure") { Description = "Sea pressure in dbar; zero, the surface, unless given." };
        var verb = new Command("seawater", "What does water of this salinity weigh, and how does it conduct?") { salinity, conductivity, density, temperature, pressure };
        verb.SetAction(parsed =>
        {
            var t = WaterArguments.Temperature(parsed.GetRequiredValue(temperature));
            var p = parsed.GetValue(pressure) is { } deep ? Numbers.Plain(deep, pressure.Name) : 0;
            var state = (parsed.GetValue(salinity), parsed.GetValue(conductivity), parsed.GetValue(density)) switch
            {
                ({ } s, null, null) => SeawaterState.OfSalinity(Numbers.Plain(s, salinity.Name), t, p),
                (null, { } c, null) => SeawaterState.OfConductivity(WaterArguments.WithUnit(c, conductivity.Name, ("mS/cm", 1), ("uS/cm", 1e-3), ("µS/cm", 1e-3), ("S/m", 10)), t, p),
                (null, null, { } d) => SeawaterState.OfDensity(WaterArguments.WithUnit(d, density.Name, ("kg/m3", 1), ("kg/m³", 1), ("g/mL", 1000), ("g/cm3", 1000), ("kg/L", 1000)), t, p),
                _ => throw new ArgumentException("One of --salinity, --conductivity and --density says which water it is. Give exactly one of them."),
            };
            const double Sixty = (60 - 32) / 1.8;
            var gravities = new (string Name, double Value)[] { ("60F/60F", state.SpecificGravity(Sixty, Sixty)), ("20C/20C", state.SpecificGravity(20, 20)), ("25C/25C", state.SpecificGravity(25, 25)), ("25C/4C", state.SpecificGravity(25, 4)) };
            var json = new JsonObject
            {
                ["practical_salinity"] = Numbers.Json(state.PracticalSalinity),
                ["absolute_salinity_g_per_kg"] = Numbers.Json(state.AbsoluteSalinityGramsPerKilogram),
                ["conservative_temperature_c"] = Numbers.Json(state.ConservativeTemperatureCelsius),
                ["density_kg_per_m3"] = Numbers.Json(state.DensityKilogramsPerCubicMetre),
                ["density_eos80_kg_per_m3"] = Numbers.Json(state.DensityEos80KilogramsPerCubicMetre),
                ["specific_gravity"] = new JsonObject(gravities.Select(g => KeyValuePair.Create<string, JsonNode?>(g.Name, Numbers.Json(g.Value)))),
                ["conductivity_ms_per_cm"] = Numbers.Json(state.ConductivityMillisiemensPerCentimetre),
            };
            return line.Answer(parsed, json, text =>
            {
                string F(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
                text.WriteLine($"Practical salinity {F(state.PracticalSalinity, "0.000")} at {F(t, "0.##")} °C{(p > 0 ? $" and {F(p, "0.##")} dbar" : "")}");
                text.WriteLine($"  Absolute Salinity {F(state.AbsoluteSalinityGramsPerKilogram, "0.000")} g/kg (TEOS-10, reference composition)");
                text.WriteLine($"  Conservative Temperature {F(state.ConservativeTemperatureCelsius, "0.0000")} °C");
                text.WriteLine($"  density {F(state.DensityKilogramsPerCubicMetre, "0.000")} kg/m³ (TEOS-10, 75 terms); {F(state.DensityEos80KilogramsPerCubicMetre, "0.000")} at the surface by EOS-80");
                text.WriteLine($"  conductivity {F(state.ConductivityMillisiemensPerCentimetre, "0.000")} mS/cm (PSS-78)");
                text.WriteLine($"  specific gravity {string.Join(", ", gravities.Select(g => $"{F(g.Value, "0.00000")} at {g.Name}"))}");
                text.WriteLine("A hydrometer is right only for the pair of temperatures it was made for, and at the first of them.");
            });
        });
        return verb;
    }
}
