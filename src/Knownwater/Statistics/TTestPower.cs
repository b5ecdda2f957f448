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

    /// <summary>The least number of values that gives the test of one mean a power.</summary>
    /// <param name="power">Probability with which the difference shall be found, above alpha and below 1.</param>
    /// <param name="difference">True difference, not zero; for a one-sided test above zero.</param>
    /// <param name="sd">True standard deviation, above zero.</param>
    /// <param name="alpha">Level of significance, between 0 and 1.</param>
    /// <param name="twoSided">Whether a difference of either sign counts.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of its range, or a million values do not suffice.</exception>
    public static int OneSampleNumber(double power, double difference, double sd, double alpha = 0.05, bool twoSided = true) =>
        Least(n => OneSample(n, difference, sd, alpha, twoSided), power, difference, alpha, twoSided);

    /// <summary>The least number of values in each group that gives the test of two means a power.</summary>
    /// <inheritdoc cref="OneSampleNumber" path="/param"/>
    /// <inheritdoc cref="OneSampleNumber" path="/exception"/>
    public static int TwoSampleNumber(double power, double difference, double sd, double alpha = 0.05, bool twoSided = true) =>
        Least(n => TwoSample(n, difference, sd, alpha, twoSided), power, difference, alpha, twoSided);

    private static int Least(Func<int, double> powerOf, double power, double difference, double alpha, bool twoSided)
    {
        const int most = 1_000_000;
        Require.InsideUnit(alpha);
        if (!(power > alpha && power < 1))
            throw new ArgumentOutOfRangeException(nameof(power), power, $"The power is {power}; it must be above the level of significance {alpha} and below 1.");
        if (!(difference > 0 || (twoSided && difference < 0)))
            throw new ArgumentOutOfRangeException(nameof(difference), difference, $"The difference is {difference}; it must {(twoSided ? "differ from" : "be above")} zero to be found.");
        // power rises with the number: double until it suffices, then halve the step
        int high = 2, low = 1;
        while (powerOf(high) < power)
        {
            if (high == most)
                throw new ArgumentOutOfRangeException(nameof(difference), difference, $"To find a difference of {difference} with power {power}, {most} values do not suffice; it must be larger, or sd smaller.");
            (low, high) = (high, Math.Min(most, 2 * high));
        }
        while (high - low > 1)
        {
            var middle = low + (high - low) / 2;
            (low, high) = powerOf(middle) < power ? (middle, high) : (low, middle);
        }
        return high;
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
