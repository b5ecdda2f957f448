using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>The exponentially weighted moving average of the points, z ← (1 − λ)·z + λ·x, between its limits (ISO 7870-6:2016).</summary>
/// <remarks>
/// <para>The limits lie at ± width times its standard deviation: √(λ/(2 − λ)) after a long time, √(λ/(2 − λ)·(1 − (1 − λ)^(2i))) at point i where they vary with time. Watching
/// above alone, a value below the target is put back to it.</para>
/// <para>Run lengths by the integral equation of Crowder 1987 on Gauss–Legendre nodes; with limits that vary, the density is carried from point to point until they have settled.</para>
/// </remarks>
/// <param name="Lambda">Weight λ of the new point, above 0 and at most 1; 1 is the chart of single points.</param>
/// <param name="Width">Half-width of the limits in standard deviations of the average after a long time, above 0.</param>
public sealed record EwmaChart(double Lambda, double Width) : ControlChart
{
    private const double Unsettled = 1e-13;

    /// <inheritdoc cref="EwmaChart"/>
    public double Lambda { get; init; } = Lambda is > 0 and <= 1 ? Lambda : throw new ArgumentOutOfRangeException(nameof(Lambda), Lambda, $"The weight λ is {Lambda}; it must be above 0 and at most 1.");

    /// <inheritdoc cref="EwmaChart"/>
    public double Width { get; init; } = Require.Positive(Width, nameof(Width));

    /// <summary>Whether the limits follow the standard deviation of the average from the first point on, instead of standing where they end.</summary>
    public bool TimeVaryingLimits { get; init; }

    /// <summary>Value before the first point, in the units of <see cref="Width"/>; within the limits.</summary>
    public double HeadStart { get; init; }

    /// <summary>Limit at a point in units of σ, above the target; below it the same with the other sign.</summary>
    /// <param name="point">Number of the point, at least 1.</param>
    /// <returns>Width times the standard deviation of the average.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The point is below 1.</exception>
    public double LimitAt(int point)
    {
        Require.AtLeast(point, 1);
        var settled = Width * Math.Sqrt(Lambda / (2 - Lambda));
        return TimeVaryingLimits ? settled * Math.Sqrt(1 - Math.Pow(1 - Lambda, 2.0 * point)) : settled;
    }

    /// <summary>The averages of standardised points in their order.</summary>
    /// <param name="points">Points as distances from the target in σ.</param>
    /// <returns>One average a point.</returns>
    /// <exception cref="ArgumentException">There is no point, or one is not finite.</exception>
    public double[] Averages(ReadOnlySpan<double> points)
    {
        Require.Sample(points, 1);
        var averages = new double[points.Length];
        var z = Start;
        for (var i = 0; i < points.Length; i++)
        {
            z = (1 - Lambda) * z + Lambda * points[i];
            if (Sides == ChartSides.Upper)
                z = Math.Max(0, z);
            averages[i] = z;
        }
        return averages;
    }

    /// <summary>The width whose average run length in control, in zero state, is this one.</summary>
    /// <param name="lambda">Weight λ, above 0 and at most 1.</param>
    /// <param name="inControl">Wanted average run length, above 1.</param>
    /// <param name="sides">On which side it watches.</param>
    /// <param name="timeVaryingLimits">Whether the limits vary with time.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentOutOfRangeException">λ or the run length is out of range.</exception>
    public static EwmaChart For(double lambda, double inControl, ChartSides sides = ChartSides.Both, bool timeVaryingLimits = false)
    {
        RunLengthDesign.RequireRunLength(inControl);
        return RunLengthDesign.Solve(width => new EwmaChart(lambda, width) { Sides = sides, TimeVaryingLimits = timeVaryingLimits }, inControl);
    }

    private double Start => Math.Abs(HeadStart) <= Width && (Sides == ChartSides.Both || HeadStart >= 0)
        ? HeadStart * Math.Sqrt(Lambda / (2 - Lambda))
        : throw new ArgumentOutOfRangeException(nameof(HeadStart), HeadStart, $"The head start is {HeadStart}; it must lie within the limits, {(Sides == ChartSides.Both ? -Width : 0)} to {Width}.");

    private protected override IRunLengthChain Chain()
    {
        var settled = TimeVaryingLimits && Lambda < 1 ? Math.Max(1, (int)Math.Ceiling(Math.Log(Unsettled) / (2 * Math.Log(1 - Lambda)))) : 1;
        return new ScalarChain(1 - Lambda, Lambda, 0, Start, Sides == ChartSides.Upper, settled, point => (Sides == ChartSides.Upper ? 0 : -LimitAt(Math.Min(point, settled)), LimitAt(Math.Min(point, settled))));
    }
}
