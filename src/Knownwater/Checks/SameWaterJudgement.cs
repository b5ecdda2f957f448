using Knownwater.Uncertainty;

namespace Knownwater.Checks;

/// <summary>What two series of readings of one water say about each other.</summary>
public sealed record SameWaterJudgement
{
    /// <summary>The first series: by hand, or the old bottle.</summary>
    public required JudgedLevel First { get; init; }

    /// <summary>The second series: through the line, or the new bottle.</summary>
    public required JudgedLevel Second { get; init; }

    /// <summary>Reads right where the whole interval lies within the tolerance; reads high or low where the second series reads higher or lower than the first.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>Whether the whole interval lies beyond the tolerance; only with high or low.</summary>
    public required bool Matters { get; init; }

    /// <summary>Mean of the second series minus that of the first, with its error sources: those of the readings and of the display, none of the known water; null where readings are limits or their scatter is not known.</summary>
    public required Estimate? Difference { get; init; }

    /// <summary>Half-width of its interval; null with it.</summary>
    public required double? Expanded { get; init; }

    /// <summary>Coverage probability of the interval.</summary>
    public required double Coverage { get; init; }

    /// <summary>Standard deviation of one reading that both series share; null where each keeps its own, or none is known.</summary>
    public required double? PooledSd { get; init; }

    /// <summary>Effective degrees of freedom of the scatter: pooled, or after Welch; positive infinity where it counts as known, null where none is known.</summary>
    public required double? Dof { get; init; }

    /// <summary>Tolerance at the known value.</summary>
    public required double Tolerance { get; init; }

    /// <summary>What would settle it; null where the verdict is given.</summary>
    public required Remedy? Remedy { get; init; }

    /// <summary>Lower end of the interval; null where there is none.</summary>
    public double? Low => Difference?.Value - Expanded;

    /// <summary>Upper end of the interval; null where there is none.</summary>
    public double? High => Difference?.Value + Expanded;
}
