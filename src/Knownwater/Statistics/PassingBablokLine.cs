namespace Knownwater.Statistics;

/// <summary>The straight line between two methods by the median of the slopes between all pairs: Passing and Bablok.</summary>
/// <remarks>
/// <para>H. Passing and W. Bablok, Journal of Clinical Chemistry and Clinical Biochemistry 21 (1983) 709–720. Slopes S of all pairs of points, identical points left out and slopes of exactly −1 left out; N are left. Ranks count from −1 upward
/// through +∞ and on from −∞ to −1, which is the published offset K; so exchanging the methods gives the same line, and a vertical pair is +∞ whatever its sign. The slope is the median, a = median(y − b x). The limits of b are the slopes of
/// rank M₁ = (N − C)/2, rounded, and M₂ = N − M₁ + 1, with C = z √(n(n − 1)(2n + 5)/18); the limits of a are median(y − b_U x) and median(y − b_L x). A rank before the first slope, at a vertical or beyond leaves that side unbounded. No
/// standard uncertainty is published for this line, and none is made up.</para>
/// <para>Slopes are compared as ratios of whole numbers on the decimal grid of the readings, so ties and −1 are exact; all of it takes O(n log n) time and O(n) memory.</para>
/// <para>Assumes that both methods rise together and that, on the scale where the line has slope 1, both err alike: error variances in the ratio b², normal or not. Then, for n from 20 to 100 and readings that are not rounded, the
/// interval of the slope holds the true one in 95 %. The published limits of the intercept rest on those of the slope alone and hold it in about 91 %. Outside, the promise ends: where y errs five times as much as x, whose reliability
/// is 0.99, the interval holds the slope in 87 % with 20 pairs and in 46 % with 100; a display step as large as the standard deviation of the errors leaves 93 to 96 % at that reliability, one twice as large 54 to 87 %.
/// By simulation, 20,000 comparisons each: docs/reference/comparison.md.</para>
/// </remarks>
public sealed record PassingBablokLine
{
    private PassingBablokLine()
    {
    }

    /// <summary>Slope b, in units of y per unit of x.</summary>
    public required double Slope { get; init; }

    /// <summary>Intercept a, in the unit of y.</summary>
    public required double Intercept { get; init; }

    /// <summary>Coverage interval of the slope; a limit is infinite where its rank runs past the end.</summary>
    public required Interval SlopeInterval { get; init; }

    /// <summary>Coverage interval of the intercept; a limit is infinite where that of the slope is.</summary>
    public required Interval InterceptInterval { get; init; }

    /// <summary>Number of points.</summary>
    public required int N { get; init; }

    /// <summary>Number of slopes that count, N.</summary>
    public required long Slopes { get; init; }

    /// <summary>Number of slopes below −1: the published offset K, verticals left out.</summary>
    public required long BelowMinusOne { get; init; }

    /// <summary>Number of vertical pairs.</summary>
    public required long Vertical { get; init; }

    /// <summary>Fits the line.</summary>
    /// <param name="x">Finite values of one method, at least 3.</param>
    /// <param name="y">As many of the other, in the same unit.</param>
    /// <param name="coverage">Coverage probability of the intervals, between 0 and 1.</param>
    /// <param name="cancel">Stops a long computation.</param>
    /// <exception cref="ArgumentException">The counts differ, there are fewer than 3 pairs, a value is not finite, no slope counts, or the middle slope is vertical or below −1: the methods do not rise together.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The coverage is not between 0 and 1.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static PassingBablokLine Fit(ReadOnlySpan<double> x, ReadOnlySpan<double> y, double coverage = 0.95, CancellationToken cancel = default)
    {
        Require.Pairs(x, y, 3);
        Require.InsideUnit(coverage);
        return Fit(x, y, PairSlopes.Of(ReadingGrid.Of(x, y, sharedStep: true)), coverage, cancel);
    }

    internal static PassingBablokLine Fit(ReadOnlySpan<double> x, ReadOnlySpan<double> y, PairSlopes slopes, double coverage, CancellationToken cancel)
    {
        var n = x.Length;
        var (below, at) = slopes.AroundMinusOne(cancel);
        var counted = slopes.Pairs - at;
        if (counted == 0)
            throw new ArgumentException(slopes.Pairs == 0 ? $"All {n} points are the same; a line needs points that differ." : $"Every slope between the {n} points is -1: the methods do not rise together.", nameof(x));
        var finite = slopes.Pairs - slopes.Vertical - at - below;
        var c = -Normal.Quantile((1 - coverage) / 2) * Math.Sqrt((double)n * (n - 1) * (2.0 * n + 5) / 18);
        var first = (long)Math.Round((counted - c) / 2);
        long low = (counted + 1) / 2, high = counted / 2 + 1, last = counted - first + 1;
        if (high > finite)
        {
            throw new ArgumentException(high <= finite + slopes.Vertical
                ? $"The middle slope between the {n} points is vertical: x hardly moves while y does."
                : $"More than half of the slopes between the {n} points are below -1: the methods do not rise together.", nameof(x));
        }
        List<long> ranks = [];
        if (first >= 1)
            ranks.Add(first);
        ranks.Add(low);
        ranks.Add(high);
        if (last <= finite && first >= 1)
            ranks.Add(last);
        var found = slopes.Select([.. ranks.Select(r => r + below + at)], aboveMinusOne: true, cancel);
        var middle = first >= 1 ? 1 : 0;
        var b = (found[middle] + found[middle + 1]) / 2;
        var limits = new Interval(first >= 1 ? found[0] : double.NegativeInfinity, last <= finite && first >= 1 ? found[^1] : double.PositiveInfinity);
        var rest = new double[n];
        return new PassingBablokLine
        {
            Slope = b,
            Intercept = Intercepts.Median(x, y, b, rest),
            SlopeInterval = limits,
            InterceptInterval = Intercepts.Limits(x, y, limits, rest),
            N = n,
            Slopes = counted,
            BelowMinusOne = below,
            Vertical = slopes.Vertical,
        };
    }
}
