using System.CommandLine;
using System.Text.Json.Nodes;
using Knownwater.Drift;
using Knownwater.Quantities;
using Spectre.Console;

namespace Knownwater.Cli.Drift;

/// <summary><c>drift</c>: whether a method stays where it is, by its checks over time.</summary>
internal static class DriftVerb
{
    /// <summary>So many lots or alarms are told in the text.</summary>
    private const int Most = 8;

    private const double UsualAlarms = 1, UsualRisk = 0.1, LeastRisk = 0.01, GreatestRisk = 0.5, FewestAlarms = 0.1, MostAlarms = 12, FewestChecks = 1, MostChecks = 100_000;

    public static Command Create(CommandLine line)
    {
        var file = new Argument<string>("FILE.csv") { Description = "A table with the columns time, reference, reference_u and value, a check a row, and n, sd, lot, reference_id, stock_id and preparation_u, if any; - reads it from standard input." };
        var tolerance = new Option<string?>("--tolerance") { Description = "How wrong it may read: \"5%\", \"0.5 dKH\", \"0.5 dKH + 5%\", or a plain number in the unit of the values. Unless given, three times what the checks scatter by stands for it, and nothing is said of right and wrong." };
        var unit = new Option<string?>("--unit") { Description = "Reporting form of the values, such as dKH or \"mg/L NO3\"; that of the tolerance unless given." };
        var resolution = new Option<string?>("--resolution") { Description = "Step of the display." };
        var alarms = new Option<string?>("--false-alarms-per-year") { Description = "How often all methods together may raise the alarm falsely in a year, 0.1 to 12; 1 unless given." };
        var checks = new Option<string?>("--checks-per-year") { Description = "Checks in a year, all methods together; those of the table unless given." };
        var risk = new Option<string?>("--risk") { Description = "Chance of reading wrong at which the next check is due, 1% to 50%; 10% unless given." };
        var verb = new Command("drift", "Does it hold steady? What moved, when, and when to check again.") { file, tolerance, unit, resolution, alarms, checks, risk };
        verb.SetAction(parsed =>
        {
            var (allowed, form) = Tolerance(parsed.GetValue(tolerance), parsed.GetValue(unit));
            double? Within(Option<string?> option, double least, double most) => parsed.GetValue(option) is not { } text ? null : Numbers.Plain(text, option.Name) is var number && number >= least && number <= most ? number
                : throw new ArgumentException($"{option.Name} is {text}, but it is a number from {NumberWords.Plain(least, 2, DecimalSign.Point)} to {NumberWords.Plain(most, 6, DecimalSign.Point)}.");
            var perYear = Within(checks, FewestChecks, MostChecks);
            var read = DriftFile.Read(CsvTable.Read(parsed.GetRequiredValue(file)), allowed, parsed.GetValue(resolution) is { } step ? Size(step, form, resolution.Name) : null);
            var reading = new DriftReading(read, form?.UnitDisplay ?? "", Within(alarms, FewestAlarms, MostAlarms) ?? UsualAlarms, perYear, Risk(parsed.GetValue(risk)));
            var cautions = Cautions(read);
            return line.Answer(parsed, Json(read, reading, form?.Text ?? "", cautions), text => Write(text, read, reading, cautions));
        });
        return verb;
    }

    /// <summary>The tolerance, and the form that it and the values are in, where one is named.</summary>
    private static (Tolerance? Tolerance, ReportingForm? Form) Tolerance(string? text, string? unit)
    {
        var form = unit is null ? null : ReportingForm.Parse(unit);
        if (text is null)
            return (null, form);
        form ??= text.Split('+').Select(part => part.Trim().TrimStart('±').Trim()).Where(part => !part.EndsWith('%') && part.Any(char.IsLetter)).Select(part => QuantityText.ReadQuantity(part, DecimalSign.Point).Form).FirstOrDefault();
        // a plain number is in the unit of the values, whatever that is
        return (QuantityText.ReadTolerance(text, form ?? ReportingForm.Parse("mg/L"), DecimalSign.Point), form);
    }

    private static double Size(string text, ReportingForm? form, string name)
    {
        var size = form is null ? Numbers.Plain(text, name) : Numbers.Size(text, new Quantity(0, form), name);
        return size >= 0 ? size : throw new ArgumentException($"{name} is {text}, but it is zero or more.");
    }

    private static double Risk(string? text)
    {
        if (text is null)
            return UsualRisk;
        var risk = text.TrimEnd().EndsWith('%') ? Numbers.Plain(text.Trim()[..^1], "--risk") / 100 : Numbers.Plain(text, "--risk");
        return risk is >= LeastRisk and <= GreatestRisk ? risk : throw new ArgumentException($"--risk is {text}, but it is a chance from 1% to 50%, such as 10% or 0.1.");
    }

    private static List<string> Cautions(DriftFile file)
    {
        List<string> cautions = [];
        if (!file.IsToleranceGiven)
            cautions.Add("No tolerance was given. Three times what the checks scatter by stands for it, so that nothing is said of right and wrong; --tolerance says how wrong it may read.");
        if (file.Rows.Any(r => r is { CommonU: > 0, Stock.Length: 0, Water.Length: 0 }))
            cautions.Add("Rows name no stock_id and no reference_id. Their known waters count as made from one stock: its error is in all of them, and more checks do not make it smaller.");
        if (!file.Rows.Any(r => r.Sd is not null))
            cautions.Add("No row has n and sd. What is said of the scatter within a check and of that from check to check is their sum, parted by what is usual.");
        if (file.First > 0)
            cautions.Add($"The newest {DriftFile.MostChecks} of {file.Checks} checks are read as a course. Older ones are listed with their deviation alone.");
        if (file.Unused.Count > 0)
            cautions.Add($"Not used: {(file.Unused.Count == 1 ? "the column" : "the columns")} {string.Join(", ", file.Unused.Select(c => c.Length == 0 ? "without a name" : $"“{c}”"))}.");
        return cautions;
    }

    private static JsonObject Json(DriftFile file, DriftReading reading, string unit, List<string> cautions)
    {
        var (components, level) = (reading.Settled.Components, reading.Model.MiddleLevel);
        var (within, between) = (components.WithinAt(level), components.BetweenAt(level));
        return new JsonObject
        {
            ["n"] = file.Rows.Count,
            ["checks"] = file.Checks,
            ["unit"] = unit,
            ["sentence"] = reading.Sentence,
            ["tolerance"] = new JsonObject { ["value"] = Numbers.Json(reading.Scale), ["at"] = Numbers.Json(level), ["given"] = file.IsToleranceGiven },
            ["points"] = new JsonArray([.. Points(file, reading)]),
            ["limits"] = Limits(reading),
            ["arl_in_control"] = Numbers.Json(reading.Chart.InControlRunLength),
            ["checks_to_know"] = file.IsToleranceGiven ? Numbers.Json(reading.Chart.ChecksToKnow) : null,
            ["trueness"] = Estimated(reading.Settled.CombinedBias, reading, unit),
            ["within_sd"] = Numbers.Json(within.Value),
            ["within_sd_low"] = Numbers.Json(within.Interval.Low),
            ["within_sd_high"] = Numbers.Json(within.Interval.High),
            ["between_sd"] = Numbers.Json(between.Value),
            ["between_sd_low"] = Numbers.Json(between.Interval.Low),
            ["between_sd_high"] = Numbers.Json(between.Interval.High),
            ["change"] = Change(file, reading, unit),
            ["probabilities"] = file.Checks < CourseFinding.FewestChecks ? null : new JsonObject
            {
                ["steady"] = Numbers.Json(reading.Change.SteadyProbability),
                ["step"] = Numbers.Json(reading.Change.StepProbability),
                ["drift"] = Numbers.Json(reading.Change.DriftProbability),
            },
            ["events"] = new JsonArray([.. reading.Change.Events.Select(e => (JsonNode)new JsonObject
            {
                ["at"] = file.Times.Json(e.Event.Day),
                ["lot"] = e.Event.Lots[0],
                ["from"] = file.Times.Json(e.Between.Low),
                ["to"] = file.Times.Json(e.Between.High),
                ["step"] = Numbers.Json(e.Step * reading.Scale),
                ["low"] = Numbers.Json(e.Interval.Low * reading.Scale),
                ["high"] = Numbers.Json(e.Interval.High * reading.Scale),
                ["p"] = Numbers.Json(e.P),
                ["p_corrected"] = Numbers.Json(e.CorrectedP),
                ["is_clear"] = e.IsClear,
            })]),
            ["lots"] = new JsonArray([.. reading.Change.Lots.Select(l => (JsonNode)new JsonObject
            {
                ["lot"] = string.Join(" + ", l.Lots),
                ["checks"] = l.Bias.Checks,
                ["bias"] = Estimated(l.Bias, reading, unit),
                ["is_within_tolerance"] = reading.IsWithin(l.Bias.Interval),
            })]),
            ["next_check"] = file.Times.Json(reading.NextDay),
            ["next_check_because"] = new JsonObject
            {
                ["reason"] = reading.Next?.Reason switch
                {
                    NextCheckReason.WrongAlready => "wrong_already",
                    NextCheckReason.MayHaveDrifted => "may_have_drifted",
                    NextCheckReason.EventSince => "event_since",
                    _ => "longest_time",
                },
                ["probability_wrong"] = Numbers.Json(reading.Next?.Probability),
                ["is_prior_driven"] = reading.Next?.PriorDriven,
                ["sentence"] = reading.NextWords,
            },
            ["cautions"] = new JsonArray([.. cautions.Select(c => (JsonNode)c)]),
        };
    }

    private static IEnumerable<JsonNode> Points(DriftFile file, DriftReading reading)
    {
        var averages = reading.Alarms.ToDictionary(a => a.Check);
        foreach (var row in file.Rows)
        {
            var check = row.Check - file.First;
            var scale = reading.History.Tolerance.At(row.Reference);
            var (trueness, stability, forecast) = check >= 0 ? (reading.Settled.Trueness[check], reading.Model.Stability[check], reading.Model.Forecasts[check]) : default;
            var average = averages.GetValueOrDefault(check);
            yield return new JsonObject
            {
                ["time"] = file.Times.Json(row.Day),
                ["check"] = row.Check + 1,
                ["lot"] = row.Lot.Length > 0 ? row.Lot : null,
                ["deviation"] = Numbers.Json(row.Deviation),
                ["u"] = Numbers.Json(trueness?.StandardUncertainty * scale),
                ["from_own_stock"] = Numbers.Json(stability?.Deviation * scale),
                ["forecast_error"] = Numbers.Json(forecast?.Error * scale),
                ["forecast_sd"] = Numbers.Json(forecast?.Sd * scale),
                ["z"] = Numbers.Json(forecast?.Score),
                ["ewma"] = Numbers.Json(average?.Average),
                ["ewma_limit"] = Numbers.Json(average?.Limit),
                ["signals"] = new JsonArray([.. reading.SignalsOf(check).Select(s => (JsonNode)s)]),
            };
        }
    }

    private static JsonObject Limits(DriftReading reading)
    {
        var ewma = reading.Chart.Chart;
        return new JsonObject
        {
            ["ewma"] = new JsonObject
            {
                ["weight"] = Numbers.Json(ewma.Lambda),
                ["width"] = Numbers.Json(ewma.Width),
                ["high"] = Numbers.Json((ewma with { TimeVaryingLimits = false }).LimitAt(1)),
                ["arl_in_control"] = Numbers.Json(reading.Chart.InControlRunLength),
            },
            ["individuals"] = new JsonObject { ["high"] = Numbers.Json(reading.Singles.Width), ["arl_in_control"] = Numbers.Json(reading.Singles.AverageRunLength()) },
            ["moving_range"] = new JsonObject { ["high"] = Numbers.Json(reading.Ranges.Range), ["arl_in_control_with_individuals"] = Numbers.Json(reading.Ranges.AverageRunLength()) },
            ["cusum"] = new JsonObject { ["k"] = Numbers.Json(reading.Sums.K), ["h"] = Numbers.Json(reading.Sums.H), ["arl_in_control"] = Numbers.Json(reading.Sums.AverageRunLength()) },
            ["run_rules"] = new JsonObject { ["arl_in_control"] = Numbers.Json(reading.Rules.AverageRunLength()) },
            ["sd"] = new JsonObject { ["checks"] = new JsonArray([.. CheckScatter.Of(reading.Model).DistinctBy(s => s.Chart).OrderBy(s => s.Chart.Count).Select(s => (JsonNode)new JsonObject
            {
                ["readings"] = s.Chart.Count,
                ["low"] = Numbers.Json(s.Chart.Lower),
                ["high"] = Numbers.Json(s.Chart.Upper),
            })]) },
        };
    }

    /// <summary>What moved; where nothing has, the kind and the probability of that alone.</summary>
    private static JsonObject Change(DriftFile file, DriftReading reading, string unit)
    {
        var moved = reading.Found.Passed is { Came: var came } ? new Movement(CourseKind.Step, came.Step, came.Interval, came.Between, came.Event.Day, came) : reading.Found.Moved;
        JsonNode? Day(double? day) => day is { } known ? file.Times.Json(known) : null;
        return new JsonObject
        {
            ["kind"] = (moved?.Kind ?? CourseKind.Steady) switch { CourseKind.Step => "step", CourseKind.Drift => "drift", _ => "steady" },
            ["at"] = Day(moved?.Likeliest),
            ["from"] = Day(moved?.Onset.Low),
            ["to"] = Day(moved?.Onset.High),
            ["until"] = Day(reading.Found.Passed?.Went.Event.Day),
            ["size"] = Numbers.Json(moved?.Size * reading.Scale),
            ["size_low"] = Numbers.Json(moved?.Interval.Low * reading.Scale),
            ["size_high"] = Numbers.Json(moved?.Interval.High * reading.Scale),
            ["unit"] = moved?.Kind == CourseKind.Drift ? $"{unit} in 30 days".Trim() : unit,
            ["lot"] = moved?.Cause?.Event.Lots[0],
            ["p"] = Numbers.Json(moved?.Cause?.CorrectedP ?? (file.Checks < CourseFinding.FewestChecks ? null : reading.Change.SteadyProbability)),
        };
    }

    private static JsonObject Estimated(CombinedBias bias, DriftReading reading, string unit) => new()
    {
        ["value"] = Numbers.Json(bias.Value * reading.Scale),
        ["u"] = Numbers.Json(bias.StandardUncertainty * reading.Scale),
        ["expanded"] = Numbers.Json(DriftReading.Half(bias.Interval) * reading.Scale),
        ["k"] = Numbers.Json(bias.StandardUncertainty > 0 ? DriftReading.Half(bias.Interval) / bias.StandardUncertainty : null),
        ["dof"] = null,
        ["unit"] = unit,
        ["low"] = Numbers.Json(bias.Interval.Low * reading.Scale),
        ["high"] = Numbers.Json(bias.Interval.High * reading.Scale),
    };

    private static void Write(TextWriter text, DriftFile file, DriftReading reading, List<string> cautions)
    {
        text.WriteLine(reading.Sentence);
        text.WriteLine(reading.Whole);
        var (components, level) = (reading.Settled.Components, reading.Model.MiddleLevel);
        static string Bare(double value) => NumberWords.Plain(value, 2, DecimalSign.Point);
        string Sd(ComponentEstimate sd) => $"{reading.Plain(sd.Value, 2)} (95{NumberWords.NarrowSpace}%: {Bare(sd.Interval.Low)} to {Bare(sd.Interval.High)})";

        var table = new Table().NoBorder().HideHeaders().AddColumn("").AddColumn("");
        void Row(string name, string what) => table.AddRow(Markup.Escape(name), Markup.Escape(what));
        Row("Checks", file.Checks == 1 ? $"1, {file.Times.Words(file.Rows[0].Day)}" : $"{file.Checks}, {file.Times.Words(file.Rows[0].Day)} to {file.Times.Words(file.Rows[^1].Day)}");
        Row(file.IsToleranceGiven ? "Tolerance" : "In place of a tolerance", $"±{NumberWords.NarrowSpace}{reading.Plain(reading.Scale, 2)}");
        if (reading.Found.Passed is ({ } came, { } went))
            Row("It began", $"between {reading.Day(came.Between.Low)} and {reading.Day(came.Between.High)}, and was over by {reading.Day(went.Between.High)}");
        else if (reading.Found.Moved is { } moved)
            Row("It began", $"between {reading.Day(moved.Onset.Low)} and {reading.Day(moved.Onset.High)}");
        if (file.Checks >= CourseFinding.FewestChecks)
        {
            string Chance(double p) => $"{NumberWords.Fixed(100 * p, 0, DecimalSign.Point)}{NumberWords.NarrowSpace}%";
            Row(reading.Change.Events.Any(e => e.IsClear) ? "Beside the steps" : "Chances", $"steady {Chance(reading.Change.SteadyProbability)}, a step {Chance(reading.Change.StepProbability)}, a drift {Chance(reading.Change.DriftProbability)}");
        }
        Row("Within one check", Sd(components.WithinAt(level)));
        Row("From check to check", Sd(components.BetweenAt(level)));
        var alarms = reading.Alarms.Where(a => a.Alarm).Select(a => reading.Day(a.Day)).ToList();
        Row("Alarm", $"{(alarms.Count == 0 ? "none" : $"{Earlier(alarms.Count)}{string.Join(", ", alarms.TakeLast(Most))}")}; false once in about {Bare(reading.Chart.InControlRunLength)} checks");
        var lots = reading.Change.Lots;
        if (lots.Count > Most)
            Row("Lots", $"the last {Most} of {lots.Count}; --json has all");
        foreach (var lot in lots.TakeLast(Most))
            Row($"Lot {string.Join(" + ", lot.Lots)}", $"{reading.Signed(lot.Bias.Value, lot.Bias.Interval)}, {(lot.Bias.Checks == 1 ? "1 check" : $"{lot.Bias.Checks} checks")}{(reading.IsWithin(lot.Bias.Interval) switch { true => ", within tolerance", false => ", beyond tolerance", _ => "" })}");
        Row("Next check", reading.NextWords);
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(text), Ansi = AnsiSupport.No });
        console.Profile.Width = 120;
        console.Write(table);
        foreach (var caution in cautions)
            text.WriteLine(caution);
    }

    private static string Earlier(int count) => count <= Most ? "" : $"{count - Most} earlier, ";
}
