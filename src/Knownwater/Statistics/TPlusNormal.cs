namespace Knownwater.Statistics;

/// <summary>The sum of a scaled Student's t and an independent normal quantity, both about zero: what is known of a mean of few readings against a reference value.</summary>
/// <remarks>
/// X = a·T(ν) + b·Z. Given the ratio s of the estimated to the true standard deviation X is normal with variance a²/s² + b², so P(X ≤ x) = E Φ(x·s/√(a² + b²s²)), averaged
/// over s by a rule that converges exponentially (absolute error below 10⁻¹²). With b = 0 it is Student's t, with a = 0 or ν infinite a normal distribution, with both zero exactly zero.
/// JCGM 101:2008, 6.4.9 gives the t part for the mean of repeated indications.
/// </remarks>
public sealed class TPlusNormal
{
    private const double Large = 1e8;
    private readonly ChiAverage? _average;

    /// <summary>Scale, degrees of freedom and normal part.</summary>
    /// <param name="scale">Scale a of the t part, as s/√n; zero or above, in any unit.</param>
    /// <param name="dof">Degrees of freedom ν of the t part, at least 0.1; infinity makes it normal. Without meaning, and not looked at, where the scale is zero.</param>
    /// <param name="normalSd">Standard deviation b of the normal part, zero or above, in the unit of the scale.</param>
    /// <exception cref="ArgumentOutOfRangeException">A scale is negative or not finite, or dof is below 0.1 with a scale above zero.</exception>
    public TPlusNormal(double scale, double dof, double normalSd)
    {
        Scale = Require.NotNegative(scale);
        NormalSd = Require.NotNegative(normalSd);
        if (scale > 0 && !(dof >= 0.1))
            throw new ArgumentOutOfRangeException(nameof(dof), dof, $"The degrees of freedom are {dof}; they must be at least 0.1, and may be infinite.");
        Dof = scale > 0 ? dof : double.PositiveInfinity;
        if (scale > 0 && normalSd > 0 && dof < Large)
            _average = new ChiAverage(dof);
    }

    /// <summary>Scale a of the t part.</summary>
    public double Scale { get; }

    /// <summary>Degrees of freedom of the t part; infinite where there is none.</summary>
    public double Dof { get; }

    /// <summary>Standard deviation b of the normal part.</summary>
    public double NormalSd { get; }

    /// <summary>Probability of a sum of at most x.</summary>
    /// <param name="x">Argument, in the unit of the scale; infinities allowed.</param>
    /// <exception cref="ArgumentOutOfRangeException">x is NaN.</exception>
    public double Cdf(double x)
    {
        Require.Number(x);
        if (double.IsInfinity(x))
            return x > 0 ? 1 : 0;
        if (Scale == 0 && NormalSd == 0)
            return x < 0 ? 0 : 1;
        if (_average is null)
            return NormalSd == 0 ? StudentT.Cdf(x / Scale, Dof) : Normal.Cdf(x / Hypot(Scale, NormalSd));
        if (x == 0)
            return 0.5;
        var tail = Tail(Math.Abs(x));
        return x < 0 ? tail : 1 - tail;
    }

    /// <summary>Probability of a sum between two limits, both included.</summary>
    /// <param name="low">Lower limit; −∞ allowed.</param>
    /// <param name="high">Upper limit, at least the lower one; +∞ allowed.</param>
    /// <exception cref="ArgumentOutOfRangeException">A limit is NaN, or the upper one is below the lower one.</exception>
    public double Between(double low, double high)
    {
        Require.Number(low);
        Require.Number(high);
        if (high < low)
            throw new ArgumentOutOfRangeException(nameof(high), high, $"The upper limit {high} is below the lower limit {low}.");
        if (Scale == 0 && NormalSd == 0)
            return low <= 0 && high >= 0 ? 1 : 0;
        return Math.Max(0, low > 0 ? Cdf(-low) - Cdf(-high) : Cdf(high) - Cdf(low));
    }

    /// <summary>The value that is not exceeded with probability p.</summary>
    /// <param name="p">Probability, between 0 and 1, both excluded.</param>
    /// <exception cref="ArgumentOutOfRangeException">p is not between 0 and 1.</exception>
    public double Quantile(double p)
    {
        Require.InsideUnit(p);
        if (p == 0.5 || (Scale == 0 && NormalSd == 0))
            return 0;
        if (_average is null)
            return NormalSd == 0 ? Scale * StudentT.Quantile(p, Dof) : Hypot(Scale, NormalSd) * Normal.Quantile(p);
        var q = p < 0.5 ? p : 1 - p;
        var start = -Normal.Quantile(q) * Hypot(Scale, NormalSd);
        var x = SpecialFunctions.RisingRoot(v => Math.Log(q / Math.Max(double.Epsilon, Tail(v))), start);
        return p < 0.5 ? -x : x;
    }

    /// <summary>P(X > x) for x above zero.</summary>
    private double Tail(double x)
    {
        double sum = 0;
        var ratios = _average!.Ratios;
        var weights = _average.Weights;
        for (var i = 0; i < ratios.Length; i++)
            sum += weights[i] * Normal.Cdf(-x * (ratios[i] / Hypot(Scale, NormalSd * ratios[i])));
        return Math.Min(0.5, sum);
    }

    private static double Hypot(double a, double b) => double.Hypot(a, b);
}
