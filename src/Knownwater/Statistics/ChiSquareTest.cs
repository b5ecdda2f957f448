namespace Knownwater.Statistics;

/// <summary>The chi-square test of a standard deviation against a known one.</summary>
/// <remarks>χ² = ν·s²/σ², of normal values.</remarks>
public sealed record ChiSquareTest
{
    private ChiSquareTest(double chiSquare, double dof)
    {
        ChiSquare = chiSquare;
        Dof = dof;
    }

    /// <summary>χ².</summary>
    public double ChiSquare { get; }

    /// <summary>Degrees of freedom ν.</summary>
    public double Dof { get; }

    /// <summary>Probability of a scatter at least as large where the true one is the known one.</summary>
    public double PGreater => Statistics.ChiSquare.UpperTail(ChiSquare, Dof);

    /// <summary>Probability of a scatter at least as small where the true one is the known one.</summary>
    public double PLess => Statistics.ChiSquare.Cdf(ChiSquare, Dof);

    /// <summary>Probability of a scatter at least as unlikely on either side: twice the smaller tail.</summary>
    public double P => Math.Min(1, 2 * Math.Min(PGreater, PLess));

    /// <summary>Tests an estimated standard deviation.</summary>
    /// <param name="sd">Estimated standard deviation, zero or above.</param>
    /// <param name="dof">Its degrees of freedom, finite and above zero.</param>
    /// <param name="known">Known standard deviation σ, above zero, in the same unit.</param>
    /// <exception cref="ArgumentOutOfRangeException">sd is negative or not finite, dof is not finite and above zero, or the known one is not above zero.</exception>
    public static ChiSquareTest Of(double sd, double dof, double known)
    {
        var ratio = Require.NotNegative(sd) / Require.Positive(known);
        return new ChiSquareTest(Require.FiniteDof(dof) * ratio * ratio, dof);
    }
}
