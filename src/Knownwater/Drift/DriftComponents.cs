using Knownwater.Quantities;

namespace Knownwater.Drift;

/// <summary>The parts that the scatter of a method's checks is made of, each as a standard deviation.</summary>
/// <remarks>Verdicts of one occasion use the part within checks alone; charts, and the uncertainty of tank readings, use it together with the part between checks.</remarks>
public sealed class DriftComponents
{
    private readonly Func<double, ComponentEstimate> _within;
    private readonly Tolerance _tolerance;

    internal DriftComponents(Func<double, ComponentEstimate> within, TypicalSd curve, double withinDof, ComponentEstimate between, double betweenRms, double stock, double preparation, Tolerance tolerance, int checks)
    {
        _within = within;
        _tolerance = tolerance;
        (WithinCurve, WithinDof, Between, BetweenRms, Stock, Preparation, Checks) = (curve, withinDof, between, betweenRms, stock, preparation, checks);
    }

    /// <summary>Number of checks they rest on. Below three they are mostly what is typical.</summary>
    public int Checks { get; }

    /// <summary>Scatter of single readings within a check over the level, s(c) = √(a² + (b·c)²), at the posterior means of a² and b².</summary>
    public TypicalSd WithinCurve { get; }

    /// <summary>Degrees of freedom of the scatter within checks, those of its prior included.</summary>
    public double WithinDof { get; }

    /// <summary>Standard deviation between checks, in tolerances.</summary>
    public ComponentEstimate Between { get; }

    /// <summary>Root of the posterior mean of the squared standard deviation between checks, in tolerances: what it counts for in a variance.</summary>
    public double BetweenRms { get; }

    /// <summary>Part of the known waters' uncertainty that preparations share (stock, matrix, glassware), in tolerances: root mean square over the levels of all checks. Known from ancestry.</summary>
    public double Stock { get; }

    /// <summary>Part of the known waters' uncertainty that is fresh in each preparation, in tolerances: root mean square over the levels of all checks. Known from ancestry.</summary>
    public double Preparation { get; }

    /// <summary>Standard deviation of single readings within a check.</summary>
    /// <param name="level">Level in the unit of the history; zero or above.</param>
    public ComponentEstimate WithinAt(double level) => _within(Statistics.Require.NotNegative(level));

    /// <summary>Standard deviation between checks.</summary>
    /// <param name="level">Level in the unit of the history; zero or above.</param>
    /// <returns>In the unit of the history.</returns>
    public ComponentEstimate BetweenAt(double level) => Between.Times(_tolerance.At(Statistics.Require.NotNegative(level)));

    /// <summary>Standard deviation of one reading that was made on any day: its scatter within the day, and what differs from day to day.</summary>
    /// <remarks>√(max(s_r²(c), q²/12) + s_b²·T²(c)) with the posterior means of s_r² and s_b², so that what is not known of them counts. What the method is off by for long is not in it.</remarks>
    /// <param name="level">Level in the unit of the history; zero or above.</param>
    /// <param name="resolution">Step of the display; zero or above.</param>
    /// <returns>In the unit of the history.</returns>
    public double ReadingSd(double level, double resolution = 0)
    {
        Statistics.Require.NotNegative(level);
        return ReadingSd(WithinCurve.At(level), BetweenRms * _tolerance.At(level), resolution);
    }

    /// <summary>The same of parts that are known already: √(max(s_r², q²/12) + s_b²).</summary>
    /// <param name="within">Standard deviation within a check; zero or above.</param>
    /// <param name="between">Standard deviation between checks, in the same unit; zero or above.</param>
    /// <param name="resolution">Step of the display, in the same unit; zero or above.</param>
    /// <returns>In that unit.</returns>
    /// <exception cref="ArgumentOutOfRangeException">One of them is below zero or not finite.</exception>
    public static double ReadingSd(double within, double between, double resolution)
    {
        Statistics.Require.NotNegative(within);
        Statistics.Require.NotNegative(between);
        return double.Hypot(Math.Max(within, Statistics.Require.NotNegative(resolution) / Math.Sqrt(12)), between);
    }
}
