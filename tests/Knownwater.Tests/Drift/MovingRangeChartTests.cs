using Knownwater.Drift;
using Knownwater.Statistics;

namespace Knownwater.Tests.Drift;

public class MovingRangeChartTests
{
    [Fact]
    public void A_range_that_never_signals_leaves_the_chart_of_single_points()
    {
        // no two points inside ±3 differ by more than 6: 370.4 (Champ and Woodall 1987), and with a shift 1/p
        Assert.Equal(370.4, new MovingRangeChart(3, 6).AverageRunLength(), 0.05);
        foreach (var shift in (double[])[0, 0.5, 1, 3])
            Assert.Equal(new IndividualsChart(3).AverageRunLength(shift), new MovingRangeChart(3, 7).AverageRunLength(shift), 1e-6);
    }

    [Fact]
    public void Over_a_narrow_span_the_first_terms_tell_the_run_length()
    {
        // width and range w = 0.05, the density nearly even between: with p = P(|y| < w), L = 1 + p + p²·A + p³·B + …, A and B the parts of (−1, 1)² and (−1, 1)³ where
        // neighbours differ by less than 1. By hand A = 3/4 and B = ∫ (2 − |b|)² db / 8 = (14/3)/8; the next term is below p⁴/2 = 1.3e-6, the unevenness of the density below p³·w²
        var p = Normal.Between(-0.05, 0.05);
        Assert.Equal(1 + p + 3.0 / 4 * p * p + 14.0 / 24 * p * p * p, new MovingRangeChart(0.05, 0.05).AverageRunLength(), 5e-6);
    }

    [Theory]
    [InlineData(3, 3.686, 0)]
    [InlineData(3, 2.2, 0)]
    [InlineData(2.5, 3.0, 0.7)]
    public void Run_lengths_are_those_of_a_simulation(double width, double range, double shift)
    {
        var random = new Random(41);
        const int Runs = 4_000;
        double sum = 0, squares = 0;
        for (var run = 0; run < Runs; run++)
        {
            var (points, before) = (0, double.NaN);
            while (true)
            {
                points++;
                var x = shift + Normal.Quantile((random.Next() + 0.5) / int.MaxValue);
                if (Math.Abs(x) > width || Math.Abs(x - before) > range)
                    break;
                before = x;
            }
            sum += points;
            squares += (double)points * points;
        }
        var mean = sum / Runs;
        // four standard errors of the simulated mean
        Assert.Equal(mean, new MovingRangeChart(width, range).AverageRunLength(shift), 4 * Math.Sqrt((squares / Runs - mean * mean) / Runs));
    }

    [Fact]
    public void Ranges_are_distances_of_neighbours()
    {
        Assert.Equal([2, 3], MovingRangeChart.Ranges([1, -1, 2]));
        Assert.Empty(MovingRangeChart.Ranges([1]));
        // D4·d2 of the tables for two values: 3.266532 · 1.128379
        Assert.Equal(3.266532 * 1.128379, MovingRangeChart.UsualRange, 3e-6);
        Assert.Contains("0.15", Assert.Throws<ArgumentOutOfRangeException>(() => new MovingRangeChart(3, 0.1)).Message, StringComparison.Ordinal);
    }
}
