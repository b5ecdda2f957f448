namespace Knownwater.Statistics;

/// <summary>Coefficients of a linear least-squares fit with their covariance, and how well the fit describes the values.</summary>
/// <remarks>
/// Where the errors were known up to a factor only, the residual variance s² = Σw·r²/(n − p) scales the covariance, s²(XᵀWX)⁻¹, and its degrees of freedom are n − p. Where their covariance
/// was known, it is not scaled and its degrees of freedom are infinite; whether residuals are as large as the errors say is then asked by <see cref="ChiSquareP"/>.
/// </remarks>
public sealed class LeastSquaresFit
{
    private readonly DoubleDouble[] _coefficients;
    private readonly DoubleDouble[,] _inverse;
    private readonly DoubleDouble _residualSquares;
    private readonly DoubleDouble _totalSquares;
    private readonly DoubleDouble _scale;

    private LeastSquaresFit(OrthogonalFactors factors, double[] residuals, DoubleDouble residualSquares, DoubleDouble totalSquares, bool hasIntercept, bool knownCovariance)
    {
        _coefficients = factors.Solution;
        _inverse = factors.Inverse;
        _residualSquares = residualSquares;
        _totalSquares = totalSquares;
        Residuals = residuals;
        HasIntercept = hasIntercept;
        KnownCovariance = knownCovariance;
        _scale = knownCovariance ? 1 : DoubleDouble.Sqrt(residualSquares / Dof);
        Coefficients = [.. _coefficients.Select(b => b.High)];
        StandardErrors = [.. Coefficients.Select((_, j) => (_scale * RowNorm(j)).High)];
    }

    /// <summary>Coefficients β, in the order of the columns.</summary>
    public IReadOnlyList<double> Coefficients { get; }

    /// <summary>Standard uncertainties of the coefficients.</summary>
    public IReadOnlyList<double> StandardErrors { get; }

    /// <summary>Residuals y − Xβ, in the unit of the values and in their order, not weighted.</summary>
    public IReadOnlyList<double> Residuals { get; }

    /// <summary>Number n of values.</summary>
    public int N => Residuals.Count;

    /// <summary>Degrees of freedom of the residuals, n − p.</summary>
    public double Dof => N - _coefficients.Length;

    /// <summary>Whether a column of the design is constant, so that the fit has an intercept.</summary>
    public bool HasIntercept { get; }

    /// <summary>Whether the covariance of the errors was known beforehand.</summary>
    public bool KnownCovariance { get; }

    /// <summary>Degrees of freedom of the standard errors: those of the residuals, or infinity where the covariance of the errors was known.</summary>
    public double UncertaintyDof => KnownCovariance ? double.PositiveInfinity : Dof;

    /// <summary>Weighted sum of squared residuals; with a known covariance it is the χ² of the fit. Exactly zero where the values lie on the fit to the rounding.</summary>
    public double ResidualSumOfSquares => _residualSquares.High;

    /// <summary>Residual standard deviation √(Σw·r²/(n − p)), that of a value of weight 1.</summary>
    /// <exception cref="InvalidOperationException">There are as many coefficients as values.</exception>
    public double ResidualStandardDeviation => Dof > 0 ? DoubleDouble.Sqrt(_residualSquares / Dof).High
        : throw new InvalidOperationException($"With {N} coefficients of {N} values nothing is left to tell the residual scatter.");

    /// <summary>Coefficient of determination, 0 to 1: about the weighted mean where the fit has an intercept, about zero else.</summary>
    /// <exception cref="InvalidOperationException">The values do not vary about that mean.</exception>
    public double RSquared => _totalSquares.High > 0 ? Math.Max(0, ((_totalSquares - _residualSquares) / _totalSquares).High)
        : throw new InvalidOperationException("The values are all equal, so that there is no variation to be explained.");

    /// <summary>F of the regression against the residuals; positive infinity where the values lie on the fit.</summary>
    /// <exception cref="InvalidOperationException">There are as many coefficients as values, or the intercept is the only coefficient.</exception>
    public double F
    {
        get
        {
            var model = _coefficients.Length - (HasIntercept ? 1.0 : 0.0);
            if (model == 0 || Dof == 0)
                throw new InvalidOperationException("A fit has an F where it has a coefficient beside the intercept and more values than coefficients.");
            return _residualSquares.High == 0 ? double.PositiveInfinity : ((_totalSquares - _residualSquares) / model / (_residualSquares / Dof)).High;
        }
    }

    /// <summary>Probability of a χ² at least as large where the errors are as their known covariance says; null where it was not known or nothing is left over.</summary>
    public double? ChiSquareP => KnownCovariance && Dof > 0 ? ChiSquare.UpperTail(ResidualSumOfSquares, Dof) : null;

    /// <summary>Covariance of two coefficients.</summary>
    /// <param name="i">Position of the first, counting from zero.</param>
    /// <param name="j">Position of the second, counting from zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such coefficient.</exception>
    public double Covariance(int i, int j)
    {
        CheckPosition(i, nameof(i));
        CheckPosition(j, nameof(j));
        DoubleDouble sum = 0;
        for (var k = Math.Max(i, j); k < _coefficients.Length; k++)
            sum += _inverse[i, k] * _inverse[j, k];
        return (_scale * _scale * sum).High;
    }

    /// <summary>The fitted mean at a row of the design.</summary>
    /// <param name="row">Numbers of a row, one for each coefficient.</param>
    /// <returns>The mean with the standard uncertainty that the coefficients give it.</returns>
    /// <exception cref="ArgumentException">The row has another number of columns, or a number is not finite.</exception>
    public FittedValue At(ReadOnlySpan<double> row)
    {
        Require.Sample(row, 1);
        if (row.Length != _coefficients.Length)
            throw new ArgumentException($"The row has {row.Length} numbers; the fit has {_coefficients.Length} coefficients.", nameof(row));
        var exact = new DoubleDouble[row.Length];
        for (var i = 0; i < row.Length; i++)
            exact[i] = row[i];
        return At(exact);
    }

    /// <summary>The F test of this fit against one that leaves coefficients out: whether the further ones explain more than scatter.</summary>
    /// <remarks>F = ((SS₀ − SS)/(ν₀ − ν))/(SS/ν): for a parabola against a line Mandel's fitting test of linearity (ISO 8466-1:1990).</remarks>
    /// <param name="simpler">Fit of the same values with fewer coefficients and the same weights.</param>
    /// <exception cref="ArgumentNullException">There is no simpler fit.</exception>
    /// <exception cref="ArgumentException">It has not fewer coefficients, another number of values, or nothing is left over by either.</exception>
    public FTest Against(LeastSquaresFit simpler)
    {
        ArgumentNullException.ThrowIfNull(simpler);
        if (simpler.N != N || simpler.Dof <= Dof || Dof == 0)
            throw new ArgumentException($"The simpler fit has {simpler.N} values and {simpler.N - simpler.Dof} coefficients, this one {N} and {N - Dof}; it must have as many values and fewer coefficients, and this one fewer coefficients than values.", nameof(simpler));
        return FTest.Of(Math.Max(0, ((simpler._residualSquares - _residualSquares) / (simpler.Dof - Dof)).High), simpler.Dof - Dof, (_residualSquares / Dof).High, Dof);
    }

    /// <summary>Solves the whitened problem.</summary>
    /// <param name="design">Columns of the design.</param>
    /// <param name="y">Values.</param>
    /// <param name="whiten">Divides a column by the square root of the covariance of the errors.</param>
    /// <param name="knownCovariance">Whether that covariance holds as it is, not up to a factor.</param>
    internal static LeastSquaresFit Of(DoubleDouble[][] design, ReadOnlySpan<double> y, Func<DoubleDouble[], DoubleDouble[]> whiten, bool knownCovariance)
    {
        var n = y.Length;
        DoubleDouble[] values = new DoubleDouble[n], ones = new DoubleDouble[n];
        for (var i = 0; i < n; i++)
            (values[i], ones[i]) = (y[i], 1);
        DoubleDouble[][] white = [.. design.Select(whiten)];
        var (z, one) = (whiten(values), whiten(ones));
        if (OrthogonalFactors.Solve(white, z, out var dependent) is not { } factors)
            throw new ArgumentException($"Column {dependent + 1} of the design is zero or a combination of the columns before it, so that no coefficient can be told; leave it out, or vary it.", nameof(design));

        var (squares, size) = Left(white, z, factors.Solution);
        // what is left below 2⁻⁹⁰ of the terms is the rounding of this arithmetic: doubles that do not lie on the fit leave more than 2⁻⁵⁴
        if (squares.High <= size * Math.ScaleB(1, -180))
            squares = 0;
        if (!squares.IsFinite || !Array.TrueForAll(factors.Solution, b => b.IsFinite))
            throw new ArgumentException("The values are too large: their squares exceed the largest number.", nameof(y));
        var residuals = new double[n];
        for (var i = 0; i < n && squares.High > 0; i++)
            residuals[i] = Residual(design, values, factors.Solution, i).High;

        var hasIntercept = Array.Exists(design, c => c[0].High != 0 && Array.TrueForAll(c, x => x == c[0]));
        DoubleDouble total = 0, centre = hasIntercept ? Dot(one, z) / Dot(one, one) : 0;
        for (var i = 0; i < n; i++)
        {
            var d = z[i] - centre * one[i];
            total += d * d;
        }
        return new LeastSquaresFit(factors, residuals, squares, total, hasIntercept, knownCovariance);
    }

    private static (DoubleDouble Squares, double Size) Left(DoubleDouble[][] columns, DoubleDouble[] z, DoubleDouble[] coefficients)
    {
        DoubleDouble squares = 0;
        double size = 0;
        for (var i = 0; i < z.Length; i++)
        {
            var r = Residual(columns, z, coefficients, i);
            squares += r * r;
            var terms = Math.Abs(z[i].High);
            for (var j = 0; j < columns.Length; j++)
                terms += Math.Abs(columns[j][i].High * coefficients[j].High);
            size += terms * terms;
        }
        return (squares, size);
    }

    private static DoubleDouble Residual(DoubleDouble[][] columns, DoubleDouble[] z, DoubleDouble[] coefficients, int i)
    {
        var r = z[i];
        for (var j = 0; j < columns.Length; j++)
            r -= columns[j][i] * coefficients[j];
        return r;
    }

    private static DoubleDouble Dot(DoubleDouble[] a, DoubleDouble[] b)
    {
        DoubleDouble sum = 0;
        for (var i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }

    internal FittedValue At(ReadOnlySpan<DoubleDouble> row)
    {
        DoubleDouble value = 0, variance = 0;
        for (var k = 0; k < row.Length; k++)
        {
            value += row[k] * _coefficients[k];
            DoubleDouble sum = 0;
            for (var i = 0; i <= k; i++)
                sum += row[i] * _inverse[i, k];
            variance += sum * sum;
        }
        return new FittedValue(value.High, (_scale * DoubleDouble.Sqrt(variance)).High, UncertaintyDof);
    }

    /// <summary>Standard deviation of a value of weight 1: the residual one, or 1 where the covariance was known.</summary>
    internal double Scale => _scale.High;

    private DoubleDouble RowNorm(int row)
    {
        DoubleDouble sum = 0;
        for (var k = row; k < _coefficients.Length; k++)
            sum += _inverse[row, k] * _inverse[row, k];
        return DoubleDouble.Sqrt(sum);
    }

    private void CheckPosition(int position, string name)
    {
        if (position < 0 || position >= _coefficients.Length)
            throw new ArgumentOutOfRangeException(name, position, $"The position is {position}; the fit has {_coefficients.Length} coefficients, counted from 0.");
    }
}
