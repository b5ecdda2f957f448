namespace Knownwater.Cli.Tests.Preparation;

public sealed class PrepareVerbTests : IDisposable
{
    private const string TwoSteps = """
        {
          "analyte": "NO3",
          "stock": { "concentration": "1000 mg/L NO3", "tolerance": "5 mg/L", "distribution": "rectangular" },
          "matrix": { "kind": "seawater", "salinity": 35, "temperature": "22 C", "background": "0.05 mg/L NO3", "background_u": "0.02 mg/L NO3" },
          "steps": [
            { "aliquot": "1.0 mL", "with": "P5", "to": "100 mL", "in": "F100" },
            { "aliquot": "50 mL", "with": "P50", "to": "500 mL", "in": "F500" }
          ],
          "glassware": {
            "P5":   { "kind": "piston_pipette", "tolerance": "0.04 mL", "repeatability": "0.015 mL" },
            "P50":  { "kind": "bulb_pipette", "tolerance": "0.05 mL" },
            "F100": { "kind": "flask", "tolerance": "0.1 mL", "distribution": "triangular", "repeatability": "0.02 mL" },
            "F500": { "kind": "flask", "tolerance": "0.25 mL" }
          },
          "temperature": { "at": "20 C", "half_range": "4 C" }
        }
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("knownwater-plan").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    // by hand: (1000 · 1 + 0.05 · 99)/100 = 10.0495 mg/L, then (10.0495 · 50 + 0.05 · 450)/500 = 1.04995 mg/L;
    // u by python's uncertainties with the same inputs: 0.03415…, the two pipettes and two flasks each a variable of its own
    [Fact]
    public async Task Two_steps_with_a_background()
    {
        var json = (await Prepare(TwoSteps, "--json")).Json;

        Assert.Equal(["concentration", "budget", "largest_irreducible_source", "monte_carlo", "after_steps", "stock_ml", "made_ml", "salinity", "other_parameters", "cautions"], Called.Keys(json));
        var c = json.GetProperty("concentration");
        Assert.Equal(["value", "u", "expanded", "k", "dof", "unit"], Called.Keys(c));
        Assert.Equal(1.04995, c.GetProperty("value").GetDouble(), 1e-12);
        Assert.Equal(PythonU, c.GetProperty("u").GetDouble(), 1e-12);
        Assert.Equal("mg/L NO3", c.GetProperty("unit").GetString());
        Assert.Equal(10.0495, json.GetProperty("after_steps")[0].GetDouble(), 1e-12);
        Assert.Equal(["source", "value", "u", "unit", "sensitivity", "contribution", "share", "bought"], Called.Keys(json.GetProperty("budget")[0]));
        Assert.Equal(1, json.GetProperty("budget").EnumerateArray().Sum(line => line.GetProperty("share").GetDouble()), 1e-12);
        Assert.Equal("background of the matrix", json.GetProperty("largest_irreducible_source").GetString());
        var simulated = json.GetProperty("monte_carlo");
        Assert.Equal(1.04995, simulated.GetProperty("mean").GetDouble(), 5 * PythonU / 1000);
        Assert.Equal(PythonU, simulated.GetProperty("u").GetDouble(), 0.005 * PythonU);
        Assert.True(simulated.GetProperty("trials").GetInt32() >= 1_000_000);
    }

    private const double PythonU = 0.0341528111029052;

    // Eurachem/CITAC CG 4 (QUAM:2012), example A1: 1002.7 mg/L; u 0.9 mg/L as printed from rounded parts, 0.8352 from the parts themselves
    [Fact]
    public async Task A_weighed_metal()
    {
        var json = (await Prepare("""
            { "analyte": "Cd", "stock": { "salt": "Cd", "mass": "0.10028 g", "mass_u": "0.00005 g", "purity": "0.9999", "purity_half_range": "0.0001", "to": "100 mL", "in": "F100" },
              "glassware": { "F100": { "kind": "flask", "tolerance": "0.1 mL", "distribution": "triangular", "repeatability": "0.02 mL" } },
              "temperature": { "at": "20 C", "half_range": "4 C" } }
            """, "--json")).Json;

        Assert.Equal(1002.69972, json.GetProperty("concentration").GetProperty("value").GetDouble(), 1e-9);
        Assert.Equal(0.8352, json.GetProperty("concentration").GetProperty("u").GetDouble(), 5e-5);
    }

    [Fact]
    public async Task The_bottle_on_the_kitchen_balance()
    {
        var said = await Prepare("""
            { "analyte": "NO3", "stock": { "concentration": "1000 mg/L NO3 ± 0.5%" }, "matrix": { "kind": "seawater", "salinity": 35, "temperature": "22 C" },
              "steps": [ { "aliquot": "1 mL", "with": "P1", "into": "500 g", "in": "kitchen balance" } ],
              "glassware": { "P1": { "kind": "piston_pipette", "nominal": "1 mL", "tolerance": "0.008 mL", "repeatability": "0.003 mL" },
                             "kitchen balance": { "kind": "balance", "tolerance": "2 g", "readability": "1 g" } }, "mixing": "0.2 %" }
            """);

        // 500 g of seawater of 1024.2 kg/m³ in air is 488.7 mL, so 1000/489.7 = 2.042 mg/L
        Assert.StartsWith("2.042 ± 0.028 mg/L", said.Output, StringComparison.Ordinal);
        Assert.Contains("P1, gain", said.Output, StringComparison.Ordinal);
        Assert.Contains("never goes into a tank", said.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"mixing\": 0", "\"mxing\": 0", "mxing", "mixing")]
    [InlineData("\"aliquot\": \"1 mL\"", "\"aliquot\": \"0 mL\"", "above zero", "")]
    [InlineData("\"aliquot\": \"1 mL\"", "\"aliquot\": \"-1 mL\"", "below zero", "")]
    [InlineData("\"aliquot\": \"1 mL\"", "\"aliquot\": \"0.05 mL\"", "0.05 mL", "0.1")]
    [InlineData("\"aliquot\": \"1 mL\"", "\"aliquot\": \"2 mL\"", "2 mL", "1 mL")]
    [InlineData("\"to\": \"100 mL\"", "\"to\": \"0.5 mL\"", "0.5 mL", "larger vessel")]
    [InlineData("\"with\": \"P1\"", "\"with\": \"P7\"", "P7", "P1, F100")]
    [InlineData("\"target\": 10", "\"target\": \"2000 mg/L NO3\"", "2000", "stronger stock")]
    [InlineData("1000 mg/L NO3 ± 0.5%", "1000 ppm", "ppm", "mg/L")]
    [InlineData("\"with\": \"P1\"", "\"with\": \"B\"", "balance", "mL")]
    public async Task What_cannot_be_made_is_refused_in_one_sentence(string from, string to, string named, string also)
    {
        const string Good = """
            { "analyte": "NO3", "stock": { "concentration": "1000 mg/L NO3 ± 0.5%" }, "matrix": { "kind": "seawater", "salinity": 35 }, "mixing": 0,
              "target": 10, "steps": [ { "aliquot": "1 mL", "with": "P1", "to": "100 mL", "in": "F100" } ],
              "glassware": { "P1": { "kind": "piston_pipette", "nominal": "1 mL", "least": "0.1 mL", "tolerance": "0.008 mL" }, "F100": { "kind": "flask", "nominal": "100 mL", "tolerance": "0.1 mL" },
                             "B": { "kind": "balance", "tolerance": "0.02 g" } } }
            """;
        var plan = Good.Replace("\"target\": 10", "\"target\": \"10 mg/L NO3\"", StringComparison.Ordinal);
        Assert.Equal(0, (await Prepare(plan)).Exit);
        plan = plan.Replace(from == "\"target\": 10" ? "\"target\": \"10 mg/L NO3\"" : from, to, StringComparison.Ordinal);

        var refused = (await Prepare(plan)).Refused();

        Assert.Contains(named, refused.Error, StringComparison.Ordinal);
        Assert.Contains(also, refused.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_formula_that_is_none_and_a_file_that_is_none()
    {
        Assert.Contains("Xx9", (await Prepare("""{ "analyte": "NO3", "stock": { "salt": "Xx9", "mass": "1 g", "to": "100 mL", "in": "F" }, "glassware": { "F": { "kind": "flask", "tolerance": "0.1 mL" } } }""")).Refused().Error, StringComparison.Ordinal);
        Assert.Contains("holds no N", (await Prepare("""{ "analyte": "NO3", "stock": { "salt": "KCl", "mass": "1 g", "to": "100 mL", "in": "F" }, "glassware": { "F": { "kind": "flask", "tolerance": "0.1 mL" } } }""")).Refused().Error, StringComparison.Ordinal);
        Assert.Contains("nowhere.json", (await Called.With("prepare", "nowhere.json")).Refused().Error, StringComparison.Ordinal);
        Assert.Contains("not JSON", (await Prepare("{ \"analyte\" ")).Refused().Error, StringComparison.Ordinal);
    }

    private async Task<Called> Prepare(string plan, params string[] more)
    {
        var file = Path.Combine(_folder, "plan.json");
        await File.WriteAllTextAsync(file, plan);
        return await Called.With(["prepare", file, .. more]);
    }
}
