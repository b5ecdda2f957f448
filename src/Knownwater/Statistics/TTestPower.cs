namespace Knownwater.Statistics;

/// <summary>Power of Student's t tests: the probability that a true difference is found significant.</summary>
/// <remarks>
/// The t statistic is noncentral with δ = difference/(σ·√(1/n)) for one sample, difference/(σ·√(2/n)) for two groups of n each. Two-sided power counts significance on either side.
/// </remarks>
public static class TTestPower
{
    /// <summary>Power of the test of one sample's mean against a known value.</summary>
    /// <param name="n">Number of values, at least 2.</param>
    /// <param name="difference">True difference of the mean from the known value, in the unit of sd; its sign matters to a one-sided test, which looks for a positive one.</param>
    /// <param name="sd">True standard deviation, above zero.</param>
    /// <param name="alpha">Level of significance, between 0 and 1.</param>
    /// <param name="twoSided">Whether a difference of either sign counts.</param>
    /// <exception cref="ArgumentOutOfRangeException">n is below 2, the difference is not finite, sd is not above zero, or alpha is not between 0 and 1.</exception>
    public static double OneSample(int n, double difference, double sd, double alpha = 0.05, bool twoSided = true)
    {
        Require.AtLeast(n, 2);
        Check(difference, sd, alpha);
        return Power(n - 1, difference / sd * Math.Sqrt(n), alpha, twoSided);
    }

    /// <summary>Power of the test of the difference of two means with a common standard deviation.</summary>
    /// <param name="n">Number of values in each group, at least 2.</param>
    /// <param name="difference">True difference of the means, in the unit of sd; its sign matters to a one-sided test, which looks for a positive one.</param>
    /// <param name="sd">True standard deviation within a group, above zero.</param>
    /// <param name="alpha">Level of significance, between 0 and 1.</param>
    /// <param name="twoSided">Whether a difference of either sign counts.</param>
    /// <exception cref="ArgumentOutOfRangeException">n is below 2, the difference is not finite, sd is not above zero, or alpha is not between 0 and 1.</exception>
    public static double TwoSample(int n, double difference, double sd, double alpha = 0.05, bool twoSided = true)
    {
        Require.AtLeast(n, 2);
        Check(difference, sd, alpha);
        return Power(2.0 * n - 2, difference / sd * Math.Sqrt(n / 2.0), alpha, twoSided);
    }

    private static void Check(double difference, double sd, double alpha)
    {
        Require.Finite(difference);
        Require.Positive(sd);
        Require.InsideUnit(alpha);
    }

    private static double Power(double dof, double delta, double alpha, bool twoSided)
    {
        // beyond this the answer is 0 or 1 to every digit
        delta = Math.Clamp(delta, -9999, 9999);
        var t = -StudentT.Quantile(twoSided ? alpha / 2 : alpha, dof);
        var upper = NoncentralT.UpperTail(t, dof, delta);
        return twoSided ? Math.Min(1, upper + NoncentralT.Cdf(-t, dof, delta)) : upper;
    }
}
