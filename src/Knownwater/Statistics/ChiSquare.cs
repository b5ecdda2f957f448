namespace Knownwater.Statistics;

/// <summary>The chi-square distribution.</summary>
/// <remarks>P(χ² ≤ x) is the regularised incomplete gamma function P(ν/2, x/2).</remarks>
public static class ChiSquare
{
    /// <summary>Probability of a value of at most x.</summary>
    /// <param name="x">Argument; below zero the probability is 0; infinities allowed.</param>
    /// <param name="dof">Degrees of freedom, finite and above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">x is NaN, or dof is not finite and above zero.</exception>
    public static double Cdf(double x, double dof) => SpecialFunctions.Gamma(Require.FiniteDof(dof) / 2, Require.Number(x) / 2).Lower;

    /// <summary>Probability of a value above x, with its relative accuracy.</summary>
    /// <param name="x">Argument; below zero the probability is 1; infinities allowed.</param>
    /// <param name="dof">Degrees of freedom, finite and above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">x is NaN, or dof is not finite and above zero.</exception>
    public static double UpperTail(double x, double dof) => SpecialFunctions.Gamma(Require.FiniteDof(dof) / 2, Require.Number(x) / 2).Upper;

    /// <summary>The value that is not exceeded with probability p.</summary>
    /// <param name="p">Probability, between 0 and 1, both excluded.</param>
    /// <param name="dof">Degrees of freedom, finite and above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">p is not between 0 and 1, or dof is not finite and above zero.</exception>
    public static double Quantile(double p, double dof)
    {
        Require.InsideUnit(p);
        Require.FiniteDof(dof);
        // Wilson and Hilferty's cube is the start; the root is sought on the smaller tail
        var cube = 1 - 2 / (9 * dof) + Normal.Quantile(p) * Math.Sqrt(2 / (9 * dof));
        var start = cube > 0.05 ? dof * cube * cube * cube : dof * 1e-4;
        return p <= 0.5
            ? SpecialFunctions.RisingRoot(x => Math.Log(Math.Max(double.Epsilon, Cdf(x, dof)) / p), start)
            : SpecialFunctions.RisingRoot(x => Math.Log((1 - p) / Math.Max(double.Epsilon, UpperTail(x, dof))), start);
    }
}
