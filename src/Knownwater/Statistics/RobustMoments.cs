namespace Knownwater.Statistics;

/// <summary>A robust mean and standard deviation: those of the main body of the values, which a few far ones hardly move.</summary>
/// <param name="N">Number of values.</param>
/// <param name="Mean">Robust mean, in the unit of the values.</param>
/// <param name="StandardDeviation">Robust standard deviation, in the unit of the values; that of a normal main body.</param>
public readonly record struct RobustMoments(int N, double Mean, double StandardDeviation)
{
    /// <summary>Standard uncertainty of the robust mean, 1.25·s*/√n (ISO 13528:2015, 7.7): the factor stands for what the median would lose, and covers Algorithm A.</summary>
    public double StandardUncertaintyOfMean => 1.25 * StandardDeviation / Math.Sqrt(N);
}
