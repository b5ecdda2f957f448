namespace Knownwater.Checks;

/// <summary>Where the repeatability standard deviation of an interval comes from.</summary>
public enum SdOrigin
{
    /// <summary>No standard deviation is known: one reading, no usable prior.</summary>
    None = 0,

    /// <summary>These replicates alone.</summary>
    Own,

    /// <summary>These replicates pooled with the prior.</summary>
    Pooled,

    /// <summary>The prior alone (one reading).</summary>
    Prior,
}

/// <summary>The bias of a method at one level, in the reporting form of the level.</summary>
/// <param name="Value">Mean of the replicates minus the known value; the middle of what is left open where replicates are censored.</param>
/// <param name="StandardUncertainty">Standard uncertainty (k = 1); null where no standard deviation is known.</param>
/// <param name="Expanded">Half-width of the coverage interval; null where it is unbounded.</param>
/// <param name="Low">Lower end of the coverage interval; null where it is unbounded.</param>
/// <param name="High">Upper end of the coverage interval; null where it is unbounded.</param>
/// <param name="EffectiveDof">Effective degrees of freedom (JCGM 100, G.4); null where they are infinite or unknown.</param>
/// <param name="Coverage">Coverage probability of the interval.</param>
public sealed record Bias(double Value, double? StandardUncertainty, double? Expanded, double? Low, double? High, double? EffectiveDof, double Coverage)
{
    /// <summary>Expanded uncertainty divided by the standard uncertainty; null where either is missing or zero.</summary>
    public double? CoverageFactor => StandardUncertainty is > 0 && Expanded is { } expanded ? expanded / StandardUncertainty : null;

    /// <summary>Bias divided by its expanded uncertainty: beyond one in size, the interval excludes zero; null where there is no interval or it has no width.</summary>
    public double? OverExpanded => Expanded is > 0 ? Value / Expanded : null;

    /// <summary>Whether the interval lies wholly on one side of zero.</summary>
    public bool ExcludesZero => Low > 0 || High < 0;
}

/// <summary>A replicate that lies far from the others.</summary>
/// <param name="Index">Its place in the order of reading, from zero.</param>
/// <param name="Value">The indication.</param>
/// <param name="Statistic">Grubbs' statistic: its distance from the mean over the standard deviation.</param>
/// <param name="CriticalValue">Two-sided critical value at 1 %.</param>
/// <param name="IsTest">Whether there are the five readings that the test needs; below that it is a flag only.</param>
public sealed record Outlier(int Index, double Value, double Statistic, double CriticalValue, bool IsTest);

/// <summary>What the replicates of one level say.</summary>
public sealed record LevelJudgement
{
    /// <summary>The verdict on trueness.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>Whether the whole interval lies beyond the tolerance; only with reads high or reads low.</summary>
    public required bool Matters { get; init; }

    /// <summary>Number of replicates.</summary>
    public required int N { get; init; }

    /// <summary>Number of censored replicates among them.</summary>
    public required int Censored { get; init; }

    /// <summary>Mean of the replicates; where some are censored, the middle of the means that they leave open (or the finite end of it).</summary>
    public required double Mean { get; init; }

    /// <summary>Standard deviation of these replicates; null for one reading. Where some are censored, the largest that they leave open.</summary>
    public required double? Sd { get; init; }

    /// <summary>Standard deviation that the interval uses; null where none is known.</summary>
    public required double? SdUsed { get; init; }

    /// <summary>Degrees of freedom of <see cref="SdUsed"/>; null where none is known, positive infinity where it counts as known.</summary>
    public required double? SdDof { get; init; }

    /// <summary>Where <see cref="SdUsed"/> comes from.</summary>
    public required SdOrigin SdOrigin { get; init; }

    /// <summary>The bias with its interval.</summary>
    public required Bias Bias { get; init; }

    /// <summary>100 · mean / known value; null at a blank.</summary>
    public required double? RecoveryPercent { get; init; }

    /// <summary>Probability that the bias lies within the tolerance (flat prior, Student's t plus normal); null where no standard deviation is known or replicates are censored.</summary>
    public required double? ProbabilityWithinTolerance { get; init; }

    /// <summary>The verdict on scatter.</summary>
    public required Scatter Scatter { get; init; }

    /// <summary>The bias that such a check would show with nine chances in ten; null where no standard deviation is known.</summary>
    public required double? SmallestVisibleBias { get; init; }

    /// <summary>What would settle it; null where the verdict is given.</summary>
    public required Remedy? Remedy { get; init; }

    /// <summary>Replicates that lie far from the others; at most one.</summary>
    public required IReadOnlyList<Outlier> Outliers { get; init; }

    /// <summary>The judgement without the outlier, shown beside this one and never in its place; null where there is none.</summary>
    public required LevelJudgement? WithoutOutlier { get; init; }

    /// <summary>p-value of a straight trend over the order of reading; null below five uncensored readings or without scatter.</summary>
    public required double? TrendP { get; init; }

    /// <summary>Sign of that trend: +1 rising, −1 falling, 0 none.</summary>
    public required int TrendSign { get; init; }

    /// <summary>Whether the readings climb or fall one after the other (p below 1 %).</summary>
    public bool HasTrend => TrendP < 0.01;

    /// <summary>Name of the largest source that more replicates cannot reduce; null where there is none.</summary>
    public required string? LargestIrreducibleSource { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public required double LargestIrreducibleU { get; init; }

    /// <summary>Whether the readings, and not the reference water or the display, make the larger part of the interval.</summary>
    public required bool ReadingsAreTheLimit { get; init; }
}
