namespace Knownwater.Statistics;

/// <summary>Values of a model and their derivatives by its parameters, at all observations.</summary>
/// <param name="parameters">Parameters.</param>
/// <param name="values">Takes the value of the model at each observation.</param>
/// <param name="derivatives">Takes the derivatives: a row for each observation, a column for each parameter.</param>
public delegate void NonlinearModel(ReadOnlySpan<double> parameters, Span<double> values, double[,] derivatives);

/// <summary>Nonlinear least squares: y = f(β) + ε with errors of one unknown variance, by a damped Gauss–Newton iteration.</summary>
/// <remarks>
/// Each step solves the linear problem by orthogonal factors, damped on the scale of the largest column that each parameter has had (Levenberg 1944, Marquardt 1963, Moré 1978), and is bent by the second derivative along it
/// (Transtrum and Sethna, arXiv:1201.5885, 2012); a step that would bend by more than a quarter of itself is too long. The damping follows the ratio of the reached to the expected fall of the sum of squares
/// (Nielsen 1999). Undamped steps end it, as long as they get shorter; the minimum is reached where one more is small against the standard errors (Bates and Watts, Nonlinear Regression Analysis, 1988, chapter 2), or no longer
/// than the rounding of the model’s values makes it. The derivatives are the caller’s and should be exact (dual numbers), for parameters and standard errors come from them.
/// Reached are the 27 nonlinear sets of NIST StRD from both starts of each, with at least 10 of the 11 certified digits; of Lanczos1, whose residuals of 9e-14 are near the rounding of its values, the standard errors have 3 (docs/reference/digits.md).
/// A minimum found may be one of several: begin near the one that is meant.
/// </remarks>
public static class NonlinearLeastSquares
{
    // the longest way among the sets of NIST StRD, from the first start of MGH10, takes 1848
    private const int MostSteps = 4000;

    // the second derivative is the difference of the first over this part of a step
    private const double Ahead = 0.1;

    // of the step; Transtrum and Sethna take 0.375, and less for hard problems. From the first start of BoxBOD that is too much; 0.05 to 0.25 reach all sets of NIST StRD, smaller parts in more steps
    private const double MostBend = 0.25;

    // a step this short, in standard errors, moves nothing that the standard errors do not cover
    private const double Short = 1e-4;

    // a few units in the last place of a double: the model’s values are not known better
    private static readonly double Rounding = Math.ScaleB(1, -50);

    /// <summary>Fits a model.</summary>
    /// <param name="y">Values, finite; more than parameters.</param>
    /// <param name="start">Parameters to begin with, finite; at least one.</param>
    /// <param name="model">The model.</param>
    /// <param name="cancel">Stops the iteration.</param>
    /// <exception cref="ArgumentNullException">There is no model.</exception>
    /// <exception cref="ArgumentException">There are too few values, a number is not finite, the model or its derivatives are not finite at the start, a parameter cannot be told from the others, or no minimum is reached.</exception>
    /// <exception cref="OperationCanceledException">The iteration was stopped.</exception>
    public static NonlinearFit Fit(ReadOnlySpan<double> y, ReadOnlySpan<double> start, NonlinearModel model, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(model);
        Require.Sample(start, 1);
        Require.Sample(y, start.Length + 1);
        var at = Point.Of(start.ToArray(), y, model);
        if (!double.IsFinite(at.SumOfSquares))
            throw new ArgumentException("At the start the model or its derivatives are not finite; begin where they are.", nameof(start));
        var scale = new double[start.Length];
        double damping = 1e-3, growth = 2;
        var steps = 0;
        while (steps++ < MostSteps && damping < 1e40)
        {
            cancel.ThrowIfCancellationRequested();
            for (var j = 0; j < scale.Length; j++)
                scale[j] = Math.Max(scale[j], OrthogonalFactors.Norm(at.Columns[j], 0).High);
            if (Step(at.Columns, at.Residuals, damping, scale, out var dependent) is not { } change)
                throw new ArgumentException($"Parameter {dependent + 1} moves the model nowhere, or as the parameters before it do; begin elsewhere, or leave it out.", nameof(start));
            var expected = at.SumOfSquares - at.SumOfSquaresAfter(change);
            if (expected <= 1e-13 * at.SumOfSquares)
                break;
            var next = Bend(at, change, damping, scale, y, model) is { } bend ? Point.Of(at.Moved([.. change.Zip(bend, (d, b) => d + b)]), y, model) : null;
            var gain = next is null ? double.NegativeInfinity : (at.SumOfSquares - next.SumOfSquares) / expected;
            if (next is not null && gain > 0)
            {
                at = next;
                damping *= Math.Max(1.0 / 3, 1 - Math.Pow(2 * gain - 1, 3));
                growth = 2;
            }
            else
            {
                damping *= growth;
                growth *= 2;
            }
        }
        return Polished(at, y, model, steps)
            ?? throw new ArgumentException($"From this start no minimum was reached in {steps} steps; begin nearer to one, or with fewer parameters.", nameof(start));
    }

    /// <summary>What the second derivative of the model along a step adds to it; null where that is more than a quarter of the step, or not finite.</summary>
    private static double[]? Bend(Point at, double[] change, double damping, double[] scale, ReadOnlySpan<double> y, NonlinearModel model)
    {
        var ahead = Point.Of(at.Moved([.. change.Select(d => Ahead * d)]), y, model);
        if (!double.IsFinite(ahead.SumOfSquares))
            return null;
        var curvature = new DoubleDouble[y.Length];
        for (var i = 0; i < curvature.Length; i++)
        {
            for (var j = 0; j < change.Length; j++)
                curvature[i] -= (ahead.Columns[j][i] - at.Columns[j][i]) * (change[j] / (2 * Ahead));
        }
        double Length(double[] step) => Math.Sqrt(step.Zip(scale, (d, c) => d * c * d * c).Sum());
        return Step(at.Columns, curvature, damping, scale, out _) is { } bend && Length(bend) <= MostBend * Length(change) ? bend : null;
    }

    /// <summary>Undamped steps as long as they get shorter; null where they do not end at a minimum.</summary>
    private static NonlinearFit? Polished(Point at, ReadOnlySpan<double> y, NonlinearModel model, int steps)
    {
        var none = new double[at.Parameters.Length];
        var size = Math.Sqrt(y.ToArray().Average(v => v * v));
        var shortest = double.PositiveInfinity;
        for (var round = 0; round < 50; round++)
        {
            if (Step(at.Columns, at.Residuals, 0, none, out _) is not { } change)
                return null;
            var fit = at.Tangent();
            // in standard errors, with what the rounding of the values makes of the parameters; where the values lie on the curve, against the parameters themselves
            var scatter = fit.ResidualStandardDeviation;
            var told = scatter > 0 ? 1 + Rounding * size / scatter / Short : 1;
            var length = change.Zip(fit.StandardErrors, at.Parameters).Max(c => Math.Abs(c.First) / (told * c.Second + 1e-9 * Math.Abs(c.Third) + 1e-300));
            if (!(length < shortest))
                return shortest < Short ? new NonlinearFit(fit, at.Parameters, steps + round) : null;
            var next = Point.Of(at.Moved(change), y, model);
            if (!double.IsFinite(next.SumOfSquares))
                return null;
            if (length == 0)
                return new NonlinearFit(fit, at.Parameters, steps + round);
            (at, shortest) = (next, length);
        }
        return shortest < Short ? new NonlinearFit(at.Tangent(), at.Parameters, steps + 50) : null;
    }

    /// <summary>The step from a point: least squares of the residuals on the derivatives, with a row of √λ times its scale for each parameter; null where one cannot be told.</summary>
    private static double[]? Step(DoubleDouble[][] derivatives, DoubleDouble[] residuals, double damping, double[] scale, out int dependent)
    {
        int n = residuals.Length, p = derivatives.Length;
        var columns = new DoubleDouble[p][];
        for (var j = 0; j < p; j++)
        {
            columns[j] = new DoubleDouble[n + p];
            derivatives[j].CopyTo(columns[j], 0);
            columns[j][n + j] = Math.Sqrt(damping) * scale[j];
        }
        var right = new DoubleDouble[n + p];
        residuals.CopyTo(right, 0);
        return OrthogonalFactors.Solve(columns, right, out dependent)?.Solution.Select(d => d.High).ToArray();
    }

    /// <summary>A model at some parameters: residuals, their sum of squares, derivatives by columns.</summary>
    private sealed record Point(double[] Parameters, DoubleDouble[] Residuals, DoubleDouble[][] Columns, double SumOfSquares)
    {
        public double[] Moved(double[] change) => [.. Parameters.Zip(change, (b, d) => b + d)];

        /// <summary>Where the linear model would bring the sum of squares.</summary>
        public double SumOfSquaresAfter(double[] change)
        {
            DoubleDouble sum = 0;
            for (var i = 0; i < Residuals.Length; i++)
            {
                var r = Residuals[i];
                for (var j = 0; j < change.Length; j++)
                    r -= Columns[j][i] * change[j];
                sum += r * r;
            }
            return sum.High;
        }

        /// <summary>The linear fit of the residuals on the derivatives: at the minimum its coefficients are zero, its covariance is that of the parameters.</summary>
        public LeastSquaresFit Tangent() => LeastSquares.Fit(Columns, [.. Residuals.Select(r => r.High)], []);

        public static Point Of(double[] parameters, ReadOnlySpan<double> y, NonlinearModel model)
        {
            var values = new double[y.Length];
            var derivatives = new double[y.Length, parameters.Length];
            model(parameters, values, derivatives);
            var residuals = new DoubleDouble[y.Length];
            DoubleDouble sum = 0;
            for (var i = 0; i < residuals.Length; i++)
            {
                residuals[i] = DoubleDouble.Difference(y[i], values[i]);
                sum += residuals[i] * residuals[i];
            }
            var columns = new DoubleDouble[parameters.Length][];
            var finite = sum.IsFinite;
            for (var j = 0; j < columns.Length; j++)
            {
                columns[j] = new DoubleDouble[y.Length];
                for (var i = 0; i < y.Length; i++)
                {
                    columns[j][i] = derivatives[i, j];
                    finite &= double.IsFinite(derivatives[i, j]);
                }
            }
            return new Point(parameters, residuals, columns, finite ? sum.High : double.PositiveInfinity);
        }
    }
}
