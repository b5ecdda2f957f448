namespace Knownwater.Statistics;

/// <summary>The noncentral t distribution: (Z + δ)/√(χ²(ν)/ν), the law of a t statistic where the hypothesis is wrong by δ standard errors.</summary>
/// <remarks>
/// P(T ≤ t) = E Φ(t·s − δ) with s = √(χ²(ν)/ν), averaged by a rule that converges exponentially: relative error below 10⁻¹² in both tails, down to 10⁻²⁷⁰, for ν from 1 to 200 and |δ| up to 35; absolute error below 10⁻¹¹ for ν up to 10⁴ and |δ| up to 40.
/// MathNet.Numerics has no such distribution. Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 2, chapter 31.
/// </remarks>
public static class NoncentralT
{
    private const double Large = 1e10;

    // below this the nodes left out at e^(−42) would show in the 13th digit of the tail
    private const double Small = 1e-5;

    /// <summary>Probability of a value of at most t.</summary>
    /// <param name="t">Argument; infinities allowed.</param>
    /// <param name="dof">Degrees of freedom, at least 0.1; from 10¹⁰ on and at infinity the normal distribution about δ.</param>
    /// <param name="delta">Noncentrality δ, at most 10⁴ in size; zero gives Student's t.</param>
    /// <exception cref="ArgumentOutOfRangeException">t is NaN, dof is below 0.1, or delta is not finite or above 10⁴ in size.</exception>
    public static double Cdf(double t, double dof, double delta) => Tails(t, dof, delta).Lower;

    /// <summary>Probability of a value above t, with its relative accuracy.</summary>
    /// <inheritdoc cref="Cdf" path="/param"/>
    /// <inheritdoc cref="Cdf" path="/exception"/>
    public static double UpperTail(double t, double dof, double delta) => Tails(t, dof, delta).Upper;

    private static (double Lower, double Upper) Tails(double t, double dof, double delta)
    {
        Require.Number(t);
        if (!(dof >= 0.1))
            throw new ArgumentOutOfRangeException(nameof(dof), dof, $"The degrees of freedom are {dof}; they must be at least 0.1, and may be infinite.");
        if (!(Math.Abs(delta) <= 1e4))
            throw new ArgumentOutOfRangeException(nameof(delta), delta, $"The noncentrality is {delta}; it must lie between -10000 and 10000.");
        if (double.IsInfinity(t))
            return t > 0 ? (1, 0) : (0, 1);
        if (delta == 0)
            return (StudentT.Cdf(t, dof), StudentT.Cdf(-t, dof));
        if (dof >= Large)
            return (Normal.Cdf(t - delta), Normal.Cdf(delta - t));
        if (t == 0)
            return (Normal.Cdf(-delta), Normal.Cdf(delta));
        var tails = Average(t, dof, delta, refined: 1.6, depth: 42);
        var small = Math.Min(tails.Lower, tails.Upper);
        // a small tail may be made by ratios that hardly ever occur; what is found of it bounds how rare they can be
        return small < Small ? Average(t, dof, delta, refined: 4, depth: Math.Min(740, 42 - Math.Log(Math.Max(small, double.Epsilon)))) : tails;
    }

    private static (double Lower, double Upper) Average(double t, double dof, double delta, double refined, double depth)
    {
        var average = new ChiAverage(dof, 0.55 / Math.Abs(delta), refined, depth);
        double lower = 0, upper = 0;
        for (var i = 0; i < average.Ratios.Length; i++)
        {
            var z = t * average.Ratios[i] - delta;
            lower += average.Weights[i] * Normal.Cdf(z);
            upper += average.Weights[i] * Normal.Cdf(-z);
        }
        return (Math.Min(1, lower), Math.Min(1, upper));
    }
}
