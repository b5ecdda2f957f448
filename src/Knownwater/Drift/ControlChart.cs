using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>The design of a control chart for independent normal points, and how long it runs until it signals.</summary>
/// <remarks>
/// <para>Points are standardised: distance from the target over the standard deviation σ of one point, so that a point in control is N(0, 1) and one after a shift of d is N(d, 1).
/// The run length is the number of points up to and including the first that signals; its mean is the average run length (ISO 7870-1:2019, 3.11).</para>
/// <para>Zero state: the shift is there from the first point on. Steady state: it comes after a long time in control without a signal, from the conditional stationary
/// distribution of the chart (Crosier 1986, Technometrics 28, 187). All are computed, none simulated: see each chart for its method.</para>
/// <para>The figures hold where σ is known and the points are independent. With an estimated σ, or points that share the error of a stock, a chart signals more often than they say.</para>
/// </remarks>
public abstract record ControlChart
{
    private const int MostPoints = 2_000_000;

    private protected ControlChart()
    {
    }

    /// <summary>On which side it watches.</summary>
    public ChartSides Sides { get; init; }

    /// <summary>Average run length in zero state: the points have had this mean from the first on.</summary>
    /// <param name="shift">Mean of the points in units of σ; 0 is in control.</param>
    /// <returns>Number of points, at least 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The shift is not a finite number.</exception>
    public virtual double AverageRunLength(double shift = 0)
    {
        Require.Finite(shift);
        var chain = Chain();
        var state = chain.First(shift);
        double survived = 1;
        for (var point = 2; point <= chain.Settled; point++)
        {
            survived += Sum(state);
            state = chain.Next(state, shift, point);
        }
        return survived + Dot(state, chain.Remaining(shift));
    }

    /// <summary>Average run length in steady state: the number of points after the shift, which comes after a long time in control.</summary>
    /// <param name="shift">Mean of the points after it, in units of σ.</param>
    /// <returns>Number of points, at least 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The shift is not a finite number.</exception>
    public virtual double SteadyStateAverageRunLength(double shift)
    {
        Require.Finite(shift);
        var chain = Chain();
        return Dot(chain.Stationary(), chain.Remaining(shift));
    }

    /// <summary>Average run length where the mean rises steadily from the first point on: that of point i is i times the slope.</summary>
    /// <param name="slope">Rise from one point to the next in units of σ.</param>
    /// <returns>Number of points, at least 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The slope is not a finite number.</exception>
    /// <exception cref="InvalidOperationException">The chart has not signalled after two million points.</exception>
    public double AverageRunLengthUnderDrift(double slope)
    {
        Require.Finite(slope);
        if (slope == 0)
            return AverageRunLength();
        var chain = Chain();
        var state = chain.First(slope);
        double sum = 1;
        for (var point = 2; point <= MostPoints; point++)
        {
            var left = Sum(state);
            sum += left;
            if (left < 1e-15 * sum)
                return sum;
            state = chain.Next(state, point * slope, point);
        }
        throw new InvalidOperationException($"With a slope of {slope} σ a point the chart has not signalled after {MostPoints} points. Take a steeper slope, or the run length without any.");
    }

    /// <summary>Probability that it has signalled by each point: the distribution of the run length.</summary>
    /// <param name="points">Number of points, at least 1.</param>
    /// <param name="shift">Mean of the points in units of σ.</param>
    /// <returns>The probability at index i that one of the first i + 1 points signals.</returns>
    /// <exception cref="ArgumentOutOfRangeException">There are no points, or the shift is not a finite number.</exception>
    public double[] SignalProbabilities(int points, double shift = 0)
    {
        Require.AtLeast(points, 1);
        Require.Finite(shift);
        var chain = Chain();
        var found = new double[points];
        var state = chain.First(shift);
        for (var point = 1; ; point++)
        {
            found[point - 1] = Math.Clamp(1 - Sum(state), 0, 1);
            if (point == points)
                return found;
            state = chain.Next(state, shift, point + 1);
        }
    }

    /// <summary>The chart as a process that carries the probability of having gone on without a signal.</summary>
    private protected abstract IRunLengthChain Chain();

    private static double Sum(double[] state)
    {
        double sum = 0;
        foreach (var part in state)
            sum += part;
        return sum;
    }

    private static double Dot(double[] state, double[] values)
    {
        double sum = 0;
        for (var i = 0; i < state.Length; i++)
            sum += state[i] * values[i];
        return sum;
    }
}
