using Knownwater.Seawater;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Seawater;

public sealed class AmmoniaTests
{
    // Emerson, Russo, Lund & Thurston 1975, formula recomputed; half of the last digit
    [Fact]
    public void Fresh_water_agrees_with_the_formula_of_Emerson()
    {
        var rows = Table.Rows("seawater/ammonia_unionized_emerson1975.csv");
        Assert.True(rows.Count > 20);
        foreach (var row in rows)
        {
            var pka = Ammonia.Pka(Table.Number(row[0]));
            Assert.Equal(Table.Number(row[2]), pka, 0.51e-6);
            Assert.Equal(Table.Number(row[3]), 100 * Ammonia.FractionUnionised(Table.Number(row[1]), pka), 0.51e-5);
        }
    }

    // Bell et al. 2007, corrigendum 2008: pKa 9.361 at 25 °C and salinity 35; the fraction at pH 8.2 is 0.0646
    [Fact]
    public void Seawater_agrees_with_the_equation_of_Bell()
    {
        Assert.Equal(9.361, Ammonia.Pka(25, 35), 0.0005);
        Assert.Equal(0.0646, Ammonia.FractionUnionised(8.2, Ammonia.Pka(25, 35)), 0.00005);
        // Yao & Millero 1995 give 9.256 on the total scale; what a warning rests on is as low
        Assert.Equal(9.256, Ammonia.LowestPka(25, 35), 0.0005);
        Assert.Equal(Ammonia.Pka(25), Ammonia.LowestPka(25));
    }

    [Fact]
    public void An_uncertain_pH_makes_an_uncertain_fraction()
    {
        var fraction = Ammonia.FractionUnionised(Estimate.From(8.2, ErrorSource.Normal("pH electrode", 0.05)), Estimate.Exact(9.361));
        Assert.Equal(Ammonia.FractionUnionised(8.2, 9.361), fraction.Value, 1e-15);
        // by hand: df/dpH = ln 10 · f · (1 − f)
        Assert.Equal(Math.Log(10) * fraction.Value * (1 - fraction.Value) * 0.05, fraction.StandardUncertainty, 1e-12);
    }

    [Fact]
    public void Out_of_range_is_refused()
    {
        Assert.Contains("0 to 50 °C", Assert.Throws<ArgumentOutOfRangeException>(() => Ammonia.Pka(60)).Message, StringComparison.Ordinal);
        Assert.Contains("0.5 to 45", Assert.Throws<ArgumentOutOfRangeException>(() => Ammonia.Pka(25, 50)).Message, StringComparison.Ordinal);
        Assert.Contains("0 to 14", Assert.Throws<ArgumentOutOfRangeException>(() => Ammonia.FractionUnionised(15, 9)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => Ammonia.FractionUnionised(double.NaN, 9));
    }
}
