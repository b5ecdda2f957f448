namespace Knownwater.Statistics;

/// <summary>Analysis of variance of a fully nested design in three stages: values within runs, runs within groups, groups (such as replicates, days, laboratories).</summary>
/// <remarks>
/// Model y = µ + A + B(A) + ε, all random. Runs and groups may differ in size; the components of variance are then those of the analysis-of-variance method with the coefficients of
/// the expected mean squares: Searle, Casella and McCulloch, Variance Components, 1992; for equal sizes they are those of ISO 5725-3:1994, annex B.
/// F of the groups is exact for equal sizes and an approximation else. Sums of squares in double-double arithmetic.
/// </remarks>
public sealed record NestedAnova
{
    private NestedAnova(NestedStage groups, NestedStage runs, NestedStage within)
    {
        Groups = groups;
        Runs = runs;
        Within = within;
    }

    /// <summary>The stage of the groups; its F is taken against the runs.</summary>
    public NestedStage Groups { get; }

    /// <summary>The stage of runs within groups; its F is taken against the values within runs.</summary>
    public NestedStage Runs { get; }

    /// <summary>The stage of values within runs: the repeatability. It has no F.</summary>
    public NestedStage Within { get; }

    /// <summary>Repeatability standard deviation, of values of one run.</summary>
    public double RepeatabilityStandardDeviation => Within.ComponentStandardDeviation;

    /// <summary>Intermediate precision standard deviation, of values of one group in different runs.</summary>
    public double IntermediatePrecisionStandardDeviation => double.Hypot(Within.ComponentStandardDeviation, Runs.ComponentStandardDeviation);

    /// <summary>Reproducibility standard deviation, of values of different groups.</summary>
    public double ReproducibilityStandardDeviation => double.Hypot(IntermediatePrecisionStandardDeviation, Groups.ComponentStandardDeviation);

    /// <summary>Analyses groups of runs of values.</summary>
    /// <param name="groups">At least two groups; one of them with at least two runs, and one run with at least two values; none empty; all values finite, not all equal within runs.</param>
    /// <exception cref="ArgumentNullException">There is no list, or a group or run is missing.</exception>
    /// <exception cref="ArgumentException">Something is empty or too small, a value is not finite, or nothing varies within the runs.</exception>
    /// <exception cref="OverflowException">A sum of squares exceeds the largest double.</exception>
    public static NestedAnova Of(params IReadOnlyList<double[][]> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        if (groups.Count < 2)
            throw new ArgumentException($"The number of groups is {groups.Count}; at least 2 are needed.", nameof(groups));
        var groupMeans = new DoubleDouble[groups.Count];
        var groupSizes = new int[groups.Count];
        DoubleDouble runSquares = 0, withinSquares = 0;
        int runs = 0, n = 0;
        // Σᵢ Σⱼ nᵢⱼ²/nᵢ and Σᵢ Σⱼ nᵢⱼ² of the expected mean squares
        double shares = 0, squaredSizes = 0;
        for (var i = 0; i < groups.Count; i++)
        {
            ArgumentNullException.ThrowIfNull(groups[i], nameof(groups));
            if (groups[i].Length == 0)
                throw new ArgumentException($"Group {i + 1} holds no run; at least one is needed.", nameof(groups));
            var means = new DoubleDouble[groups[i].Length];
            var sizes = new int[means.Length];
            for (var j = 0; j < means.Length; j++)
            {
                ArgumentNullException.ThrowIfNull(groups[i][j], nameof(groups));
                Require.Sample(groups[i][j], 1, nameof(groups));
                (means[j], var squares) = SampleMoments.Exact(groups[i][j]);
                withinSquares += squares;
                sizes[j] = groups[i][j].Length;
            }
            (groupMeans[i], var between) = OneWayAnova.Pool(means, sizes);
            runSquares += between;
            groupSizes[i] = sizes.Sum();
            var squared = sizes.Sum(s => (double)s * s);
            shares += squared / groupSizes[i];
            squaredSizes += squared;
            runs += means.Length;
            n += groupSizes[i];
        }
        if (runs == groups.Count)
            throw new ArgumentException($"Each of the {runs} groups holds one run; at least one group must hold 2, else groups and runs cannot be told apart.", nameof(groups));
        if (n == runs)
            throw new ArgumentException($"Each of the {n} runs holds one value; at least one run must hold 2, else nothing tells the scatter within runs.", nameof(groups));
        var (_, groupSquares) = OneWayAnova.Pool(groupMeans, groupSizes);
        if (!(groupSquares + runSquares + withinSquares).IsFinite)
            throw new OverflowException("The values are too far apart: the sum of their squares exceeds the largest number.");
        if (withinSquares.High == 0)
            throw new ArgumentException("The values of each run are equal, so that their standard deviation is 0; the stages are judged against a scatter above 0.", nameof(groups));

        double a = groups.Count - 1, b = runs - groups.Count, e = n - runs;
        double ms = (withinSquares / e).High, msRuns = (runSquares / b).High, msGroups = (groupSquares / a).High;
        // E MS(runs) = σ² + k₁σ²(runs); E MS(groups) = σ² + k₂σ²(runs) + k₃σ²(groups)
        double k1 = (n - shares) / b, k2 = (shares - squaredSizes / n) / a, k3 = (n - groupSizes.Sum(s => (double)s * s) / n) / a;
        var runVariance = (msRuns - ms) / k1;
        var groupVariance = (msGroups - ms - k2 * runVariance) / k3;
        return new NestedAnova(
            new NestedStage(a, groupSquares.High, groupVariance, msRuns == 0 ? null : msGroups / msRuns, b),
            new NestedStage(b, runSquares.High, runVariance, msRuns / ms, e),
            new NestedStage(e, withinSquares.High, ms, null, null));
    }
}
