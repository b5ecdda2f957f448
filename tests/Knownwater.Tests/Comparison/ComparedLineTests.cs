using Knownwater.Comparison;
using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Comparison;

public class ComparedLineTests
{
    private static readonly double[] X = [1.2, 2.9, 4.1, 6.3, 7.7, 9.4], Y = [1.4, 2.7, 4.6, 6.5, 8.3, 9.6];

    // by definition: u² of a + b·x is u²(a) + 2x·cov + x²·u²(b)
    [Fact]
    public void A_value_read_off_Demings_line_counts_the_covariance()
    {
        var fit = DemingLine.Fit(X, Y);
        var line = ComparedLine.Of(fit);
        Assert.Equal(fit.Covariance, Estimate.Covariance(line.Slope, line.Intercept), 1e-15);
        Assert.Equal(fit.SlopeStandardUncertainty, line.Slope.StandardUncertainty, 1e-15);
        Assert.Equal(fit.InterceptStandardUncertainty, line.Intercept.StandardUncertainty, 1e-14);
        Assert.Equal(4, line.Slope.EffectiveDof, 1e-12);
        var read = line.Intercept + line.Slope * 8;
        Assert.Equal(fit.Intercept + 8 * fit.Slope, read.Value, 1e-14);
        Assert.Equal(Math.Pow(fit.InterceptStandardUncertainty, 2) + 16 * fit.Covariance + 64 * Math.Pow(fit.SlopeStandardUncertainty, 2), Math.Pow(read.StandardUncertainty, 2), 1e-14);
        Assert.Equal(4, read.EffectiveDof, 1e-9);
    }

    [Fact]
    public void Yorks_line_rests_on_known_uncertainties()
    {
        double[] u = [0.2, 0.2, 0.2, 0.3, 0.3, 0.3];
        var fit = YorkLine.Fit(X, Y, u, u);
        var line = ComparedLine.Of(fit);
        Assert.Equal(fit.Covariance, Estimate.Covariance(line.Slope, line.Intercept), 1e-15);
        Assert.Equal(double.PositiveInfinity, line.Slope.EffectiveDof);
    }

    [Fact]
    public void A_line_through_every_point_is_exact() => Assert.True(ComparedLine.Of(DemingLine.Fit([1, 2, 4], [1, 2, 4])).Slope.IsExact);
}
