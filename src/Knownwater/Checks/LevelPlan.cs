using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Checks;

/// <summary>What is fixed about one level of a check before its first replicate.</summary>
/// <remarks>All numbers are in <see cref="Form"/>.</remarks>
public sealed record LevelPlan
{
    /// <summary>Known value of the reference water with its error sources; not negative.</summary>
    public required Estimate Reference { get; init; }

    /// <summary>Reporting form in which reference, tolerance and indications are written.</summary>
    public required ReportingForm Form { get; init; }

    /// <summary>How wrong a reading may be before one would act differently; above zero at the reference value.</summary>
    public required Tolerance Tolerance { get; init; }

    /// <summary>Step of the display; zero where it is negligible.</summary>
    public double Resolution { get; init; }

    /// <summary>What makes the step, as it is told: of a display, of a colour card, a drop.</summary>
    public string ResolutionName { get; init; } = "step of the display";

    /// <summary>Repeatability known beforehand; null where none is.</summary>
    public PriorSd? Prior { get; init; }

    /// <summary>Whether the prior is pooled with the scatter of these readings for the interval; without it the prior only tells whether the scatter is usual.</summary>
    public bool PoolPrior { get; init; } = true;

    /// <summary>One, or two where an extension was declared beforehand: then both looks use 97.5 % intervals.</summary>
    public int Looks { get; init; } = 1;

    /// <summary>Which look this is: one, or two after the declared extension was taken.</summary>
    public int Look { get; init; } = 1;

    /// <summary>Number of levels that the check judges together, one or more; fixed before the first replicate.</summary>
    /// <remarks>The chance of a wrong word, 5 % a check, is shared among the levels (Bonferroni), so that a check of several levels raises a false alarm no more often than one.</remarks>
    public int Levels { get; init; } = 1;

    /// <summary>Minutes that one replicate takes; null where it is not known.</summary>
    public double? MinutesPerReplicate { get; init; }

    /// <summary>Coverage probability of the interval: 1 − 0.05/(<see cref="Looks"/> · <see cref="Levels"/>), so 0.95 for one look at one level.</summary>
    public double Coverage => CoverageOf(Looks, Levels);

    /// <summary>Tolerance at the reference value.</summary>
    public double ToleranceHere => Tolerance.At(Reference.Value);

    /// <summary>Whether the level is so near zero that percentages mislead: the tolerance reaches a quarter of the reference value.</summary>
    public bool IsNearZero => !(ToleranceHere < 0.25 * Reference.Value);

    /// <summary>Coverage probability for so many looks at so many levels.</summary>
    internal static double CoverageOf(int looks, int levels) => 1 - 0.05 / (looks * levels);

    internal void Validate()
    {
        if (!(Reference.Value >= 0) || double.IsInfinity(Reference.Value))
            throw new ArgumentOutOfRangeException(nameof(Reference), Reference.Value, $"The known value is {Reference.Value} {Form.Unit}, but known water holds zero or more. Give its concentration.");
        if (!(ToleranceHere > 0) || double.IsInfinity(ToleranceHere))
            throw new ArgumentOutOfRangeException(nameof(Tolerance), ToleranceHere, $"The tolerance at {Reference.Value} {Form.Unit} is {ToleranceHere} {Form.Unit}, but it must be above zero. Say how wrong a reading may be before you would act differently.");
        if (!(Resolution >= 0) || double.IsInfinity(Resolution))
            throw new ArgumentOutOfRangeException(nameof(Resolution), Resolution, $"The display step is {Resolution} {Form.Unit}, but it must be zero or more. Give the smallest step that the display shows.");
        if (Looks is not (1 or 2) || Look is not (1 or 2) || Look > Looks)
            throw new ArgumentOutOfRangeException(nameof(Looks), Looks, $"This is look {Look} of {Looks}, but a check has one look, or two where one extension was declared beforehand.");
        if (Levels < 1)
            throw new ArgumentOutOfRangeException(nameof(Levels), Levels, $"The check has {Levels} levels, but it has at least one. Say how many levels it judges together.");
        if (MinutesPerReplicate is { } minutes && !(minutes >= 0 && minutes < double.PositiveInfinity))
            throw new ArgumentOutOfRangeException(nameof(MinutesPerReplicate), minutes, $"One reading takes {minutes} minutes, but that must be zero or more.");
    }
}
