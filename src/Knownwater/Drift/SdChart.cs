using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>A chart of the standard deviation of n normal values over a known one, between the limits B₅ and B₆ (ISO 7870-2:2013).</summary>
/// <remarks>Its run length is geometric: (n − 1)·s²/σ² follows chi-square with n − 1 degrees of freedom, and with p the probability that s/σ lies beyond a limit the mean is 1/p.</remarks>
/// <param name="Count">Number n of values, 2 to 1000; one more than the degrees of freedom where several groups are pooled.</param>
public sealed record SdChart(int Count)
{
    private readonly ShewhartConstants _constants = ShewhartConstants.Of(Count);

    /// <summary>B₅: lower limit of s/σ; zero where nothing is too small.</summary>
    public double Lower => _constants.SdLowerOfSigma;

    /// <summary>B₆: upper limit of s/σ.</summary>
    public double Upper => _constants.SdUpperOfSigma;

    /// <summary>Average number of standard deviations until one signals.</summary>
    /// <param name="ratio">The true standard deviation over the known one, above 0; 1 is in control.</param>
    /// <returns>Number of standard deviations, at least 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The ratio is not above zero.</exception>
    public double AverageRunLength(double ratio = 1)
    {
        Require.Positive(ratio);
        double Square(double limit) => (Count - 1) * limit * limit / (ratio * ratio);
        var above = ChiSquare.UpperTail(Square(Upper), Count - 1);
        return 1 / (above + (Lower > 0 ? ChiSquare.Cdf(Square(Lower), Count - 1) : 0));
    }
}
