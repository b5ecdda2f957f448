using System.Globalization;
using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

public sealed partial class ErrorSource
{
    /// <summary>Quantile of the error about zero, in <see cref="Unit"/> (JCGM 101:2008, 6.4; closed forms).</summary>
    /// <param name="p">Probability, between 0 and 1, both excluded.</param>
    /// <exception cref="ArgumentOutOfRangeException">p is not between 0 and 1.</exception>
    public double Quantile(double p)
    {
        Require.InsideUnit(p);
        var u = StandardUncertainty;
        switch (Shape)
        {
            case SourceShape.Rectangular or SourceShape.Resolution:
                return u * Math.Sqrt(3) * (2 * p - 1);
            case SourceShape.Triangular:
                return u * Math.Sqrt(6) * TrapeziumQuantile(p, 0);
            case SourceShape.Trapezoidal:
                var beta = TopToBase!.Value;
                return u * Math.Sqrt(6 / (1 + beta * beta)) * TrapeziumQuantile(p, beta);
            case SourceShape.ArcSine:
                return -u * Math.Sqrt(2) * Math.Cos(Math.PI * p);
            case SourceShape.Censored:
                var ratio = TopToBase!.Value;
                var (mean, sd) = CensoredMoments(ratio);
                // on a foot of one: flat up to β, where the probability is 2β/(1 + β), then a ramp
                var x = p * (1 + ratio) <= 2 * ratio ? p * (1 + ratio) / 2 : 1 - Math.Sqrt((1 - p) * (1 - ratio * ratio));
                return u * (x - mean) / sd;
            default:
                return u * StudentT.Quantile(p, Dof);
        }
    }

    /// <summary>Skewness γ₁ of the error; zero for every shape but the censored one.</summary>
    public double Skewness
    {
        get
        {
            if (Shape != SourceShape.Censored)
                return 0;
            var (mean, sd) = CensoredMoments(TopToBase!.Value);
            return (Raw(3) - 3 * mean * Raw(2) + 2 * mean * mean * mean) / (sd * sd * sd);
        }
    }

    /// <summary>Kurtosis of the error, the fourth central moment over the squared variance: 3 for a normal one; +∞ for Student's t with four degrees of freedom or fewer.</summary>
    public double Kurtosis
    {
        get
        {
            switch (Shape)
            {
                case SourceShape.Rectangular or SourceShape.Resolution:
                    return 1.8;
                case SourceShape.Triangular:
                    return 2.4;
                case SourceShape.Trapezoidal:
                    // the sum of two rectangular errors of half-widths (1 ± β)/2, each of fourth cumulant −2a⁴/15
                    double b2 = TopToBase!.Value * TopToBase.Value, variance = (1 + b2) / 6;
                    return 3 - 2.0 / 15 * (1 + 6 * b2 + b2 * b2) / 8 / (variance * variance);
                case SourceShape.ArcSine:
                    return 1.5;
                case SourceShape.Censored:
                    var (mean, sd) = CensoredMoments(TopToBase!.Value);
                    return (Raw(4) - 4 * mean * Raw(3) + 6 * mean * mean * Raw(2) - 3 * mean * mean * mean * mean) / (sd * sd * sd * sd);
                default:
                    return Dof > 4 ? 3 + 6 / (Dof - 4) : double.PositiveInfinity;
            }
        }
    }

    /// <summary>Whether the error is distributed as Student's t, with the normal distribution as its limit: the u of readings, and any normal u that is itself an estimate (JCGM 101:2008, 6.4.9).</summary>
    internal bool IsStudent => Shape is SourceShape.ScaledT or SourceShape.Normal;

    /// <summary>The lowest error of a censored source: the distance from its mean down to zero, negative.</summary>
    internal double Lowest => -StandardUncertainty * CensoredMoments(TopToBase!.Value).Mean / CensoredMoments(TopToBase.Value).Sd;

    /// <summary>Mean and standard deviation of the one-sided trapezium on a foot of one: m = (1 + β + β²)/(3(1 + β)), σ² = (1 + β²)/6 − m².</summary>
    internal static (double Mean, double Sd) CensoredMoments(double ratio)
    {
        var mean = (1 + ratio + ratio * ratio) / (3 * (1 + ratio));
        return (mean, Math.Sqrt((1 + ratio * ratio) / 6 - mean * mean));
    }

    private double Raw(int k)
    {
        // the product of two independent parts: uniform on 0 to 1, and √(β² + (1 − β²)·uniform)
        double beta = TopToBase!.Value, sum = 0;
        for (var j = 0; j <= k + 1; j++)
            sum += Math.Pow(beta, j);
        return 2 * sum / ((k + 1.0) * (k + 2) * (1 + beta));
    }

    private static double TrapeziumQuantile(double p, double beta)
    {
        if (p > 0.5)
            return -TrapeziumQuantile(1 - p, beta);
        var ramp = (1 - beta) / (2 * (1 + beta));
        return p < ramp ? Math.Sqrt(2 * p * (1 - beta * beta)) - 1 : (p - ramp) * (1 + beta) - beta;
    }

    private static (double Foot, double Ratio) Trapezium(double limit, double readingHalfWidth)
    {
        Require.Positive(limit);
        if (!(readingHalfWidth >= 0 && readingHalfWidth <= limit))
        {
            throw new ArgumentOutOfRangeException(nameof(readingHalfWidth), readingHalfWidth, string.Create(CultureInfo.InvariantCulture,
                $"The half-width of the reading's error is {readingHalfWidth}; it must lie between 0 and the limit, {limit}."));
        }
        return (limit + readingHalfWidth, (limit - readingHalfWidth) / (limit + readingHalfWidth));
    }
}
