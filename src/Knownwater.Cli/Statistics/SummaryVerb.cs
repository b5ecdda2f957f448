using System.CommandLine;
using System.Text.Json.Nodes;
using Knownwater.Quantities;
using Knownwater.Statistics;
using Spectre.Console;

namespace Knownwater.Cli.Statistics;

/// <summary><c>summary</c>: mean, scatter and likeness of neighbours; what groups differ by.</summary>
internal static class SummaryVerb
{
    public static Command Create(CommandLine line)
    {
        var file = new Argument<string>("FILE.csv") { Description = "A table with the column value; - reads it from standard input." };
        var group = new Option<string?>("--group") { Description = "Column that says which values belong together; their scatter within and between groups is then told apart." };
        var verb = new Command("summary", "What do these values have in common, and how much do they scatter?") { file, group };
        verb.SetAction(parsed =>
        {
            var table = CsvTable.Read(parsed.GetRequiredValue(file));
            var values = table.Numbers("value");
            var names = parsed.GetValue(group) is { } column ? table.Texts(column) : null;
            var summary = new Summary(values, names);
            return line.Answer(parsed, Json(summary), text => Write(text, summary));
        });
        return verb;
    }

    private static JsonObject Json(Summary summary) => new()
    {
        ["n"] = summary.Moments.N,
        ["mean"] = Numbers.Json(summary.Moments.Mean),
        ["mean_low"] = Numbers.Json(summary.Mean?.Low),
        ["mean_high"] = Numbers.Json(summary.Mean?.High),
        ["sd"] = Numbers.Json(summary.Sd),
        ["sd_low"] = Numbers.Json(summary.SdLimits?.Low),
        ["sd_high"] = Numbers.Json(summary.SdLimits?.High),
        ["autocorrelation"] = Numbers.Json(summary.Autocorrelation),
        ["f"] = Numbers.Json(summary.Anova?.F),
        ["p"] = Numbers.Json(summary.Anova?.P),
        ["between_dof"] = Numbers.Json(summary.Anova?.BetweenDof),
        ["within_dof"] = Numbers.Json(summary.Anova?.WithinDof),
        ["between_ms"] = Numbers.Json(summary.Anova?.BetweenMeanSquare),
        ["within_ms"] = Numbers.Json(summary.Anova?.WithinMeanSquare),
        ["repeatability_sd"] = Numbers.Json(summary.Anova?.RepeatabilityStandardDeviation),
        ["between_sd"] = Numbers.Json(summary.Anova?.BetweenStandardDeviation),
        ["groups"] = new JsonArray([.. summary.Groups.Select(g => (JsonNode)new JsonObject
        {
            ["name"] = g.Name,
            ["n"] = g.Moments.N,
            ["mean"] = Numbers.Json(g.Moments.Mean),
            ["sd"] = Numbers.Json(g.Moments.N > 1 ? g.Moments.StandardDeviation : null),
        })]),
    };

    private static void Write(TextWriter text, Summary summary)
    {
        static string Size(double value) => NumberWords.Plain(value, 2, DecimalSign.Point);
        string Mean(double mean) => summary.Sd is > 0 and { } sd ? NumberWords.Value(mean, sd, DecimalSign.Point) : NumberWords.Plain(mean, 6, DecimalSign.Point);

        var table = new Table().NoBorder().HideHeaders().AddColumn("").AddColumn("");
        table.AddRow("Values", $"{summary.Moments.N}");
        if (summary.Mean is { } limits && summary.Sd > 0)
        {
            var (mean, doubt) = NumberWords.WithDoubt(summary.Moments.Mean, (limits.High - limits.Low) / 2, DecimalSign.Point);
            table.AddRow("Mean", $"{mean} ± {doubt} (95 %)");
        }
        else
            table.AddRow("Mean", Mean(summary.Moments.Mean));
        if (summary.Sd is { } all)
            table.AddRow("Standard deviation", summary.SdLimits is { } s && all > 0 ? Limits(all, s) : "0");
        if (summary.Autocorrelation is { } r)
            table.AddRow("Likeness of neighbours", NumberWords.Fixed(r, 2, DecimalSign.Point) + (summary.NeighboursAreAlike ? ": they resemble each other, so that the mean is less sure than it looks" : ""));
        if (summary.Anova is { } anova)
        {
            table.AddRow("Within groups", Markup.Escape($"sd {Size(anova.RepeatabilityStandardDeviation)}"));
            table.AddRow("Between groups", Markup.Escape($"sd {Size(anova.BetweenStandardDeviation)}; F = {(double.IsFinite(anova.F) ? NumberWords.Plain(anova.F, 4, DecimalSign.Point) : "∞")}, {Chance(anova.P)}"));
        }
        foreach (var (name, moments) in summary.Groups)
            table.AddRow(Markup.Escape(name), $"{Mean(moments.Mean)}, {(moments.N == 1 ? "1 value" : $"{moments.N} values")}");
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(text), Ansi = AnsiSupport.No });
        console.Profile.Width = 120;
        console.Write(table);
        if (summary.Sd == 0)
            text.WriteLine("All values are equal: there is no scatter to tell anything from.");
    }

    private static string Limits(double value, Interval limits)
    {
        string Shown(double number) => NumberWords.Value(number, (limits.High - limits.Low) / 2, DecimalSign.Point);
        return $"{Shown(value)} (95 %: {Shown(limits.Low)} to {Shown(limits.High)})";
    }

    private static string Chance(double p) => p < 0.001 ? "which chance alone gives in less than 1 of 1000 cases" : $"which chance alone gives in {NumberWords.Plain(100 * p, 2, DecimalSign.Point)} % of cases";

    private sealed class Summary
    {
        public Summary(double[] values, string[]? names)
        {
            Moments = SampleMoments.Of(values);
            if (values.Length > 1)
            {
                Sd = Moments.StandardDeviation;
                Mean = MeanInterval.Of(Moments);
                SdLimits = SdInterval.Of(Sd.Value, values.Length - 1);
            }
            if (Sd > 0)
                Autocorrelation = Knownwater.Statistics.Autocorrelation.Lag1(values);
            if (names is null)
                return;
            var groups = names.Zip(values).GroupBy(pair => pair.First, pair => pair.Second, StringComparer.Ordinal).Select(g => (Name: g.Key, Values: g.ToArray())).ToList();
            Groups = [.. groups.Select(g => (g.Name, SampleMoments.Of(g.Values)))];
            if (Sd is not 0)
                Anova = OneWayAnova.Of([.. groups.Select(g => g.Values)]);
        }

        public SampleMoments Moments { get; }

        public Interval? Mean { get; }

        public double? Sd { get; }

        public Interval? SdLimits { get; }

        public double? Autocorrelation { get; }

        /// <summary>Beyond two standard errors, 1/√n, of the coefficient of independent values.</summary>
        public bool NeighboursAreAlike => Autocorrelation > 2 / Math.Sqrt(Moments.N);

        public OneWayAnova? Anova { get; }

        public IReadOnlyList<(string Name, SampleMoments Moments)> Groups { get; } = [];
    }
}
