using CsCheck;
using Knownwater.Quantities;

namespace Knownwater.Tests.Quantities;

public class FormConversionTests
{
    private static readonly WaterState Sea = new(35, 25);

    private static double Factor(string from, string to, string? parameter = null, WaterState? state = null) =>
        FormConversion.Convert(1, ReportingForm.Parse(from), ReportingForm.Parse(to), state, Parameter.Find(parameter)).Factor;

    // conversion_factors.csv, six decimals computed from the abridged weights. Tolerance: half of the last digit given.
    [Theory]
    [InlineData("NO3 per NO3-N", "mg/L NO3-N", "mg/L NO3", null)]
    [InlineData("NO2 per NO2-N", "mg/L NO2-N", "mg/L NO2", null)]
    [InlineData("NH4 per NH4-N", "mg/L NH4-N", "mg/L NH4", null)]
    [InlineData("NH3 per NH3-N", "mg/L NH3-N", "mg/L NH3", null)]
    [InlineData("PO4 per PO4-P", "mg/L PO4-P", "mg/L PO4", null)]
    [InlineData("mg/L CaO per degree dH (definition)", "dGH", "mg/L CaO", null)]
    [InlineData("mg/L CaO per degree dH (definition)", "dKH", "mg/L CaO", null)]
    [InlineData("mg/L CaCO3 per dKH", "dKH", "mg/L CaCO3", null)]
    [InlineData("mmol/L alkaline earth per dGH", "dGH", "mmol/L", null)]
    [InlineData("meq/L alkalinity per dKH", "dKH", "meq/L", null)]
    [InlineData("mg/L CaCO3 per meq/L alkalinity", "meq/L", "mg/L CaCO3", null)]
    [InlineData("mg/L Ca per dGH (all as Ca)", "dGH", "mg/L Ca", "calcium")]
    [InlineData("mg/L CaCO3 per mg/L Ca", "mg/L Ca", "mg/L CaCO3", null)]
    [InlineData("mg/L CaCO3 per French degree (definition)", "fH", "mg/L CaCO3", null)]
    [InlineData("dKH per meq/L", "meq/L", "dKH", null)]
    public void Factors_agree_with_the_table(string name, string from, string to, string? parameter)
    {
        var row = Table.Rows("conversions/conversion_factors.csv").Single(each => string.Equals(each[0], name, StringComparison.Ordinal));
        Assert.Equal(Table.Number(row[1]), Factor(from, to, parameter), 0.51e-6);
    }

    // everyday_conversions.csv, from unabridged weights, which differ by up to 1e-5 relative (iodine 126.90447 against 126.90);
    // the English degree is 14.254 mg/L there, rounded from 64.79891 mg in 4.54609 L, 1.6e-5 apart.
    [Theory]
    [InlineData("nitrate", "mg/L NO3-N", "mg/L NO3", null)]
    [InlineData("nitrate", "mg/L NO3", "umol/L", null)]
    [InlineData("nitrate", "mg/L NO3-N", "umol/L", null)]
    [InlineData("nitrite", "mg/L NO2-N", "mg/L NO2", null)]
    [InlineData("total ammonia|mg/L as N|mg/L as NH3", "mg/L NH3-N", "mg/L NH3", null)]
    [InlineData("total ammonia|mg/L as N|mg/L as NH4", "mg/L NH3-N", "mg/L NH4", null)]
    [InlineData("phosphate", "mg/L PO4-P", "mg/L PO4", null)]
    [InlineData("phosphate|ug/L (ppb) P|mg/L PO4", "ug/L P", "mg/L PO4", null)]
    [InlineData("phosphate|mg/L PO4|ug/L (ppb) P", "mg/L PO4", "ug/L P", null)]
    [InlineData("phosphate", "mg/L PO4", "umol/L", null)]
    [InlineData("phosphate", "mg/L P2O5", "mg/L PO4", null)]
    [InlineData("silicate", "mg/L Si", "mg/L SiO2", null)]
    [InlineData("silicate", "mg/L SiO2", "umol/L", null)]
    [InlineData("alkalinity", "dKH", "meq/L", null)]
    [InlineData("alkalinity", "meq/L", "dKH", null)]
    [InlineData("alkalinity", "dKH", "mg/L CaCO3", null)]
    [InlineData("alkalinity", "meq/L", "mg/L CaCO3", null)]
    [InlineData("alkalinity|meq/L|mmol/kg seawater (S=35, 25 C)", "meq/L", "mmol/kg", null)]
    [InlineData("alkalinity|meq/L|mg/L HCO3 (if all bicarbonate)", "meq/L", "mg/L HCO3", null)]
    [InlineData("general hardness|dGH|mmol/L Ca+Mg", "dGH", "mmol/L", null)]
    [InlineData("general hardness", "dGH", "mg/L CaCO3", null)]
    [InlineData("general hardness|dGH|mg/L Ca (if all calcium)", "dGH", "mg/L Ca", "calcium")]
    [InlineData("general hardness|dGH|mg/L Mg (if all magnesium)", "dGH", "mg/L Mg", "magnesium")]
    [InlineData("general hardness|French degree|dGH", "fH", "dGH", null)]
    [InlineData("general hardness|English degree (Clark)|dGH", "eH", "dGH", null)]
    [InlineData("hardness|US grain per gallon|mg/L CaCO3", "gr/gal CaCO3", "mg/L CaCO3", null)]
    [InlineData("calcium|mg/L Ca|mg/L CaCO3 (calcium hardness)", "mg/L Ca", "mg/L CaCO3", null)]
    [InlineData("calcium", "mg/L Ca", "mmol/L", null)]
    [InlineData("magnesium|mg/L Mg|mg/L CaCO3 (magnesium hardness)", "mg/L Mg", "mg/L CaCO3", null)]
    [InlineData("magnesium", "mg/L Mg", "mmol/L", null)]
    [InlineData("boron", "mg/L B", "mg/L H3BO3", null)]
    [InlineData("iodine", "mg/L I", "mg/L IO3", null)]
    [InlineData("seawater|mg/L|mg/kg (S=35, 25 C)", "mg/L NO3", "mg/kg NO3", null)]
    public void Everyday_factors_agree_with_the_table(string key, string from, string to, string? parameter)
    {
        var parts = key.Split('|');
        var (quantity, left, right) = (parts[0], parts.Length > 1 ? parts[1] : from, parts.Length > 1 ? parts[2] : to);
        var row = Table.Rows("conversions/everyday_conversions.csv").Single(each => each[0] == quantity && each[1] == left && each[2] == right);
        var expected = Table.Number(row[3]);
        Assert.Equal(expected, Factor(from, to, parameter, Sea), (from is "eH" ? 2e-5 : 1e-5) * expected);
    }

    [Fact]
    public void The_steps_say_in_words_what_was_done()
    {
        var conversion = FormConversion.Convert(5.2, ReportingForm.Parse("mg/L NO3-N"), ReportingForm.Parse("umol/kg NO3"), Sea);
        Assert.Equal(
            [
                "mg/L NO3-N ÷ 14.007 g/mol, the molar mass of N",
                "per litre to per kilogram: ÷ 1.023343 kg/L, the density of water of salinity 35 at 25 °C",
                // 1000 / 14.007 / 1.023343 by hand
                "5.2 mg/L NO3-N × 69.76436 = 362.7747 umol/kg NO3",
            ],
            conversion.Steps,
            StringComparer.Ordinal);
        Assert.Equal(5.2 * conversion.Factor, conversion.Value);
    }

    [Fact]
    public void Bicarbonate_for_alkalinity_says_what_it_counts() =>
        Assert.Contains("counting all alkalinity as bicarbonate", string.Join('\n', FormConversion.Convert(8, ReportingForm.Parse("dKH"), ReportingForm.Parse("mg/L HCO3")).Steps), StringComparison.Ordinal);

    [Theory]
    [InlineData("mg/L NO3", "mg/kg NO3")]
    [InlineData("umol/kg", "mg/L PO4")]
    [InlineData("dKH", "mmol/kg")]
    [InlineData("mg/L", "mg/kg")]
    public void Between_volume_and_mass_of_water_salinity_and_temperature_are_asked_for(string from, string to)
    {
        var missing = Assert.Throws<MissingWaterStateException>(() => Factor(from, to));
        Assert.Equal($"From {from} to {to} the density of the water is needed. Give its salinity (0 for fresh water) and its temperature.", missing.Message);
        Assert.True(Factor(from, to, null, Sea) > 0);
    }

    [Theory]
    [InlineData("mg/L NO3", "mg/L NO2", "mg/L NO3 cannot become mg/L NO2: mg/L NO3 is nitrate and mg/L NO2 is nitrite. Choose a form of the same species.")]
    [InlineData("dKH", "dGH", "dKH cannot become dGH: dKH is alkalinity, what neutralises acid, and dGH is hardness, calcium and magnesium. Choose a form of the same species.")]
    [InlineData("meq/L", "mg/L Ca", "meq/L cannot become mg/L Ca: meq/L is alkalinity and mg/L Ca is calcium. Choose a form of the same species.")]
    [InlineData("dGH", "mg/L Ca", "dGH cannot become mg/L Ca: dGH counts calcium and magnesium together, and mg/L Ca one of them alone. Choose a form of the same species.")]
    [InlineData("degC", "mg/L NO3", "degC cannot become mg/L NO3: no factor leads from one to the other. Choose a form of the same species.")]
    [InlineData("PSU", "pH", "PSU cannot become pH: no factor leads from one to the other. Choose a form of the same species.")]
    [InlineData("umol/L", "mmol/kg PO4", null)]
    [InlineData("mg/L", "umol/L", "mg/L does not say which species it counts. Write it behind the unit, as in mg/L NO3.")]
    [InlineData("mg/L PO4", "meq/L PO4", "mg/L PO4 cannot become meq/L PO4: the charge of PO4 is not fixed. Choose a form of the same species.")]
    [InlineData("mg/L N", "mg/L NO3", "mg/L N cannot become mg/L NO3: mg/L N is N and mg/L NO3 is nitrate. Choose a form of the same species.")]
    [InlineData("mg/L CaCO3", "mmol/L", "mg/L CaCO3 can count alkalinity, calcium, general hardness or magnesium, and each gives another value in mmol/L. Say which parameter it is, or write the species in both forms: mmol/L CaCO3, or meq/L for alkalinity.")]
    public void Another_species_is_refused_with_the_reason(string from, string to, string? sentence)
    {
        if (sentence is null)
        {
            Assert.True(Factor(from, to, null, Sea) > 0);
            return;
        }
        Assert.Equal(sentence, Assert.Throws<FormConversionException>(() => Factor(from, to, null, Sea)).Message);
    }

    [Fact]
    public void The_parameter_settles_what_calcium_carbonate_counts()
    {
        Assert.Equal(2 / 100.086, Factor("mg/L CaCO3", "mmol/L", "alkalinity"), 1e-15);
        Assert.Equal(1 / 100.086, Factor("mg/L CaCO3", "mmol/L", "general-hardness"), 1e-15);
        Assert.Equal("mg/L NO3 cannot become dKH: mg/L NO3 is not a form of alkalinity. Choose a form of the same species.",
            Assert.Throws<FormConversionException>(() => Factor("mg/L NO3", "dKH", "alkalinity")).Message);
    }

    [Fact]
    public void Charge_of_an_ion_is_counted() => Assert.Equal(2 / 40.078, Factor("mg/L Ca", "meq/L Ca"), 1e-15);

    [Fact]
    public void Any_analyte_is_converted_by_its_formula()
    {
        Assert.Equal(1000 / 112.41, Factor("mg/L Cd", "umol/L"), 1e-12);
        Assert.Equal(204.222 / 1000, Factor("mmol/L KHC8H4O4", "g/L KHC8H4O4"), 1e-12);
    }

    [Theory]
    [InlineData("mg/L NO3", "ug/L NO3", 1000)]
    [InlineData("ug/L", "mg/L", 0.001)]
    [InlineData("mol/L", "umol/L", 1e6)]
    [InlineData("mS/cm", "uS/cm", 1000)]
    [InlineData("S/m", "mS/cm", 10)]
    [InlineData("pH", "pH", 1)]
    public void Powers_of_ten_are_exact(string from, string to, double factor) => Assert.Equal(factor, Factor(from, to));

    [Fact]
    public void Temperatures_are_shifted_and_their_differences_scaled()
    {
        var celsius = FormConversion.Convert(77, ReportingForm.Parse("F"), ReportingForm.Parse("C"));
        Assert.Equal((25, 1 / 1.8), (celsius.Value, celsius.Factor));
        Assert.Equal(77, FormConversion.Convert(25, ReportingForm.Parse("C"), ReportingForm.Parse("F")).Value);
    }

    [Fact]
    public void Every_form_of_every_parameter_goes_there_and_back()
    {
        var pairs = Parameter.All.SelectMany(each => each.Forms.SelectMany(from => each.Forms.Select(to => (each, from, to)))).ToArray();
        Gen.Select(Gen.Int[0, pairs.Length - 1], Gen.Double[1e-6, 1e6], Gen.Double[0, 42], Gen.Double[0, 40]).Sample((index, value, salinity, temperature) =>
        {
            var (parameter, from, to) = pairs[index];
            var state = new WaterState(salinity, temperature);
            var there = FormConversion.Convert(value, from, to, state, parameter);
            var back = FormConversion.Convert(there.Value, to, from, state, parameter);
            var twice = FormConversion.Convert(2 * value, from, to, state, parameter);
            return Math.Abs(back.Value - value) <= 1e-12 * value
                && Math.Abs((there.Factor * back.Factor) - 1) <= 1e-12
                && Math.Abs(twice.Value - (2 * there.Value)) <= 1e-12 * Math.Abs(twice.Value);
        });
    }

    [Fact]
    public void The_way_over_a_third_form_gives_the_same_value()
    {
        string[] forms = ["dKH", "meq/L", "mg/L CaCO3", "mmol/kg", "mg/L HCO3", "ueq/kg"];
        var alkalinity = Parameter.Find("alkalinity");
        Gen.Select(Gen.Int[0, 5], Gen.Int[0, 5], Gen.Int[0, 5], Gen.Double[0.1, 1000]).Sample((a, b, c, value) =>
        {
            var (one, two, three) = (ReportingForm.Parse(forms[a]), ReportingForm.Parse(forms[b]), ReportingForm.Parse(forms[c]));
            var direct = FormConversion.Convert(value, one, three, Sea, alkalinity).Value;
            var over = FormConversion.Convert(FormConversion.Convert(value, one, two, Sea, alkalinity).Value, two, three, Sea, alkalinity).Value;
            return Math.Abs(direct - over) <= 1e-12 * direct;
        });
    }

    [Fact]
    public void Only_finite_values_are_converted()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => FormConversion.Convert(double.NaN, ReportingForm.Parse("dKH"), ReportingForm.Parse("meq/L")));
        Assert.Throws<ArgumentOutOfRangeException>(() => FormConversion.Convert(1e300, ReportingForm.Parse("g/L"), ReportingForm.Parse("ng/L")).Value);
    }

    [Theory]
    [InlineData(35, 25, 1023.343)]
    [InlineData(0, 25, 997.047)]
    // UNESCO EOS-80 gives 1023.343 and 1024.763 as well; TEOS-10 agrees within 0.01 kg/m³.
    [InlineData(35, 20, 1024.763)]
    public void Density_follows_salinity_and_temperature(double salinity, double temperature, double density) =>
        Assert.Equal(density, new WaterState(salinity, temperature).DensityKilogramsPerCubicMetre, 0.01);

    [Fact]
    public void A_water_out_of_range_is_refused_by_name()
    {
        Assert.StartsWith("A salinity of 53 lies outside the range of the density of water, 0 to 42.", Assert.Throws<ArgumentOutOfRangeException>(() => new WaterState(53, 25)).Message, StringComparison.Ordinal);
        Assert.StartsWith("A temperature of 77 °C lies outside", Assert.Throws<ArgumentOutOfRangeException>(() => new WaterState(35, 77)).Message, StringComparison.Ordinal);
    }
}
