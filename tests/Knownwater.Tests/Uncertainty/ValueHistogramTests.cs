using System.Runtime.Intrinsics;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public class ValueHistogramTests
{
    private static double[] Normals(int n, Func<double, double> turn)
    {
        var random = new LaneRandom(3, 0);
        var values = new double[n];
        for (var i = 0; i < n; i += 16)
        {
            var (a, b) = random.Normals();
            a.CopyTo(values, i);
            b.CopyTo(values, i + 8);
        }
        return [.. values.Select(turn)];
    }

    // the values themselves, sorted (JCGM 101:2008, 7.7): an end by the bins lies within one bin of that by the order, the shortest interval is no wider than the exact one by more than two bins
    [Theory]
    [InlineData(-10, 10, "normal")]
    [InlineData(-0.5, 20, "lognormal")]
    [InlineData(-3, 3, "narrow")]
    [InlineData(-2, 12, "with a lump")]
    public void Ends_lie_within_a_bin_of_those_by_the_sorted_values(double low, double high, string kind)
    {
        var values = Normals(1 << 18, x => kind switch { "lognormal" => Math.Exp(x), "with a lump" => Math.Max(x, 0), _ => x });
        var histogram = new ValueHistogram(low, high);
        var counts = new int[ValueHistogram.Bins];
        for (var i = 0; i < values.Length; i += 8)
            histogram.Add(Vector512.Create(values, i), counts);
        Assert.Equal(values.Length, counts.Sum());
        Array.Sort(values);
        Assert.Equal(values.Count(v => v < low), counts[0]);
        foreach (var p in new[] { 0.025, 0.3, 0.5, 0.975 })
        {
            var found = histogram.Quantile(counts, p * values.Length);
            var exact = values[(int)(p * values.Length)];
            var next = values[(int)(p * values.Length) + 1];
            Assert.InRange(found, exact - histogram.BinWidth, next + histogram.BinWidth);
        }
        var (start, end) = histogram.Shortest(counts, 0.95 * values.Length);
        var q = (int)Math.Round(0.95 * values.Length);
        var shortest = Enumerable.Range(0, values.Length - q).Min(i => values[i + q] - values[i]);
        Assert.Equal(shortest, end - start, 2 * histogram.BinWidth);
        Assert.Equal(0.95, values.Count(v => v >= start && v <= end) / (double)values.Length, kind == "with a lump" ? 0.05 : 2e-4);
    }

    [Fact]
    public void Bins_hold_a_3000th_of_a_standard_deviation() => Assert.Equal(20.0 / 65_534, new ValueHistogram(-10, 10).BinWidth, 1e-18);

    // four values by hand: bins of 1 from 0 to 65,534, two values in one bin are spread evenly
    [Fact]
    public void Values_spread_evenly_inside_a_bin()
    {
        var histogram = new ValueHistogram(0, 65_534);
        var counts = new int[ValueHistogram.Bins];
        histogram.Add(Vector512.Create(5.5, 5.6, 7.5, 7.5, 100.25, 100.25, -1, 1e9), counts);
        Assert.Equal(2, counts[6]);
        Assert.Equal(1, counts[0]);
        Assert.Equal(1, counts[^1]);
        Assert.Equal(5.5, histogram.Quantile(counts, 2), 1e-12);
        Assert.Equal(8, histogram.Quantile(counts, 5), 1e-12);
        Assert.Equal((5.0, 8.0), histogram.Shortest(counts, 4));
    }
}
