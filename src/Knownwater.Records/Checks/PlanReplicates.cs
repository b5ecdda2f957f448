using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Works out how many readings a check needs, and why.</summary>
public sealed class PlanReplicates(RecordsContext records)
{
    private const int MostSensible = 20;

    /// <summary>What is known before the first reading; numbers as typed.</summary>
    public sealed record Command
    {
        /// <summary>Key of a listed parameter, or <c>other</c>.</summary>
        public required string Parameter { get; init; }

        /// <summary>Name of another analyte; only with <c>other</c>.</summary>
        public string OtherName { get; init; } = "";

        /// <summary>Reporting form as text, <c>mg/L Cd</c>; empty for the parameter's own.</summary>
        public string Form { get; init; } = "";

        /// <summary>Method under check; null for none.</summary>
        public Guid? Method { get; init; }

        /// <summary>Water from the shelf; then <see cref="Known"/> and <see cref="Doubt"/> are not read.</summary>
        public Guid? ReferenceWater { get; init; }

        /// <summary>Known value as typed, in the form.</summary>
        public string Known { get; init; } = "";

        /// <summary>Its doubt as typed; empty is refused, “0” is taken as exact.</summary>
        public string Doubt { get; init; } = "";

        /// <summary>What the doubt means.</summary>
        public DoubtMeaning DoubtKind { get; init; }

        /// <summary>Tolerance in the form's unit as typed; both parts empty for the default.</summary>
        public string ToleranceAbsolute { get; init; } = "";

        /// <summary>Tolerance in percent of the known value as typed.</summary>
        public string TolerancePercent { get; init; } = "";

        /// <summary>Step of the display as typed; empty for the method's, else none.</summary>
        public string Resolution { get; init; } = "";

        /// <summary>Minutes that a reading takes as typed; empty for the method's, else unknown.</summary>
        public string MinutesPerReading { get; init; } = "";

        /// <summary>Whether one extension is declared beforehand.</summary>
        public bool ExtensionDeclared { get; init; }

        /// <summary>Whether the typical scatter of the parameter is taken as a weak prior.</summary>
        public bool UseTypicalScatter { get; init; }

        /// <summary>What the check asks: two series of one water are planned by their difference.</summary>
        public CheckKind Kind { get; init; }

        /// <summary>Number of levels that the check will judge together.</summary>
        public int Levels { get; init; } = 1;
    }

    /// <summary>Every way the command can end.</summary>
    public abstract record Outcome
    {
        /// <summary>The number with its reason.</summary>
        public sealed record Planned(ReplicateAdvice Advice) : Outcome;

        /// <summary>Nothing was written; each fault stands beside its field.</summary>
        public sealed record Refused(IReadOnlyList<FieldFault> Faults) : Outcome;
    }

    /// <summary>Does it.</summary>
    /// <param name="command">What shall be done.</param>
    /// <param name="cancel">Cancels the act.</param>
    /// <returns>How it ended.</returns>
    public async Task<Outcome> Handle(Command command, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(command);
        records.StartAfresh();
        var bench = await BenchSetting.Read(records, default, cancel);
        var fields = bench.Fields();
        var plan = new PlanFields(records, bench, fields);
        var method = await plan.Method(command.Method, cancel);
        if (plan.Measured(command.Parameter, command.OtherName, command.Form, method) is not { } measured)
            return new Outcome.Refused(fields.Faults);
        var tolerance = plan.Tolerance(command.ToleranceAbsolute, command.TolerancePercent, measured, method);
        var resolution = plan.Resolution(command.Resolution, method);
        var minutes = plan.Minutes(command.MinutesPerReading, method);
        double level = 0, referenceU = 0;
        var matrix = method?.Matrix;
        if (command.ReferenceWater is { } id)
        {
            if (await plan.Water("ReferenceWater", id, measured, method, cancel) is { } water)
                (level, referenceU, matrix) = (water.Known.Value, water.Known.StandardUncertainty, matrix ?? water.Water.Matrix);
        }
        else if (KnownValue.Read(fields, "", command.Known, command.Doubt, command.DoubtKind, measured.Form) is { } known)
        {
            (level, referenceU) = (known.Value, known.StandardUncertainty);
        }
        if (fields.Ok && tolerance is { } t)
            plan.Level(command.ReferenceWater is null ? "Known" : "ReferenceWater", level, t.Tolerance, measured, method);
        if (!fields.Ok || tolerance is not { } allowed)
            return new Outcome.Refused(fields.Faults);
        var usual = await UsualScatter.At(records, method?.Id, measured, matrix, level, allowed.Tolerance, cancel);
        var kit = method is null ? null : KitScale.Of(method);
        if (kit is not null)
            resolution = Math.Max(resolution, kit.ResolutionAt(level));
        return new Outcome.Planned(Advise(bench, measured, allowed, level, referenceU, resolution, minutes, usual, command, kit?.StepName ?? KitScale.DisplayStep));
    }

    private static ReplicateAdvice Advise(BenchSetting bench, Measured measured, (Tolerance Tolerance, string Source) allowed, double level, double referenceU, double resolution, double? minutes, PriorSd? usual, Command command, string step)
    {
        var tolerance = allowed.Tolerance.At(level);
        var unit = Words.NoBreak + measured.Form.UnitDisplay;
        var looks = command.ExtensionDeclared ? 2 : 1;
        var pooled = usual is { IsTypical: true } ? command.UseTypicalScatter : usual is not null;
        var sd = usual?.Value ?? tolerance / 4;
        var prior = pooled ? usual : null;
        var compared = command.Kind != CheckKind.Usual;
        var plan = compared ? SameWaterCheck.Plan(tolerance, sd, resolution, prior) : ReplicatePlanning.Plan(tolerance, sd, referenceU, resolution, prior, looks, levels: Math.Max(1, command.Levels));
        var recommended = plan.N is { } n && n <= MostSensible ? Math.Max(n, Least(usual)) : (int?)null;
        var numbers = Enumerable.Range(3, 8).Append(recommended ?? 5).Distinct().Order();
        var choices = numbers.Select(c =>
        {
            var (right, wrong) = compared ? SameWaterCheck.Power(c, tolerance, sd, resolution, prior) : ReplicatePlanning.Power(c, tolerance, sd, referenceU, resolution, prior, looks, Math.Max(1, command.Levels));
            return new ReplicateChoice(c, right, wrong, minutes * c * (compared ? 2 : 1));
        }).ToList();
        var scatter = usual switch
        {
            { IsTypical: true } s => $"{NumberWords.Plain(s.Value, 2, bench.Sign)}{unit} between readings; typical, not yours",
            { } s => $"{NumberWords.Plain(s.Value, 2, bench.Sign)}{unit} between readings; your own, from earlier checks at this level",
            _ => $"not known yet; a quarter of the tolerance is taken, {NumberWords.Plain(sd, 2, bench.Sign)}{unit}",
        };
        return new ReplicateAdvice
        {
            Recommended = recommended,
            Reason = Reason(plan, recommended, compared ? 2 * minutes : minutes, tolerance, unit, bench.Sign, step, compared),
            Choices = choices,
            LimitedByReference = plan.LimitedByReference,
            LimitedByResolution = plan.LimitedByResolution,
            Sd = sd,
            SdIsTypical = usual?.IsTypical ?? false,
            ScatterWords = scatter,
            Tolerance = tolerance,
            ToleranceWords = Words.ToleranceAt(allowed.Tolerance, level, measured.Form, bench.Sign),
            ToleranceAbsolute = NumberWords.Plain(allowed.Tolerance.Absolute, 6, bench.Sign),
            TolerancePercent = NumberWords.Plain(allowed.Tolerance.Percent, 6, bench.Sign),
            ToleranceSource = allowed.Source.Length > 0 ? allowed.Source : null,
        };
    }

    private static int Least(PriorSd? usual) => usual is { IsTypical: false, Dof: >= UsualScatter.OwnFrom } ? 2 : 3;

    private static string Reason(ReplicatePlan plan, int? recommended, double? minutes, double tolerance, string unit, DecimalSign sign, string step, bool compared)
    {
        if (plan.LimitedByReference)
            return $"The known water is the limit: its doubt alone is too wide for a tolerance of {NumberWords.Plain(tolerance, 2, sign)}{unit}, and no number of readings can mend that. Take better known water, or allow a wider tolerance.";
        if (plan.LimitedByResolution)
            return $"The {step} is the limit: no number of readings can mend that. Check at a higher level, or allow a wider tolerance.";
        if (recommended is not { } n)
            return $"The readings scatter too much for this tolerance: it would take {(plan.N is { } many ? many.ToString(System.Globalization.CultureInfo.InvariantCulture) : "more than a thousand")}. Find what makes them scatter, or allow a wider tolerance.";
        var cost = minutes is > 0 ? $", about {VerdictWords.Duration(n * minutes.Value)}" : "";
        if (compared)
            return $"{Words.Capital(Words.Count(n))} in each series{cost}: enough to catch a difference of twice the tolerance nine times in ten. The doubt of the known water does not enter.";
        return $"{Words.Capital(Words.Count(n))}{cost}: enough to catch an error that matters nine times in ten.";
    }
}

/// <summary>How many readings, and why.</summary>
public sealed record ReplicateAdvice
{
    /// <summary>The number that is recommended; null where no sensible number suffices.</summary>
    public required int? Recommended { get; init; }

    /// <summary>Why, in a sentence or two.</summary>
    public required string Reason { get; init; }

    /// <summary>The choices offered, ascending.</summary>
    public required IReadOnlyList<ReplicateChoice> Choices { get; init; }

    /// <summary>Whether the doubt of the known water is the limit, so that no number suffices.</summary>
    public required bool LimitedByReference { get; init; }

    /// <summary>Whether the step of the display is the limit.</summary>
    public required bool LimitedByResolution { get; init; }

    /// <summary>Scatter of a single reading that was reckoned with, in the form's unit.</summary>
    public required double Sd { get; init; }

    /// <summary>Whether that scatter is typical of the parameter and not the method's own.</summary>
    public required bool SdIsTypical { get; init; }

    /// <summary>The scatter in words, with where it comes from.</summary>
    public required string ScatterWords { get; init; }

    /// <summary>Tolerance at the known value, in the form's unit.</summary>
    public required double Tolerance { get; init; }

    /// <summary>The tolerance in words, “± 0.46 dKH: 0.3 dKH + 2 %”.</summary>
    public required string ToleranceWords { get; init; }

    /// <summary>The parts of the tolerance as they stand in the fields, in the bench's decimal sign.</summary>
    public required string ToleranceAbsolute { get; init; }

    /// <summary>The percent part as it stands in the field.</summary>
    public required string TolerancePercent { get; init; }

    /// <summary>Where a default tolerance comes from; null where the tolerance was typed or is the method's.</summary>
    public required string? ToleranceSource { get; init; }
}

/// <summary>One number of readings that may be chosen.</summary>
/// <param name="N">Number of readings.</param>
/// <param name="PowerRight">Chance of “reads right” where there is no bias; null for one reading.</param>
/// <param name="PowerWrong">Chance of “reads high” at twice the tolerance; null for one reading.</param>
/// <param name="Minutes">What they cost; null where a reading's time is not known.</param>
public sealed record ReplicateChoice(int N, double? PowerRight, double? PowerWrong, double? Minutes);
