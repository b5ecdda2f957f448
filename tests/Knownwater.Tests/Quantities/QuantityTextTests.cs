using CsCheck;
using Knownwater.Quantities;

namespace Knownwater.Tests.Quantities;

public class QuantityTextTests
{
    private static ReportingForm Form(string text) => ReportingForm.Parse(text);

    [Theory]
    [InlineData("5.2 mg/L NO3-N", 5.2, "mg/L NO3-N")]
    [InlineData("5,2 mg/L NO3-N", 5.2, "mg/L NO3-N")]
    [InlineData("5.2mg/L NO3-N", 5.2, "mg/L NO3-N")]
    [InlineData("8.0 dKH", 8, "dKH")]
    [InlineData("8.0dKH", 8, "dKH")]
    [InlineData("25 C", 25, "degC")]
    [InlineData("77F", 77, "degF")]
    [InlineData("25 °C", 25, "degC")]
    [InlineData("-0.05 mg/L PO4", -0.05, "mg/L PO4")]
    [InlineData("1e-3 mol/L Cd", 0.001, "mol/L Cd")]
    [InlineData("2 eq/L", 2, "eq/L")]
    [InlineData("2eq/L", 2, "eq/L")]
    [InlineData("1 000 µmol/kg", 1000, "umol/kg")]
    [InlineData("35 PSU", 35, "PSU")]
    [InlineData("50.4 mS/cm", 50.4, "mS/cm")]
    public void Quantities_are_a_number_and_a_unit(string text, double value, string form) =>
        Assert.Equal(new Quantity(value, Form(form)), QuantityText.ReadQuantity(text));

    [Theory]
    [InlineData("mg/L NO3", "\"mg/L NO3\" has no number. Write a number and a unit, such as 5.2 mg/L NO3.", "")]
    [InlineData("5.2", "\"5.2\" has no unit. Write a number and a unit, such as 5.2 mg/L NO3.", "")]
    [InlineData("", "\"\" has no number. Write a number and a unit, such as 5.2 mg/L NO3.", "")]
    [InlineData("5 ppm NO3", "ppm is mg/kg or mg/L, and in seawater these differ by 2 to 3 %. Which one?", "mg/L NO3|mg/kg NO3")]
    [InlineData("1,234 mg/L NO3", "\"1,234\" can mean 1.234 or 1234. Which one?", "1.234|1234")]
    [InlineData("7,9o dKH", "\"7,9o\" ends in the letter o, so it is not a number yet. Did you mean 7,90?", "7,90")]
    [InlineData("<0.02 mg/L PO4", "\"<0.02\" is a limit, but a value is asked for. Write the number without its sign.", "")]
    [InlineData("5 furlongs", "\"furlongs\" is not a reporting form known here. Write one such as mg/L NO3, mg/L NO3-N, umol/kg NO3, meq/L or dKH.", "")]
    public void What_is_no_quantity_is_refused_with_a_sentence(string text, string sentence, string offers)
    {
        var refusal = Assert.Throws<QuantityFormatException>(() => QuantityText.ReadQuantity(text));
        Assert.Equal(sentence, refusal.Message);
        Assert.Equal(offers, string.Join('|', refusal.Offers));
    }

    [Theory]
    [InlineData("1000 mg/L NO3", 1000, "mg/L NO3", 0, DoubtKind.NotGiven, null, 0)]
    [InlineData("1000 mg/L NO3 ± 0.5%", 1000, "mg/L NO3", 5, DoubtKind.HalfWidth, null, 5)]
    [InlineData("1000 mg/L NO3 ± 0,5 %", 1000, "mg/L NO3", 5, DoubtKind.HalfWidth, null, 5)]
    [InlineData("1000 mg/L NO3 +- 5 mg/L", 1000, "mg/L NO3", 5, DoubtKind.HalfWidth, null, 5)]
    [InlineData("1000 mg/L NO3 +/- 5", 1000, "mg/L NO3", 5, DoubtKind.HalfWidth, null, 5)]
    [InlineData("1000 mg/L NO3 + − 5", 1000, "mg/L NO3", 5, DoubtKind.HalfWidth, null, 5)]
    [InlineData("1 g/L NO3 ± 5 mg/L NO3", 1, "g/L NO3", 0.005, DoubtKind.HalfWidth, null, 5)]
    [InlineData("1000 mg/L NO3 ± 5 mg/L (k=2)", 1000, "mg/L NO3", 5, DoubtKind.Expanded, 2.0, 5)]
    [InlineData("1000 mg/L NO3 ± 0.5% (k = 2)", 1000, "mg/L NO3", 5, DoubtKind.Expanded, 2.0, 5)]
    [InlineData("1000 mg/L NO3 ± 5 k=1", 1000, "mg/L NO3", 5, DoubtKind.Expanded, 1.0, 5)]
    [InlineData("1000 ± 5 mg/L NO3", 1000, "mg/L NO3", 5, DoubtKind.HalfWidth, null, 5)]
    [InlineData("7.9±0.1 dKH", 7.9, "dKH", 0.1, DoubtKind.HalfWidth, null, 0.1)]
    [InlineData("25 C ± 0.9 F", 25, "degC", 0.5, DoubtKind.HalfWidth, null, 0.9)]
    [InlineData("1 mg/L NO3-N ± 0.4426644 mg/L NO3", 1, "mg/L NO3-N", 0.1, DoubtKind.HalfWidth, null, 0.44)]
    public void Uncertain_quantities_are_read(string text, double value, string form, double doubt, DoubtKind kind, double? k, double typed)
    {
        Assert.True(typed >= 0);
        var read = QuantityText.ReadUncertainQuantity(text);
        Assert.Equal((value, Form(form), kind, k), (read.Value, read.Form, read.Kind, read.CoverageFactor));
        Assert.Equal(doubt, read.Doubt, 1e-7 * (doubt + 1e-300));
        // JCGM 100:2008, 4.3.7 and 4.3.3
        Assert.Equal(kind switch { DoubtKind.HalfWidth => doubt / Math.Sqrt(3), DoubtKind.Expanded => doubt / k!.Value, _ => 0 }, read.StandardUncertainty, 1e-7 * (doubt + 1e-300));
    }

    [Theory]
    [InlineData("0 mg/L NO3 ± 5%", "\"0 mg/L NO3 ± 5%\" gives no doubt at all, as a percentage of zero is zero. Write the doubt in mg/L.")]
    [InlineData("1000 mg/L NO3 ±", "\"1000 mg/L NO3 ±\" needs a value before ± and a doubt behind it. Write it as in 1000 mg/L NO3 ± 5 mg/L.")]
    [InlineData("1000 mg/L NO3 ± 5 (k=0)", "\"1000 mg/L NO3 ± 5 (k=0)\" has a coverage factor of 0, but it is above zero. Write (k=2) for a 95 % interval.")]
    [InlineData("1000 mg/L NO3 ± -5", "\"1000 mg/L NO3 ± -5\" has a doubt below zero. Write it without a sign of its own.")]
    [InlineData("1000 mg/L NO3 ± 5 dKH", "\"5 dKH\" does not fit a value in mg/L NO3: dKH cannot become mg/L NO3: dKH is alkalinity and mg/L NO3 is nitrate. Choose a form of the same species.")]
    public void A_doubt_that_cannot_be_is_refused_with_a_sentence(string text, string sentence) =>
        Assert.Equal(sentence, Assert.Throws<QuantityFormatException>(() => QuantityText.ReadUncertainQuantity(text)).Message);

    [Theory]
    [InlineData("5%", "mg/L PO4", 0, 5)]
    [InlineData("5 %", "mg/L PO4", 0, 5)]
    [InlineData("0.02 mg/L PO4", "mg/L PO4", 0.02, 0)]
    [InlineData("0.02 mg/L PO4 + 5%", "mg/L PO4", 0.02, 5)]
    [InlineData("0,02 mg/L PO4 + 5 %", "mg/L PO4", 0.02, 5)]
    [InlineData("5% + 0.02 mg/L PO4", "mg/L PO4", 0.02, 5)]
    [InlineData("0.02 mg/L + 5%", "mg/L PO4", 0.02, 5)]
    [InlineData("20 µg/L", "mg/L PO4", 0.02, 0)]
    [InlineData("0.02", "mg/L PO4", 0.02, 0)]
    [InlineData("0.02+5%", "mg/L PO4", 0.02, 5)]
    [InlineData("± 0.02", "mg/L PO4", 0.02, 0)]
    [InlineData("2e-2 + 1e+1%", "mg/L PO4", 0.02, 10)]
    [InlineData("0.3 dKH + 2%", "dKH", 0.3, 2)]
    [InlineData("0.3 dKH + 2%", "meq/L", 0.3 * 20 / 56.077, 2)]
    [InlineData("0.1 mg/L PO4-P", "mg/L PO4", 0.1 * 94.970 / 30.974, 0)]
    [InlineData("0.9 F", "degC", 0.5, 0)]
    public void Tolerances_add_an_absolute_part_and_a_percentage(string text, string form, double absolute, double percent)
    {
        var tolerance = QuantityText.ReadTolerance(text, Form(form));
        Assert.Equal(absolute, tolerance.Absolute, 1e-12 * (absolute + 1e-300));
        Assert.Equal(percent, tolerance.Percent);
    }

    [Theory]
    [InlineData("", "\"\" is not a tolerance. Write one such as 5%, or 0.3 mg/L PO4 + 5%.")]
    [InlineData("0.02 +", "\"0.02 +\" is not a tolerance. Write one such as 5%, or 0.3 mg/L PO4 + 5%.")]
    [InlineData("5% + 3%", "\"5% + 3%\" has two percentages. Write one, as in 0.3 mg/L PO4 + 5%.")]
    [InlineData("0.02 + 0.03", "\"0.02 + 0.03\" has two absolute parts. Write one, as in 0.3 mg/L PO4 + 5%.")]
    [InlineData("-5%", "\"-5%\" has a part below zero. A tolerance says how wrong a reading may be, both ways; write it without a sign.")]
    [InlineData("0", "\"0\" is a tolerance of nothing, which no reading can keep. Write how wrong a reading may be before you would act differently.")]
    [InlineData("0.3 dKH", "\"0.3 dKH\" does not fit a value in mg/L PO4: dKH cannot become mg/L PO4: dKH is alkalinity and mg/L PO4 is phosphate. Choose a form of the same species.")]
    [InlineData("some", "\"some\" has no number. Write a number and a unit, such as 5.2 mg/L NO3.")]
    public void What_is_no_tolerance_is_refused_with_a_sentence(string text, string sentence) =>
        Assert.Equal(sentence, Assert.Throws<QuantityFormatException>(() => QuantityText.ReadTolerance(text, Form("mg/L PO4"))).Message);

    [Fact]
    public void A_tolerance_per_kilogram_asks_for_the_state_of_the_water()
    {
        Assert.Throws<MissingWaterStateException>(() => QuantityText.ReadTolerance("1 umol/kg", Form("mg/L NO3")));
        Assert.Equal(0.0620040 * 1.023343, QuantityText.ReadTolerance("1 umol/kg", Form("mg/L NO3"), state: new WaterState(35, 25)).Absolute, 1e-6);
    }

    [Theory]
    [InlineData("25 C", 25)]
    [InlineData("25 °C", 25)]
    [InlineData("77 F", 25)]
    [InlineData("24,5C", 24.5)]
    public void Temperatures_are_read_in_both_scales(string text, double celsius) => Assert.Equal(celsius, QuantityText.ReadTemperatureCelsius(text), 1e-12);

    [Theory]
    [InlineData("250 mL", 250)]
    [InlineData("250ml", 250)]
    [InlineData("500 µL", 0.5)]
    [InlineData("0,5 L", 500)]
    [InlineData("5l", 5000)]
    [InlineData("1 gal", 3785.411784)]
    [InlineData("1 US gallon", 3785.411784)]
    [InlineData("1 imp gal", 4546.09)]
    public void Volumes_are_read_in_litres_and_gallons(string text, double millilitres) => Assert.Equal(millilitres, QuantityText.ReadVolumeMillilitres(text), 1e-9);

    [Theory]
    [InlineData("815.3 mg", 0.8153)]
    [InlineData("0.8153 g", 0.8153)]
    [InlineData("1kg", 1000)]
    public void Masses_are_read(string text, double grams) => Assert.Equal(grams, QuantityText.ReadMassGrams(text), 1e-12);

    [Fact]
    public void A_unit_of_the_wrong_kind_is_named()
    {
        Assert.Equal("\"25 mL\" is in mL, but a mass is asked for. Write one such as 0.8153 g or 815.3 mg.", Assert.Throws<QuantityFormatException>(() => QuantityText.ReadMassGrams("25 mL")).Message);
        Assert.Equal("\"8 dKH\" is in dKH, but a temperature is asked for. Write one such as 25 C or 77 F.", Assert.Throws<QuantityFormatException>(() => QuantityText.ReadTemperatureCelsius("8 dKH")).Message);
        Assert.Equal("\"-5 mL\" is below zero, which a volume cannot be. Write it without a minus.", Assert.Throws<QuantityFormatException>(() => QuantityText.ReadVolumeMillilitres("-5 mL")).Message);
    }

    [Fact]
    public void A_quantity_comes_back_exactly_from_its_text() =>
        Gen.Select(Gen.Double.Where(double.IsFinite), Gen.Int[0, 4]).Sample((value, index) =>
        {
            string[] forms = ["mg/L NO3-N", "dKH", "umol/kg", "degC", "eq/L"];
            var quantity = new Quantity(value, Form(forms[index]));
            return QuantityText.ReadQuantity(quantity.ToString(), DecimalSign.Point) == quantity;
        });

    [Fact]
    public void A_tolerance_comes_back_exactly_from_its_text() =>
        Gen.Select(Gen.Double[0, 1e6], Gen.Double[0, 100]).Where((absolute, percent) => absolute + percent > 0).Sample((absolute, percent) =>
        {
            var tolerance = new Tolerance(absolute, percent);
            return QuantityText.ReadTolerance(QuantityText.WriteTolerance(tolerance, Form("mg/L PO4")), Form("mg/L PO4"), DecimalSign.Point) == tolerance;
        });

    [Fact]
    public void Whatever_is_written_is_read_or_refused_with_a_sentence() =>
        Gen.String[Gen.Char["0123456789.,'± +-/%()=kmgLNO3dKHCFe<"], 0, 40].Sample(text =>
        {
            try
            {
                _ = QuantityText.ReadUncertainQuantity(text);
                _ = QuantityText.ReadTolerance(text, Form("mg/L NO3"));
                return true;
            }
            catch (QuantityFormatException refusal)
            {
                return refusal.Message[^1] is '.' or '?';
            }
            catch (MissingWaterStateException)
            {
                return true;
            }
        });
}
