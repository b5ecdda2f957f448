namespace Knownwater.Statistics;

/// <summary>Mandel’s h and k: how far each laboratory’s (or analyser’s, or day’s) mean and scatter lie from those of the others.</summary>
/// <remarks>ISO 5725-2:1994, 7.3.1: h = (ȳᵢ − ȳ)/s(ȳ) over the p means, k = sᵢ/√(Σs²/p). Critical values by Student’s t and Fisher’s F.</remarks>
public static class Mandel
{
    /// <summary>h of each mean.</summary>
    /// <param name="means">Means, finite; at least 3, not all equal.</param>
    /// <exception cref="ArgumentException">There are fewer than 3 means, one is not finite, or all are equal.</exception>
    public static double[] H(ReadOnlySpan<double> means)
    {
        Require.Sample(means, 3);
        var moments = SampleMoments.Of(means);
        var sd = moments.StandardDeviation;
        if (!(sd > 0))
            throw new ArgumentException($"All {means.Length} means are {means[0]}; h needs means that are not all equal.", nameof(means));
        var h = new double[means.Length];
        for (var i = 0; i < h.Length; i++)
            h[i] = (means[i] - moments.Mean) / sd;
        return h;
    }

    /// <summary>k of each standard deviation, for equal numbers of values behind them.</summary>
    /// <param name="standardDeviations">Standard deviations, zero or above; at least 2, not all zero.</param>
    /// <exception cref="ArgumentException">There are fewer than 2, one is negative or not finite, or all are zero.</exception>
    public static double[] K(ReadOnlySpan<double> standardDeviations)
    {
        var size = Scale(standardDeviations, 2, nameof(standardDeviations));
        var k = new double[standardDeviations.Length];
        double sum = 0;
        for (var i = 0; i < k.Length; i++)
        {
            k[i] = standardDeviations[i] / size;
            sum += k[i] * k[i];
        }
        for (var i = 0; i < k.Length; i++)
            k[i] /= Math.Sqrt(sum / k.Length);
        return k;
    }

    /// <summary>The critical value of h, which one laboratory among p exceeds in size with probability alpha.</summary>
    /// <remarks>(p − 1)·t/√(p(t² + p − 2)), t the two-sided point with p − 2 degrees of freedom.</remarks>
    /// <param name="laboratories">Number p, at least 3.</param>
    /// <param name="alpha">Level of significance, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is below 3, or alpha is not between 0 and 1.</exception>
    public static double CriticalH(int laboratories, double alpha)
    {
        double p = Require.AtLeast(laboratories, 3), t = StudentT.Quantile(Require.InsideUnit(alpha) / 2, p - 2);
        // t/√(t² + p − 2) with t² kept from overflowing
        return (p - 1) / Math.Sqrt(p) / Math.Sqrt(1 + (p - 2) / t / t);
    }

    /// <summary>The critical value of k, which one laboratory among p exceeds with probability alpha.</summary>
    /// <remarks>√(p/(1 + (p − 1)/F)), F the upper point with n − 1 and (p − 1)(n − 1) degrees of freedom.</remarks>
    /// <param name="laboratories">Number p, at least 2.</param>
    /// <param name="perLaboratory">Number n of values of each, at least 2.</param>
    /// <param name="alpha">Level of significance, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is below 2, or alpha is not between 0 and 1.</exception>
    public static double CriticalK(int laboratories, int perLaboratory, double alpha)
    {
        double p = Require.AtLeast(laboratories, 2), dof = Require.AtLeast(perLaboratory, 2) - 1;
        return Math.Sqrt(p / (1 + (p - 1) * FisherF.Quantile(Require.InsideUnit(alpha), (p - 1) * dof, dof)));
    }

    /// <summary>The largest of standard deviations, checked.</summary>
    internal static double Scale(ReadOnlySpan<double> standardDeviations, int least, string name)
    {
        Require.Sample(standardDeviations, least, name);
        double size = 0;
        for (var i = 0; i < standardDeviations.Length; i++)
        {
            if (standardDeviations[i] < 0)
                throw new ArgumentException($"Standard deviation {i + 1} is {standardDeviations[i]}; it must be zero or above.", name);
            size = Math.Max(size, standardDeviations[i]);
        }
        return size > 0 ? size : throw new ArgumentException($"All {standardDeviations.Length} standard deviations are 0; at least one must be above zero.", name);
    }
}
