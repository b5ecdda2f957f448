namespace Knownwater.Statistics;

/// <summary>The scale estimator Qn of Rousseeuw and Croux: a quantile of the distances of all pairs, which up to half of the values may spoil.</summary>
/// <remarks>
/// Journal of the American Statistical Association 88 (1993) 1273. The k-th smallest of the distances, k = h(h − 1)/2 with h = ⌊n/2⌋ + 1, times 2.21914, which makes it the standard deviation of normal values, times a factor for
/// small samples as in ISO 13528:2015, annex C.5 (those of Croux and Rousseeuw, recomputed in the R package robustbase). It needs no centre. The k-th distance is found exactly, by halving over the doubles with one
/// counting pass of O(n) each: at most 64 passes, no pair is stored.
/// </remarks>
public static class Qn
{
    private const double Consistency = 2.21914;

    private static readonly double[] Small = [0.399356, 0.99365, 0.51321, 0.84401, 0.61220, 0.85877, 0.66993, 0.87344, 0.72014, 0.88906, 0.75743];

    /// <summary>The robust standard deviation.</summary>
    /// <param name="values">Finite values in any order; at least 2, at most 100 million.</param>
    /// <returns>The scale in the unit of the values; zero where about half of the values or more are equal.</returns>
    /// <exception cref="ArgumentException">There are fewer than 2 or too many values, or one is not finite.</exception>
    /// <exception cref="OverflowException">The distance between two values exceeds the largest double.</exception>
    public static double Of(ReadOnlySpan<double> values)
    {
        Require.Sample(values, 2);
        if (values.Length > 100_000_000)
            throw new ArgumentException($"There are {values.Length} values; at most 100000000 are taken.", nameof(values));
        var sorted = values.ToArray();
        Array.Sort(sorted);
        var range = sorted[^1] - sorted[0];
        if (double.IsInfinity(range))
            throw new OverflowException("The values are too far apart: their distance exceeds the largest number.");
        int n = sorted.Length, h = n / 2 + 1;
        var k = (long)h * (h - 1) / 2;
        // doubles that are not negative are ordered as their bits are
        long low = 0, high = BitConverter.DoubleToInt64Bits(range);
        while (low < high)
        {
            var middle = low + (high - low) / 2;
            if (PairsWithin(sorted, BitConverter.Int64BitsToDouble(middle)) >= k)
                high = middle;
            else
                low = middle + 1;
        }
        return BitConverter.Int64BitsToDouble(low) * Consistency * SmallSample(n);
    }

    private static long PairsWithin(double[] sorted, double distance)
    {
        long count = 0;
        var first = 0;
        for (var last = 1; last < sorted.Length; last++)
        {
            while (sorted[last] - sorted[first] > distance)
                first++;
            count += last - first;
        }
        return count;
    }

    private static double SmallSample(int n)
    {
        if (n <= 12)
            return Small[n - 2];
        var x = 1.0 / n;
        var excess = n % 2 == 1 ? x * (1.60188 + x * (-2.1284 - 5.172 * x)) : x * (3.67561 + x * (1.9654 + x * (6.987 - 77 * x)));
        return 1 / (1 + excess);
    }
}
