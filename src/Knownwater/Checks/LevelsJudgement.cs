using Knownwater.Uncertainty;

namespace Knownwater.Checks;

/// <summary>What the levels of a check say together.</summary>
public sealed record LevelsJudgement
{
    /// <summary>On what it rests.</summary>
    public required LevelsBasis Basis { get; init; }

    /// <summary>The levels, ascending by known value.</summary>
    public required IReadOnlyList<JudgedLevel> Levels { get; init; }

    /// <summary>The worst case over the levels, or over the differences.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>Offset and gain; null where the levels do not give them: one known value only, or a level without a standard deviation or with censored replicates.</summary>
    public required LevelsLine? Line { get; init; }

    /// <summary>Each higher level against the lowest; empty unless the difference is judged and can be.</summary>
    public required IReadOnlyList<LevelDifference> Differences { get; init; }

    /// <summary>Known values between which the method reads right: the longest run of neighbouring levels that passed, of two different values at least; null where there is none, and where only differences are judged.</summary>
    public required (double Low, double High)? RightBetween { get; init; }

    /// <summary>Whether error sources that all waters above zero share, as that of one stock, make the larger part of what the waters add to the doubt of the gain.</summary>
    /// <remarks>An error of such a source looks like a gain of the analyser. Levels from independent stocks do not share it.</remarks>
    public required bool OneStock { get; init; }

    /// <summary>Name of the largest shared source of the gain; null where none is shared.</summary>
    public required string? LargestSharedSource { get; init; }

    /// <summary>Whether only water from a second stock can tell whose the error is: one stock, and the gain or the verdict is not right.</summary>
    public required bool NeedsSecondStock { get; init; }

    /// <summary>Whether a level nearer zero is needed to tell an offset: its interval is wider than the tolerance at the lowest level.</summary>
    public required bool NeedsLevelNearZero { get; init; }
}

/// <summary>Offset and gain of a method: indication = offset + gain · value.</summary>
public sealed record LevelsLine
{
    /// <summary>Indication at zero, in the reporting form of the levels, with its error sources.</summary>
    public required Estimate Offset { get; init; }

    /// <summary>Change of the indication per change of the value: 1 for a method that is right; with its error sources.</summary>
    public required Estimate Gain { get; init; }

    /// <summary>Half-width of the 95 % interval of the offset.</summary>
    public required double OffsetExpanded { get; init; }

    /// <summary>Half-width of the 95 % interval of the gain.</summary>
    public required double GainExpanded { get; init; }

    /// <summary>Part of the variance of the gain that comes from error sources shared by all waters above zero, 0 to 1.</summary>
    public required double SharedShare { get; init; }

    /// <summary>Whether the standard deviations of the levels are one pooled estimate.</summary>
    public required bool IsPooled { get; init; }

    /// <summary>Weighted sum of squares about the line; null below three levels.</summary>
    public required double? ChiSquare { get; init; }

    /// <summary>Probability of so large a sum if the levels lie on one line (F with the degrees of freedom of the variances); null below three levels.</summary>
    public required double? FitP { get; init; }

    /// <summary>Covariance of offset and gain, in the unit of the offset.</summary>
    public double Covariance => Estimate.Covariance(Offset, Gain);

    /// <summary>Whether the levels contradict one line (p below 1 %).</summary>
    public bool IsBent => FitP < 0.01;

    /// <summary>Error of the gain in per cent: 100 · (gain − 1).</summary>
    public double GainPercent => 100 * (Gain.Value - 1);

    /// <summary>Half-width of its 95 % interval, in per cent.</summary>
    public double GainPercentExpanded => 100 * GainExpanded;

    /// <summary>Whether the interval of the offset leaves out zero.</summary>
    public bool HasOffset => Math.Abs(Offset.Value) > OffsetExpanded;

    /// <summary>Whether the interval of the gain leaves out one.</summary>
    public bool HasGain => Math.Abs(Gain.Value - 1) > GainExpanded;

    /// <summary>Distance of the line from the known value there, with the half-width of its 95 % interval.</summary>
    /// <param name="known">Known value, in the reporting form of the levels; finite. Nothing is known beyond the levels.</param>
    /// <returns>Indication less known value, and half-width.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The known value is not finite.</exception>
    public (double Distance, double Expanded) At(double known)
    {
        if (!double.IsFinite(known))
            throw new ArgumentOutOfRangeException(nameof(known), known, $"The known value is {known}, but a line is read at a finite value.");
        var there = Estimate.Weighted([Offset, Gain], [1, known]);
        return (there.Value - known, EstimateInterval.HalfWidth(there, 0.95));
    }
}

/// <summary>The bias of the step from one level to another: what the readings climb less what the known values climb.</summary>
/// <param name="Low">Lower known value.</param>
/// <param name="High">Higher known value.</param>
/// <param name="Estimate">The bias of the step, with its error sources; what both waters share in absolute terms has dropped out.</param>
/// <param name="Expanded">Half-width of its interval.</param>
/// <param name="Coverage">Coverage probability of that interval: 5 % are shared among looks and differences.</param>
/// <param name="Tolerance">Tolerance at a value as large as the step.</param>
/// <param name="Verdict">The verdict on the step.</param>
/// <param name="Matters">Whether the whole interval lies beyond the tolerance.</param>
/// <param name="Remedy">What would settle it; null where the verdict is given. Readings are those at each level.</param>
public sealed record LevelDifference(double Low, double High, Estimate Estimate, double Expanded, double Coverage, double Tolerance, Verdict Verdict, bool Matters, Remedy? Remedy)
{
    /// <summary>The step of the known values.</summary>
    public double Step => High - Low;
}
