using System.CommandLine;
using System.Text.Json.Nodes;
using Knownwater.Comparison;
using Knownwater.Quantities;
using Knownwater.Statistics;
using Spectre.Console;

namespace Knownwater.Cli.Comparison;

/// <summary><c>compare</c>: by how much two methods differ on the same waters.</summary>
internal static class CompareVerb
{
    private const string Ways = "difference, deming, york or passing-bablok";

    public static Command Create(CommandLine line)
    {
        var file = new Argument<string>("FILE.csv") { Description = "A table with the columns x and y, a water a row; - reads it from standard input. For york also ux and uy, their standard uncertainties, and r, the correlation of their errors, if any." };
        var by = new Option<string>("--by") { Description = $"How they are compared: {Ways}.", Required = true };
        var ratio = new Option<string?>("--ratio") { Description = "For deming: variance of the errors of y over that of x; 1 unless given." };
        var verb = new Command("compare", "By how much do two methods differ?") { file, by, ratio };
        verb.SetAction((parsed, cancel) =>
        {
            var way = parsed.GetRequiredValue(by);
            var given = parsed.GetValue(ratio);
            if (given is not null && way != "deming")
                throw new ArgumentException($"--ratio {given} belongs to --by deming, but --by is {way}. Leave it out.");
            var table = CsvTable.Read(parsed.GetRequiredValue(file));
            double[] x = table.Numbers("x"), y = table.Numbers("y");
            var compared = way switch
            {
                "difference" => new Compared(null, null, null, "", null, null),
                "deming" => Of(DemingLine.Fit(x, y, given is null ? 1 : Numbers.Plain(given, "--ratio"))),
                "york" => Of(YorkLine.Fit(x, y, table.Numbers("ux"), table.Numbers("uy"), table.Has("r") ? table.Numbers("r") : [])),
                "passing-bablok" => Of(PassingBablokLine.Fit(x, y, cancel: cancel)),
                _ => throw new ArgumentException($"--by is “{way}”, but it is one of {Ways}."),
            };
            var limits = LimitsOfAgreement.Of([.. x.Zip(y, (a, b) => b - a)]);
            if (compared.Line is null)
                compared = compared with { Sentence = ComparisonWords.Say(limits, DecimalSign.Point) };
            return Task.FromResult(line.Answer(parsed, Json(way, compared, limits), text => Write(text, compared, limits)));
        });
        return verb;
    }

    /// <summary>The line, where one was asked for, with what is known of its doubt, and the sentence.</summary>
    private sealed record Compared(Parameter? Line, Parameter? Intercept, double? Dof, string Sentence, YorkLine? York, DemingLine? Deming);

    private sealed record Parameter(double Value, double? StandardUncertainty, Interval Interval);

    private static Compared Of(DemingLine line) => new(new Parameter(line.Slope, line.SlopeStandardUncertainty, line.SlopeInterval), new Parameter(line.Intercept, line.InterceptStandardUncertainty, line.InterceptInterval),
        line.Dof, ComparisonWords.Say(line, DecimalSign.Point), null, line);

    private static Compared Of(YorkLine line) => new(new Parameter(line.Slope, line.SlopeStandardUncertainty, line.SlopeInterval), new Parameter(line.Intercept, line.InterceptStandardUncertainty, line.InterceptInterval),
        null, ComparisonWords.Say(line, DecimalSign.Point), line, null);

    private static Compared Of(PassingBablokLine line) => new(new Parameter(line.Slope, null, line.SlopeInterval), new Parameter(line.Intercept, null, line.InterceptInterval),
        null, ComparisonWords.Say(line, DecimalSign.Point), null, null);

    private static JsonObject Json(string way, Compared compared, LimitsOfAgreement limits) => new()
    {
        ["by"] = way,
        ["n"] = limits.N,
        ["sentence"] = compared.Sentence,
        ["slope"] = Estimated(compared.Line, compared.Dof),
        ["intercept"] = Estimated(compared.Intercept, compared.Dof),
        ["bias"] = Estimated(new Parameter(limits.Bias, limits.BiasStandardUncertainty, limits.BiasInterval), limits.N - 1),
        ["sd"] = Numbers.Json(limits.Sd),
        ["limits_of_agreement"] = new JsonObject
        {
            ["low"] = Numbers.Json(limits.Limits.Low),
            ["high"] = Numbers.Json(limits.Limits.High),
            ["low_from"] = Numbers.Json(limits.LowerLimitInterval.Low),
            ["low_to"] = Numbers.Json(limits.LowerLimitInterval.High),
            ["high_from"] = Numbers.Json(limits.UpperLimitInterval.Low),
            ["high_to"] = Numbers.Json(limits.UpperLimitInterval.High),
        },
        ["prediction_interval"] = new JsonObject { ["low"] = Numbers.Json(limits.PredictionInterval.Low), ["high"] = Numbers.Json(limits.PredictionInterval.High) },
        ["ratio"] = Numbers.Json(compared.Deming?.Ratio),
        ["reliability"] = Numbers.Json(compared.Deming?.Reliability),
        ["chi_square"] = compared.York is { } york
            ? new JsonObject { ["value"] = Numbers.Json(york.ChiSquare), ["dof"] = york.Dof, ["p"] = Numbers.Json(york.P) }
            : null,
    };

    private static JsonObject? Estimated(Parameter? parameter, double? dof)
    {
        if (parameter is null)
            return null;
        var expanded = (parameter.Interval.High - parameter.Interval.Low) / 2;
        return new JsonObject
        {
            ["value"] = Numbers.Json(parameter.Value),
            ["u"] = Numbers.Json(parameter.StandardUncertainty),
            ["expanded"] = Numbers.Json(expanded),
            ["k"] = Numbers.Json(parameter.StandardUncertainty > 0 ? expanded / parameter.StandardUncertainty : null),
            ["dof"] = Numbers.Json(dof),
            ["unit"] = "",
            ["low"] = Numbers.Json(parameter.Interval.Low),
            ["high"] = Numbers.Json(parameter.Interval.High),
        };
    }

    private static void Write(TextWriter text, Compared compared, LimitsOfAgreement limits)
    {
        text.WriteLine(compared.Sentence);
        var table = new Table().NoBorder().HideHeaders().AddColumn("").AddColumn("");
        table.AddRow("Pairs", $"{limits.N}");
        if (compared.Line is { } slope && compared.Intercept is { } intercept)
        {
            table.AddRow("Slope", Shown(slope.Value, slope.Interval));
            table.AddRow("Intercept", Shown(intercept.Value, intercept.Interval));
        }
        table.AddRow("Mean difference y − x", Shown(limits.Bias, limits.BiasInterval));
        table.AddRow("Most differences", $"{Limits(limits.Limits)} (the lower limit {Limits(limits.LowerLimitInterval)}, the upper {Limits(limits.UpperLimitInterval)})");
        table.AddRow("The next difference", Limits(limits.PredictionInterval));
        if (compared.York is { } york)
            table.AddRow("Scatter against what is stated", $"chi-square {NumberWords.Plain(york.ChiSquare, 3, DecimalSign.Point)} where {york.Dof} is expected");
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(text), Ansi = AnsiSupport.No });
        console.Profile.Width = 120;
        console.Write(table);
    }

    private static string Shown(double value, in Interval interval)
    {
        var half = (interval.High - interval.Low) / 2;
        return half > 0 && double.IsFinite(half)
            ? $"{NumberWords.Value(value, half, DecimalSign.Point)} (95 %: {Limits(interval)})"
            : NumberWords.Plain(value, 4, DecimalSign.Point) + (half > 0 ? " (95 %: no limit)" : "");
    }

    private static string Limits(in Interval interval)
    {
        var half = (interval.High - interval.Low) / 2;
        return $"{NumberWords.Value(interval.Low, half, DecimalSign.Point)} to {NumberWords.Value(interval.High, half, DecimalSign.Point)}";
    }
}
