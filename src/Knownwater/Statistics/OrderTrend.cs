namespace Knownwater.Statistics;

/// <summary>Whether readings taken one after the other climb or fall: the straight line over their order and the t test of its slope.</summary>
/// <remarks>Least squares over order 1 … n; t = slope/standard error with n − 2 degrees of freedom; readings are taken as equally spaced and normal.</remarks>
public sealed record OrderTrend
{
    private OrderTrend(double slope, double slopeStandardError, double t, double dof, double p)
    {
        Slope = slope;
        SlopeStandardError = slopeStandardError;
        T = t;
        Dof = dof;
        P = p;
    }

    /// <summary>Slope, in the unit of the readings per reading.</summary>
    public double Slope { get; }

    /// <summary>Standard error of the slope, in the unit of the readings per reading; zero where the readings lie exactly on a line.</summary>
    public double SlopeStandardError { get; }

    /// <summary>Slope over its standard error; infinite where the readings lie exactly on a line that is not level, zero where all are equal.</summary>
    public double T { get; }

    /// <summary>Degrees of freedom, n − 2.</summary>
    public double Dof { get; }

    /// <summary>Two-sided p value of no trend: 1 for equal readings, 0 for an exact slope.</summary>
    public double P { get; }

    /// <summary>Fits and tests the trend.</summary>
    /// <param name="values">Finite readings in the order in which they were taken; at least 3.</param>
    /// <exception cref="ArgumentException">There are fewer than 3 values, or one is not finite.</exception>
    public static OrderTrend Of(ReadOnlySpan<double> values)
    {
        Require.Sample(values, 3);
        var n = values.Length;
        var moments = SampleMoments.Of(values);
        double middle = (n - 1) / 2.0, sxx = n * ((double)n * n - 1) / 12, sxy = 0;
        for (var i = 0; i < n; i++)
            sxy += (i - middle) * (values[i] - moments.Mean);
        var slope = sxy / sxx;
        double residual = 0, size = 0;
        for (var i = 0; i < n; i++)
        {
            var e = values[i] - moments.Mean - slope * (i - middle);
            residual += e * e;
            size = Math.Max(size, Math.Abs(values[i]));
        }
        double dof = n - 2;
        // residuals at the rounding of the readings are none
        if (residual <= n * Math.Pow(4 * size * 1.1e-16, 2))
        {
            var level = Math.Abs(slope) * n <= 8 * size * 1.1e-16;
            return new OrderTrend(level ? 0 : slope, 0, level ? 0 : slope > 0 ? double.PositiveInfinity : double.NegativeInfinity, dof, level ? 1 : 0);
        }
        var se = Math.Sqrt(residual / dof / sxx);
        var t = slope / se;
        return new OrderTrend(slope, se, t, dof, Math.Min(1, 2 * StudentT.Cdf(-Math.Abs(t), dof)));
    }
}
