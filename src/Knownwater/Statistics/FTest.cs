namespace Knownwater.Statistics;

/// <summary>The F test: whether one variance is larger than another, or whether a fit leaves more than scatter.</summary>
/// <remarks>F = s₁²/s₂² with ν₁ and ν₂ degrees of freedom, of normal and independent estimates.</remarks>
public sealed record FTest
{
    private FTest(double f, double dof1, double dof2)
    {
        F = f;
        Dof1 = dof1;
        Dof2 = dof2;
    }

    /// <summary>Ratio of the variances; positive infinity where the second is zero.</summary>
    public double F { get; }

    /// <summary>Degrees of freedom of the first variance.</summary>
    public double Dof1 { get; }

    /// <summary>Degrees of freedom of the second variance.</summary>
    public double Dof2 { get; }

    /// <summary>Probability of a ratio at least as large where both estimate one variance.</summary>
    public double P => FisherF.UpperTail(F, Dof1, Dof2);

    /// <summary>Probability of a ratio at least as far from equality, on either side, where both estimate one variance.</summary>
    public double TwoSidedP => Math.Min(1, 2 * Math.Min(P, FisherF.Cdf(F, Dof1, Dof2)));

    /// <summary>Tests two variances.</summary>
    /// <param name="variance1">First variance, zero or above.</param>
    /// <param name="dof1">Its degrees of freedom, above zero and finite.</param>
    /// <param name="variance2">Second variance, zero or above; not both zero.</param>
    /// <param name="dof2">Its degrees of freedom, above zero; may be infinite.</param>
    /// <exception cref="ArgumentOutOfRangeException">A variance is negative or not finite, both are zero, or a number of degrees of freedom is out of range.</exception>
    public static FTest Of(double variance1, double dof1, double variance2, double dof2)
    {
        Require.NotNegative(variance1);
        Require.FiniteDof(dof1);
        Require.NotNegative(variance2);
        Require.Dof(dof2);
        if (variance1 == 0 && variance2 == 0)
            throw new ArgumentOutOfRangeException(nameof(variance2), variance2, "Both variances are 0; at least one must be above zero to be compared.");
        return new FTest(variance2 == 0 ? double.PositiveInfinity : variance1 / variance2, dof1, dof2);
    }

    /// <summary>The confidence interval of the ratio of the true variances: F/F(1 − α/2) to F/F(α/2).</summary>
    /// <param name="probability">Confidence level, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The probability is not between 0 and 1.</exception>
    public Interval RatioInterval(double probability = 0.95)
    {
        Require.InsideUnit(probability);
        var tail = (1 - probability) / 2;
        return new Interval(F / FisherF.Quantile(1 - tail, Dof1, Dof2), F / FisherF.Quantile(tail, Dof1, Dof2));
    }
}
