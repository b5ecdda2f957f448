using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Drift;

public class CheckScatterTests
{
    [Fact]
    public void Levels_of_a_check_are_pooled_by_their_degrees_of_freedom()
    {
        DriftCheck Check(double day, params (int N, double? Sd)[] levels) =>
            new() { Day = day, Levels = [.. levels.Select(l => new DriftLevel { Known = 10, Bias = Estimate.Exact(0.01 * day), Replicates = l.N, Sd = l.Sd })] };
        var model = DriftModel.Fit(new DriftHistory(new Tolerance(1, 0), [Check(0, (3, 0.2)), Check(7, (1, null)), Check(14, (5, 0.1), (3, 0.3)), Check(21, (4, 2.5))]));
        var usual = model.Components.WithinCurve.At(10);

        var scatter = CheckScatter.Of(model);

        Assert.Equal([0, 2, 3], scatter.Select(s => s.Check));
        Assert.Equal([3, 7, 4], scatter.Select(s => s.Chart.Count));
        Assert.Equal(0.2 / usual, scatter[0].Ratio, 1e-12);
        // (4 · 0.1² + 2 · 0.3²)/6
        Assert.Equal(Math.Sqrt(0.22 / 6) / usual, scatter[1].Ratio, 1e-12);
        Assert.All(scatter, s => Assert.Equal(s.Ratio > s.Chart.Upper || s.Ratio < s.Chart.Lower, s.Signals));
        Assert.True(scatter[2].Ratio > scatter[0].Ratio);
    }

    [Fact]
    public void A_display_shows_no_scatter_below_its_step()
    {
        static double Ratio(double resolution) =>
            CheckScatter.Of(DriftModel.Fit(new DriftHistory(new Tolerance(1, 0), Enumerable.Range(0, 4).Select(i => new DriftCheck { Day = i, Levels = [new DriftLevel { Known = 10, Bias = Estimate.Exact(0), Replicates = 5, Sd = 0.3, Resolution = resolution }] }))))[0].Ratio;
        Assert.Equal(1, Ratio(0), 0.1);
        Assert.Equal(0.3 / (6 / Math.Sqrt(12)), Ratio(6), 1e-12);
    }
}
