namespace Knownwater.Statistics;

/// <summary>Parameters of a nonlinear least-squares fit, with their covariance of first order.</summary>
/// <remarks>The covariance is s²(JᵀJ)⁻¹ with the derivatives J at the minimum: that of the linear model which touches the curve there.</remarks>
public sealed class NonlinearFit
{
    private readonly LeastSquaresFit _tangent;

    internal NonlinearFit(LeastSquaresFit tangent, double[] parameters, int steps)
    {
        _tangent = tangent;
        Parameters = parameters;
        Steps = steps;
    }

    /// <summary>Parameters β, in the order of the model.</summary>
    public IReadOnlyList<double> Parameters { get; }

    /// <summary>Standard uncertainties of the parameters.</summary>
    public IReadOnlyList<double> StandardErrors => _tangent.StandardErrors;

    /// <summary>Residuals y − f(β), in the order of the values.</summary>
    public IReadOnlyList<double> Residuals => _tangent.Residuals;

    /// <summary>Degrees of freedom of the residuals, n − p.</summary>
    public double Dof => _tangent.Dof;

    /// <summary>Sum of squared residuals.</summary>
    public double ResidualSumOfSquares => _tangent.ResidualSumOfSquares;

    /// <summary>Residual standard deviation √(Σr²/(n − p)).</summary>
    public double ResidualStandardDeviation => _tangent.ResidualStandardDeviation;

    /// <summary>Number of steps from the start to the minimum.</summary>
    public int Steps { get; }

    /// <summary>Covariance of two parameters.</summary>
    /// <param name="i">Position of the first, counting from zero.</param>
    /// <param name="j">Position of the second, counting from zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such parameter.</exception>
    public double Covariance(int i, int j) => _tangent.Covariance(i, j);
}
