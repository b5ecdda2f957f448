using System.Text.RegularExpressions;
using Knownwater.Quantities;

namespace Knownwater.Records.Instruments;

/// <summary>How one replicate is fed to an instrument by hand, and what stands before the first and after the last: data, not code.</summary>
/// <remarks>
/// Cues, volumes and the number of rinses belong to the procedure, the sample volume to the method. It is kept as a JSON document; see
/// docs/reference/procedure.md and procedure.schema.json.
/// </remarks>
public sealed partial record Procedure
{
    /// <summary>The most steps.</summary>
    public const int MostSteps = 60;

    /// <summary>The longest text of a step.</summary>
    public const int LongestText = 300;

    /// <summary>The longest timer, seconds: two hours.</summary>
    public const int LongestTimer = 7200;

    /// <summary>The greatest volume, mL.</summary>
    public const double GreatestMillilitres = 1000;

    /// <summary>What a text may hold in braces: some anywhere, some only where the water is known.</summary>
    public static IReadOnlyDictionary<string, string> Blanks { get; } = new Dictionary<string, string>(StringComparer.Ordinal)
    {
        ["method"] = "what is measured in which water: “nitrate in seawater”",
        ["sample"] = "sample volume of the method: “5 mL”",
        ["rinse"] = "rinse volume: “10 mL”",
        ["water"] = "label of the known water: “KW-36”",
        ["known"] = "its known value with doubt and form: “10.15 ± 0.16 mg/L NO₃”",
        ["level"] = "the level, from 1",
        ["replicate"] = "the reading of that level, from 1",
        ["of"] = "number of readings planned at that level",
    };

    private static readonly HashSet<string> OfOneWater = new(["water", "known", "level", "replicate", "of"], StringComparer.Ordinal);

    /// <summary>What it is called.</summary>
    public required string Name { get; init; }

    /// <summary>Where it comes from.</summary>
    public required string Source { get; init; }

    /// <summary>What stays behind when the chamber is emptied, mL.</summary>
    public required double ResidualMillilitres { get; init; }

    /// <summary>Volume of each rinse, mL.</summary>
    public required double RinseMillilitres { get; init; }

    /// <summary>Its steps in order.</summary>
    public required IReadOnlyList<ProcedureStep> Steps { get; init; }

    /// <summary>The procedure that comes with the program for a kind of instrument; null for a laboratory, which is fed by post.</summary>
    /// <param name="kind">The kind.</param>
    public static Procedure? Shipped(InstrumentKind kind) => kind switch
    {
        InstrumentKind.Analyser => ProcedureDocument.Shipped("analyser"),
        InstrumentKind.HandKit => ProcedureDocument.Shipped("hand-kit"),
        _ => null,
    };

    /// <summary>The steps of one replicate in order.</summary>
    /// <param name="first">Whether it is the first of its level, where the water changes.</param>
    public IEnumerable<ProcedureStep> StepsOfReplicate(bool first) =>
        Steps.Where(s => s.When == ProcedureWhen.EachReplicate || (first && s.When == ProcedureWhen.FirstReplicate));

    /// <summary>How often the chamber is rinsed with the known water before each reading.</summary>
    public int Rinses => Steps.Count(s => s.Kind == ProcedureStepKind.Pour && s.When == ProcedureWhen.EachReplicate);

    /// <summary>What is wrong with it, each fault at <c>Name</c>, <c>Residual</c>, <c>Rinse</c>, <c>Steps</c> or <c>Steps[3].Act</c>; empty where it can be followed.</summary>
    public IReadOnlyList<FieldFault> Faults()
    {
        var faults = new List<FieldFault>();
        void Fault(string field, string sentence) => faults.Add(new FieldFault(field, sentence));
        void Text(string field, string? text, string missing, int longest)
        {
            if (text is { Length: > 0 } && text.Length > longest)
                Fault(field, $"That is {text.Length} characters long; {longest} fit. Shorten it.");
            else if (string.IsNullOrWhiteSpace(text) && missing.Length > 0)
                Fault(field, missing);
        }
        Text("Name", Name, "The procedure has no name yet.", 80);
        Text("Source", Source, "", LongestText);
        if (!(ResidualMillilitres >= 0 && ResidualMillilitres <= GreatestMillilitres))
            Fault("Residual", $"{Ml(ResidualMillilitres)} does not do: what stays behind is 0 to {GreatestMillilitres} mL.");
        if (!(RinseMillilitres > 0 && RinseMillilitres <= GreatestMillilitres))
            Fault("Rinse", $"{Ml(RinseMillilitres)} does not do: a rinse is above 0 and at most {GreatestMillilitres} mL.");
        if (Steps.Count > MostSteps)
            Fault("Steps", $"These are {Steps.Count} steps; a procedure has at most {MostSteps}.");
        var reads = Steps.Count(s => s.Kind == ProcedureStepKind.Read);
        if (reads != 1 || Steps.Any(s => s.Kind == ProcedureStepKind.Read && s.When != ProcedureWhen.EachReplicate))
            Fault("Steps", $"A reading is typed in {(reads == 1 ? "another place" : $"{reads} steps")}; it is exactly one step, and that of each replicate.");
        var keys = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < Steps.Count; i++)
        {
            var (step, at) = (Steps[i], $"Steps[{i}].");
            if (!Key().IsMatch(step.Key))
                Fault(at + "Key", $"“{step.Key}” is no name of a step: it is 1 to 40 small letters, digits and hyphens.");
            else if (!keys.Add(step.Key))
                Fault(at + "Key", $"“{step.Key}” names two steps. Give one of them another name.");
            Text(at + "Act", step.Act, "What to do is not said yet.", LongestText);
            Text(at + "Done", step.Done, "The button has no word yet. Name it by what was done: “Poured”.", 40);
            Text(at + "Cue", step.Cue, "", LongestText);
            Text(at + "Why", step.Why, "", LongestText);
            Text(at + "Caution", step.Caution, "", LongestText);
            if (step.Kind is ProcedureStepKind.Pour or ProcedureStepKind.Dispense && !OfReplicate(step.When))
                Fault(at + "When", "Known water is poured and dispensed in a replicate. Let it apply to each, or to the first of a level.");
            if (step.Seconds is { } seconds && seconds is < 1 or > LongestTimer)
                Fault(at + "Timer", $"{seconds} s does not do: a timer runs 1 s to {LongestTimer / 60} min.");
            foreach (var (field, text) in new[] { ("Act", step.Act), ("Cue", step.Cue), ("Done", step.Done), ("Why", step.Why), ("Caution", step.Caution) })
            {
                foreach (var blank in Blank().Matches(text ?? "").Select(m => m.Groups["name"].Value))
                {
                    if (!Blanks.ContainsKey(blank))
                        Fault(at + field, $"{{{blank}}} stands for nothing here. Known are {string.Join(", ", Blanks.Keys.Select(k => $"{{{k}}}"))}.");
                    else if (OfOneWater.Contains(blank) && !OfReplicate(step.When))
                        Fault(at + field, $"{{{blank}}} is not known in a step of the whole run. It belongs in a step of a replicate.");
                }
            }
        }
        return faults;
    }

    /// <summary>A text with its blanks filled.</summary>
    internal static string? Fill(string? text, IReadOnlyDictionary<string, string> with) =>
        text is null ? null : Blank().Replace(text, m => with.GetValueOrDefault(m.Groups["name"].Value, m.Value));

    private static bool OfReplicate(ProcedureWhen when) => when is ProcedureWhen.EachReplicate or ProcedureWhen.FirstReplicate;

    private static string Ml(double value) => NumberWords.Plain(double.IsFinite(value) ? value : 0, 6, DecimalSign.Point) + " mL";

    [GeneratedRegex(@"^[a-z0-9]+(-[a-z0-9]+)*\z(?<=^.{1,40})", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Key();

    [GeneratedRegex(@"\{(?<name>[^{}]*)\}", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Blank();
}
