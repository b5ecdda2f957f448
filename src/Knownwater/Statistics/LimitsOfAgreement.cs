namespace Knownwater.Statistics;

/// <summary>How far two methods differ on the same samples: the mean difference, the limits between which most differences lie, and where the next one will.</summary>
/// <remarks>
/// <para>Differences d with mean d̄ and standard deviation s: the limits are d̄ ± z s, z the normal factor of the share of differences between them (J. M. Bland and D. G. Altman, The Lancet 327 (1986) 307–310, who round z = 1.96
/// up to 2). They estimate where that share of all differences lies and are themselves uncertain: the exact interval of μ + z σ is d̄ + s q/√n with the quantiles q of the noncentral t distribution of n − 1 degrees of freedom
/// and noncentrality z√n (A. Carkeet, Optometry and Vision Science 92 (2015) e71–e80), in place of the published approximation ± t s √(3/n), which is too narrow outward and too wide inward. The prediction interval
/// d̄ ± t s √(1 + 1/n) holds the next single difference; it is wider than the limits.</para>
/// <para>Assumes independent normal differences whose mean and spread do not depend on the level; then all intervals are exact for every n. A difference says nothing about which method is right.</para>
/// </remarks>
public sealed record LimitsOfAgreement
{
    private LimitsOfAgreement()
    {
    }

    /// <summary>Number of differences.</summary>
    public required int N { get; init; }

    /// <summary>Mean difference d̄.</summary>
    public required double Bias { get; init; }

    /// <summary>Standard deviation s of the differences, n − 1 degrees of freedom.</summary>
    public required double Sd { get; init; }

    /// <summary>Standard uncertainty (k = 1) of the mean difference, s/√n.</summary>
    public double BiasStandardUncertainty => Sd / Math.Sqrt(N);

    /// <summary>Coverage interval of the mean difference.</summary>
    public required Interval BiasInterval { get; init; }

    /// <summary>The limits d̄ ± z s.</summary>
    public required Interval Limits { get; init; }

    /// <summary>Coverage interval of the lower limit.</summary>
    public required Interval LowerLimitInterval { get; init; }

    /// <summary>Coverage interval of the upper limit.</summary>
    public required Interval UpperLimitInterval { get; init; }

    /// <summary>The interval that holds the next single difference with the probability of the share.</summary>
    public required Interval PredictionInterval { get; init; }

    /// <summary>The limits of agreement of differences.</summary>
    /// <param name="differences">Finite differences, one a sample, in any order; at least 2. Where all are equal every interval is a point.</param>
    /// <param name="share">Share of differences between the limits, and probability of the prediction interval, between 0 and 1.</param>
    /// <param name="coverage">Coverage probability of the intervals of bias and limits, between 0 and 1.</param>
    /// <exception cref="ArgumentException">There are fewer than 2 differences, or one is not finite.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A probability is not between 0 and 1.</exception>
    /// <exception cref="OverflowException">The sum of squares exceeds the largest double.</exception>
    public static LimitsOfAgreement Of(ReadOnlySpan<double> differences, double share = 0.95, double coverage = 0.95)
    {
        Require.Sample(differences, 2);
        Require.InsideUnit(share);
        Require.InsideUnit(coverage);
        var moments = SampleMoments.Of(differences);
        var n = differences.Length;
        double mean = moments.Mean, s = moments.StandardDeviation, dof = n - 1, root = Math.Sqrt(n), tail = (1 - coverage) / 2;
        var z = -Normal.Quantile((1 - share) / 2);
        var next = -StudentT.Quantile((1 - share) / 2, dof) * Math.Sqrt(1 + 1.0 / n);
        double inner = 0, outer = 0;
        if (s > 0)
        {
            inner = NoncentralQuantile(tail, dof, z * root) / root;
            outer = NoncentralQuantile(1 - tail, dof, z * root) / root;
        }
        return new LimitsOfAgreement
        {
            N = n,
            Bias = mean,
            Sd = s,
            BiasInterval = MeanInterval.Of(moments, coverage),
            Limits = Around(mean, z * s),
            LowerLimitInterval = new Interval(mean - outer * s, mean - inner * s),
            UpperLimitInterval = new Interval(mean + inner * s, mean + outer * s),
            PredictionInterval = Around(mean, next * s),
        };

        static Interval Around(double middle, double half) => new(middle - half, middle + half);
    }

    /// <summary>The value that noncentral t does not exceed with probability p.</summary>
    private static double NoncentralQuantile(double p, double dof, double delta)
    {
        // start from the normal approximation of Johnson and Welch, and widen
        var step = Math.Max(0.1, Math.Sqrt(1 + delta * delta / (2 * dof)));
        var start = delta + Normal.Quantile(p) * step;
        double low = start - step, high = start + step, atLow = Excess(low), atHigh = Excess(high);
        for (; atLow > 0; step *= 2)
            (high, atHigh, low, atLow) = (low, atLow, low - step, Excess(low - step));
        for (; atHigh < 0; step *= 2)
            (low, atLow, high, atHigh) = (high, atHigh, high + step, Excess(high + step));
        return SpecialFunctions.BracketedRoot(Excess, low, atLow, high, atHigh);

        double Excess(double t) => p < 0.5 ? NoncentralT.Cdf(t, dof, delta) - p : 1 - p - NoncentralT.UpperTail(t, dof, delta);
    }
}
