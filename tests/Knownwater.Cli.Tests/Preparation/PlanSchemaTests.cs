using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;

namespace Knownwater.Cli.Tests.Preparation;

/// <summary>The schema of a plan says what the command reads, no more and no less.</summary>
public sealed class PlanSchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "docs", "reference", "plan.schema.json")));

    public static TheoryData<string> Plans()
    {
        var data = new TheoryData<string>();
        foreach (var file in Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "docs", "examples"), "*.json").Order(StringComparer.Ordinal))
            data.Add(Path.GetRelativePath(AppContext.BaseDirectory, file));
        return data;
    }

    private static bool Fits(string json) => Schema.Evaluate(JsonDocument.Parse(json).RootElement).IsValid;

    [Theory, MemberData(nameof(Plans))]
    public void Every_worked_plan_fits_the_schema(string file) => Assert.True(Fits(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, file))), file);

    [Fact]
    public void So_do_the_twenty_random_ones()
    {
        using var plans = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data", "preparation-plans", "plans.json")));
        Assert.Equal(20, plans.RootElement.GetArrayLength());
        Assert.All(plans.RootElement.EnumerateArray(), p => Assert.True(Schema.Evaluate(p.GetProperty("plan")).IsValid));
    }

    private const string Good = """
        { "analyte": "NO3", "stock": { "concentration": "1000 mg/L NO3" }, "matrix": { "kind": "seawater", "salinity": 35 },
          "steps": [ { "aliquot": "1 mL", "with": "P", "to": "100 mL", "in": "F" } ],
          "glassware": { "P": { "kind": "bulb_pipette", "tolerance": "0.01 mL" }, "F": { "kind": "flask", "tolerance": "0.1 mL" } } }
        """;

    // each is refused by the command too
    [Theory]
    [InlineData("steps[0]", "to", null)]
    [InlineData("steps[0]", "into", "500 mL")]
    [InlineData("steps[0]", "with", null)]
    [InlineData("steps[0]", "diluent", "tap water")]
    [InlineData("glassware.P", "kind", "spoon")]
    [InlineData("glassware.P", "kind", null)]
    [InlineData("glassware.P", "distribution", "normal")]
    [InlineData("stock", "concentration", null)]
    [InlineData("stock", "salt", "KNO3")]
    [InlineData("matrix", "kind", "lemonade")]
    [InlineData("", "stock", null)]
    [InlineData("", "analyte", null)]
    public async Task What_the_command_refuses_does_not_fit(string where, string key, string? value)
    {
        Assert.True(Fits(Good));
        Assert.Equal(0, (await Prepare(Good)).Exit);
        var plan = JsonNode.Parse(Good)!.AsObject();
        var part = where switch { "" => plan, "steps[0]" => plan["steps"]![0]!.AsObject(), "glassware.P" => plan["glassware"]!["P"]!.AsObject(), _ => plan[where]!.AsObject() };
        if (value is null)
            part.Remove(key);
        else
            part[key] = value;
        Assert.False(Fits(plan.ToJsonString()));
        Assert.Equal(2, (await Prepare(plan.ToJsonString())).Exit);
    }

    // the command names the keys it knows where it is given one that it does not
    [Theory]
    [InlineData("", "")]
    [InlineData("stock", "stock")]
    [InlineData("matrix", "matrix")]
    [InlineData("temperature", "temperature")]
    [InlineData("steps[0]", "step")]
    [InlineData("glassware.P", "glassware")]
    [InlineData("glassware.P.proof", "glassware.proof")]
    [InlineData("stock.companions[0]", "companion")]
    public async Task The_schema_has_the_keys_that_the_command_knows(string where, string definition)
    {
        var plan = JsonNode.Parse(Good)!.AsObject();
        plan["temperature"] = new JsonObject { ["half_range"] = "3 C" };
        plan["stock"]!["companions"] = new JsonArray(new JsonObject { ["in_stock"] = "2 mg/L NH4" });
        plan["glassware"]!["P"]!["proof"] = new JsonObject { ["setting"] = "1 mL", ["bias"] = "0 mL", ["bias_u"] = "0.001 mL", ["sd"] = "0.001 mL" };
        var part = where switch
        {
            "" => plan, "steps[0]" => plan["steps"]![0]!, "glassware.P" => plan["glassware"]!["P"]!, "glassware.P.proof" => plan["glassware"]!["P"]!["proof"]!, "stock.companions[0]" => plan["stock"]!["companions"]![0]!, _ => plan[where]!,
        };
        part["surely not known"] = "x";
        var said = (await Prepare(plan.ToJsonString())).Error;
        const string Mark = "Known are ";
        var known = said[(said.IndexOf(Mark, StringComparison.Ordinal) + Mark.Length)..].Trim().TrimEnd('.').Split(", ");
        var schema = JsonNode.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "docs", "reference", "plan.schema.json")))!;
        var properties = definition switch { "" => schema["properties"], "glassware.proof" => schema["$defs"]!["glassware"]!["properties"]!["proof"]!["properties"], _ => schema["$defs"]![definition]!["properties"] };
        Assert.Equal(known.Order(StringComparer.Ordinal), properties!.AsObject().Select(p => p.Key).Order(StringComparer.Ordinal));
    }

    // by hand, with the atomic weights of IUPAC 2021 (Na2CO3 105.988, KNO3 101.102, NO3 62.004 g/mol):
    // alkalinity: 5.3 g · 0.995/105.988 · 2 · 15/500 = 2.98535 meq/L
    // two dilutions: 1000/100 = 10 mg/L in pure water, then 10 · 5/500 + 0.005 · 495/500 = 0.10495 mg/L
    // weighed salt: 1000 g in air of a solution between 0.998207 and 0.998207 · 1.0016306 g/mL, middle 0.9990207, are 1000 · (1 − 0.0012/8)/(0.9990207 − 0.0012) = 1002.033 mL; 1.6306 g · 0.995 · 62.004/101.102/1.002033 L = 993.00 mg/L; of that 5 in 500 mL
    // proven pipette: 0.9966 mL of 1000 mg/L in 500 g of seawater, 1.02417 g/mL (TEOS-10, S 35, 22 °C): 500 · (1 − 0.0012/8)/(1.02417 − 0.0012) + 0.9966 = 489.69 mL
    [Theory]
    [InlineData("alkalinity", 2.98535, 0.00002, false)] // nearly all of its doubt is the cylinder's and rectangular: 1.96 u is too wide there, and the simulation says so
    [InlineData("bottle-as-it-is", 10, 1e-12, true)]
    [InlineData("two-dilutions", 0.10495, 1e-9, true)]
    [InlineData("weighed-salt", 9.9300, 0.0002, true)]
    [InlineData("proven-pipette", 2.03516, 0.0001, true)]
    public async Task Worked_plans_give_what_is_reckoned_by_hand(string plan, double value, double within, bool validates)
    {
        var called = await Called.With("prepare", Path.Combine(AppContext.BaseDirectory, "docs", "examples", plan + ".json"), "--json");
        Assert.Equal(value, called.Json.GetProperty("concentration").GetProperty("value").GetDouble(), within);
        Assert.Equal(validates, called.Json.GetProperty("monte_carlo").GetProperty("validates").GetBoolean());
    }

    [Fact]
    public async Task The_page_of_worked_plans_says_what_the_command_answers()
    {
        var folder = Path.Combine(AppContext.BaseDirectory, "docs", "examples");
        var rows = (await File.ReadAllLinesAsync(Path.Combine(folder, "README.md"), TestContext.Current.CancellationToken)).Where(l => l.StartsWith("| [", StringComparison.Ordinal) && l.Contains(".json)", StringComparison.Ordinal)).Select(l => l.Split('|', StringSplitOptions.TrimEntries)).ToList();
        Assert.Equal(Directory.GetFiles(folder, "*.json").Select(Path.GetFileName).Order(StringComparer.Ordinal), rows.Select(r => r[1].Split('(')[1].TrimEnd(')')).Order(StringComparer.Ordinal));
        foreach (var row in rows)
        {
            var said = (await Called.With("prepare", Path.Combine(folder, row[1].Split('(')[1].TrimEnd(')')))).Output.Split('\n')[0];
            Assert.Equal(row[3] + " (95 %).", said.Trim().Replace('\u00a0', ' ').Replace('\u202f', ' '));
        }
    }

    [Fact]
    public async Task A_solution_lighter_than_its_salt_is_refused()
    {
        var said = await Prepare("""{ "analyte": "NO3", "stock": { "salt": "KNO3", "mass": "2 g", "to": "1 g", "in": "B" }, "glassware": { "B": { "kind": "balance" } } }""");
        Assert.Equal(2, said.Exit);
        Assert.Contains("1 g in all, but 2 g of salt", said.Error, StringComparison.Ordinal);
    }

    private static async Task<Called> Prepare(string plan)
    {
        var file = Path.GetTempFileName();
        try
        {
            await File.WriteAllTextAsync(file, plan, TestContext.Current.CancellationToken);
            return await Called.With("prepare", file);
        }
        finally
        {
            File.Delete(file);
        }
    }
}
