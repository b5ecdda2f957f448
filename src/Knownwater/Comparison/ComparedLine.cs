using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Comparison;

/// <summary>Slope and intercept of a line between two methods as estimates that keep their correlation.</summary>
/// <remarks>
/// Both come from the same readings, so they err together: a value read off the line, intercept + slope·x, has a smaller doubt than the two apart would give, above all near the middle of the readings. The covariance enters by
/// Cholesky’s factor as shared sources, so that arithmetic with the two estimates counts it (JCGM 100:2008, 5.2.2 and H.3).
/// </remarks>
/// <example><code>
/// var line = ComparedLine.Of(DemingLine.Fit(laboratory, analyser));
/// var expected = line.Intercept + line.Slope * 8.0;
/// </code></example>
/// <param name="Slope">Slope, in units of y per unit of x.</param>
/// <param name="Intercept">Intercept, in the unit of y.</param>
public readonly record struct ComparedLine(Estimate Slope, Estimate Intercept)
{
    /// <summary>The estimates of York’s line; its uncertainties are taken as known.</summary>
    /// <param name="line">The fit.</param>
    public static ComparedLine Of(YorkLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return Of(line.Slope, line.Intercept, line.SlopeStandardUncertainty, line.InterceptStandardUncertainty, line.Covariance, double.PositiveInfinity);
    }

    /// <summary>The estimates of Deming’s line, with n − 2 degrees of freedom.</summary>
    /// <param name="line">The fit.</param>
    public static ComparedLine Of(DemingLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return Of(line.Slope, line.Intercept, line.SlopeStandardUncertainty, line.InterceptStandardUncertainty, line.Covariance, line.Dof);
    }

    private static ComparedLine Of(double slope, double intercept, double slopeU, double interceptU, double covariance, double dof)
    {
        var both = Estimate.Correlated([slope, intercept], new[,] { { slopeU * slopeU, covariance }, { covariance, interceptU * interceptU } }, "line between the methods", dof);
        return new ComparedLine(both[0], both[1]);
    }
}
