using CsCheck;
using Knownwater.Seawater;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Seawater;

/// <summary>What is computed for many waters at once is what is computed for each.</summary>
public sealed class ManyWatersTests
{
    [Fact]
    public void Densities_of_any_number_of_waters()
    {
        Gen.Select(Gen.Double[0, 42], Gen.Double[-2, 40], Gen.Double[0, 10_000]).Array[0, 40].Sample(waters =>
        {
            var densities = new double[waters.Length];
            Teos10.Densities(waters.Select(w => w.Item1).ToArray(), waters.Select(w => w.Item2).ToArray(), waters.Select(w => w.Item3).ToArray(), densities);
            for (var i = 0; i < waters.Length; i++)
                Assert.Equal(Teos10.DensityKilogramsPerCubicMetre(waters[i].Item1, waters[i].Item2, waters[i].Item3), densities[i], 1e-9);
        });
    }

    [Fact]
    public void One_pressure_counts_for_all_and_blocks_do_not_show()
    {
        const int N = 100_003;
        double Frac(double x) => x - Math.Floor(x);
        var sa = Enumerable.Range(0, N).Select(i => 30 + 10 * Frac(i * 0.6180339887498949)).ToArray();
        var ct = Enumerable.Range(0, N).Select(i => 15 + 15 * Frac(i * 0.7548776662466927)).ToArray();
        var densities = new double[N];
        Teos10.Densities(sa, ct, new[] { 10.0 }, densities);
        for (var i = 0; i < N; i += 101)
            Assert.Equal(Teos10.DensityKilogramsPerCubicMetre(sa[i], ct[i], 10), densities[i], 1e-9);
        Assert.Equal(Teos10.DensityKilogramsPerCubicMetre(sa[^1], ct[^1], 10), densities[^1], 1e-9);
    }

    [Fact]
    public void A_density_out_of_range_names_its_place()
    {
        var fault = Assert.Throws<ArgumentOutOfRangeException>(() => Teos10.Densities(new[] { 35.0, 36, 99 }, new[] { 20.0, 20, 20 }, new[] { 0.0 }, new double[3]));
        Assert.StartsWith("Water 3: ", fault.Message, StringComparison.Ordinal);
        Assert.Contains("Absolute Salinity of 99", fault.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => Teos10.Densities(new[] { double.NaN }, new[] { 20.0 }, new[] { 0.0 }, new double[1]));
        Assert.Throws<ArgumentException>(() => Teos10.Densities(new[] { 35.0 }, new[] { 20.0, 21 }, new[] { 0.0 }, new double[1]));
    }

    // the search by brackets on plain numbers is another way to the same root
    [Fact]
    public void The_pH_of_many_waters_is_that_of_each()
    {
        Gen.Select(Gen.Double[5, 45], Gen.Double[0, 40], Gen.Double[600, 5000], Gen.Double[0.5, 1.1]).Array[1, 40].Sample(waters =>
        {
            var ph = new double[waters.Length];
            CarbonateState.PhTotals(waters.Select(w => w.Item1).ToArray(), waters.Select(w => w.Item2).ToArray(), waters.Select(w => w.Item3).ToArray(), waters.Select(w => w.Item3 * w.Item4).ToArray(), ph);
            for (var i = 0; i < waters.Length; i++)
            {
                var one = CarbonateState.Of(new CarbonateWater { PracticalSalinity = Estimate.Exact(waters[i].Item1), TemperatureCelsius = Estimate.Exact(waters[i].Item2) }, CarbonatePair.AlkalinityAndDic, Estimate.Exact(waters[i].Item3), Estimate.Exact(waters[i].Item3 * waters[i].Item4));
                Assert.Equal(one.PhTotal.Value, ph[i], 1e-10);
            }
        });
    }

    [Fact]
    public void A_water_that_cannot_be_names_its_place()
    {
        void Ph(double[] alkalinity, double[] dic) => CarbonateState.PhTotals(new[] { 35.0, 35 }, new[] { 25.0, 25 }, alkalinity, dic, new double[2]);
        Assert.StartsWith("Water 2: ", Assert.Throws<ArgumentException>(() => Ph([2300, 2300], [2000, 9000])).Message, StringComparison.Ordinal);
        Assert.StartsWith("Water 1: ", Assert.Throws<ArgumentOutOfRangeException>(() => Ph([-1, 2300], [2000, 2000])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => Ph([2300], [2000]));
    }
}
