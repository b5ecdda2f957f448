namespace Knownwater.Statistics;

/// <summary>Linear least squares: y = Xβ + ε, where the errors have one variance, known weights or a known covariance matrix.</summary>
/// <remarks>
/// QR factors by Householder reflections in double-double arithmetic, so that the digits of the input are the only limit (see docs/reference/digits.md). Weights enter as √w, a covariance matrix V
/// by its Cholesky factor, V = LLᵀ: the fit is the ordinary one of L⁻¹y on L⁻¹X (Draper and Smith, Applied Regression Analysis, 3rd edition, chapter 9).
/// </remarks>
public static class LeastSquares
{
    /// <summary>Fits with errors of one unknown variance, or of variances known up to a common factor.</summary>
    /// <param name="design">The matrix X, a row for each value; the column of an intercept, where there is one, is made of ones.</param>
    /// <param name="y">Values, as many as rows and more than columns.</param>
    /// <param name="weights">Weights above zero, proportional to 1/variance; none means equal ones.</param>
    /// <exception cref="ArgumentException">The numbers of rows do not match or are too few, a number is not finite, a weight is not above zero, or a column is a combination of the others.</exception>
    public static LeastSquaresFit Fit(double[,] design, ReadOnlySpan<double> y, ReadOnlySpan<double> weights = default) => Fit(Columns(design), y, weights);

    /// <summary>Fits with errors whose covariance matrix is known: generalised least squares.</summary>
    /// <param name="design">The matrix X, a row for each value; the column of an intercept, where there is one, is made of ones.</param>
    /// <param name="y">Values, as many as rows and at least as many as columns.</param>
    /// <param name="covariance">Covariance matrix V of the values, symmetric and positive definite, in the square of their unit.</param>
    /// <returns>A fit whose covariance is (XᵀV⁻¹X)⁻¹, not scaled by the residuals.</returns>
    /// <exception cref="ArgumentException">The numbers of rows do not match or are too few, a number is not finite, the covariance is not symmetric and positive definite, or a column is a combination of the others.</exception>
    public static LeastSquaresFit Fit(double[,] design, ReadOnlySpan<double> y, double[,] covariance) => Fit(Columns(design), y, covariance);

    internal static LeastSquaresFit Fit(DoubleDouble[][] columns, ReadOnlySpan<double> y, ReadOnlySpan<double> weights)
    {
        Check(columns, y, least: columns.Length + 1);
        if (weights.Length == 0)
            return LeastSquaresFit.Of(columns, y, column => column, knownCovariance: false);

        if (weights.Length != y.Length)
            throw new ArgumentException($"There are {weights.Length} weights for {y.Length} values; each value needs one.", nameof(weights));
        var roots = new DoubleDouble[weights.Length];
        for (var i = 0; i < weights.Length; i++)
        {
            if (!(weights[i] > 0 && double.IsFinite(weights[i])))
                throw new ArgumentException($"Weight {i + 1} is {weights[i]}; it must be a finite number above zero.", nameof(weights));
            roots[i] = DoubleDouble.Sqrt(weights[i]);
        }
        return LeastSquaresFit.Of(columns, y, column => [.. column.Zip(roots, (c, r) => c * r)], knownCovariance: false);
    }

    internal static LeastSquaresFit Fit(DoubleDouble[][] columns, ReadOnlySpan<double> y, double[,] covariance)
    {
        Check(columns, y, least: columns.Length);
        ArgumentNullException.ThrowIfNull(covariance);
        var n = y.Length;
        if (covariance.GetLength(0) != n || covariance.GetLength(1) != n)
            throw new ArgumentException($"The covariance matrix is {covariance.GetLength(0)} by {covariance.GetLength(1)}; for {n} values it must be {n} by {n}.", nameof(covariance));
        var factor = Cholesky(covariance);
        return LeastSquaresFit.Of(columns, y, Whiten, knownCovariance: true);

        DoubleDouble[] Whiten(DoubleDouble[] column)
        {
            var white = new DoubleDouble[n];
            for (var i = 0; i < n; i++)
            {
                var sum = column[i];
                for (var k = 0; k < i; k++)
                    sum -= factor[i, k] * white[k];
                white[i] = sum / factor[i, i];
            }
            return white;
        }
    }

    private static DoubleDouble[][] Columns(double[,] design)
    {
        ArgumentNullException.ThrowIfNull(design);
        int n = design.GetLength(0), p = design.GetLength(1);
        if (p == 0)
            throw new ArgumentException("The design has no column; at least 1 is needed.", nameof(design));
        var columns = new DoubleDouble[p][];
        for (var j = 0; j < p; j++)
        {
            columns[j] = new DoubleDouble[n];
            for (var i = 0; i < n; i++)
            {
                columns[j][i] = double.IsFinite(design[i, j]) ? design[i, j]
                    : throw new ArgumentException($"Row {i + 1} of the design holds {design[i, j]} in column {j + 1}; every number must be finite.", nameof(design));
            }
        }
        return columns;
    }

    private static void Check(DoubleDouble[][] columns, ReadOnlySpan<double> y, int least)
    {
        Require.Sample(y, least);
        if (columns[0].Length != y.Length)
            throw new ArgumentException($"There are {y.Length} values for {columns[0].Length} rows of the design; each row needs one.", nameof(y));
    }

    private static DoubleDouble[,] Cholesky(double[,] covariance)
    {
        var n = covariance.GetLength(0);
        var factor = new DoubleDouble[n, n];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                if (!double.IsFinite(covariance[i, j]))
                    throw new ArgumentException($"The covariance of values {i + 1} and {j + 1} is {covariance[i, j]}; every number must be finite.", nameof(covariance));
                if (Math.Abs(covariance[i, j] - covariance[j, i]) > 1e-12 * Math.Sqrt(Math.Abs(covariance[i, i] * covariance[j, j])))
                    throw new ArgumentException($"The covariance of values {i + 1} and {j + 1} is {covariance[i, j]} one way and {covariance[j, i]} the other; the matrix must be symmetric.", nameof(covariance));
                DoubleDouble sum = covariance[i, j];
                for (var k = 0; k < j; k++)
                    sum -= factor[i, k] * factor[j, k];
                if (j < i)
                    factor[i, j] = sum / factor[j, j];
                else if (sum.High > 4e-15 * covariance[i, i])
                    factor[i, i] = DoubleDouble.Sqrt(sum);
                else
                    throw new ArgumentException($"The covariance matrix is not positive definite at value {i + 1}, which the values before it determine or whose variance {covariance[i, i]} is not above zero; every value needs an error of its own.", nameof(covariance));
            }
        }
        return factor;
    }
}
