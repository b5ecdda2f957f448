namespace Knownwater.Statistics;

/// <summary>Algorithm A of ISO 13528: robust mean and standard deviation by pulling far values in.</summary>
/// <remarks>
/// ISO 13528:2015, annex C.3 (Huber’s proposal 2 with 1.5 standard deviations). Begin with the median and 1.483 times the median absolute deviation; pull values beyond 1.5 s* in to that distance; take mean and 1.134 times the
/// standard deviation of the result; repeat until they stand still, here to 14 digits.
/// </remarks>
public static class AlgorithmA
{
    /// <summary>Robust mean and standard deviation.</summary>
    /// <param name="values">Finite values in any order; at least 3, and no more than half of them equal to their median.</param>
    /// <exception cref="ArgumentException">There are fewer than 3 values, one is not finite, or more than half of them are equal, which leaves the algorithm no scatter to begin with.</exception>
    public static RobustMoments Of(ReadOnlySpan<double> values)
    {
        Require.Sample(values, 3);
        var sorted = values.ToArray();
        Array.Sort(sorted);
        var mean = Median(sorted);
        double[] distances = [.. sorted.Select(x => Math.Abs(x - mean))];
        Array.Sort(distances);
        var sd = 1.483 * Median(distances);
        if (sd == 0)
            throw new ArgumentException($"More than half of the {values.Length} values are {mean}, so that their median absolute deviation is 0; the algorithm needs one above 0. Qn still tells a scatter where fewer pairs are equal.", nameof(values));
        var pulled = new double[sorted.Length];
        for (var round = 0; round < 1000; round++)
        {
            for (var i = 0; i < pulled.Length; i++)
                pulled[i] = Math.Clamp(sorted[i], mean - 1.5 * sd, mean + 1.5 * sd);
            var moments = SampleMoments.Of(pulled);
            var (next, scatter) = (moments.Mean, 1.134 * moments.StandardDeviation);
            var still = Math.Abs(next - mean) <= 1e-14 * (Math.Abs(next) + scatter) && Math.Abs(scatter - sd) <= 1e-14 * scatter;
            (mean, sd) = (next, scatter);
            if (still)
                break;
        }
        return new RobustMoments(values.Length, mean, sd);
    }

    private static double Median(double[] sorted) => sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : sorted[sorted.Length / 2 - 1] / 2 + sorted[sorted.Length / 2] / 2;
}
