namespace Knownwater.Statistics;

/// <summary>Confidence interval of a standard deviation, from the chi-square distribution of normal data.</summary>
public static class SdInterval
{
    /// <summary>The factors by which an estimated standard deviation is multiplied to get its confidence limits: √(ν/χ²).</summary>
    /// <param name="dof">Degrees of freedom of the estimate, finite and above zero.</param>
    /// <param name="probability">Confidence level of the two-sided interval, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">dof is not finite and above zero, or the probability is not between 0 and 1.</exception>
    public static Interval Factors(double dof, double probability = 0.95)
    {
        Require.FiniteDof(dof);
        Require.InsideUnit(probability);
        var tail = (1 - probability) / 2;
        return new Interval(Math.Sqrt(dof / ChiSquare.Quantile(1 - tail, dof)), Math.Sqrt(dof / ChiSquare.Quantile(tail, dof)));
    }

    /// <summary>The two-sided confidence interval of σ.</summary>
    /// <param name="sd">Estimated standard deviation, zero or above; zero gives the interval from zero to zero.</param>
    /// <param name="dof">Degrees of freedom of the estimate, finite and above zero.</param>
    /// <param name="probability">Confidence level, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">sd is negative or not finite, dof is not finite and above zero, or the probability is not between 0 and 1.</exception>
    public static Interval Of(double sd, double dof, double probability = 0.95)
    {
        Require.NotNegative(sd);
        var (low, high) = Factors(dof, probability);
        return new Interval(sd * low, sd * high);
    }
}
