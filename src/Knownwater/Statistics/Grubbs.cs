namespace Knownwater.Statistics;

/// <summary>Grubbs' test for one outlier in a normal sample.</summary>
/// <remarks>G = |x − mean|/s of the farthest value. Critical value (n − 1)/√n · √(t²/(n − 2 + t²)), t the upper α/n (one-sided) or α/2n (two-sided) point of Student's t with n − 2 degrees of freedom: ISO 5725-2:1994, 7.3.4; NIST/SEMATECH e-Handbook, 1.3.5.17.1.</remarks>
public static class Grubbs
{
    /// <summary>The critical value of G.</summary>
    /// <param name="n">Number of values, at least 3.</param>
    /// <param name="alpha">Level of significance, between 0 and 1.</param>
    /// <param name="twoSided">Whether an outlier on either side counts; else the side was chosen before the data were seen.</param>
    /// <exception cref="ArgumentOutOfRangeException">n is below 3, or alpha is not between 0 and 1.</exception>
    public static double CriticalValue(int n, double alpha, bool twoSided)
    {
        Require.AtLeast(n, 3);
        Require.InsideUnit(alpha);
        var tail = alpha / (twoSided ? 2.0 * n : n);
        var t = StudentT.Quantile(tail, n - 2);
        // √(t²/(n − 2 + t²)) with t² kept from overflowing
        return (n - 1) / Math.Sqrt(n) / Math.Sqrt(1 + (n - 2) / t / t);
    }

    /// <summary>The farthest value and its G.</summary>
    /// <param name="values">Finite values in any order, at least 3.</param>
    /// <returns>Position of the farthest value, counting from zero, and G; G is zero where all values are equal.</returns>
    /// <exception cref="ArgumentException">There are fewer than 3 values, or one is not finite.</exception>
    public static (int Index, double G) Farthest(ReadOnlySpan<double> values)
    {
        Require.Sample(values, 3);
        var moments = SampleMoments.Of(values);
        var index = 0;
        for (var i = 1; i < values.Length; i++)
        {
            if (Math.Abs(values[i] - moments.Mean) > Math.Abs(values[index] - moments.Mean))
                index = i;
        }
        var sd = moments.StandardDeviation;
        return (index, sd == 0 ? 0 : Math.Abs(values[index] - moments.Mean) / sd);
    }
}
