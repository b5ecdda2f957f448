namespace Knownwater.Statistics;

/// <summary>What is estimated from a sample, as a function of how often each observation counts.</summary>
/// <remarks>
/// One function serves the estimate itself (every weight 1), a resample with replacement (weights are the numbers of times drawn) and the sample with one observation left out (one weight 0). Several outputs share their resamples.
/// It is called from several threads at once, so it must not keep anything between calls.
/// </remarks>
public interface IResampledStatistic
{
    /// <summary>Number of observations.</summary>
    int Observations { get; }

    /// <summary>Number of outputs.</summary>
    int Outputs { get; }

    /// <summary>Evaluates the outputs.</summary>
    /// <param name="weights">Weight of each observation: whole numbers, zero or above.</param>
    /// <param name="outputs">Where the outputs go; NaN in all of them for a resample that has none, as a slope through one point.</param>
    void Evaluate(ReadOnlySpan<double> weights, Span<double> outputs);
}
