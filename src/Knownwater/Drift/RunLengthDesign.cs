using MathNet.Numerics.RootFinding;

namespace Knownwater.Drift;

/// <summary>Finds the limit of a chart that gives a wanted average run length in control.</summary>
internal static class RunLengthDesign
{
    private const double Longest = 1e9;

    public static void RequireRunLength(double inControl)
    {
        if (!(inControl is > 1 and <= Longest))
            throw new ArgumentOutOfRangeException(nameof(inControl), inControl, $"The average run length in control is {inControl}; it must be above 1 and at most {Longest:0}.");
    }

    /// <summary>By Brent's method on the logarithm of the run length, which rises with the limit.</summary>
    public static T Solve<T>(Func<double, T> chart, double inControl)
        where T : ControlChart
    {
        double Distance(double limit) => Math.Log(chart(limit).AverageRunLength() / inControl);
        double low = 1e-3, high = 1;
        while (Distance(high) < 0)
            (low, high) = (high, 1.5 * high);
        if (Distance(low) > 0)
            throw new ArgumentOutOfRangeException(nameof(inControl), inControl, $"An average run length of {inControl} in control is below what this chart can have. Ask for more.");
        return chart(Brent.FindRoot(Distance, low, high, 1e-12, 200));
    }
}
