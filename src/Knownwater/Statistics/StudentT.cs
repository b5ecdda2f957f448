namespace Knownwater.Statistics;

/// <summary>Student's t distribution with any degrees of freedom above zero; infinite ones give the normal distribution.</summary>
/// <remarks>
/// P(T ≤ −|t|) = ½ I_x(ν/2, ½) with x = ν/(ν + t²); from ν = 20 000 on by the normal deviate of Hill (Algorithm 395, 1970), whose error is below the rounding there.
/// Not MathNet's: its quantile looks for the root between −800 and 800 only, which one degree of freedom passes at p = 0.9997.
/// </remarks>
public static class StudentT
{
    private const double Large = 2e4;

    /// <summary>Probability of a value of at most t.</summary>
    /// <param name="t">Argument; infinities allowed.</param>
    /// <param name="dof">Degrees of freedom, above zero; infinity gives the normal distribution.</param>
    /// <exception cref="ArgumentOutOfRangeException">t is NaN, or dof is not above zero.</exception>
    public static double Cdf(double t, double dof)
    {
        Require.Number(t);
        Require.Dof(dof);
        if (t == 0)
            return 0.5;
        var tail = Tail(Math.Abs(t), dof);
        return t < 0 ? tail : 1 - tail;
    }

    /// <summary>The value that is not exceeded with probability p.</summary>
    /// <param name="p">Probability, between 0 and 1, both excluded. For an upper tail q below 10⁻⁸ take −Quantile(q, dof), which keeps its digits.</param>
    /// <param name="dof">Degrees of freedom, above zero; infinity gives the normal distribution.</param>
    /// <exception cref="ArgumentOutOfRangeException">p is not between 0 and 1, dof is not above zero, or the quantile is beyond the largest double (dof near zero).</exception>
    public static double Quantile(double p, double dof)
    {
        Require.InsideUnit(p);
        Require.Dof(dof);
        if (p == 0.5)
            return 0;
        if (double.IsPositiveInfinity(dof))
            return Normal.Quantile(p);
        var q = p < 0.5 ? p : 1 - p;
        // in the tail q ≈ c·t^(−ν): the logarithm of the tail is nearly straight over ln t
        var logTarget = Math.Log(q);
        var t = SpecialFunctions.RisingRoot(x => logTarget - LogTail(x, dof), Math.Max(1e-3, -Normal.Quantile(q)));
        if (t > 1e307 || t / Math.Sqrt(dof) > 1e307)
            throw new ArgumentOutOfRangeException(nameof(dof), dof, $"With {dof} degrees of freedom the quantile at {p} is beyond the largest number; more degrees of freedom are needed.");
        return p < 0.5 ? -t : t;
    }

    /// <summary>Probability density at t.</summary>
    /// <param name="t">Argument; infinities allowed.</param>
    /// <param name="dof">Degrees of freedom, above zero; infinity gives the normal distribution.</param>
    /// <exception cref="ArgumentOutOfRangeException">t is NaN, or dof is not above zero.</exception>
    public static double Density(double t, double dof)
    {
        Require.Number(t);
        Require.Dof(dof);
        if (dof > 1e15)
            return Normal.Density(t);
        if (double.IsInfinity(t))
            return 0;
        // 1/(√ν B(ν/2, ½)): BetaPower at x = ν/(ν + 1) gives 1/B times x^(ν/2) (1 − x)^½
        var peak = SpecialFunctions.BetaPower(dof / 2, 0.5, dof / (dof + 1), 1 / (dof + 1)) * Math.Exp(dof / 2 * SpecialFunctions.LogOnePlus(1 / dof)) * Math.Sqrt((dof + 1) / dof);
        return peak * Math.Exp(-(dof + 1) / 2 * LogOnePlusSquare(Math.Abs(t) / Math.Sqrt(dof)));
    }

    private static double LogTail(double t, double dof) => Math.Log(Math.Max(double.Epsilon, Tail(t, dof)));

    /// <summary>P(T > t) for t above zero.</summary>
    private static double Tail(double t, double dof)
    {
        if (double.IsPositiveInfinity(t))
            return 0;
        if (double.IsPositiveInfinity(dof))
            return Normal.Cdf(-t);
        if (dof >= Large)
        {
            double a = dof - 0.5, b = 48 * a * a, y = a * LogOnePlusSquare(t / Math.Sqrt(dof));
            var z = (((((-0.4 * y - 3.3) * y - 24) * y - 85.5) / (0.8 * y * y + 100 + b) + y + 3) / b + 1) * Math.Sqrt(y);
            return Normal.Cdf(-z);
        }
        // x = ν/(ν + t²) and 1 − x by the ratio t/√ν, so that t² cannot overflow
        var r = t / Math.Sqrt(dof);
        // there the tail is the power r^(−ν) to every digit
        if (r > 1.001e100)
            return Tail(1e100 * Math.Sqrt(dof), dof) * Math.Pow(r / 1e100, -dof);
        double x2 = r > 1 ? 1 / (r * r) / (1 + 1 / (r * r)) : 1 / (1 + r * r);
        double y2 = r > 1 ? 1 / (1 + 1 / (r * r)) : r * r / (1 + r * r);
        return 0.5 * SpecialFunctions.Beta(dof / 2, 0.5, x2, y2).Lower;
    }

    /// <summary>ln(1 + r²); r² may overflow.</summary>
    private static double LogOnePlusSquare(double r) => r > 1e8 ? 2 * Math.Log(r) : SpecialFunctions.LogOnePlus(r * r);
}
