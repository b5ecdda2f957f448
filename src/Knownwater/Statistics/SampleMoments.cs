namespace Knownwater.Statistics;

/// <summary>Number, mean and standard deviation of a sample.</summary>
/// <remarks>
/// Two passes with correction (Chan, Golub and LeVeque 1983): deviations are taken from a first mean, and what their sum leaves over is put back; sums are compensated (Neumaier).
/// For constant data the mean is the value itself and the standard deviation exactly zero. Immutable; <c>default</c> has no meaning.
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
        // the first value as origin: constant data then leave no rounding at all
        var origin = values[0];
        var mean = origin + Sum(values, origin) / values.Length;
        double left = Sum(values, mean), squares = 0, carry = 0;
        foreach (var value in values)
        {
            var d = value - mean;
            Add(ref squares, ref carry, d * d);
        }
        var sum = Math.Max(0, squares + carry - left * left / values.Length);
        mean += left / values.Length;
        return double.IsFinite(sum) && double.IsFinite(mean) ? new SampleMoments(values.Length, mean, sum)
            : throw new OverflowException("The values are too far apart: the sum of their squares exceeds the largest number.");
    }

    private static double Sum(ReadOnlySpan<double> values, double origin)
    {
        double sum = 0, carry = 0;
        foreach (var value in values)
            Add(ref sum, ref carry, value - origin);
        return sum + carry;
    }

    private static void Add(ref double sum, ref double carry, double term)
    {
        var next = sum + term;
        carry += Math.Abs(sum) >= Math.Abs(term) ? sum - next + term : term - next + sum;
        sum = next;
    }
}
