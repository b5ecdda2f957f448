namespace Knownwater.Statistics;

/// <summary>Number, mean and standard deviation of a sample.</summary>
/// <remarks>
/// Differences from the first value are taken without rounding and summed in double-double arithmetic, so that mean and standard deviation are those of the doubles given,
/// to the last place or so: means and sums in double lose up to three further digits where the scatter is small against the values (NIST StRD: docs/reference/digits.md).
/// For constant data the mean is the value itself and the standard deviation exactly zero; the order of the values does not matter. Immutable; <c>default</c> has no meaning.
/// </remarks>
public readonly record struct SampleMoments
{
    private readonly double _sumOfSquares;

    private SampleMoments(int n, double mean, double sumOfSquares)
    {
        N = n;
        Mean = mean;
        _sumOfSquares = sumOfSquares;
    }

    /// <summary>Number of values.</summary>
    public int N { get; }

    /// <summary>Arithmetic mean, in the unit of the values.</summary>
    public double Mean { get; }

    /// <summary>Sample variance with divisor n − 1.</summary>
    /// <exception cref="InvalidOperationException">There is one value only.</exception>
    public double Variance => N >= 2 ? _sumOfSquares / (N - 1)
        : throw new InvalidOperationException("One value has no standard deviation; at least two are needed.");

    /// <summary>Sample standard deviation with divisor n − 1, in the unit of the values.</summary>
    /// <exception cref="InvalidOperationException">There is one value only.</exception>
    public double StandardDeviation => Math.Sqrt(Variance);

    /// <summary>Standard uncertainty of the mean, s/√n (JCGM 100:2008, 4.2.3).</summary>
    /// <exception cref="InvalidOperationException">There is one value only.</exception>
    public double StandardDeviationOfMean => Math.Sqrt(Variance / N);

    /// <summary>The moments of a sample.</summary>
    /// <param name="values">Finite values in any order; at least one.</param>
    /// <exception cref="ArgumentException">There is no value, or one is not finite.</exception>
    /// <exception cref="OverflowException">The sum of squares exceeds the largest double.</exception>
    public static SampleMoments Of(ReadOnlySpan<double> values)
    {
        Require.Sample(values, 1);
        var (mean, squares) = Exact(values);
        return mean.IsFinite && squares.IsFinite ? new SampleMoments(values.Length, mean.High, squares.High)
            : throw new OverflowException("The values are too far apart: the sum of their squares exceeds the largest number.");
    }

    /// <summary>Mean and sum of squared deviations with some 31 digits; both are not finite where a square exceeds the largest double.</summary>
    internal static (DoubleDouble Mean, DoubleDouble SumOfSquares) Exact(ReadOnlySpan<double> values)
    {
        // the first value as origin: constant data then leave no rounding at all
        var origin = values[0];
        var sum = Sum(values, origin);
        var shift = sum / values.Length;
        return (origin + shift, SumOfProducts(values, values, origin, shift));
    }

    /// <summary>Sum of (a − origin − shift)(b − origin − shift) over pairs of values.</summary>
    internal static DoubleDouble SumOfProducts(ReadOnlySpan<double> a, ReadOnlySpan<double> b, double origin, DoubleDouble shift)
    {
        DoubleDoubleLanes lanes = default, back = DoubleDoubleLanes.All(-shift);
        var i = 0;
        for (; i + DoubleDoubleLanes.Count <= a.Length; i += DoubleDoubleLanes.Count)
            lanes += (DoubleDoubleLanes.Difference(a[i..], origin) + back) * (DoubleDoubleLanes.Difference(b[i..], origin) + back);
        var sum = i > 0 ? lanes.Total() : 0;
        for (; i < a.Length; i++)
            sum += (DoubleDouble.Difference(a[i], origin) - shift) * (DoubleDouble.Difference(b[i], origin) - shift);
        return sum;
    }

    private static DoubleDouble Sum(ReadOnlySpan<double> values, double origin)
    {
        DoubleDoubleLanes lanes = default;
        var i = 0;
        for (; i + DoubleDoubleLanes.Count <= values.Length; i += DoubleDoubleLanes.Count)
            lanes += DoubleDoubleLanes.Difference(values[i..], origin);
        var sum = i > 0 ? lanes.Total() : 0;
        for (; i < values.Length; i++)
            sum += DoubleDouble.Difference(values[i], origin);
        return sum;
    }
}
