namespace Knownwater.Statistics;

/// <summary>Confidence interval of a mean, from Student’s t distribution of independent normal values.</summary>
/// <remarks>x̄ ± t·s/√n with n − 1 degrees of freedom. Values that resemble their neighbours make it too narrow: see <see cref="Autocorrelation"/>.</remarks>
public static class MeanInterval
{
    /// <summary>The two-sided confidence interval of µ.</summary>
    /// <param name="moments">Moments of at least two values.</param>
    /// <param name="probability">Confidence level, between 0 and 1.</param>
    /// <returns>Limits in the unit of the values; equal to the mean where the values are equal.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The moments are those of fewer than two values, or the probability is not between 0 and 1.</exception>
    public static Interval Of(SampleMoments moments, double probability = 0.95)
    {
        Require.AtLeast(moments.N, 2, nameof(moments));
        Require.InsideUnit(probability);
        var half = -StudentT.Quantile((1 - probability) / 2, moments.N - 1) * moments.StandardDeviationOfMean;
        return new Interval(moments.Mean - half, moments.Mean + half);
    }
}
