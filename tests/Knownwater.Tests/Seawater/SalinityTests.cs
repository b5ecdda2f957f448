using CsCheck;
using Knownwater.Seawater;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Seawater;

public sealed class SalinityTests
{
    private const double To68 = 1.00024;

    // UNESCO Technical Papers in Marine Science 44 (1983), check values of algorithm 1, to their printed digits
    [Fact]
    public void Check_values_of_the_practical_salinity_scale()
    {
        var rows = Table.Rows("seawater/pss78_check_values.csv");
        Assert.Equal(3, rows.Count);
        foreach (var row in rows)
            Assert.Equal(Table.Number(row[3]), Pss78.Salinity(Table.Number(row[0]) * Pss78.StandardMillisiemensPerCentimetre, Table.Number(row[1]) / To68, Table.Number(row[2])), 6e-6);
    }

    [Fact]
    public void Conductivity_agrees_with_the_grid_of_gsw()
    {
        foreach (var row in Table.Rows("seawater/pss78_grid_gsw.csv"))
            Assert.Equal(Table.Number(row[3]), Pss78.ConductivityMillisiemensPerCentimetre(Table.Number(row[0]), Table.Number(row[1]), Table.Number(row[2])), 0.51e-6);
    }

    // UNESCO 44, check values of algorithm 3, to their printed digits; and a grid of the same formula to half of its last digit
    [Fact]
    public void Check_values_and_grid_of_the_equation_of_state_of_1980()
    {
        foreach (var row in Table.Rows("seawater/eos80_check_values.csv"))
            Assert.Equal(Table.Number(row[2]), Eos80.DensityKilogramsPerCubicMetre(Table.Number(row[0]), Table.Number(row[1]) / To68), 0.51e-5);
        foreach (var row in Table.Rows("seawater/eos80_grid.csv"))
            Assert.Equal(Table.Number(row[2]), Eos80.DensityKilogramsPerCubicMetre(Table.Number(row[0]), Table.Number(row[1]) / To68), 0.51e-6);
    }

    // ten thousand points of gsw over the whole range; the script stands beside them. gsw gives conductivity by two steps of Newton's method, to about 1e-9 of it
    [Fact]
    public void Ten_thousand_points_of_gsw()
    {
        var rows = Table.Rows("seawater/gsw_points.csv");
        Assert.Equal(10_000, rows.Count);
        double conductivity = 0, temperature = 0, density = 0;
        for (var i = 1; i <= rows.Count; i++)
        {
            static double Frac(double x) => x - Math.Floor(x);
            var (s, t, p) = (42 * Frac(i * 0.6180339887498949), -2 + 42 * Frac(i * 0.7548776662466927), 10_000 * Math.Pow(Frac(i * 0.5698402909980532), 3));
            var state = SeawaterState.OfSalinity(s, t, p);
            conductivity = Math.Max(conductivity, Math.Abs(state.ConductivityMillisiemensPerCentimetre - Table.Number(rows[i - 1][0])) / Math.Max(1, state.ConductivityMillisiemensPerCentimetre));
            temperature = Math.Max(temperature, Math.Abs(state.ConservativeTemperatureCelsius - Table.Number(rows[i - 1][1])));
            density = Math.Max(density, Math.Abs(state.DensityKilogramsPerCubicMetre - Table.Number(rows[i - 1][2])));
        }
        Assert.True(conductivity < 2e-9, $"conductivity differs by {conductivity:g3} of it");
        Assert.True(temperature < 2e-10, $"Conservative Temperature differs by {temperature:g3} °C");
        Assert.True(density < 1e-8, $"density differs by {density:g3} kg/m³");
    }

    [Fact]
    public void Salinity_conductivity_and_density_go_there_and_back()
    {
        Gen.Select(Gen.Double[0, 42], Gen.Double[-2, 40], Gen.Double[0, 10_000]).Sample((s, t, p) =>
        {
            Assert.Equal(s, Pss78.Salinity(Pss78.ConductivityMillisiemensPerCentimetre(s, t, p), t, p), 1e-9);
            Assert.Equal(s, SeawaterState.OfDensity(SeawaterState.OfSalinity(s, t, p).DensityKilogramsPerCubicMetre, t, p).PracticalSalinity, 1e-9);
        });
    }

    [Fact]
    public void Density_rises_with_salinity_everywhere_in_range()
    {
        Gen.Select(Gen.Double[0, 41.9], Gen.Double[0.001, 0.1], Gen.Double[-2, 40], Gen.Double[0, 10_000]).Sample((s, more, t, p) =>
            SeawaterState.OfSalinity(s + more, t, p).DensityKilogramsPerCubicMetre > SeawaterState.OfSalinity(s, t, p).DensityKilogramsPerCubicMetre && Eos80.DensityKilogramsPerCubicMetre(s + more, t) > Eos80.DensityKilogramsPerCubicMetre(s, t)
            && Pss78.ConductivityMillisiemensPerCentimetre(s + more, t, p) > Pss78.ConductivityMillisiemensPerCentimetre(s, t, p));
    }

    // computed with gsw and its exact Gibbs function; half of the last digit and what the 75 terms may differ, 0.001 kg/m³
    [Fact]
    public void Specific_gravity_by_the_pair_of_temperatures_it_is_made_for()
    {
        const double SixtyFahrenheit = (60 - 32) / 1.8;
        foreach (var row in Table.Rows("seawater/specific_gravity.csv"))
        {
            var state = SeawaterState.OfSalinity(Table.Number(row[0]), 20);
            Assert.Equal(Table.Number(row[1]), state.SpecificGravity(SixtyFahrenheit, SixtyFahrenheit), 1.1e-6);
            Assert.Equal(Table.Number(row[3]), state.SpecificGravity(20, 20), 1.1e-6);
            Assert.Equal(Table.Number(row[5]), state.SpecificGravity(25, 25), 1.1e-6);
            Assert.Equal(Table.Number(row[7]), state.SpecificGravity(25, 4), 1.1e-6);
        }
    }

    // gsw 3.6.16 at S 35, 25 °C, central differences of a thousandth: density changes by 0.755386 kg/m³ a unit of salinity and by −0.304489 kg/m³ a degree
    [Fact]
    public void Doubts_of_salinity_and_temperature_become_those_of_density_and_back()
    {
        var (s, t) = (ErrorSource.Normal("salinity", 0.1), ErrorSource.Normal("temperature", 0.2));
        var density = SeawaterState.Density(Estimate.From(35, s), Estimate.From(25, t));
        Assert.Equal(SeawaterState.OfSalinity(35, 25).DensityKilogramsPerCubicMetre, density.Value);
        Assert.Equal(DensityBySalinity * 0.1, density.Contributions.Single(c => c.Source.Id == s.Id).Value, 1e-6);
        Assert.Equal(DensityByTemperature * 0.2, density.Contributions.Single(c => c.Source.Id == t.Id).Value, 1e-6);
        // there and back at the same temperature leaves the salinity with its own doubt alone
        var back = SeawaterState.SalinityOfDensity(density, Estimate.From(25, t));
        Assert.Equal(35, back.Value, 1e-9);
        Assert.Equal(0.1, back.StandardUncertainty, 1e-6);
        var conductivity = Pss78.ConductivityMillisiemensPerCentimetre(35, 25);
        var read = SeawaterState.SalinityOfConductivity(Estimate.From(conductivity, ErrorSource.Normal("probe", 0.01 * conductivity)), Estimate.Exact(25));
        var slope = (Pss78.Salinity(conductivity * 1.001, 25) - Pss78.Salinity(conductivity * 0.999, 25)) / 0.002;
        Assert.Equal(0.01 * slope, read.StandardUncertainty, 1e-5);
        // at the ends of the range the slope is taken inward
        Assert.True(SeawaterState.Density(Estimate.From(0, s), Estimate.From(40, t)).StandardUncertainty > 0);
        Assert.Throws<ArgumentOutOfRangeException>(() => SeawaterState.SalinityOfDensity(Estimate.Exact(1100), Estimate.Exact(25)));
    }

    private const double DensityBySalinity = 0.755386, DensityByTemperature = -0.304489;

    [Theory]
    [InlineData(43, 25, 0, "salinity of 43")]
    [InlineData(-1, 25, 0, "salinity of -1")]
    [InlineData(35, 77, 0, "temperature of 77")]
    [InlineData(35, 25, -5, "pressure of -5")]
    [InlineData(double.NaN, 25, 0, "NaN")]
    public void Out_of_range_names_value_and_range(double salinity, double temperature, double pressure, string says)
    {
        Assert.Contains(says, Assert.Throws<ArgumentOutOfRangeException>(() => SeawaterState.OfSalinity(salinity, temperature, pressure)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_no_seawater_has_is_refused()
    {
        Assert.Contains("beyond the range of the Practical Salinity Scale", Assert.Throws<ArgumentOutOfRangeException>(() => SeawaterState.OfConductivity(90, 25)).Message, StringComparison.Ordinal);
        Assert.Contains("zero or more", Assert.Throws<ArgumentOutOfRangeException>(() => SeawaterState.OfConductivity(-1, 25)).Message, StringComparison.Ordinal);
        Assert.Contains("a salinity of 0 to 42 at 25 °C", Assert.Throws<ArgumentOutOfRangeException>(() => SeawaterState.OfDensity(1100, 25)).Message, StringComparison.Ordinal);
    }
}
