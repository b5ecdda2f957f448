using System.Globalization;
using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

/// <summary>Whether the law of propagation may stand for the Monte Carlo distribution (JCGM 101:2008, clause 8).</summary>
/// <remarks>
/// Both ends of y ± k·u must lie within δ of the ends by Monte Carlo, with k of the coverage probability 95 % and δ half a unit of the last of two significant digits of u (7.9.2). Where it
/// fails, the model is too curved or one input too unlike a normal one for the first-order form, and the Monte Carlo interval is the one to state.
/// </remarks>
/// <param name="Tolerance">Numerical tolerance δ.</param>
/// <param name="LowDifference">|y − U − y_low|.</param>
/// <param name="HighDifference">|y + U − y_high|.</param>
public sealed record Validation(double Tolerance, double LowDifference, double HighDifference)
{
    /// <summary>Whether both ends agree within the tolerance.</summary>
    public bool Holds => LowDifference <= Tolerance && HighDifference <= Tolerance;

    /// <summary>Compares an estimate with a Monte Carlo result of the same model.</summary>
    /// <param name="estimate">The law of propagation.</param>
    /// <param name="simulated">Monte Carlo.</param>
    /// <param name="digits">Significant digits of u that matter, 1 or 2.</param>
    /// <returns>The comparison, with the symmetric interval.</returns>
    public static Validation Of(Estimate estimate, MonteCarloResult simulated, int digits = 2)
    {
        ArgumentNullException.ThrowIfNull(simulated);
        var u = estimate.StandardUncertainty;
        var dof = estimate.EffectiveDof;
        var k = double.IsPositiveInfinity(dof) ? CoverageFactor.Normal(0.95) : CoverageFactor.StudentT(0.95, dof);
        return new Validation(NumericalTolerance(u, digits), Math.Abs(estimate.Value - k * u - simulated.Low), Math.Abs(estimate.Value + k * u - simulated.High));
    }

    /// <summary>δ = ½·10^l, where u = c·10^l with c an integer of so many digits (JCGM 101:2008, 7.9.2).</summary>
    /// <param name="u">Standard uncertainty, zero or above.</param>
    /// <param name="digits">Digits of c, 1 or 2.</param>
    /// <returns>δ in the unit of u; zero where u is zero. Where rounding to c gains a digit, as 0.996 to 1.0, l is that of the rounded number.</returns>
    /// <exception cref="ArgumentOutOfRangeException">u is negative or not finite, or the digits are neither 1 nor 2.</exception>
    public static double NumericalTolerance(double u, int digits = 2)
    {
        Require.NotNegative(u);
        if (digits is not (1 or 2))
            throw new ArgumentOutOfRangeException(nameof(digits), digits, $"{digits} digits of an uncertainty are not used; give 1 or 2.");
        if (u == 0)
            return 0;
        // the decimal text of u rounded to c says where its first digit stands, which a logarithm may miss at a power of ten
        var rounded = u.ToString(digits == 1 ? "E0" : "E1", CultureInfo.InvariantCulture);
        var first = int.Parse(rounded.AsSpan(rounded.IndexOf('E', StringComparison.Ordinal) + 1), CultureInfo.InvariantCulture);
        return 0.5 * Math.Pow(10, first + 1 - digits);
    }
}
