using Knownwater.Drift;
using Knownwater.Statistics;

namespace Knownwater.Tests.Drift;

public class SdChartTests
{
    [Fact]
    public void Run_lengths_of_two_and_three_values_have_closed_forms()
    {
        // B6 of the tables (tests/data/control-charts): 2.606315 for two values, 2.275981 for three; B5 is zero.
        // Two: s/σ is |z| of one normal value. Three: χ² with 2 degrees of freedom is exponential, P(s > B6·σ·r) = exp(−B6²/r²).
        foreach (var ratio in (double[])[1, 1.5, 2])
        {
            Assert.Equal(1 / (2 * Normal.Cdf(-2.606315 / ratio)), new SdChart(2).AverageRunLength(ratio), 1e-3);
            Assert.Equal(Math.Exp(2.275981 * 2.275981 / (ratio * ratio)), new SdChart(3).AverageRunLength(ratio), 1e-3);
        }
    }

    [Fact]
    public void With_many_values_both_limits_count()
    {
        var chart = new SdChart(10);
        Assert.True(chart.Lower > 0);
        // a scatter that shrinks is found by the lower limit alone
        Assert.True(chart.AverageRunLength(0.3) < 3);
        Assert.Throws<ArgumentOutOfRangeException>(() => chart.AverageRunLength(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new SdChart(1));
    }
}
