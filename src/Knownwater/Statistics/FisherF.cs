namespace Knownwater.Statistics;

/// <summary>Fisher's F distribution: the ratio of two independent variance estimates of one variance.</summary>
/// <remarks>
/// P(F ≤ f) = I_x(ν₁/2, ν₂/2) with x = ν₁f/(ν₁f + ν₂). Infinite degrees of freedom of one side give χ²/ν of the other. Not MathNet's, whose
/// quantile looks for its root between 0 and 1000 only.
/// </remarks>
public static class FisherF
{
    private const double Large = 1e14;

    /// <summary>Probability of a ratio of at most f.</summary>
    /// <param name="f">Ratio; below zero the probability is 0; infinities allowed.</param>
    /// <param name="dof1">Degrees of freedom of the numerator, above zero; infinity allowed where the other is finite.</param>
    /// <param name="dof2">Degrees of freedom of the denominator, above zero; infinity allowed where the other is finite.</param>
    /// <exception cref="ArgumentOutOfRangeException">f is NaN, a number of degrees of freedom is not above zero, or both are infinite.</exception>
    public static double Cdf(double f, double dof1, double dof2) => Tails(f, dof1, dof2).Lower;

    /// <summary>Probability of a ratio above f, with its relative accuracy.</summary>
    /// <inheritdoc cref="Cdf" path="/param"/>
    /// <inheritdoc cref="Cdf" path="/exception"/>
    public static double UpperTail(double f, double dof1, double dof2) => Tails(f, dof1, dof2).Upper;

    /// <summary>The ratio that is not exceeded with probability p.</summary>
    /// <param name="p">Probability, between 0 and 1, both excluded.</param>
    /// <param name="dof1">Degrees of freedom of the numerator, above zero; infinity allowed where the other is finite.</param>
    /// <param name="dof2">Degrees of freedom of the denominator, above zero; infinity allowed where the other is finite.</param>
    /// <exception cref="ArgumentOutOfRangeException">p is not between 0 and 1, a number of degrees of freedom is not above zero, or both are infinite.</exception>
    public static double Quantile(double p, double dof1, double dof2)
    {
        Require.InsideUnit(p);
        Check(dof1, dof2);
        return p <= 0.5
            ? SpecialFunctions.RisingRoot(f => Math.Log(Math.Max(double.Epsilon, Tails(f, dof1, dof2).Lower) / p), 1)
            : SpecialFunctions.RisingRoot(f => Math.Log((1 - p) / Math.Max(double.Epsilon, Tails(f, dof1, dof2).Upper)), 1);
    }

    private static (double Lower, double Upper) Tails(double f, double dof1, double dof2)
    {
        Require.Number(f);
        Check(dof1, dof2);
        if (f <= 0)
            return (0, 1);
        if (double.IsPositiveInfinity(f))
            return (1, 0);
        if (dof2 > Large)
            return SpecialFunctions.Gamma(dof1 / 2, f * dof1 / 2);
        if (dof1 > Large)
        {
            var (lower, upper) = SpecialFunctions.Gamma(dof2 / 2, dof2 / f / 2);
            return (upper, lower);
        }
        var r = f * (dof1 / dof2);
        return SpecialFunctions.Beta(dof1 / 2, dof2 / 2, r > 1 ? 1 / (1 + 1 / r) : r / (1 + r), 1 / (1 + r));
    }

    private static void Check(double dof1, double dof2)
    {
        Require.Dof(dof1);
        Require.Dof(dof2);
        if (dof1 > Large && dof2 > Large)
            throw new ArgumentOutOfRangeException(nameof(dof2), dof2, $"The degrees of freedom are {dof1} and {dof2}; one of them must be at most {Large}, else nothing varies.");
    }
}
