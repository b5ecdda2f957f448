namespace Knownwater.Statistics;

/// <summary>The straight line through points of exact x by the median of the slopes between all pairs: Theil and Sen.</summary>
/// <remarks>
/// <para>H. Theil, Proceedings of the Koninklijke Nederlandse Akademie van Wetenschappen 53 (1950) 386–392; P. K. Sen, Journal of the American Statistical Association 63 (1968) 1379–1389. Pairs of equal x are left out; N slopes are
/// left. b is their median, a = median(y − b x). Limits: the slopes of rank M₁ = (N − C)/2, rounded, and N − M₁ + 1, with C = z √V and V = (n(n − 1)(2n + 5) − Σ t(t − 1)(2t + 5))/18 over the groups of t equal x.
/// Groups of equal y are not taken off: at the true slope y − b x has none.</para>
/// <para>Robust: up to 29 % of the points may lie anywhere. Errors of x bend the slope toward zero: between two methods take <see cref="PassingBablokLine"/>. O(n log n) time, O(n) memory, exact on the decimal grid of the values.</para>
/// </remarks>
public sealed record TheilSenLine
{
    private TheilSenLine()
    {
    }

    /// <summary>Slope b, in units of y per unit of x.</summary>
    public required double Slope { get; init; }

    /// <summary>Intercept a, in the unit of y.</summary>
    public required double Intercept { get; init; }

    /// <summary>Coverage interval of the slope; a limit is infinite where its rank runs past the end.</summary>
    public required Interval SlopeInterval { get; init; }

    /// <summary>Number of points.</summary>
    public required int N { get; init; }

    /// <summary>Number of slopes, N.</summary>
    public required long Slopes { get; init; }

    /// <summary>Fits the line.</summary>
    /// <param name="x">Finite values, at least 2, not all equal.</param>
    /// <param name="y">As many finite values.</param>
    /// <param name="coverage">Coverage probability of the interval, between 0 and 1.</param>
    /// <param name="cancel">Stops a long computation.</param>
    /// <exception cref="ArgumentException">The counts differ, there are fewer than 2 points, a value is not finite, or all x are equal.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The coverage is not between 0 and 1.</exception>
    /// <exception cref="OverflowException">The line exceeds the largest double.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static TheilSenLine Fit(ReadOnlySpan<double> x, ReadOnlySpan<double> y, double coverage = 0.95, CancellationToken cancel = default)
    {
        Require.Pairs(x, y, 2);
        Require.InsideUnit(coverage);
        return Fit(x, y, PairSlopes.Of(ReadingGrid.Of(x, y, sharedStep: false)), coverage, cancel);
    }

    internal static TheilSenLine Fit(ReadOnlySpan<double> x, ReadOnlySpan<double> y, PairSlopes slopes, double coverage, CancellationToken cancel)
    {
        var n = x.Length;
        var counted = slopes.Pairs - slopes.Vertical;
        if (counted == 0)
            throw new ArgumentException($"All {n} values of x are {x[0]}; a slope needs at least two that differ.", nameof(x));
        var c = -Normal.Quantile((1 - coverage) / 2) * Math.Sqrt(Variance(x));
        var first = (long)Math.Round((counted - c) / 2);
        long low = (counted + 1) / 2, high = counted / 2 + 1;
        var bounded = first >= 1;
        var found = slopes.Select(bounded ? [first, low, high, counted - first + 1] : [low, high], aboveMinusOne: false, cancel);
        var middle = bounded ? 1 : 0;
        var b = (found[middle] + found[middle + 1]) / 2;
        var a = Intercepts.Median(x, y, b, new double[n]);
        if (!double.IsFinite(a))
            throw new OverflowException("The values are too far apart: slope or intercept exceed the largest number.");
        return new TheilSenLine
        {
            Slope = b,
            Intercept = a,
            SlopeInterval = bounded ? new Interval(found[0], found[3]) : new Interval(double.NegativeInfinity, double.PositiveInfinity),
            N = n,
            Slopes = counted,
        };
    }

    private static double Variance(ReadOnlySpan<double> x)
    {
        static double Part(double t) => t * (t - 1) * (2 * t + 5) / 18;
        var sorted = x.ToArray();
        Array.Sort(sorted);
        var variance = Part(sorted.Length);
        for (int start = 0, end; start < sorted.Length; start = end)
        {
            for (end = start + 1; end < sorted.Length && sorted[end] == sorted[start]; end++)
            {
            }
            variance -= Part(end - start);
        }
        return variance;
    }
}
