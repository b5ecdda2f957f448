using Knownwater.Statistics;

namespace Knownwater.Checks;

/// <summary>How often a check of n replicates gives each verdict when the true bias is known: the operating characteristic.</summary>
/// <remarks>
/// The estimate is normal about the bias with variance σ²/n + u², u the standard uncertainty of what replicates do not reduce; the half-width depends on s²,
/// σ²·χ²(n − 1)/(n − 1), independent of it. The average over s is a Gauss–Legendre sum, split where the half-width reaches the tolerance. With u = 0 and a
/// vanishing tolerance this is the power of Student's test by the non-central t.
/// </remarks>
internal sealed class VerdictPower
{
    private static readonly (double X, double W)[] Nodes = GaussLegendre(24);

    private readonly double _sd;
    private readonly int _n;
    private readonly double _priorDof;
    private readonly double _priorRatio;
    private readonly BiasInterval _interval;
    private readonly double _spread;

    /// <summary>Fixes everything but the bias and the tolerance.</summary>
    /// <param name="sd">True standard deviation σ of one reading as displayed.</param>
    /// <param name="n">Number of replicates; at least one, at least two without a prior.</param>
    /// <param name="prior">Prior that is pooled; null for none.</param>
    /// <param name="coverage">Coverage probability of the interval.</param>
    /// <param name="resolution">Display step as it enters the interval.</param>
    /// <param name="referenceU">Standard uncertainty of the reference value.</param>
    public VerdictPower(double sd, int n, PriorSd? prior, double coverage, double resolution, double referenceU)
    {
        _sd = sd;
        _n = n;
        _priorDof = prior?.Dof ?? 0;
        _priorRatio = prior is null || sd == 0 ? 0 : prior.Value * prior.Value / (sd * sd);
        _interval = new BiasInterval(n - 1 + _priorDof, coverage, resolution, referenceU);
        _spread = Math.Sqrt(sd * sd / n + referenceU * referenceU);
    }

    /// <summary>Whether nothing varies: no scatter, no doubt.</summary>
    public bool IsExact => _spread == 0;

    /// <summary>Probability of “reads right” at a bias.</summary>
    public double ReadsRight(double bias, double tolerance) =>
        Average(half => half > tolerance ? 0 : Below(tolerance - half - bias) - Below(half - tolerance - bias), tolerance);

    /// <summary>Probability of “reads high” at a bias.</summary>
    public double ReadsHigh(double bias, double tolerance) =>
        Average(half => 1 - Below(Math.Max(tolerance, half) - bias), tolerance);

    /// <summary>Probability that the interval excludes zero at a bias.</summary>
    public double ExcludesZero(double bias) =>
        Average(half => 1 - Below(half - bias) + Below(-half - bias), 0);

    private double Below(double x) => _spread == 0 ? (x >= 0 ? 1 : 0) : Normal.Cdf(x / _spread);

    /// <summary>Half-width where these readings scatter by x times the true standard deviation.</summary>
    private double HalfWidth(double x)
    {
        double own = _n - 1;
        var ratio = double.IsPositiveInfinity(_priorDof) ? _priorRatio : (own * x * x + _priorDof * _priorRatio) / (own + _priorDof);
        return _interval.HalfWidth(_sd * _sd * ratio, _n);
    }

    private double Average(Func<double, double> outcome, double kinkAt)
    {
        double dof = _n - 1;
        if (dof == 0 || _sd == 0 || double.IsPositiveInfinity(_priorDof))
            return outcome(HalfWidth(1));
        var reach = 9 / Math.Sqrt(2 * dof);
        double from = Math.Max(0, 1 - reach), to = 1 + reach;
        // density of x = s/σ: 2 (ν/2)^(ν/2) / Γ(ν/2) · x^(ν−1) · exp(−ν x²/2)
        var logScale = Math.Log(2) + dof / 2 * Math.Log(dof / 2) - MathNet.Numerics.SpecialFunctions.GammaLn(dof / 2);
        var kink = Kink(from, to, kinkAt);
        return Panels(from, kink, 6) + Panels(kink, to, 6);

        double Panels(double a, double b, int count)
        {
            if (b <= a)
                return 0;
            var width = (b - a) / count;
            double sum = 0;
            for (var panel = 0; panel < count; panel++)
            {
                var middle = a + (panel + 0.5) * width;
                foreach (var (node, weight) in Nodes)
                {
                    var x = middle + node * width / 2;
                    if (x <= 0)
                        continue;
                    var density = Math.Exp(logScale + (dof - 1) * Math.Log(x) - dof * x * x / 2);
                    sum += weight * width / 2 * density * outcome(HalfWidth(x));
                }
            }
            return sum;
        }
    }

    private double Kink(double from, double to, double half)
    {
        if (HalfWidth(from) >= half || HalfWidth(to) <= half)
            return from;
        for (var i = 0; i < 60; i++)
        {
            var middle = (from + to) / 2;
            if (HalfWidth(middle) < half)
                from = middle;
            else
                to = middle;
        }
        return from;
    }

    private static (double X, double W)[] GaussLegendre(int order)
    {
        var rule = new MathNet.Numerics.Integration.GaussLegendreRule(-1, 1, order);
        return [.. rule.Abscissas.Zip(rule.Weights)];
    }
}
