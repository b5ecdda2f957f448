namespace Knownwater.Statistics;

/// <summary>One-way analysis of variance: what groups of values differ by, and what the values of one group do.</summary>
/// <remarks>
/// Model yᵢⱼ = µ + τᵢ + εᵢⱼ with one variance within all groups; groups may differ in size. Sums of squares in double-double arithmetic on the doubles given, so that F is
/// theirs to the last digits. Repeatability and between-group standard deviation: ISO 5725-2:1994, 7.4.5.
/// </remarks>
public sealed record OneWayAnova
{
    private readonly DoubleDouble _between;
    private readonly DoubleDouble _within;

    private OneWayAnova(int groups, int n, DoubleDouble mean, DoubleDouble between, DoubleDouble within, double meanSize)
    {
        Groups = groups;
        N = n;
        Mean = mean.High;
        _between = between;
        _within = within;
        MeanGroupSize = meanSize;
    }

    /// <summary>Number p of groups.</summary>
    public int Groups { get; }

    /// <summary>Number of values in all groups.</summary>
    public int N { get; }

    /// <summary>Mean of all values, in their unit.</summary>
    public double Mean { get; }

    /// <summary>The size that groups of unequal size count as: (N − Σnᵢ²/N)/(p − 1); the common size where they are equal.</summary>
    public double MeanGroupSize { get; }

    /// <summary>Degrees of freedom between groups, p − 1.</summary>
    public double BetweenDof => Groups - 1;

    /// <summary>Degrees of freedom within groups, N − p.</summary>
    public double WithinDof => N - Groups;

    /// <summary>Sum of squares between groups, in the square of the unit.</summary>
    public double BetweenSumOfSquares => _between.High;

    /// <summary>Sum of squares within groups, in the square of the unit.</summary>
    public double WithinSumOfSquares => _within.High;

    /// <summary>Mean square between groups, in the square of the unit.</summary>
    public double BetweenMeanSquare => (_between / BetweenDof).High;

    /// <summary>Mean square within groups, the repeatability variance, in the square of the unit.</summary>
    public double WithinMeanSquare => (_within / WithinDof).High;

    /// <summary>Ratio of the mean squares; positive infinity where nothing varies within the groups.</summary>
    public double F => WithinSumOfSquares == 0 ? double.PositiveInfinity : (_between / BetweenDof / (_within / WithinDof)).High;

    /// <summary>Probability of an F at least as large where all groups have one mean.</summary>
    public double P => FisherF.UpperTail(F, BetweenDof, WithinDof);

    /// <summary>Share of the groups in the total sum of squares, 0 to 1.</summary>
    public double RSquared => (_between / (_between + _within)).High;

    /// <summary>Repeatability standard deviation s_r, the square root of the mean square within groups, with N − p degrees of freedom.</summary>
    public double RepeatabilityStandardDeviation => Math.Sqrt(WithinMeanSquare);

    /// <summary>Standard deviation s_L of the true group means about each other: √((MS between − MS within)/n̄); zero where the difference is negative.</summary>
    public double BetweenStandardDeviation => Math.Sqrt(Math.Max(0, ((_between / BetweenDof - _within / WithinDof) / MeanGroupSize).High));

    /// <summary>Standard deviation of single values from different groups, √(s_r² + s_L²): the reproducibility where the groups are laboratories, an intermediate precision where they are days.</summary>
    public double ReproducibilityStandardDeviation => double.Hypot(RepeatabilityStandardDeviation, BetweenStandardDeviation);

    /// <summary>Analyses groups of values.</summary>
    /// <param name="groups">At least two groups of finite values, none empty, with at least one value more than groups in all; the values must not all be equal.</param>
    /// <exception cref="ArgumentNullException">There is no list, or a group is missing.</exception>
    /// <exception cref="ArgumentException">There are fewer than two groups, one is empty, every group has one value only, a value is not finite, or all values are equal.</exception>
    /// <exception cref="OverflowException">A sum of squares exceeds the largest double.</exception>
    public static OneWayAnova Of(params IReadOnlyList<double[]> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        if (groups.Count < 2)
            throw new ArgumentException($"The number of groups is {groups.Count}; at least 2 are needed.", nameof(groups));
        var n = 0;
        foreach (var group in groups)
        {
            ArgumentNullException.ThrowIfNull(group, nameof(groups));
            Require.Sample(group, 1, nameof(groups));
            n += group.Length;
        }
        if (n == groups.Count)
            throw new ArgumentException($"Each of the {n} groups holds one value; at least one group must hold 2, else nothing tells the scatter within groups.", nameof(groups));

        DoubleDouble within = 0;
        var means = new DoubleDouble[groups.Count];
        for (var i = 0; i < means.Length; i++)
        {
            (means[i], var squares) = SampleMoments.Exact(groups[i]);
            within += squares;
        }
        var (mean, between) = Pool(means, [.. groups.Select(g => g.Length)]);
        if (!(between + within).IsFinite)
            throw new OverflowException("The values are too far apart: the sum of their squares exceeds the largest number.");
        if ((between + within).High == 0)
            throw new ArgumentException($"All {n} values are {groups[0][0]}; an analysis of variance needs values that are not all equal.", nameof(groups));
        return new OneWayAnova(groups.Count, n, mean, between, within, (n - groups.Sum(g => (double)g.Length * g.Length) / n) / (groups.Count - 1));
    }

    /// <summary>Weighted mean of means and the weighted sum of their squared deviations from it.</summary>
    internal static (DoubleDouble Mean, DoubleDouble Squares) Pool(ReadOnlySpan<DoubleDouble> means, ReadOnlySpan<int> sizes)
    {
        DoubleDouble sum = 0, squares = 0;
        var n = 0;
        for (var i = 0; i < means.Length; i++)
        {
            sum += (means[i] - means[0]) * sizes[i];
            n += sizes[i];
        }
        var mean = means[0] + sum / n;
        for (var i = 0; i < means.Length; i++)
        {
            var d = means[i] - mean;
            squares += d * d * sizes[i];
        }
        return (mean, squares);
    }
}
