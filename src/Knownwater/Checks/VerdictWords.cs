using System.Globalization;
using Knownwater.Quantities;

namespace Knownwater.Checks;

/// <summary>A verdict in words.</summary>
/// <param name="Word">The verdict itself: “Reads high”.</param>
/// <param name="Rest">What follows it in the same sentence, with its leading space or sign.</param>
/// <param name="Sure">How sure, in one line.</param>
public sealed record VerdictText(string Word, string Rest, string Sure)
{
    /// <summary>The whole sentence.</summary>
    public string Sentence => Word + Rest;
}

/// <summary>Under which conditions a verdict was found; what is not known is left out.</summary>
public sealed record StatementFacts
{
    /// <summary>Matrix of the reference water.</summary>
    public Matrix? Matrix { get; init; }

    /// <summary>Its practical salinity.</summary>
    public double? Salinity { get; init; }

    /// <summary>Temperature at the bench in °C.</summary>
    public double? TemperatureCelsius { get; init; }

    /// <summary>Names of the reagent lots in use.</summary>
    public IReadOnlyList<string> Lots { get; init; } = [];

    /// <summary>The day in words, “3 September 2026”.</summary>
    public string? Day { get; init; }
}

/// <summary>Puts a judgement into the keeper's words: percent where the level is well above zero, units of the parameter near zero.</summary>
public static partial class VerdictWords
{
    private const string NoBreak = "\u00A0";
    private const string Narrow = "\u202F";

    private static readonly string[] SmallNumbers =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

    /// <summary>The word of a verdict.</summary>
    /// <param name="verdict">The verdict.</param>
    /// <returns>“Reads right”, “Reads high”, “Reads low” or “Can’t tell yet”.</returns>
    public static string Word(Verdict verdict) => verdict switch
    {
        Verdict.ReadsRight => "Reads right",
        Verdict.ReadsHigh => "Reads high",
        Verdict.ReadsLow => "Reads low",
        _ => "Can’t tell yet",
    };

    /// <summary>The word of a verdict on scatter.</summary>
    /// <param name="scatter">The verdict on scatter.</param>
    /// <returns>“usual”, “worse than usual” or “can’t tell yet”.</returns>
    public static string Word(Scatter scatter) => scatter switch
    {
        Scatter.Usual => "usual",
        Scatter.WorseThanUsual => "worse than usual",
        _ => "can’t tell yet",
    };

    /// <summary>A count in words up to twelve, in figures beyond.</summary>
    /// <param name="count">The count; zero or more.</param>
    /// <returns>“three”, “13”.</returns>
    public static string Count(int count) => count >= 0 && count < SmallNumbers.Length ? SmallNumbers[count] : count.ToString(CultureInfo.InvariantCulture);

    /// <summary>A time in words: minutes to an hour and a half, hours beyond.</summary>
    /// <param name="minutes">Minutes; zero or more.</param>
    /// <returns>“36 minutes”, “an hour”, “2 hours”.</returns>
    public static string Duration(double minutes)
    {
        var whole = Math.Max(1, (int)Math.Round(minutes));
        return whole switch
        {
            1 => "a minute",
            >= 55 and <= 65 => "an hour",
            <= 90 => string.Create(CultureInfo.InvariantCulture, $"{whole}{NoBreak}minutes"),
            _ => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(whole / 30.0) / 2}{NoBreak}hours"),
        };
    }

    /// <summary>The verdict of one level in words.</summary>
    /// <param name="plan">The plan of the level.</param>
    /// <param name="judgement">Its judgement.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>The sentence and how sure it is.</returns>
    public static VerdictText Say(LevelPlan plan, LevelJudgement judgement, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(judgement);
        var scale = new Scale(plan, judgement, sign);
        var word = Word(judgement.Verdict);
        return judgement.Verdict switch
        {
            Verdict.ReadsRight => new VerdictText(word, Right(plan, judgement, scale), SureOfRight(judgement, scale)),
            Verdict.ReadsHigh or Verdict.ReadsLow => new VerdictText(word, Wrong(judgement, scale), SureOfWrong(judgement, scale)),
            _ => new VerdictText(word, ": " + Remedy(plan, judgement, sign), SureOfNothing(judgement, scale)),
        };
    }

    /// <summary>What would settle it, in words that follow “Can’t tell yet: ”.</summary>
    /// <param name="plan">The plan of the level.</param>
    /// <param name="judgement">Its judgement, with a remedy.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>One or two sentences; empty where the verdict is given.</returns>
    public static string Remedy(LevelPlan plan, LevelJudgement judgement, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(judgement);
        if (judgement.Remedy is not { } remedy)
            return "";
        var cost = remedy.Minutes is > 0 ? $", about {Duration(remedy.Minutes.Value)}" : "";
        var unit = NoBreak + plan.Form.UnitDisplay;
        switch (remedy.Kind)
        {
            case RemedyKind.FurtherReadings when judgement.SdOrigin == SdOrigin.None:
                return $"one reading says nothing of its own scatter. Take {Count(remedy.Readings!.Value)} as a new check{cost}.";
            case RemedyKind.FurtherReadings when judgement.N == 1:
                return $"one reading can raise an alarm, it cannot clear the method. Take {Count(remedy.Readings!.Value)} as a new check{cost}.";
            case RemedyKind.FurtherReadings when remedy.IsExtension:
                return remedy.Probability >= 0.5
                    ? $"{Count(remedy.Readings!.Value)} more readings would most likely settle it{cost}."
                    : $"{Count(remedy.Readings!.Value)} more readings may settle it, with about one chance in {Count((int)Math.Round(1 / remedy.Probability!.Value))}{cost}.";
            case RemedyKind.FurtherReadings:
                return $"a new check of {Count(remedy.Readings!.Value)} readings would most likely settle it{cost}.";
            case RemedyKind.BetterReference:
                var needed = plan.ToleranceHere / 2;
                return $"the known water is the limit. More readings cannot help; water known to ±{Narrow}{NumberWords.Plain(needed, 2, sign)}{unit} would.";
            case RemedyKind.FinerDisplay:
                return $"the {plan.ResolutionName} is the limit. More readings cannot help; check at a higher level, or allow a wider tolerance.";
            case RemedyKind.LessScatter:
                return $"the readings scatter too much for this tolerance. It would take about {Count(remedy.Readings!.Value)} of them; find what makes them scatter, or allow a wider tolerance.";
            case RemedyKind.LevelWithinDisplay:
                return "too many readings lie beyond what the display shows. Check with known water that it can show.";
            default:
                return "the reading lies so near your tolerance that more readings can hardly part them. Act as if it were wrong, or allow a wider tolerance.";
        }
    }

    /// <summary>A plan of replicates in words.</summary>
    /// <param name="plan">The plan.</param>
    /// <returns>One or two sentences.</returns>
    public static string Say(ReplicatePlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var right = NumberWords.Fixed(Math.Floor(100 * plan.PowerRight), 0, DecimalSign.Point) + Narrow + "%";
        if (plan.N is { } n)
        {
            var wrong = NumberWords.Fixed(Math.Floor(100 * plan.PowerWrong), 0, DecimalSign.Point) + Narrow + "%";
            var count = Count(n);
            return $"{char.ToUpperInvariant(count[0])}{count[1..]} readings: a method without bias is then found right in {right} of checks, one that is off by twice the tolerance found wrong in {wrong}.";
        }
        return (plan.LimitedByReference, plan.LimitedByResolution) switch
        {
            (true, true) => "No number of readings suffices: the known water and the step of the display are the limit together.",
            (true, _) => "No number of readings suffices: the known water is the limit. Make it with less doubt, or allow a wider tolerance.",
            (_, true) => "No number of readings suffices: the step of the display is the limit. Check at a higher level, or allow a wider tolerance.",
            _ => $"More than {ReplicatePlanning.Most} readings would be needed: the readings scatter too much for this tolerance. Allow a wider one.",
        };
    }

    /// <summary>The decision rule, in words.</summary>
    /// <param name="plan">The plan of the level.</param>
    /// <returns>One sentence.</returns>
    public static string Rule(LevelPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var coverage = CoverageText(plan.Coverage, DecimalSign.Point);
        var rule = $"Right, where the whole {coverage} interval lies within tolerance; high or low, where it leaves out zero and the mean lies beyond tolerance; else can’t tell yet.";
        if (plan.Levels > 1)
            rule += $" The check judges {Count(plan.Levels)} levels, and the chance of a wrong word is shared among them: each has this wider interval.";
        return plan.Looks == 2 ? rule + " One extension was declared beforehand, so that both looks use this wider interval." : rule;
    }

    /// <summary>At which level and under which conditions the verdict holds.</summary>
    /// <param name="plan">The plan of the level.</param>
    /// <param name="facts">Conditions of the check.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>Two sentences.</returns>
    public static string Statement(LevelPlan plan, StatementFacts facts, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(facts);
        var parts = new List<string> { $"At {Known(plan, sign)}" };
        if (facts.Matrix is { } matrix)
            parts.Add(matrix == Matrix.FreshWater ? "in fresh water" : facts.Salinity is { } s ? $"in seawater of salinity {NumberWords.Plain(s, 3, sign)}" : "in seawater");
        if (facts.TemperatureCelsius is { } t)
            parts.Add($"at {NumberWords.Plain(t, 3, sign)}{NoBreak}°C");
        if (facts.Lots.Count > 0)
            parts.Add($"with reagent lot{(facts.Lots.Count > 1 ? "s" : "")} {string.Join(", ", facts.Lots)}");
        if (facts.Day is { } day)
            parts.Add($"on {day}");
        return string.Join(", ", parts) + ". It says nothing about other levels.";
    }

    /// <summary>The known value with its doubt at 95 %.</summary>
    /// <param name="plan">The plan of the level.</param>
    /// <param name="sign">The owner's decimal sign.</param>
    /// <returns>“7.90 ± 0.08 dKH”, or the bare value where it is taken as exact.</returns>
    public static string Known(LevelPlan plan, DecimalSign sign)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var u = plan.Reference.StandardUncertainty;
        if (u == 0)
            return NumberWords.Plain(plan.Reference.Value, 6, sign) + NoBreak + plan.Form.UnitDisplay;
        var (value, doubt) = NumberWords.WithDoubt(plan.Reference.Value, 1.96 * u, sign);
        return $"{value}{NoBreak}±{NoBreak}{doubt}{NoBreak}{plan.Form.UnitDisplay}";
    }

    private static string CoverageText(double coverage, DecimalSign sign) => NumberWords.Plain(100 * coverage, 3, sign) + Narrow + "%";

    private static string Right(LevelPlan plan, LevelJudgement judgement, Scale scale)
    {
        var tolerance = scale.Alone(plan.ToleranceHere);
        if (judgement.Censored > 0)
            return $". All that the display leaves open lies within your tolerance of {tolerance}.";
        var near = plan.IsNearZero && plan.Reference.Value == 0 ? " near zero" : "";
        if (judgement.Bias.ExcludesZero)
            return $"{near}, with a small {(plan.IsNearZero ? "offset" : "bias")} that does not matter: {scale.SizeWithDoubt(judgement.Bias.Value)} {Side(judgement.Bias.Value)}; your tolerance is {tolerance}.";
        var far = Math.Max(-judgement.Bias.Low!.Value, judgement.Bias.High!.Value);
        return $"{near}, {(far <= plan.ToleranceHere / 2 ? "well " : "")}inside your tolerance of {tolerance}.";
    }

    private static string SureOfRight(LevelJudgement judgement, Scale scale)
    {
        if (judgement.Censored > 0)
            return $"{scale.Coverage}: {scale.Sided(judgement.Bias.Low!.Value)} to {scale.Sided(judgement.Bias.High!.Value)}. A smaller offset would not show.";
        var value = scale.IsZero(judgement.Bias.Value) ? "No difference seen" : scale.Sided(judgement.Bias.Value);
        return $"{value} ({scale.Coverage}: {scale.Sided(judgement.Bias.Low!.Value)} to {scale.Sided(judgement.Bias.High!.Value)})";
    }

    private static string Wrong(LevelJudgement judgement, Scale scale)
    {
        var size = judgement.Censored > 0
            ? "at least " + scale.Size(judgement.Verdict == Verdict.ReadsHigh ? judgement.Bias.Low!.Value : judgement.Bias.High!.Value)
            : scale.Size(judgement.Bias.Value);
        return judgement.Matters ? $" by {size}, and that matters." : $" by {size}; that may or may not matter.";
    }

    private static string SureOfWrong(LevelJudgement judgement, Scale scale)
    {
        var bias = judgement.Bias;
        if (bias.Low is not { } low || bias.High is not { } high)
            return $"{scale.Coverage}: beyond what the display shows.";
        var (near, far) = judgement.Verdict == Verdict.ReadsHigh ? (low, high) : (-high, -low);
        var range = $"{scale.Coverage}: {scale.Range(near, far)}";
        return scale.InPercent && judgement.Censored == 0 ? $"{range} · {scale.AbsoluteWithDoubt(Math.Abs(bias.Value))}" : range;
    }

    private static string SureOfNothing(LevelJudgement judgement, Scale scale)
    {
        var bias = judgement.Bias;
        return (bias.Low, bias.High) switch
        {
            ({ } low, { } high) => $"It may read anything from {scale.AbsoluteSided(low)} to {scale.AbsoluteSided(high)}.",
            ({ } low, null) => $"It may read anything from {scale.AbsoluteSided(low)} upward.",
            _ => $"It lies {scale.AbsoluteSided(bias.Value)} against the known water.",
        };
    }

    private static string Side(double bias) => bias < 0 ? "low" : "high";

    /// <summary>Writes biases in percent or in the unit, to the digits that their doubt allows.</summary>
    private sealed class Scale(LevelPlan plan, LevelJudgement judgement, DecimalSign sign)
    {
        private readonly double _doubt = judgement.Bias.Expanded is > 0 and { } expanded ? expanded : Math.Max(Math.Abs(judgement.Bias.Value), plan.ToleranceHere) / 10;

        public bool InPercent => !plan.IsNearZero;

        public string Coverage => CoverageText(plan.Coverage, sign);

        private double Factor => InPercent ? 100 / plan.Reference.Value : 1;

        private string Unit => InPercent ? Narrow + "%" : NoBreak + plan.Form.UnitDisplay;

        public bool IsZero(double bias) => Number(bias).All(c => c is '0' or '.' or ',');

        public string Size(double bias) => Number(Math.Abs(bias)) + Unit;

        /// <summary>A size on its own digits, such as a tolerance.</summary>
        public string Alone(double size) => NumberWords.Plain(size * Factor, 2, sign) + Unit;

        public string Sided(double bias) => IsZero(bias) ? "0" + Unit : Size(bias) + " " + Side(bias);

        public string SizeWithDoubt(double bias) => WithDoubt(Math.Abs(bias) * Factor, _doubt * Factor) + Unit;

        public string Range(double near, double far) => $"{Number(near)} to {Number(far)}{Unit}";

        public string AbsoluteWithDoubt(double size) => WithDoubt(size, _doubt) + NoBreak + plan.Form.UnitDisplay;

        public string AbsoluteSided(double bias) => $"{NumberWords.Value(Math.Abs(bias), _doubt, sign)}{NoBreak}{plan.Form.UnitDisplay} {Side(bias)}";

        private string Number(double bias) => NumberWords.Value(bias * Factor, _doubt * Factor, sign);

        private string WithDoubt(double value, double doubt)
        {
            var (v, d) = NumberWords.WithDoubt(value, doubt, sign);
            return $"{v}{NoBreak}±{NoBreak}{d}";
        }
    }
}
