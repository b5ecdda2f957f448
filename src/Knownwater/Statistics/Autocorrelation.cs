namespace Knownwater.Statistics;

/// <summary>Whether values that follow each other resemble each other.</summary>
public static class Autocorrelation
{
    /// <summary>The autocorrelation coefficient with lag 1.</summary>
    /// <remarks>r₁ = Σ(xᵢ − x̄)(xᵢ₊₁ − x̄) / Σ(xᵢ − x̄)², the first sum over the n − 1 neighbours: NIST/SEMATECH e-Handbook, 1.3.5.12. Near 0 for values that know nothing of each other, toward 1 for a drift, below 0 for values that alternate. Sums in double-double arithmetic.</remarks>
    /// <param name="values">Finite values in the order in which they were taken; at least 2, not all equal.</param>
    /// <returns>A number of dimension one, between −1 and 1.</returns>
    /// <exception cref="ArgumentException">There are fewer than 2 values, one is not finite, or all are equal.</exception>
    /// <exception cref="OverflowException">The sum of squares exceeds the largest double.</exception>
    public static double Lag1(ReadOnlySpan<double> values)
    {
        Require.Sample(values, 2);
        var (mean, squares) = SampleMoments.Exact(values);
        if (squares.High == 0)
            throw new ArgumentException($"All {values.Length} values are {values[0]}; an autocorrelation needs values that are not all equal.", nameof(values));
        if (!squares.IsFinite)
            throw new OverflowException("The values are too far apart: the sum of their squares exceeds the largest number.");
        var products = SampleMoments.SumOfProducts(values[..^1], values[1..], values[0], mean - values[0]);
        return (products / squares).High;
    }
}
