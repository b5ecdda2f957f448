using System.Text.Json;
using CsCheck;
using Knownwater.Seawater;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Seawater;

public sealed class CarbonateTests
{
    private static CarbonateWater Water(double salinity, double temperature, TotalBorate borate = TotalBorate.Uppstrom1974, double phosphate = 0, double silicate = 0) => new()
    {
        PracticalSalinity = Estimate.Exact(salinity), TemperatureCelsius = Estimate.Exact(temperature), Borate = borate,
        PhosphateMicromolesPerKilogram = Estimate.Exact(phosphate), SilicateMicromolesPerKilogram = Estimate.Exact(silicate),
    };

    private static CarbonateState Of(CarbonateWater water, CarbonatePair pair, double first, double second) => CarbonateState.Of(water, pair, Estimate.Exact(first), Estimate.Exact(second));

    private static TotalBorate Borate(string word) => word == "l10" ? TotalBorate.Lee2010 : TotalBorate.Uppstrom1974;

    // Dickson, Sabine & Christian 2007, chapter 5, S 35, 25 °C: the printed digits, and the formulas recomputed by python and by R seacarb to 1e-12
    [Fact]
    public void Check_values_of_every_constant()
    {
        var k = Of(Water(35, 25), CarbonatePair.AlkalinityAndDic, 2300, 2000).Constants;
        using var file = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "data", "seawater", "carbonate_check_values_S35_T25.json")));
        var again = file.RootElement.GetProperty("recomputed_from_the_guide_formulas");
        var printed = file.RootElement.GetProperty("published");
        foreach (var (name, mine, digit) in new[]
        {
            ("lnK0", Math.Log(k["k0"]), 0.5e-4), ("log10K1", Math.Log10(k["k1"]), 0.5e-4), ("log10K2", Math.Log10(k["k2"]), 0.6e-4), ("lnKB", Math.Log(k["kb"]), 0.5e-4), ("lnKW", Math.Log(k["kw"]), 0.5e-3),
            ("lnK1P", Math.Log(k["k1p"]), 5e-3), ("lnK2P", Math.Log(k["k2p"]), 0.5e-3), ("lnK3P", Math.Log(k["k3p"]), 5e-3), ("lnKSi", Math.Log(k["ksi"]), 5e-3), ("lnKF", Math.Log(k["kf"]), 5e-3),
        })
        {
            Assert.Equal(again.GetProperty(name).GetDouble(), mine, 1e-12);
            Assert.Equal(printed.GetProperty(name).GetDouble(), mine, digit);
        }
        Assert.Equal(again.GetProperty("lnKS").GetDouble(), Math.Log(k["ks_free"]), 1e-12);
        Assert.Equal(-2.30, Math.Log(k["ks_free"]), 0.005);
        Assert.Equal(again.GetProperty("log10Kspa").GetDouble(), Math.Log10(k["ksp_aragonite"]), 1e-12);
        Assert.Equal(again.GetProperty("log10Kspc").GetDouble(), Math.Log10(k["ksp_calcite"]), 1e-12);
        foreach (var (name, mine) in new[] { ("BT", k["borate"]), ("ST", k["sulfate"]), ("FT", k["fluoride"]), ("Ca", k["calcium"]) })
            Assert.Equal(again.GetProperty(name).GetDouble(), mine, 1e-9 * mine);
        Assert.Equal(file.RootElement.GetProperty("totals_mol_per_kg").GetProperty("borate_lee2010").GetDouble(), Of(Water(35, 25, TotalBorate.Lee2010), CarbonatePair.AlkalinityAndDic, 2300, 2000).Constants["borate"], 1e-12);
    }

    // the same formulas over salinity and temperature, by python and R seacarb; half of the last digit
    [Fact]
    public void Constants_over_salinity_and_temperature()
    {
        foreach (var row in Table.Rows("seawater/carbonate_constants_grid.csv"))
        {
            var k = Of(Water(Table.Number(row[0]), Table.Number(row[1])), CarbonatePair.AlkalinityAndDic, 2300, 2000).Constants;
            double[] mine = [Math.Log(k["k0"]), Math.Log10(k["k1"]), Math.Log10(k["k2"]), Math.Log(k["kb"]), Math.Log(k["kw"])];
            for (var i = 0; i < mine.Length; i++)
                Assert.Equal(Table.Number(row[2 + i]), mine[i], 0.51e-8);
            Assert.Equal(Table.Number(row[8]), Math.Log(k["ks_free"]), 0.51e-8);
            Assert.Equal(Table.Number(row[9]), Math.Log(k["kf"]), 0.51e-8);
            Assert.Equal(Table.Number(row[10]), Math.Log10(k["ksp_aragonite"]), 0.51e-8);
            Assert.Equal(Table.Number(row[11]), Math.Log10(k["ksp_calcite"]), 0.51e-8);
            Assert.Equal(Table.Number(row[13]), 1e6 * k["borate"], 0.51e-4);
            Assert.Equal(Table.Number(row[14]), 1e3 * k["calcium"], 0.51e-6);
        }
    }

    // Weiss 1974, Table III: 100 K0, to its printed digits. Below freezing and at S 0 the carbonate constants do not hold, so those rows are left out
    [Fact]
    public void Solubility_of_carbon_dioxide_agrees_with_the_table_of_Weiss()
    {
        var rows = Table.Rows("seawater/weiss1974_table3_K0.csv").Where(r => Table.Number(r[0]) is >= 0 and <= 40 && Table.Number(r[1]) is >= 5 and <= 45).ToList();
        Assert.True(rows.Count > 20);
        foreach (var row in rows)
            Assert.Equal(Table.Number(row[2]), 100 * Of(Water(Table.Number(row[1]), Table.Number(row[0])), CarbonatePair.AlkalinityAndDic, 2300, 2000).Constants["k0"], 0.0006);
    }

    // the whole system computed by python from the same formulas, its pH to 1e-8 or so: to one in ten million, and half of the last digit
    [Fact]
    public void Systems_from_alkalinity_and_carbon()
    {
        var rows = Table.Rows("seawater/carbonate_system_TA_DIC.csv");
        Assert.True(rows.Count > 20);
        foreach (var row in rows)
        {
            var state = Of(Water(Table.Number(row[0]), Table.Number(row[1]), Borate(row[4])), CarbonatePair.AlkalinityAndDic, Table.Number(row[2]), Table.Number(row[3]));
            Assert.Equal(Table.Number(row[5]), state.PhTotal.Value, 0.51e-6);
            Assert.Equal(Table.Number(row[6]), state.Co2MicromolesPerKilogram.Value, 0.51e-5);
            Assert.Equal(Table.Number(row[7]), state.BicarbonateMicromolesPerKilogram.Value, 0.51e-5);
            Assert.Equal(Table.Number(row[8]), state.CarbonateMicromolesPerKilogram.Value, 0.51e-5);
            Assert.Equal(Table.Number(row[9]), state.Fco2Microatmospheres.Value, 0.51e-5 + 1e-7 * state.Fco2Microatmospheres.Value);
            Assert.Equal(Table.Number(row[10]), state.Pco2Microatmospheres.Value, 0.51e-5 + 1e-7 * state.Pco2Microatmospheres.Value);
            Assert.Equal(Table.Number(row[11]), state.OmegaAragonite.Value, 0.51e-5);
            Assert.Equal(Table.Number(row[12]), state.OmegaCalcite.Value, 0.51e-5);
        }
    }

    [Fact]
    public void Systems_from_pH_and_alkalinity()
    {
        foreach (var row in Table.Rows("seawater/carbonate_system_pH_TA.csv"))
        {
            var state = Of(Water(Table.Number(row[0]), Table.Number(row[1]), Borate(row[4])), CarbonatePair.AlkalinityAndPh, Table.Number(row[2]), Table.Number(row[3]));
            Assert.Equal(Table.Number(row[5]), state.DicMicromolesPerKilogram.Value, 0.51e-4);
            Assert.Equal(Table.Number(row[7]), state.CarbonateMicromolesPerKilogram.Value, 0.51e-5);
            Assert.Equal(Table.Number(row[9]), state.Pco2Microatmospheres.Value, 0.51e-4 + 1e-7 * state.Pco2Microatmospheres.Value);
            Assert.Equal(Table.Number(row[11]), state.OmegaAragonite.Value, 0.51e-5);
        }
    }

    private static ErrorSource One(string name) => ErrorSource.Normal(name, 1);

    // Orr et al. 2018, Table 2 (TA 2300, DIC 2000 µmol/kg, 18 °C, S 35, borate of Lee): four programs differ in the fourth digit among themselves; ours lies among them, to one in a thousand. The column that the copy calls free hydrogen holds the total one: the ratio is that of the scales.
    // By temperature and salinity to four in a thousand: the programs turn K_W and its like to the total scale exactly, the guide by a constant, and that leaves a slope
    [Fact]
    public void Sensitivities_agree_with_the_table_of_Orr()
    {
        var (ta, dic, t, s) = (One("alkalinity"), One("dic"), One("temperature"), One("salinity"));
        var state = CarbonateState.Of(new CarbonateWater { PracticalSalinity = Estimate.From(35, s), TemperatureCelsius = Estimate.From(18, t), Borate = TotalBorate.Lee2010 }, CarbonatePair.AlkalinityAndDic, Estimate.From(2300, ta), Estimate.From(2000, dic));
        Estimate[] columns = [state.HydrogenNanomolesPerKilogram, state.Pco2Microatmospheres, state.Co2MicromolesPerKilogram, state.BicarbonateMicromolesPerKilogram, state.CarbonateMicromolesPerKilogram, state.OmegaAragonite];
        foreach (var group in Table.Rows("seawater/orr2018_table2_sensitivities.csv").Where(r => r[1] is "CO2SYS" or "mocsy" or "seacarb").GroupBy(r => r[0]))
        {
            for (var i = 0; i < columns.Length; i++)
            {
                var programs = group.Select(r => Table.Number(r[2 + i])).ToList();
                var mine = columns[i].Contributions.Single(c => c.Source.Name == group.Key).Value;
                var slack = (group.Key is "alkalinity" or "dic" ? 1e-3 : 4e-3) * programs.Max(Math.Abs);
                Assert.True(mine >= programs.Min() - slack && mine <= programs.Max() + slack, $"d{i}/d{group.Key} is {mine}, the programs say {string.Join(", ", programs)}");
            }
        }
    }

    // Orr et al. 2018, Table 4, without doubt of the constants: phosphate 2 and silicate 60 µmol/kg, borate of Uppström, u 2, 2, 0.1 and 4 µmol/kg; ours to one in a thousand of a program
    [Fact]
    public void Propagated_doubts_agree_with_the_table_of_Orr()
    {
        static Estimate From(double value, string name, double u) => Estimate.From(value, ErrorSource.Normal(name, u));
        var state = CarbonateState.Of(
            new CarbonateWater { PracticalSalinity = Estimate.Exact(35), TemperatureCelsius = Estimate.Exact(18), PhosphateMicromolesPerKilogram = From(2, "phosphate", 0.1), SilicateMicromolesPerKilogram = From(60, "silicate", 4) },
            CarbonatePair.AlkalinityAndDic, From(2300, "alkalinity", 2), From(2000, "dic", 2));
        Estimate[] columns =
        [
            state.HydrogenNanomolesPerKilogram, state.Co2MicromolesPerKilogram, state.Fco2Microatmospheres, state.Pco2Microatmospheres, state.BicarbonateMicromolesPerKilogram, state.CarbonateMicromolesPerKilogram, state.OmegaAragonite, state.OmegaCalcite,
        ];
        var rows = Table.Rows("seawater/orr2018_table4_uncertainty.csv").Where(r => r[0] == "dic_alkalinity" && r[2] == "no").ToList();
        Assert.Equal(4, rows.Count);
        for (var i = 0; i < columns.Length; i++)
        {
            var programs = rows.Select(r => Table.Number(r[3 + i])).ToList();
            Assert.InRange(columns[i].StandardUncertainty, programs.Min() * 0.999, programs.Max() * 1.001);
        }
    }

    // the same table with the doubts of the constants, 2 % of total borate among them
    [Fact]
    public void Doubts_of_the_constants_agree_with_the_table_of_Orr()
    {
        static Estimate From(double value, string name, double u) => Estimate.From(value, ErrorSource.Normal(name, u));
        var state = CarbonateState.Of(
            new CarbonateWater { PracticalSalinity = Estimate.Exact(35), TemperatureCelsius = Estimate.Exact(18), PhosphateMicromolesPerKilogram = From(2, "phosphate", 0.1), SilicateMicromolesPerKilogram = From(60, "silicate", 4), ConstantsAreUncertain = true },
            CarbonatePair.AlkalinityAndDic, From(2300, "alkalinity", 2), From(2000, "dic", 2));
        Estimate[] columns =
        [
            state.HydrogenNanomolesPerKilogram, state.Co2MicromolesPerKilogram, state.Fco2Microatmospheres, state.Pco2Microatmospheres, state.BicarbonateMicromolesPerKilogram, state.CarbonateMicromolesPerKilogram, state.OmegaAragonite, state.OmegaCalcite,
        ];
        var rows = Table.Rows("seawater/orr2018_table4_uncertainty.csv").Where(r => r[0] == "dic_alkalinity" && r[2] == "yes").ToList();
        Assert.Equal(4, rows.Count);
        for (var i = 0; i < columns.Length; i++)
        {
            var programs = rows.Select(r => Table.Number(r[3 + i])).ToList();
            Assert.InRange(columns[i].StandardUncertainty, programs.Min() * 0.999, programs.Max() * 1.001);
        }
        // two waters share the constants
        var other = CarbonateState.Of(new CarbonateWater { PracticalSalinity = Estimate.Exact(33), TemperatureCelsius = Estimate.Exact(25), ConstantsAreUncertain = true }, CarbonatePair.AlkalinityAndDic, Estimate.Exact(2500), Estimate.Exact(2200));
        Assert.True(Estimate.Correlation(state.OmegaAragonite, other.OmegaAragonite) > 0.9);
    }

    // charge balance: alkalinity is what its bases make, by the guide's definition, species by species
    [Fact]
    public void The_charge_balance_closes()
    {
        Gen.Select(Gen.Double[5, 45], Gen.Double[0, 40], Gen.Double[600, 5000], Gen.Double[0.75, 1.05]).Sample((s, t, ta, part) =>
        {
            var state = Of(Water(s, t), CarbonatePair.AlkalinityAndDic, ta, ta * part);
            var k = state.Constants;
            var h = 1e-9 * state.HydrogenNanomolesPerKilogram.Value;
            var free = h / (1 + k["sulfate"] / k["ks_free"]);
            var sum = 1e-6 * (state.BicarbonateMicromolesPerKilogram.Value + 2 * state.CarbonateMicromolesPerKilogram.Value) + k["borate"] / (1 + h / k["kb"]) + k["kw"] / h - free - k["sulfate"] / (1 + k["ks_free"] / free) - k["fluoride"] / (1 + k["kf"] / h);
            Assert.Equal(ta, 1e6 * sum, 1e-8 * ta);
        });
    }

    [Fact]
    public void Every_pair_opens_and_closes_the_same_system()
    {
        Gen.Select(Gen.Double[5, 45], Gen.Double[0, 40], Gen.Double[600, 5000], Gen.Double[0.75, 1.05], Gen.Double[0, 5]).Sample((s, t, ta, part, phosphate) =>
        {
            var water = Water(s, t, phosphate: phosphate);
            var state = Of(water, CarbonatePair.AlkalinityAndDic, ta, ta * part);
            foreach (var (pair, first, second) in new[]
            {
                (CarbonatePair.AlkalinityAndPh, state.AlkalinityMicromolesPerKilogram, state.PhTotal), (CarbonatePair.AlkalinityAndPco2, state.AlkalinityMicromolesPerKilogram, state.Pco2Microatmospheres),
                (CarbonatePair.DicAndPh, state.DicMicromolesPerKilogram, state.PhTotal), (CarbonatePair.DicAndPco2, state.DicMicromolesPerKilogram, state.Pco2Microatmospheres), (CarbonatePair.PhAndPco2, state.PhTotal, state.Pco2Microatmospheres),
            })
            {
                var again = CarbonateState.Of(water, pair, first, second);
                Assert.Equal(state.PhTotal.Value, again.PhTotal.Value, 1e-8);
                Assert.Equal(ta, again.AlkalinityMicromolesPerKilogram.Value, 1e-7 * ta);
                Assert.Equal(ta * part, again.DicMicromolesPerKilogram.Value, 1e-7 * ta);
            }
            // what the carbon is made of is all of it
            Assert.Equal(ta * part, state.Co2MicromolesPerKilogram.Value + state.BicarbonateMicromolesPerKilogram.Value + state.CarbonateMicromolesPerKilogram.Value, 1e-9 * ta);
        });
    }

    [Fact]
    public void Saturation_rises_with_alkalinity()
    {
        Gen.Select(Gen.Double[20, 42], Gen.Double[5, 32], Gen.Double[1500, 4000], Gen.Double[1, 50]).Sample((s, t, ta, more) =>
            Of(Water(s, t), CarbonatePair.AlkalinityAndDic, ta + more, 0.9 * ta).OmegaAragonite.Value > Of(Water(s, t), CarbonatePair.AlkalinityAndDic, ta, 0.9 * ta).OmegaAragonite.Value);
    }

    [Theory]
    [InlineData(CarbonatePair.AlkalinityAndDic, 2300, 6000, "as in soda water")]
    [InlineData(CarbonatePair.AlkalinityAndDic, 9000, 100, "belong to no seawater")]
    [InlineData(CarbonatePair.DicAndPco2, 100, 9000, "not less than the 100")]
    [InlineData(CarbonatePair.AlkalinityAndPh, 100, 10.5, "no carbonate is left")]
    [InlineData(CarbonatePair.AlkalinityAndPh, 2300, 15, "4 to 11")]
    [InlineData(CarbonatePair.AlkalinityAndDic, -5, 2000, "alkalinity of -5")]
    [InlineData(CarbonatePair.AlkalinityAndDic, double.NaN, 2000, "NaN")]
    public void What_no_water_has_is_refused(CarbonatePair pair, double first, double second, string says) =>
        Assert.Contains(says, Assert.ThrowsAny<ArgumentException>(() => Of(Water(35, 25), pair, first, second)).Message, StringComparison.Ordinal);

    [Fact]
    public void Out_of_range_names_the_constants()
    {
        Assert.Contains("5 to 45", Assert.Throws<ArgumentOutOfRangeException>(() => Of(Water(2, 25), CarbonatePair.AlkalinityAndDic, 2300, 2000)).Message, StringComparison.Ordinal);
        Assert.Contains("0 to 40", Assert.Throws<ArgumentOutOfRangeException>(() => Of(Water(35, 77), CarbonatePair.AlkalinityAndDic, 2300, 2000)).Message, StringComparison.Ordinal);
    }
}
