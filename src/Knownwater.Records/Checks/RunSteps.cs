using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Instruments;

namespace Knownwater.Records.Checks;

/// <summary>A procedure carried out over the levels and replicates of a check.</summary>
internal static class RunSteps
{
    /// <summary>What the steps say of one level.</summary>
    /// <param name="Ordinal">Its place in the check, from 1.</param>
    /// <param name="Replicates">Readings planned.</param>
    /// <param name="Water">“KW-36”.</param>
    /// <param name="Known">“7.90 ± 0.08 dKH”.</param>
    /// <param name="Value">Known value in the form of the check.</param>
    /// <param name="Conditioning">Runs before the first reading that were declared not to count.</param>
    public sealed record Level(int Ordinal, int Replicates, string Water, string Known, double Value, int Conditioning = 0);

    /// <summary>What the steps say of the check.</summary>
    public sealed record Facts(IReadOnlyList<Level> Levels, string Method, string Unit, double? SampleMillilitres, double? MinutesPerReading, DecimalSign Sign)
    {
        /// <summary>What the check asks.</summary>
        public CheckKind Kind { get; init; }

        /// <summary>What it runs on.</summary>
        public InstrumentKind Instrument { get; init; } = InstrumentKind.Analyser;
    }

    /// <summary>All steps in the order of doing.</summary>
    public static IReadOnlyList<RunStep> Of(Procedure procedure, Facts facts)
    {
        var steps = new List<RunStep>();
        void Add(ProcedureStep step, Level? level, int? replicate, string prefix, string? why, int? conditioning = null)
        {
            var made = Step(procedure, facts, step, level, replicate, prefix, why) with { Index = steps.Count, Conditioning = conditioning };
            steps.Add(conditioning is { } run && made.Kind == RunStepKind.Read
                ? made with { Act = $"Type what it reads. This is conditioning run {run} of {level!.Conditioning}; it does not count.", Why = "It was declared beforehand. It is kept and shown, and never judged." }
                : made);
        }
        foreach (var step in procedure.Steps.Where(s => s.When == ProcedureWhen.Start))
            Add(step, null, null, "start", step.Why);
        Level? former = null;
        foreach (var level in facts.Levels)
        {
            for (var place = 1 - level.Conditioning; place <= level.Replicates; place++)
            {
                // conditioning runs stand before the first replicate and are done alike
                var (first, conditioning) = (place == 1 - level.Conditioning, place < 1 ? place + level.Conditioning : (int?)null);
                int? replicate = place < 1 ? null : place;
                var own = SeriesSteps.Of(facts.Kind, facts.Instrument, procedure, level.Ordinal, first).ToList();
                var rinses = own.Count(s => s.Kind == ProcedureStepKind.Pour);
                var rinse = 0;
                foreach (var step in own)
                {
                    var figure = step.Kind switch
                    {
                        ProcedureStepKind.Pour => Rinsed(procedure, facts, level, first ? former : level, !first || (former is not null && facts.Kind != CheckKind.Usual), ++rinse, rinses),
                        ProcedureStepKind.Dispense => Dispensed(facts),
                        _ => null,
                    };
                    Add(step, level, replicate, $"level-{level.Ordinal}/{(replicate is null ? $"conditioning-{conditioning}" : $"replicate-{replicate}")}", string.Join(' ', new[] { step.Why, figure }.Where(t => !string.IsNullOrEmpty(t))), conditioning);
                }
            }
            former = level;
        }
        foreach (var step in SeriesSteps.AtEnd(facts.Kind, procedure))
            Add(step, null, null, "end", step.Why);
        return steps;
    }

    private static RunStep Step(Procedure procedure, Facts facts, ProcedureStep step, Level? level, int? replicate, string prefix, string? why)
    {
        var blanks = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["method"] = facts.Method,
            ["sample"] = facts.SampleMillilitres is { } sample ? Ml(sample, facts.Sign) : "the method’s sample volume",
            ["rinse"] = Ml(procedure.RinseMillilitres, facts.Sign),
        };
        if (level is not null)
        {
            blanks["water"] = level.Water;
            // in very large type a value with its doubt may need two lines: it breaks before the ±
            blanks["known"] = level.Known.Replace("\u00A0±", " ±", StringComparison.Ordinal);
            blanks["level"] = $"{level.Ordinal}";
            blanks["replicate"] = $"{replicate}";
            blanks["of"] = $"{level.Replicates}";
        }
        string? Said(string? text) => Procedure.Fill(text, blanks) is { Length: > 0 } filled ? filled : null;
        var kind = step.Kind switch
        {
            ProcedureStepKind.Wait => RunStepKind.Wait,
            ProcedureStepKind.Confirm => RunStepKind.Confirm,
            ProcedureStepKind.Read => RunStepKind.Read,
            _ => RunStepKind.Act,
        };
        var seconds = step.TakesReadingTime && facts.MinutesPerReading is { } minutes and > 0 ? (int)Math.Min(Procedure.LongestTimer, Math.Max(1, Math.Round(60 * minutes))) : step.Seconds;
        return new RunStep(0, kind, level?.Ordinal, replicate, $"{prefix}/{step.Key}", Said(step.Act)!, Said(step.Cue), Said(step.Done)!, seconds, step.Signal && seconds is not null, Said(why), Said(step.Caution));
    }

    /// <summary>The reason of a rinse with its figures, each with the point in time at which it applies.</summary>
    private static string Rinsed(Procedure procedure, Facts facts, Level level, Level? former, bool sameWater, int rinse, int rinses)
    {
        var sign = facts.Sign;
        if (procedure.ResidualMillilitres == 0)
            return "Nothing is said to stay behind when it is emptied; a rinse then only wets the wall.";
        RinseResidue After(int n, double fill) => new(Volume.FromMillilitres(procedure.ResidualMillilitres), Volume.FromMillilitres(fill), Volume.FromMillilitres(procedure.RinseMillilitres), n);
        var behind = sameWater ? "the last replicate with its reagents" : "former water";
        var text = $"About {Ml(procedure.ResidualMillilitres, sign)} stays behind when it is emptied. Before the fill, after this rinse ({rinse} of {rinses}), {Percent(After(rinse, procedure.RinseMillilitres).ShareBeforeFill, sign)} of that is {behind}.";
        if (facts.SampleMillilitres is not { } sample)
            return text;
        var (with, without) = (After(rinses, sample), After(rinses - 1, sample));
        text += $" After the fill, {Percent(with.ShareAfterFill, sign)} of what is measured is {behind}; with one rinse fewer it is {Percent(without.ShareAfterFill, sign)}.";
        if (sameWater)
            return text;
        if (former is null)
            return text + $" If that holds none of it, the reading is low by the same {Percent(with.ShareAfterFill, sign)}.";
        var (error, fewer) = (with.CarryOver(former.Value, level.Value), without.CarryOver(former.Value, level.Value));
        return error == 0 ? text : text + $" From {Amount(former.Value, facts)} before, that reads {Amount(Math.Abs(error), facts)} {(error > 0 ? "high" : "low")}; with one rinse fewer, {Amount(Math.Abs(fewer), facts)}.";
    }

    /// <summary>What a twentieth of a millilitre does.</summary>
    private static string Dispensed(Facts facts)
    {
        const double Short = 0.05;
        if (facts.SampleMillilitres is not { } sample || sample <= Short)
            return "A titration takes an error of the volume in full; a colour takes the share that the reagents have in the mixture.";
        var bias = SampleVolume.TitrationBias(Volume.FromMillilitres(sample - Short), Volume.FromMillilitres(sample));
        return $"{Ml(Short, facts.Sign)} too little reads {Percent(-bias, facts.Sign)} low in a titration, and in a colour that times the share of reagent in the mixture.";
    }

    private static string Percent(double share, DecimalSign sign) => $"{NumberWords.Plain(100 * share, 2, sign)}{Words.Narrow}%";

    private static string Amount(double value, Facts facts) => $"{NumberWords.Plain(value, 2, facts.Sign)}{Words.NoBreak}{facts.Unit}";

    private static string Ml(double value, DecimalSign sign) => $"{NumberWords.Plain(value, 6, sign)}{Words.NoBreak}mL";
}
