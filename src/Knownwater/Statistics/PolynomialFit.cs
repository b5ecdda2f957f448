namespace Knownwater.Statistics;

/// <summary>A polynomial y = b₀ + b₁x + … fitted by least squares: a calibration line or curve, with prediction and inverse prediction.</summary>
/// <remarks>
/// x is taken as exact against y. Powers of x are formed in double-double arithmetic, so that a polynomial of high degree suffers from the rounding of x alone. Inverse prediction is of first order:
/// u(x)² = (s²/(m·w) + u(ŷ)²)/f′(x)², for the line with equal weights s/b₁·√(1/m + 1/n + (y − ȳ)²/(b₁²Sxx)) (Eurachem/CITAC CG 4, A5.4; ISO 11095:1996).
/// </remarks>
public sealed class PolynomialFit
{
    private readonly double[] _x;
    private readonly double[] _y;
    private readonly double[] _weights;
    private readonly int _lowest;

    private PolynomialFit(LeastSquaresFit fit, double[] x, double[] y, double[] weights, int lowest, int degree)
    {
        Fit = fit;
        _x = x;
        _y = y;
        _weights = weights;
        _lowest = lowest;
        Degree = degree;
    }

    /// <summary>The fit behind it: coefficients from the lowest power up, covariance, residuals.</summary>
    public LeastSquaresFit Fit { get; }

    /// <summary>Highest power of x.</summary>
    public int Degree { get; }

    /// <summary>Whether the curve is held at the origin, so that there is no b₀.</summary>
    public bool ThroughOrigin => _lowest == 1;

    /// <summary>Fits a straight line.</summary>
    /// <param name="x">Abscissae, finite; at least two different ones.</param>
    /// <param name="y">Values, finite; as many, at least 3.</param>
    /// <param name="weights">Weights above zero, proportional to 1/variance of y; none means equal ones.</param>
    /// <exception cref="ArgumentException">The numbers of values do not match or are too few, a number is out of range, or the abscissae are all equal.</exception>
    public static PolynomialFit Line(ReadOnlySpan<double> x, ReadOnlySpan<double> y, ReadOnlySpan<double> weights = default) => Of(x, y, 1, throughOrigin: false, weights);

    /// <summary>Fits a straight line through the origin, y = b₁x.</summary>
    /// <param name="x">Abscissae, finite; not all zero.</param>
    /// <param name="y">Values, finite; as many, at least 2.</param>
    /// <param name="weights">Weights above zero, proportional to 1/variance of y; none means equal ones.</param>
    /// <exception cref="ArgumentException">The numbers of values do not match or are too few, a number is out of range, or the abscissae are all zero.</exception>
    public static PolynomialFit LineThroughOrigin(ReadOnlySpan<double> x, ReadOnlySpan<double> y, ReadOnlySpan<double> weights = default) => Of(x, y, 1, throughOrigin: true, weights);

    /// <summary>Fits a polynomial.</summary>
    /// <param name="x">Abscissae, finite; more different ones than the degree, zero not counted where the curve is held at the origin.</param>
    /// <param name="y">Values, finite; as many as abscissae and more than coefficients.</param>
    /// <param name="degree">Highest power, 1 to 30.</param>
    /// <param name="throughOrigin">Whether the curve is held at the origin.</param>
    /// <param name="weights">Weights above zero, proportional to 1/variance of y; none means equal ones.</param>
    /// <exception cref="ArgumentException">The numbers of values do not match or are too few, a number is out of range, or there are too few different abscissae.</exception>
    public static PolynomialFit Of(ReadOnlySpan<double> x, ReadOnlySpan<double> y, int degree, bool throughOrigin = false, ReadOnlySpan<double> weights = default)
    {
        var lowest = throughOrigin ? 1 : 0;
        var columns = Powers(x, y, lowest, degree);
        return new PolynomialFit(LeastSquares.Fit(columns, y, weights), x.ToArray(), y.ToArray(), weights.Length == 0 ? [.. Enumerable.Repeat(1.0, y.Length)] : weights.ToArray(), lowest, degree);
    }

    /// <summary>Fits a polynomial to values whose covariance matrix is known: generalised least squares.</summary>
    /// <param name="x">Abscissae, finite; more different ones than the degree, zero not counted where the curve is held at the origin.</param>
    /// <param name="y">Values, finite; as many as abscissae and at least as many as coefficients.</param>
    /// <param name="covariance">Covariance matrix of y, symmetric and positive definite.</param>
    /// <param name="degree">Highest power, 1 to 30.</param>
    /// <param name="throughOrigin">Whether the curve is held at the origin.</param>
    /// <exception cref="ArgumentException">The numbers of values do not match or are too few, a number is out of range, the covariance is not symmetric and positive definite, or there are too few different abscissae.</exception>
    public static PolynomialFit Of(ReadOnlySpan<double> x, ReadOnlySpan<double> y, double[,] covariance, int degree = 1, bool throughOrigin = false)
    {
        var lowest = throughOrigin ? 1 : 0;
        var fit = LeastSquares.Fit(Powers(x, y, lowest, degree), y, covariance);
        return new PolynomialFit(fit, x.ToArray(), y.ToArray(), [.. Enumerable.Range(0, y.Length).Select(i => 1 / covariance[i, i])], lowest, degree);
    }

    /// <summary>A coefficient with its standard uncertainty.</summary>
    /// <param name="power">Power of x that it belongs to.</param>
    /// <exception cref="ArgumentOutOfRangeException">The fit has no such power.</exception>
    public FittedValue Coefficient(int power) => power >= _lowest && power <= Degree
        ? new FittedValue(Fit.Coefficients[power - _lowest], Fit.StandardErrors[power - _lowest], Fit.UncertaintyDof)
        : throw new ArgumentOutOfRangeException(nameof(power), power, $"The power is {power}; this fit has the powers {_lowest} to {Degree}.");

    /// <summary>The curve at x, with the standard uncertainty that the coefficients give it.</summary>
    /// <param name="x">Abscissa, finite.</param>
    /// <exception cref="ArgumentOutOfRangeException">x is not finite.</exception>
    public FittedValue At(double x) => Fit.At(Row(Require.Finite(x)));

    /// <summary>The mean of new readings at x: the curve, with their own scatter in the uncertainty.</summary>
    /// <param name="x">Abscissa, finite.</param>
    /// <param name="readings">Number m of new readings, at least 1.</param>
    /// <param name="weight">Weight of one of them, on the scale of the weights of the fit (1/variance where the covariance was known); above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">x is not finite, the number is below 1, or the weight is not above zero.</exception>
    public FittedValue NewReadings(double x, int readings = 1, double weight = 1)
    {
        var mean = At(x);
        return mean with { StandardUncertainty = double.Hypot(mean.StandardUncertainty, Scatter(readings, weight)) };
    }

    /// <summary>Inverse prediction: the x at which new readings have a mean of y.</summary>
    /// <remarks>First order: the uncertainty is too small where the slope itself is known to worse than about 10 %; <see cref="InverseInterval"/> holds there too. A parabola is solved within the range of the abscissae.</remarks>
    /// <param name="y">Mean of the new readings, finite.</param>
    /// <param name="readings">Their number m, at least 1.</param>
    /// <param name="weight">Weight of one of them, on the scale of the weights of the fit (1/variance where the covariance was known); above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">y is not finite, the number is below 1, the weight is not above zero, or the curve does not take the value y (for a parabola: once within the range of the abscissae).</exception>
    /// <exception cref="InvalidOperationException">The degree is above 2.</exception>
    public FittedValue Inverse(double y, int readings = 1, double weight = 1)
    {
        Require.Finite(y);
        var x = Root(y);
        var slope = 0.0;
        for (var power = Degree; power >= 1; power--)
            slope = slope * x + power * Fit.Coefficients[power - _lowest];
        return new FittedValue(x, double.Hypot(Scatter(readings, weight), At(x).StandardUncertainty) / Math.Abs(slope), Fit.UncertaintyDof);
    }

    /// <summary>The exact interval of an inverse prediction on a line: every x at which the new readings lie within their prediction limits (Fieller’s theorem).</summary>
    /// <remarks>
    /// The x with (y − ŷ(x))² ≤ t²(s²/(m·w) + u(ŷ)²), an interval where the slope differs from zero at the same level. It lies unevenly about the first-order value, and holds where that one is too narrow: E. C. Fieller 1954;
    /// Draper and Smith, Applied Regression Analysis, 3rd edition, 3.2.
    /// </remarks>
    /// <param name="y">Mean of the new readings, finite.</param>
    /// <param name="readings">Their number m, at least 1.</param>
    /// <param name="weight">Weight of one of them, on the scale of the weights of the fit (1/variance where the covariance was known); above zero.</param>
    /// <param name="probability">Coverage probability, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of its range, or the slope does not differ from zero at this probability, so that the interval has no end.</exception>
    /// <exception cref="InvalidOperationException">The degree is above 1.</exception>
    public Interval InverseInterval(double y, int readings = 1, double weight = 1, double probability = 0.95)
    {
        if (Degree > 1)
            throw new InvalidOperationException($"The exact interval is for lines; the degree of this fit is {Degree}.");
        Require.Finite(y);
        Require.InsideUnit(probability);
        var scatter = Scatter(readings, weight);
        double t = StudentT.Quantile((1 - probability) / 2, Fit.UncertaintyDof), tt = t * t, slope = Coefficient(1).Value, slopeError = Coefficient(1).StandardUncertainty;
        // about the abscissa x₀ read back, d = x − x₀: b₁²d² = t²(s²/mw + u₀² + 2·c·d + u₁²d²), c the covariance of the curve there and the slope
        var centre = At(Root(y));
        double c = Root(y) * slopeError * slopeError + (ThroughOrigin ? 0 : Fit.Covariance(0, 1)), curvature = slope * slope - tt * slopeError * slopeError;
        if (curvature <= 0)
            throw new ArgumentOutOfRangeException(nameof(probability), probability, $"The slope {slope} is uncertain by {slopeError} (k = 1) and does not differ from zero at a probability of {probability}; it must, to bound what is read back. More or wider calibration points help.");
        var reach = scatter * scatter + centre.StandardUncertainty * centre.StandardUncertainty;
        double half = Math.Abs(t) * Math.Sqrt(tt * c * c + curvature * reach);
        return new Interval(Root(y) + (tt * c - half) / curvature, Root(y) + (tt * c + half) / curvature);
    }

    /// <summary>The lack-of-fit test: whether the means of repeated readings lie farther from the curve than the readings scatter about their means.</summary>
    /// <remarks>ISO 11095:1996; Draper and Smith, Applied Regression Analysis, 3rd edition, 2.1. It needs readings at the same abscissa.</remarks>
    /// <exception cref="InvalidOperationException">No abscissa has two readings, there are no more different abscissae than coefficients, or nothing scatters at all.</exception>
    public FTest LackOfFit()
    {
        DoubleDouble pure = 0;
        var levels = 0;
        foreach (var level in Enumerable.Range(0, _x.Length).GroupBy(i => _x[i]))
        {
            levels++;
            DoubleDouble weight = 0, sum = 0;
            foreach (var i in level)
            {
                weight += _weights[i];
                sum += (DoubleDouble)_weights[i] * _y[i];
            }
            foreach (var i in level)
            {
                var d = _y[i] - sum / weight;
                pure += d * d * _weights[i];
            }
        }
        double within = _x.Length - levels, between = levels - Fit.Coefficients.Count;
        if (within == 0 || between <= 0 || (pure.High == 0 && Fit.ResidualSumOfSquares == 0))
            throw new InvalidOperationException($"The lack of fit needs repeated readings that scatter, and more different abscissae ({levels}) than coefficients ({Fit.Coefficients.Count}).");
        return FTest.Of(Math.Max(0, Fit.ResidualSumOfSquares - pure.High) / between, between, pure.High / within, within);
    }

    private double Scatter(int readings, double weight)
    {
        Require.AtLeast(readings, 1);
        Require.Positive(weight);
        return Fit.Scale / Math.Sqrt(readings * weight);
    }

    private double Root(double y)
    {
        double constant = (ThroughOrigin ? 0 : Fit.Coefficients[0]) - y, slope = Fit.Coefficients[1 - _lowest];
        if (Degree > 2)
            throw new InvalidOperationException($"Inverse prediction is for lines and parabolas; the degree of this fit is {Degree}.");
        if (Degree == 1)
        {
            var x = -constant / slope;
            return double.IsFinite(x) ? x : throw new ArgumentOutOfRangeException(nameof(y), y, $"The slope of the line is {slope}; it must differ from zero to lead from {y} back to an abscissa.");
        }
        double curvature = Fit.Coefficients[2 - _lowest], low = _x.Min(), high = _x.Max();
        // the root that does not cancel, and the other by their product
        var discriminant = slope * slope - 4 * curvature * constant;
        var q = -(slope + Math.CopySign(Math.Sqrt(Math.Max(0, discriminant)), slope)) / 2;
        var roots = discriminant < 0 ? [] : new[] { constant / q, q / curvature }.Where(x => x >= low && x <= high).Distinct().ToArray();
        return roots.Length == 1 ? roots[0]
            : throw new ArgumentOutOfRangeException(nameof(y), y, $"The curve takes the value {y} {(roots.Length == 0 ? "nowhere" : "twice")} between the abscissae {low} and {high}; it must do so once.");
    }

    private DoubleDouble[] Row(double x)
    {
        var row = new DoubleDouble[Degree + 1 - _lowest];
        DoubleDouble power = 1;
        for (var k = 0; k <= Degree; k++, power *= x)
        {
            if (k >= _lowest)
                row[k - _lowest] = power;
        }
        return row;
    }

    private static DoubleDouble[][] Powers(ReadOnlySpan<double> x, ReadOnlySpan<double> y, int lowest, int degree)
    {
        Require.AtLeast(degree, 1);
        if (degree > 30)
            throw new ArgumentOutOfRangeException(nameof(degree), degree, $"The degree is {degree}; it must be at most 30.");
        Require.Sample(x, 1);
        if (x.Length != y.Length)
            throw new ArgumentException($"There are {y.Length} values for {x.Length} abscissae; each abscissa needs one.", nameof(y));
        var different = x.ToArray().Where(v => lowest == 0 || v != 0).Distinct().Count();
        if (different < degree + 1 - lowest)
            throw new ArgumentException($"There are {different} different abscissae{(lowest == 1 ? " beside zero" : "")}; for degree {degree} at least {degree + 1 - lowest} are needed.", nameof(x));
        var columns = new DoubleDouble[degree + 1 - lowest][];
        for (var k = lowest; k <= degree; k++)
        {
            var column = columns[k - lowest] = new DoubleDouble[x.Length];
            for (var i = 0; i < x.Length; i++)
                column[i] = k == lowest ? lowest == 0 ? 1 : x[i] : columns[k - lowest - 1][i] * x[i];
        }
        return columns;
    }
}
