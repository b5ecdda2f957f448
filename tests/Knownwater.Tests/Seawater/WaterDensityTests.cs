using Knownwater.Seawater;

namespace Knownwater.Tests.Seawater;

public class WaterDensityTests
{
    // Tanaka et al. 2001; six decimals recomputed from the formula, four decimals read in a public table. Tolerance: half of the last digit printed.
    [Fact]
    public void Pure_water_agrees_with_the_table_of_Tanaka()
    {
        var rows = Table.Rows("tanaka2001/water_density_tanaka2001.csv");
        Assert.True(rows.Count > 20);
        foreach (var row in rows)
        {
            var density = PureWater.DensityKilogramsPerCubicMetre(Table.Number(row[0]));
            Assert.Equal(Table.Number(row[1]), density, 0.51e-6);
            if (row[2].Length > 0)
                Assert.Equal(Table.Number(row[2]), density, 0.51e-4);
        }
    }

    // Computed with gsw 3.6; tolerance: half of the last digit given.
    [Fact]
    public void Seawater_agrees_with_the_density_grid_of_TEOS10()
    {
        var rows = Table.Rows("teos10/teos10_density_grid.csv");
        Assert.Equal(120, rows.Count);
        foreach (var row in rows)
        {
            var absolute = Teos10.AbsoluteSalinityGramsPerKilogram(Table.Number(row[0]));
            var conservative = Teos10.ConservativeTemperatureCelsius(absolute, Table.Number(row[2]));
            var density = Teos10.DensityKilogramsPerCubicMetre(absolute, conservative);
            Assert.Equal(Table.Number(row[1]), absolute, 0.51e-8);
            Assert.Equal(Table.Number(row[3]), conservative, 0.51e-8);
            Assert.Equal(Table.Number(row[4]), density, 0.51e-6);
            // The polynomial against the exact Gibbs function: within 0.002 kg/m³ where it was fitted.
            Assert.Equal(Table.Number(row[5]), density, 2e-3);
        }
    }

    // www.teos-10.org/pubs/gsw/html/gsw_rho.html, as printed; double arithmetic in another order differs by some 1e-12.
    [Fact]
    public void Density_under_pressure_agrees_with_the_worked_example()
    {
        foreach (var row in Table.Rows("teos10/gsw_rho_example.csv"))
            Assert.Equal(Table.Number(row[3]), Teos10.DensityKilogramsPerCubicMetre(Table.Number(row[0]), Table.Number(row[1]), Table.Number(row[2])), 1e-9);
    }

    // Demonstration cast of the GSW check data, sixteen digits.
    [Fact]
    public void Conservative_temperature_under_pressure_agrees_with_the_demonstration_cast()
    {
        foreach (var row in Table.Rows("teos10/conservative_temperature_cast.csv"))
            Assert.Equal(Table.Number(row[3]), Teos10.ConservativeTemperatureCelsius(Table.Number(row[0]), Table.Number(row[1]), Table.Number(row[2])), 1e-10);
    }

    [Fact]
    public void A_temperature_out_of_range_names_the_range()
    {
        var refusal = Assert.Throws<ArgumentOutOfRangeException>(() => PureWater.DensityKilogramsPerCubicMetre(77));
        Assert.StartsWith("A temperature of 77 °C lies outside the range of the density of pure water, 0 to 40 °C.", refusal.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => PureWater.DensityKilogramsPerCubicMetre(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Teos10.AbsoluteSalinityGramsPerKilogram(42.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Teos10.ConservativeTemperatureCelsius(35, 41));
        Assert.Throws<ArgumentOutOfRangeException>(() => Teos10.DensityKilogramsPerCubicMetre(35, 20, -1));
    }

    [Fact]
    public void The_whole_range_of_salinity_and_temperature_can_be_taken()
    {
        foreach (var t in (double[])[-2, 0, 40])
        {
            var absolute = Teos10.AbsoluteSalinityGramsPerKilogram(42);
            Assert.InRange(Teos10.DensityKilogramsPerCubicMetre(absolute, Teos10.ConservativeTemperatureCelsius(absolute, t)), 1020, 1036);
        }
    }
}
