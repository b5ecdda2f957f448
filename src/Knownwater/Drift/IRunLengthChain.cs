namespace Knownwater.Drift;

/// <summary>A chart between two points: the probability of each state without a signal so far. The sum over the states is the probability that none came.</summary>
internal interface IRunLengthChain
{
    /// <summary>Number of the point from which on its limits no longer change; 1 where they never do.</summary>
    int Settled { get; }

    /// <summary>State after the first point.</summary>
    /// <param name="mean">Mean of that point in σ.</param>
    double[] First(double mean);

    /// <summary>State after one more point.</summary>
    /// <param name="state">State before it.</param>
    /// <param name="mean">Mean of that point in σ.</param>
    /// <param name="point">Its number, from 2 on.</param>
    double[] Next(double[] state, double mean, int point);

    /// <summary>Expected number of points still to come from each state, with the limits settled.</summary>
    /// <param name="mean">Mean of all of them in σ.</param>
    double[] Remaining(double mean);

    /// <summary>The state after a long time in control without a signal; sums to one.</summary>
    double[] Stationary();
}
