using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Knownwater.Drift;

namespace Knownwater.Cli.Drift;

/// <summary><c>arl</c>: how long a control chart runs until it signals.</summary>
internal static class ArlVerb
{
    private const string Individuals = "individuals", Ewma = "ewma", Cusum = "cusum", Rules = "run-rules";

    public static Command Create(CommandLine line)
    {
        var kind = new Option<string>("--chart") { Description = "individuals, ewma, cusum or run-rules.", Required = true };
        kind.AcceptOnlyFromAmong(Individuals, Ewma, Cusum, Rules);
        var lambda = new Option<string?>("--lambda") { Description = "Weight of the new point in an ewma, above 0 and at most 1." };
        var width = new Option<string?>("--width") { Description = "Limits of individuals (3 unless given) or of an ewma, in standard deviations." };
        var k = new Option<string?>("--k") { Description = "Reference value of a cusum, in standard deviations." };
        var h = new Option<string?>("--h") { Description = "Decision interval of a cusum, in standard deviations." };
        var shift = new Option<string>("--shift") { Description = "Mean of the points in standard deviations; 0 is in control.", Required = true };
        var sides = new Option<string>("--sides") { Description = "2, or 1 to watch above alone.", DefaultValueFactory = _ => "2" };
        sides.AcceptOnlyFromAmong("1", "2");
        var limits = new Option<string>("--limits") { Description = "Limits of an ewma: asymptotic or time-varying.", DefaultValueFactory = _ => "asymptotic" };
        limits.AcceptOnlyFromAmong("asymptotic", "time-varying");
        var headStart = new Option<string?>("--head-start") { Description = "Where an ewma or a cusum starts, in the units of its limit; 0 unless given." };
        var verb = new Command("arl", "How many points, on average, until a chart signals?") { kind, lambda, width, k, h, shift, sides, limits, headStart };
        verb.SetAction(parsed =>
        {
            var name = parsed.GetRequiredValue(kind);
            var side = parsed.GetValue(sides) == "1" ? ChartSides.Upper : ChartSides.Both;
            Option[] mine = name switch { Ewma => [lambda, width, limits, headStart], Cusum => [k, h, headStart], Individuals => [width], _ => [] };
            foreach (var other in new Option[] { lambda, width, k, h, limits, headStart })
            {
                if (parsed.GetResult(other) is { Implicit: false } && !mine.Contains(other))
                    throw new ArgumentException($"{other.Name} says nothing of the chart \"{name}\". Leave it out.");
            }
            double Need(Option<string?> option) => parsed.GetValue(option) is { } text ? Numbers.Plain(text, option.Name) : throw new ArgumentException($"The chart \"{name}\" needs {option.Name}. {option.Description}");
            double Or(Option<string?> option, double value) => parsed.GetValue(option) is { } text ? Numbers.Plain(text, option.Name) : value;

            var (chart, method) = name switch
            {
                Ewma => ((ControlChart)new EwmaChart(Need(lambda), Need(width)) { Sides = side, TimeVaryingLimits = parsed.GetValue(limits) == "time-varying", HeadStart = Or(headStart, 0) }, "integral equation on Gauss-Legendre nodes"),
                Cusum => (new CusumChart(Need(k), Need(h)) { Sides = side, HeadStart = Or(headStart, 0) }, "integral equation on Gauss-Legendre nodes"),
                Individuals => (new IndividualsChart(Or(width, 3)) { Sides = side }, "closed form"),
                _ => (new RunRulesChart { Sides = side }, "exact Markov chain"),
            };
            var points = chart.AverageRunLength(Numbers.Plain(parsed.GetRequiredValue(shift), shift.Name));
            var json = new JsonObject { ["arl"] = Numbers.Json(points), ["method"] = method };
            return line.Answer(parsed, json, text => text.WriteLine($"{points.ToString(points < 1e6 ? "0.00" : "0.000e0", CultureInfo.InvariantCulture)} points on average until it signals ({method}; from the first point on, with a known standard deviation)."));
        });
        return verb;
    }
}
