using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;
using Spectre.Console;

namespace Knownwater.Cli.Checks;

/// <summary><c>judge</c>: the verdict on replicates of one level.</summary>
internal static class JudgeVerb
{
    public static Command Create(CommandLine line)
    {
        var reference = new Option<string>("--reference") { Description = "The known value with its form, such as \"8.0 dKH\" or \"8.0 dKH ± 0.1 dKH\".", Required = true };
        var referenceU = new Option<string?>("--reference-u") { Description = "Its standard uncertainty; zero is allowed." };
        var referenceExpanded = new Option<string?>("--reference-expanded") { Description = "Its expanded uncertainty, with --k." };
        var k = new Option<string?>("--k") { Description = "Coverage factor of --reference-expanded; 2 unless given." };
        var tolerance = new Option<string>("--tolerance") { Description = "How wrong it may read: \"5%\", \"0.02 mg/L PO4\" or \"0.02 mg/L PO4 + 5%\".", Required = true };
        var resolution = new Option<string?>("--resolution") { Description = "Step of the display." };
        var priorSd = new Option<string?>("--prior-sd") { Description = "Repeatability known beforehand at this level." };
        var priorDof = new Option<string?>("--prior-dof") { Description = "Its degrees of freedom." };
        var looks = new Option<string?>("--looks") { Description = "2 where one extension was declared beforehand; else 1." };
        var values = new Argument<string[]>("VALUE") { Description = "The readings in order, in the form of the known value; \"<0.02\" for what the display cuts off.", Arity = ArgumentArity.OneOrMore };
        var verb = new Command("judge", "Is it reading right? The verdict on readings of known water.")
        {
            reference, referenceU, referenceExpanded, k, tolerance, resolution, priorSd, priorDof, looks, values,
        };
        verb.SetAction(parsed =>
        {
            var known = QuantityText.ReadUncertainQuantity(parsed.GetRequiredValue(reference), DecimalSign.Point);
            var quantity = new Quantity(known.Value, known.Form);
            double? Size(Option<string?> option) => parsed.GetValue(option) is { } text ? Numbers.Size(text, quantity, option.Name) : null;

            var plan = new LevelPlan
            {
                Reference = Known(known, Size(referenceU), Size(referenceExpanded), parsed.GetValue(k)),
                Form = known.Form,
                Tolerance = QuantityText.ReadTolerance(parsed.GetRequiredValue(tolerance), known.Form, DecimalSign.Point),
                Resolution = Size(resolution) ?? 0,
                Prior = Prior(Size(priorSd), parsed.GetValue(priorDof)),
                Looks = Looks(parsed.GetValue(looks)),
            };
            var judged = LevelCheck.Judge(plan, [.. parsed.GetRequiredValue(values).Select(text => Indication(text, quantity))]);
            var said = VerdictWords.Say(plan, judged, DecimalSign.Point);
            return line.Answer(parsed, Json(plan, judged, said), text => Write(text, plan, judged, said));
        });
        return verb;
    }

    private static Estimate Known(UncertainQuantity known, double? u, double? expanded, string? factor)
    {
        if (expanded is null && factor is not null)
            throw new ArgumentException($"--k {factor} belongs to --reference-expanded, which is missing. Give both, or neither.");
        var given = (known.Kind == DoubtKind.NotGiven ? 0 : 1) + (u is null ? 0 : 1) + (expanded is null ? 0 : 1);
        if (given != 1)
        {
            throw new ArgumentException(given == 0
                ? $"How well is {known.Value.ToString(CultureInfo.InvariantCulture)} {known.Form.Text} known? Give --reference-u, or --reference-expanded with --k, or write ± behind the known value; zero counts it as exact."
                : "The doubt of the known value is given more than once. Keep one of --reference-u, --reference-expanded and ±.");
        }
        const string name = "known value as stated";
        if (known.Kind != DoubtKind.NotGiven)
        {
            if (known.Doubt == 0)
                return Estimate.Exact(known.Value);
            return known.Kind == DoubtKind.Expanded
                ? Estimate.From(known.Value, ErrorSource.Expanded(name, known.Doubt, known.CoverageFactor!.Value, known.Form.Text))
                : Estimate.From(known.Value, ErrorSource.Rectangular(name, known.Doubt, known.Form.Text));
        }
        var k = factor is null ? 2 : Numbers.Plain(factor, "--k");
        if (!(k > 0))
            throw new ArgumentException($"--k is {factor}, but a coverage factor is above zero; it is usually 2.");
        var standard = u ?? expanded!.Value / k;
        return standard == 0 ? Estimate.Exact(known.Value) : Estimate.From(known.Value, ErrorSource.Normal(name, standard, known.Form.Text));
    }

    private static PriorSd? Prior(double? sd, string? dof) => (sd, dof) switch
    {
        (null, null) => null,
        ({ } value, { } text) => new PriorSd(value, Numbers.Plain(text, "--prior-dof")),
        _ => throw new ArgumentException("--prior-sd and --prior-dof belong together. Give both, or neither."),
    };

    private static int Looks(string? text) => text is null ? 1 : Numbers.Plain(text, "--looks") switch
    {
        1 => 1,
        2 => 2,
        _ => throw new ArgumentException($"--looks is {text}, but there is one look, or two where an extension was declared beforehand: give 1 or 2."),
    };

    private static Indication Indication(string text, Quantity reference)
    {
        var read = NumberText.Read(text, DecimalSign.Point);
        if (read.Ok)
            return new Indication(read.Value, read.Censoring);
        // a number with its own form is taken where that is the form of the known value
        Quantity own;
        try
        {
            own = QuantityText.ReadQuantity(text, DecimalSign.Point);
        }
        catch (Exception fault) when (fault is FormatException or ArgumentException)
        {
            throw new QuantityFormatException(text.StartsWith("--", StringComparison.Ordinal) ? $"{text} is not an option of judge." : read.Error!, fault);
        }
        return own.Form == reference.Form
            ? new Indication(own.Value)
            : throw new QuantityFormatException($"The reading {text} is in {own.Form.Text}, but the known value is in {reference.Form.Text}. Convert one of them first.");
    }

    private static JsonObject Json(LevelPlan plan, LevelJudgement judged, VerdictText said) => new()
    {
        ["verdict"] = judged.Verdict switch { Verdict.ReadsRight => "reads_right", Verdict.ReadsHigh => "reads_high", Verdict.ReadsLow => "reads_low", _ => "cannot_tell" },
        ["sentence"] = said.Sentence,
        ["how_sure"] = said.Sure,
        ["matters"] = judged.Matters,
        ["n"] = judged.N,
        ["censored"] = judged.Censored,
        ["unit"] = plan.Form.Text,
        ["mean"] = Numbers.Json(judged.Mean),
        ["sd"] = Numbers.Json(judged.Sd),
        ["sd_used"] = Numbers.Json(judged.SdUsed),
        ["reference"] = Estimated(plan.Reference.Value, plan.Reference.StandardUncertainty, plan.Form.Text),
        ["tolerance"] = Numbers.Json(plan.ToleranceHere),
        ["bias"] = new JsonObject
        {
            ["value"] = Numbers.Json(judged.Bias.Value),
            ["u"] = Numbers.Json(judged.Bias.StandardUncertainty),
            ["expanded"] = Numbers.Json(judged.Bias.Expanded),
            ["k"] = Numbers.Json(judged.Bias.CoverageFactor),
            ["dof"] = Numbers.Json(judged.Bias.EffectiveDof),
            ["unit"] = plan.Form.Text,
            ["low"] = Numbers.Json(judged.Bias.Low),
            ["high"] = Numbers.Json(judged.Bias.High),
            ["coverage"] = Numbers.Json(judged.Bias.Coverage),
        },
        ["recovery_percent"] = Numbers.Json(judged.RecoveryPercent),
        ["probability_within_tolerance"] = Numbers.Json(judged.ProbabilityWithinTolerance),
        ["bias_over_expanded"] = Numbers.Json(judged.Bias.OverExpanded),
        ["scatter"] = judged.Scatter switch { Scatter.Usual => "usual", Scatter.WorseThanUsual => "worse_than_usual", _ => "cannot_tell" },
        ["smallest_visible_bias"] = Numbers.Json(judged.SmallestVisibleBias),
        ["largest_irreducible_source"] = judged.LargestIrreducibleSource,
        ["trend_p"] = Numbers.Json(judged.TrendP),
        ["remedy"] = judged.Remedy is { } remedy
            ? new JsonObject
            {
                ["kind"] = remedy.Kind switch
                {
                    RemedyKind.FurtherReadings => "further_readings",
                    RemedyKind.BetterReference => "better_reference",
                    RemedyKind.FinerDisplay => "finer_display",
                    RemedyKind.LessScatter => "less_scatter",
                    RemedyKind.LevelWithinDisplay => "level_within_display",
                    _ => "at_the_tolerance",
                },
                ["readings"] = remedy.Readings,
                ["probability"] = Numbers.Json(remedy.Probability),
                ["extension"] = remedy.IsExtension,
                ["sentence"] = VerdictWords.Remedy(plan, judged, DecimalSign.Point),
            }
            : null,
        ["outliers"] = new JsonArray([.. judged.Outliers.Select(o => (JsonNode)new JsonObject
        {
            ["index"] = o.Index,
            ["value"] = Numbers.Json(o.Value),
            ["statistic"] = Numbers.Json(o.Statistic),
            ["critical_value"] = Numbers.Json(o.CriticalValue),
            ["is_test"] = o.IsTest,
            ["sentence_without"] = judged.WithoutOutlier is { } rest ? VerdictWords.Say(plan, rest, DecimalSign.Point).Sentence : null,
        })]),
        ["statement"] = Statement(plan),
    };

    private static JsonObject Estimated(double value, double u, string unit) => new()
    {
        ["value"] = Numbers.Json(value),
        ["u"] = Numbers.Json(u),
        ["expanded"] = Numbers.Json(CoverageFactor.Normal(0.95) * u),
        ["k"] = Numbers.Json(CoverageFactor.Normal(0.95)),
        ["dof"] = null,
        ["unit"] = unit,
    };

    private static string Statement(LevelPlan plan) => VerdictWords.Statement(plan, new StatementFacts(), DecimalSign.Point) + " " + VerdictWords.Rule(plan);

    private static void Write(TextWriter text, LevelPlan plan, LevelJudgement judged, VerdictText said)
    {
        text.WriteLine(said.Sentence);
        text.WriteLine(said.Sure);
        var form = plan.Form;
        string Size(double? value) => value is { } v ? NumberWords.Plain(v, 2, DecimalSign.Point) + " " + form.UnitDisplay : "–";
        var mean = judged.Bias.Expanded is { } expanded and > 0 && double.IsFinite(expanded)
            ? NumberWords.Value(judged.Mean, expanded, DecimalSign.Point)
            : NumberWords.Plain(judged.Mean, 4, DecimalSign.Point);

        var table = new Table().NoBorder().HideHeaders().AddColumn("").AddColumn("");
        table.AddRow("Known value", Markup.Escape(VerdictWords.Known(plan, DecimalSign.Point)));
        table.AddRow($"Mean of {VerdictWords.Count(judged.N)}", Markup.Escape($"{mean} {form.UnitDisplay}"));
        table.AddRow("Tolerance", Markup.Escape("± " + Size(plan.ToleranceHere)));
        if (judged.ProbabilityWithinTolerance is { } within)
            table.AddRow("Chance that it is within", within < 0.01 ? "less than 1 %" : within > 0.99 ? "more than 99 %" : NumberWords.Fixed(100 * within, 0, DecimalSign.Point) + " %");
        table.AddRow("Scatter", Markup.Escape(judged.Sd is { } sd ? $"{VerdictWords.Word(judged.Scatter)}: {Size(sd)} between readings" : VerdictWords.Word(judged.Scatter)));
        table.AddRow("Smallest visible bias", Markup.Escape(Size(judged.SmallestVisibleBias)));
        foreach (var outlier in judged.Outliers)
            table.AddRow($"Reading {outlier.Index + 1}", Markup.Escape($"lies far from the others. Without it: {VerdictWords.Say(plan, judged.WithoutOutlier!, DecimalSign.Point).Sentence}"));
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(text), Ansi = AnsiSupport.No });
        console.Profile.Width = 100;
        console.Write(table);
        text.WriteLine(Statement(plan));
    }
}
