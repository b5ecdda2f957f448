using System.CommandLine;
using System.Text.Json.Nodes;
using Knownwater.Checks;
using Knownwater.Quantities;

namespace Knownwater.Cli.Checks;

/// <summary><c>replicates</c>: how many readings a check needs.</summary>
internal static class ReplicatesVerb
{
    public static Command Create(CommandLine line)
    {
        var tolerance = new Option<string>("--tolerance") { Description = "How wrong it may read: \"5%\", \"0.02 mg/L PO4\" or \"0.02 mg/L PO4 + 5%\".", Required = true };
        var at = new Option<string>("--at") { Description = "The known value with its form, such as \"8.0 dKH\".", Required = true };
        var sd = new Option<string>("--sd") { Description = "Standard deviation of one reading.", Required = true };
        var referenceU = new Option<string?>("--reference-u") { Description = "Standard uncertainty of the known value; zero unless given." };
        var resolution = new Option<string?>("--resolution") { Description = "Step of the display; zero unless given." };
        var power = new Option<string?>("--power") { Description = "How sure: 0.9 is nine times in ten." };
        var verb = new Command("replicates", "How many readings tell right from wrong?") { tolerance, at, sd, referenceU, resolution, power };
        verb.SetAction(parsed =>
        {
            var level = QuantityText.ReadQuantity(parsed.GetRequiredValue(at), DecimalSign.Point);
            double Size(string? text, string name) => text is null ? 0 : Numbers.Size(text, level, name);

            var plan = ReplicatePlanning.Plan(
                QuantityText.ReadTolerance(parsed.GetRequiredValue(tolerance), level.Form, DecimalSign.Point).At(level.Value),
                Size(parsed.GetRequiredValue(sd), sd.Name),
                Size(parsed.GetValue(referenceU), referenceU.Name),
                Size(parsed.GetValue(resolution), resolution.Name),
                power: parsed.GetValue(power) is { } p ? Numbers.Plain(p, power.Name) : 0.9);
            var json = new JsonObject
            {
                ["n"] = plan.N,
                ["power_right"] = Numbers.Json(plan.PowerRight),
                ["power_wrong"] = Numbers.Json(plan.PowerWrong),
                ["limited_by_reference"] = plan.LimitedByReference,
                ["limited_by_resolution"] = plan.LimitedByResolution,
                ["sentence"] = VerdictWords.Say(plan),
            };
            return line.Answer(parsed, json, text => text.WriteLine(VerdictWords.Say(plan)));
        });
        return verb;
    }
}
