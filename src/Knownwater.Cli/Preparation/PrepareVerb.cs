using System.CommandLine;
using System.Text.Json.Nodes;
using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Uncertainty;
using Spectre.Console;

namespace Knownwater.Cli.Preparation;

/// <summary><c>prepare</c>: value and budget of one preparation as described in a plan.</summary>
internal static class PrepareVerb
{
    private const int Trials = 1_000_000;

    public static Command Create(CommandLine line)
    {
        var file = new Argument<string>("PLAN.json") { Description = "The plan; - reads it from standard input." };
        var seed = new Option<string?>("--seed") { Description = "Seed of the Monte Carlo run; the same seed gives the same result. 1 unless given." };
        var verb = new Command("prepare", "What is the value of the water that I make, and how well is it known?") { file, seed };
        verb.SetAction(parsed =>
        {
            var plan = PlanFile.Read(Text(parsed.GetRequiredValue(file)));
            var water = Preparations.Of(plan);
            var simulated = water.Simulate(Seed(parsed.GetValue(seed)), Trials);
            var validation = Validation.Of(water.Concentration, simulated, digits: 1);
            return line.Answer(parsed, Json(water, simulated, validation), text => Write(text, water, simulated, validation));
        });
        return verb;
    }

    private static string Text(string file)
    {
        if (file == "-")
            return Console.In.ReadToEnd();
        return File.Exists(file) ? File.ReadAllText(file)
            : throw new ArgumentException($"There is no file “{file}”. Give the path of a plan, or - for standard input.");
    }

    private static ulong Seed(string? text) => text is null ? 1
        : ulong.TryParse(text, out var seed) ? seed : throw new ArgumentException($"--seed is “{text}”, but a whole number of zero or above is needed.");

    private static JsonObject Json(PreparedWater water, MonteCarloResult simulated, Validation validation) => new()
    {
        ["concentration"] = Estimated(water.Concentration, water.Form.Text),
        ["budget"] = new JsonArray([.. water.Concentration.Budget().OrderByDescending(b => b.Share).Select(b => (JsonNode)new JsonObject
        {
            ["source"] = b.Name,
            ["value"] = Numbers.Json(water.InputValues.TryGetValue(b.Source.Id, out var value) ? value : null),
            ["u"] = Numbers.Json(b.StandardUncertainty),
            ["unit"] = b.Source.Unit,
            ["sensitivity"] = Numbers.Json(b.Sensitivity),
            ["contribution"] = Numbers.Json(Math.Abs(b.Contribution)),
            ["share"] = Numbers.Json(b.Share),
            ["bought"] = water.Bought.Contains(b.Source.Id),
        })]),
        ["largest_irreducible_source"] = Largest(water)?.Source.Name,
        ["monte_carlo"] = new JsonObject
        {
            ["mean"] = Numbers.Json(simulated.Mean),
            ["u"] = Numbers.Json(simulated.StandardUncertainty),
            ["low"] = Numbers.Json(simulated.Low),
            ["high"] = Numbers.Json(simulated.High),
            ["shortest_low"] = Numbers.Json(simulated.ShortestLow),
            ["shortest_high"] = Numbers.Json(simulated.ShortestHigh),
            ["trials"] = simulated.Trials,
            ["validates"] = validation.Holds,
        },
        ["after_steps"] = new JsonArray([.. water.AfterSteps.Select(v => (JsonNode?)Numbers.Json(v))]),
        ["stock_ml"] = Numbers.Json(water.StockMillilitres),
        ["made_ml"] = Numbers.Json(water.MadeMillilitres),
        ["salinity"] = Numbers.Json(water.Salinity),
        ["other_parameters"] = new JsonArray([.. water.Others.Select(o => (JsonNode)new JsonObject { ["name"] = o.Name, ["added"] = Numbers.Json(o.Added), ["unit"] = o.Form.Text })]),
        ["cautions"] = new JsonArray([.. water.Cautions.Select(c => (JsonNode)c)]),
    };

    private static Contribution? Largest(PreparedWater water) => water.Concentration.LargestAmong(s => water.Bought.Contains(s.Id));

    private static JsonObject Estimated(Estimate estimate, string unit)
    {
        var dof = estimate.EffectiveDof;
        var k = double.IsPositiveInfinity(dof) ? CoverageFactor.Normal(0.95) : CoverageFactor.StudentT(0.95, dof);
        return new()
        {
            ["value"] = Numbers.Json(estimate.Value),
            ["u"] = Numbers.Json(estimate.StandardUncertainty),
            ["expanded"] = Numbers.Json(k * estimate.StandardUncertainty),
            ["k"] = Numbers.Json(k),
            ["dof"] = Numbers.Json(double.IsPositiveInfinity(dof) ? null : dof),
            ["unit"] = unit,
        };
    }

    private static void Write(TextWriter text, PreparedWater water, MonteCarloResult simulated, Validation validation)
    {
        var c = water.Concentration;
        var expanded = Estimated(c, "")["expanded"]?.GetValue<double>() ?? 0;
        if (expanded > 0)
        {
            var (value, doubt) = NumberWords.WithDoubt(c.Value, expanded, DecimalSign.Point);
            text.WriteLine($"{value} ± {doubt} {water.Form.Display} (95 %).");
        }
        else
        {
            text.WriteLine($"{NumberWords.Plain(c.Value, 6, DecimalSign.Point)} {water.Form.Display}, taken as exact.");
        }
        var budget = c.Budget().OrderByDescending(b => b.Share).ToList();
        if (budget.Count > 0)
        {
            var table = new Table().NoBorder().AddColumn("Where the doubt comes from").AddColumn(new TableColumn("u").RightAligned()).AddColumn(new TableColumn("adds").RightAligned()).AddColumn(new TableColumn("share").RightAligned());
            foreach (var b in budget.Where(b => b.Share > 1e-9))
            {
                table.AddRow(Markup.Escape(b.Name + (water.Bought.Contains(b.Source.Id) ? " (bought)" : "")), Markup.Escape($"{NumberWords.Plain(b.StandardUncertainty, 2, DecimalSign.Point)} {b.Source.Unit}".TrimEnd()),
                    Markup.Escape($"{NumberWords.Plain(Math.Abs(b.Contribution), 2, DecimalSign.Point)} {water.Form.UnitDisplay}"), b.Share < 0.01 ? "under 1 %" : NumberWords.Fixed(100 * b.Share, 0, DecimalSign.Point) + " %");
            }
            var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(text), Ansi = AnsiSupport.No });
            console.Profile.Width = 100;
            console.Write(table);
            text.WriteLine(validation.Holds
                ? $"By simulation ({simulated.Trials} trials) the same."
                : $"By simulation ({simulated.Trials} trials) the interval is {NumberWords.Value(simulated.Low, expanded, DecimalSign.Point)} to {NumberWords.Value(simulated.High, expanded, DecimalSign.Point)} {water.Form.UnitDisplay}: take that one.");
        }
        text.WriteLine($"Salinity {NumberWords.Plain(water.Salinity, 4, DecimalSign.Point)}.");
        foreach (var other in water.Others)
            text.WriteLine($"Also in it: {other.Name}, {NumberWords.Plain(other.Added, 4, DecimalSign.Point)} {other.Form.Display}.");
        foreach (var caution in water.Cautions)
            text.WriteLine(caution);
    }
}
