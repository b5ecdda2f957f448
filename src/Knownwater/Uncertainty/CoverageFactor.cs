using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

/// <summary>Coverage factors k: expanded uncertainty U = k·u (JCGM 100:2008, clause 6 and annex G).</summary>
public static class CoverageFactor
{
    /// <summary>k from Student's t: the central interval ±k·u covers with the probability given.</summary>
    /// <param name="coverageProbability">Coverage probability, between 0 and 1, as 0.95.</param>
    /// <param name="dof">Effective degrees of freedom, above zero; not rounded; infinity gives the normal factor.</param>
    /// <exception cref="ArgumentOutOfRangeException">The probability is not between 0 and 1, or dof is not above zero.</exception>
    public static double StudentT(double coverageProbability, double dof) =>
        -Statistics.StudentT.Quantile((1 - Require.InsideUnit(coverageProbability)) / 2, dof);

    /// <summary>k from the normal distribution.</summary>
    /// <param name="coverageProbability">Coverage probability, between 0 and 1, as 0.95.</param>
    /// <exception cref="ArgumentOutOfRangeException">The probability is not between 0 and 1.</exception>
    public static double Normal(double coverageProbability) =>
        -Statistics.Normal.Quantile((1 - Require.InsideUnit(coverageProbability)) / 2);
}
