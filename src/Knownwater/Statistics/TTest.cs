namespace Knownwater.Statistics;

/// <summary>Student’s t test of a difference: its size, its standard error, and whether chance alone would give it.</summary>
/// <remarks>T = difference/standard error. Values are independent and normal; a test tells nothing of a difference that every value shares.</remarks>
public sealed record TTest
{
    private TTest(double difference, double standardError, double dof)
    {
        Difference = difference;
        StandardError = standardError;
        Dof = dof;
    }

    /// <summary>The difference found, in the unit of the values.</summary>
    public double Difference { get; }

    /// <summary>Its standard error, in the same unit; above zero.</summary>
    public double StandardError { get; }

    /// <summary>Degrees of freedom of the standard error.</summary>
    public double Dof { get; }

    /// <summary>Difference over standard error.</summary>
    public double T => Difference / StandardError;

    /// <summary>Probability of a difference at least as far from zero, on either side, where there is none.</summary>
    public double P => Math.Min(1, 2 * StudentT.Cdf(-Math.Abs(T), Dof));

    /// <summary>Probability of a difference at least as large where there is none or a negative one.</summary>
    public double PGreater => StudentT.Cdf(-T, Dof);

    /// <summary>Probability of a difference at least as small where there is none or a positive one.</summary>
    public double PLess => StudentT.Cdf(T, Dof);

    /// <summary>Tests the mean of one sample against a known value.</summary>
    /// <param name="values">Finite values, at least 2, not all equal.</param>
    /// <param name="known">The known value, finite.</param>
    /// <exception cref="ArgumentException">There are fewer than 2 values, a number is not finite, or all values are equal.</exception>
    public static TTest OneSample(ReadOnlySpan<double> values, double known)
    {
        var moments = Scattered(values, nameof(values));
        return new TTest(moments.Mean - Require.Finite(known), moments.StandardDeviationOfMean, values.Length - 1);
    }

    /// <summary>Tests the mean of the differences of pairs, first minus second.</summary>
    /// <param name="first">First values, finite; at least 2.</param>
    /// <param name="second">Second values, finite; as many.</param>
    /// <exception cref="ArgumentException">The numbers of values differ or are below 2, a number is not finite, or all differences are equal.</exception>
    public static TTest Paired(ReadOnlySpan<double> first, ReadOnlySpan<double> second)
    {
        Require.Sample(first, 2);
        Require.Sample(second, 2);
        if (first.Length != second.Length)
            throw new ArgumentException($"There are {second.Length} second values for {first.Length} first ones; each pair needs both.", nameof(second));
        var differences = new double[first.Length];
        for (var i = 0; i < differences.Length; i++)
            differences[i] = first[i] - second[i];
        return OneSample(differences, 0);
    }

    /// <summary>Tests the difference of two means, first minus second, where both samples have one standard deviation.</summary>
    /// <param name="first">First sample, finite; at least one value.</param>
    /// <param name="second">Second sample, finite; at least one value; one of the samples holds values that differ.</param>
    /// <exception cref="ArgumentException">A sample is empty, a number is not finite, or neither sample scatters.</exception>
    public static TTest TwoSample(ReadOnlySpan<double> first, ReadOnlySpan<double> second)
    {
        Require.Sample(first, 1);
        Require.Sample(second, 1);
        var (a, aa) = SampleMoments.Exact(first);
        var (b, bb) = SampleMoments.Exact(second);
        double dof = first.Length + second.Length - 2, squares = (aa + bb).High;
        return squares > 0 ? new TTest((a - b).High, Math.Sqrt(squares / dof * (1.0 / first.Length + 1.0 / second.Length)), dof)
            : throw new ArgumentException("Within each sample all values are equal, so that the standard deviation is 0; the test needs one above 0.", nameof(second));
    }

    /// <summary>Tests the difference of two means, first minus second, whatever the two standard deviations: Welch’s test.</summary>
    /// <remarks>Degrees of freedom by Welch and Satterthwaite (JCGM 100:2008, G.4.1).</remarks>
    /// <param name="first">First sample, finite; at least 2 values.</param>
    /// <param name="second">Second sample, finite; at least 2 values; one of the samples holds values that differ.</param>
    /// <exception cref="ArgumentException">A sample has fewer than 2 values, a number is not finite, or neither sample scatters.</exception>
    public static TTest Welch(ReadOnlySpan<double> first, ReadOnlySpan<double> second)
    {
        Require.Sample(first, 2);
        Require.Sample(second, 2);
        SampleMoments a = SampleMoments.Of(first), b = SampleMoments.Of(second);
        double va = a.Variance / a.N, vb = b.Variance / b.N, v = va + vb;
        if (!(v > 0))
            throw new ArgumentException("Within each sample all values are equal, so that the standard deviation is 0; the test needs one above 0.", nameof(second));
        // by shares of the variance, whose squares cannot underflow
        return new TTest(a.Mean - b.Mean, Math.Sqrt(v), 1 / (va / v * (va / v) / (a.N - 1) + vb / v * (vb / v) / (b.N - 1)));
    }

    /// <summary>Tests a difference whose standard error is known from elsewhere.</summary>
    /// <param name="difference">The difference, finite.</param>
    /// <param name="standardError">Its standard error, above zero, in the same unit.</param>
    /// <param name="dof">Degrees of freedom of the standard error, above zero; may be infinite.</param>
    /// <exception cref="ArgumentOutOfRangeException">The difference is not finite, the standard error is not above zero, or dof is not.</exception>
    public static TTest Of(double difference, double standardError, double dof) => new(Require.Finite(difference), Require.Positive(standardError), Require.Dof(dof));

    /// <summary>The confidence interval of the true difference.</summary>
    /// <param name="probability">Confidence level, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The probability is not between 0 and 1.</exception>
    public Interval Interval(double probability = 0.95)
    {
        Require.InsideUnit(probability);
        var half = -StudentT.Quantile((1 - probability) / 2, Dof) * StandardError;
        return new Interval(Difference - half, Difference + half);
    }

    /// <summary>The equivalence test, two one-sided tests: probability that chance alone lets the difference look as safely inside limits as it does, where it lies on or beyond one of them.</summary>
    /// <remarks>Schuirmann 1987. It is below α exactly where the 1 − 2α confidence interval lies inside the limits.</remarks>
    /// <param name="limits">Differences that do not matter yet, low below high.</param>
    /// <returns>The larger of the two one-sided probabilities.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A limit is not finite, or the lower one is not below the upper one.</exception>
    public double EquivalenceP(Interval limits)
    {
        if (!double.IsFinite(limits.Low) || !double.IsFinite(limits.High) || limits.Low >= limits.High)
            throw new ArgumentOutOfRangeException(nameof(limits), limits, $"The limits are {limits.Low} and {limits.High}; they must be finite, the lower one below the upper one.");
        return Math.Max(StudentT.Cdf((limits.Low - Difference) / StandardError, Dof), StudentT.Cdf((Difference - limits.High) / StandardError, Dof));
    }

    private static SampleMoments Scattered(ReadOnlySpan<double> values, string name)
    {
        Require.Sample(values, 2, name);
        var moments = SampleMoments.Of(values);
        return moments.Variance > 0 ? moments
            : throw new ArgumentException($"All {values.Length} values are {values[0]}, so that their standard deviation is 0; the test needs one above 0.", name);
    }
}
