using Numerics = MathNet.Numerics.SpecialFunctions;

namespace Knownwater.Statistics;

/// <summary>The standard normal distribution: mean 0, standard deviation 1.</summary>
/// <remarks>By the complementary error function of MathNet.Numerics and its inverse, accurate to a few units of the last place, in the tails too.</remarks>
public static class Normal
{
    private const double SqrtHalf = 0.70710678118654752440;
    private const double InverseSqrtTwoPi = 0.39894228040143267794;

    /// <summary>Probability of a value of at most z.</summary>
    /// <param name="z">Argument; infinities allowed.</param>
    /// <exception cref="ArgumentOutOfRangeException">z is NaN.</exception>
    public static double Cdf(double z)
    {
        Require.Number(z);
        return z < -38.5 ? 0 : z > 9 ? 1 : 0.5 * Numerics.Erfc(-z * SqrtHalf);
    }

    /// <summary>Probability of a value between two limits; keeps its digits in both tails.</summary>
    /// <param name="low">Lower limit; −∞ allowed.</param>
    /// <param name="high">Upper limit, at least the lower one; +∞ allowed.</param>
    /// <exception cref="ArgumentOutOfRangeException">A limit is NaN, or the upper one is below the lower one.</exception>
    public static double Between(double low, double high)
    {
        Require.Number(low);
        Require.Number(high);
        if (high < low)
            throw new ArgumentOutOfRangeException(nameof(high), high, $"The upper limit {high} is below the lower limit {low}.");
        return low > 0 ? Cdf(-low) - Cdf(-high) : Cdf(high) - Cdf(low);
    }

    /// <summary>Probability density at z.</summary>
    /// <param name="z">Argument; infinities allowed.</param>
    /// <exception cref="ArgumentOutOfRangeException">z is NaN.</exception>
    public static double Density(double z) => InverseSqrtTwoPi * Math.Exp(-0.5 * Require.Number(z) * z);

    /// <summary>The value that is not exceeded with probability p.</summary>
    /// <param name="p">Probability, between 0 and 1, both excluded.</param>
    /// <exception cref="ArgumentOutOfRangeException">p is not between 0 and 1.</exception>
    public static double Quantile(double p)
    {
        Require.InsideUnit(p);
        return p == 0.5 ? 0 : -Numerics.ErfcInv(2 * p) / SqrtHalf;
    }
}
