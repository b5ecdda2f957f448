using CsCheck;
using Knownwater.Quantities;

namespace Knownwater.Tests.Quantities;

public class ReportingFormTests
{
    private static readonly string[] Units = ["g/L", "mg/L", "ug/L", "mmol/L", "umol/kg", "mg/kg", "meq/L", "gr/gal"];
    private static readonly string[] SpeciesNames = ["NO3", "NO3-N", "PO4-P", "Si(OH)4", "CaCO3", "MgCl2.6H2O", "Cd", "K"];

    [Theory]
    [InlineData("mg/L NO3", "mg/L NO3", "mg/L NO₃", "mg/L", "NO3", FormKind.MassConcentration)]
    [InlineData("mg/l NO₃-N", "mg/L NO3-N", "mg/L NO₃-N", "mg/L", "NO3-N", FormKind.MassConcentration)]
    [InlineData("MG/L no3-n", "mg/L NO3-N", "mg/L NO₃-N", "mg/L", "NO3-N", FormKind.MassConcentration)]
    [InlineData("NO3-N mg/L", "mg/L NO3-N", "mg/L NO₃-N", "mg/L", "NO3-N", FormKind.MassConcentration)]
    [InlineData("mg NO3-N/L", "mg/L NO3-N", "mg/L NO₃-N", "mg/L", "NO3-N", FormKind.MassConcentration)]
    [InlineData("mg/L (NO3-N)", "mg/L NO3-N", "mg/L NO₃-N", "mg/L", "NO3-N", FormKind.MassConcentration)]
    [InlineData("mg/L N-NO3", "mg/L NO3-N", "mg/L NO₃-N", "mg/L", "NO3-N", FormKind.MassConcentration)]
    [InlineData("mg/L NO3 - N", "mg/L NO3-N", "mg/L NO₃-N", "mg/L", "NO3-N", FormKind.MassConcentration)]
    [InlineData("mg L⁻¹ NO3", "mg/L NO3", "mg/L NO₃", "mg/L", "NO3", FormKind.MassConcentration)]
    [InlineData("mg·L-1 NO3", "mg/L NO3", "mg/L NO₃", "mg/L", "NO3", FormKind.MassConcentration)]
    [InlineData("mg/L NO3-", "mg/L NO3", "mg/L NO₃", "mg/L", "NO3", FormKind.MassConcentration)]
    [InlineData("mg/L PO4³⁻", "mg/L PO4", "mg/L PO₄", "mg/L", "PO4", FormKind.MassConcentration)]
    [InlineData("mg/L Ca2+", "mg/L Ca", "mg/L Ca", "mg/L", "Ca", FormKind.MassConcentration)]
    [InlineData("mg/L Ca²⁺", "mg/L Ca", "mg/L Ca", "mg/L", "Ca", FormKind.MassConcentration)]
    [InlineData("mg/L as CaCO3", "mg/L CaCO3", "mg/L CaCO₃", "mg/L", "CaCO3", FormKind.MassConcentration)]
    [InlineData("g/m³ Fe", "mg/L Fe", "mg/L Fe", "mg/L", "Fe", FormKind.MassConcentration)]
    [InlineData("mg/L PO4 as P", "mg/L PO4-P", "mg/L PO₄-P", "mg/L", "PO4-P", FormKind.MassConcentration)]
    [InlineData("mg/L NH3 N", "mg/L NH3-N", "mg/L NH₃-N", "mg/L", "NH3-N", FormKind.MassConcentration)]
    [InlineData("mg/L (as CaCO3)", "mg/L CaCO3", "mg/L CaCO₃", "mg/L", "CaCO3", FormKind.MassConcentration)]
    [InlineData("mg/L PO4 3-", "mg/L PO4", "mg/L PO₄", "mg/L", "PO4", FormKind.MassConcentration)]
    [InlineData("mg/L nitrate", "mg/L NO3", "mg/L NO₃", "mg/L", "NO3", FormKind.MassConcentration)]
    [InlineData("g/L MgCl2 · 6 H2O", "g/L MgCl2.6H2O", "g/L MgCl₂·6H₂O", "g/L", "MgCl2.6H2O", FormKind.MassConcentration)]
    [InlineData("µg/L PO4-P", "ug/L PO4-P", "µg/L PO₄-P", "ug/L", "PO4-P", FormKind.MassConcentration)]
    [InlineData("μg/l PO4-P", "ug/L PO4-P", "µg/L PO₄-P", "ug/L", "PO4-P", FormKind.MassConcentration)]
    [InlineData("g/m3 Fe", "mg/L Fe", "mg/L Fe", "mg/L", "Fe", FormKind.MassConcentration)]
    [InlineData("mg/L Cd", "mg/L Cd", "mg/L Cd", "mg/L", "Cd", FormKind.MassConcentration)]
    [InlineData("g/L Si(OH)4", "g/L Si(OH)4", "g/L Si(OH)₄", "g/L", "Si(OH)4", FormKind.MassConcentration)]
    [InlineData("mg/L TAN", "mg/L NH3-N", "mg/L NH₃-N", "mg/L", "NH3-N", FormKind.MassConcentration)]
    [InlineData("µmol/L", "umol/L", "µmol/L", "umol/L", null, FormKind.AmountConcentration)]
    [InlineData("µM NO3", "umol/L NO3", "µmol/L NO₃", "umol/L", "NO3", FormKind.AmountConcentration)]
    [InlineData("umol/kg NO3", "umol/kg NO3", "µmol/kg NO₃", "umol/kg", "NO3", FormKind.AmountContent)]
    [InlineData("mg / kg K", "mg/kg K", "mg/kg K", "mg/kg", "K", FormKind.MassContent)]
    [InlineData("meq/L", "meq/L", "meq/L", "meq/L", null, FormKind.ChargeConcentration)]
    [InlineData("mval/l", "meq/L", "meq/L", "meq/L", null, FormKind.ChargeConcentration)]
    [InlineData("DKH", "dKH", "dKH", "dKH", null, FormKind.AlkalinityDegrees)]
    [InlineData("°dKH", "dKH", "dKH", "dKH", null, FormKind.AlkalinityDegrees)]
    [InlineData("°KH", "dKH", "dKH", "dKH", null, FormKind.AlkalinityDegrees)]
    [InlineData("dgh", "dGH", "dGH", "dGH", null, FormKind.HardnessDegrees)]
    [InlineData("°fH", "fH", "°fH", "fH", null, FormKind.HardnessDegrees)]
    [InlineData("°C", "degC", "°C", "degC", null, FormKind.Temperature)]
    [InlineData("C", "degC", "°C", "degC", null, FormKind.Temperature)]
    [InlineData("F", "degF", "°F", "degF", null, FormKind.Temperature)]
    [InlineData("ph", "pH", "pH", "pH", null, FormKind.Acidity)]
    [InlineData("µS/cm", "uS/cm", "µS/cm", "uS/cm", null, FormKind.Conductivity)]
    public void Forms_are_read_forgivingly(string typed, string text, string display, string unit, string? species, FormKind kind)
    {
        var form = ReportingForm.Parse(typed);
        Assert.Equal(text, form.Text);
        Assert.Equal(display, form.Display);
        Assert.Equal(unit, form.Unit);
        Assert.Equal(species, form.Species);
        Assert.Equal(kind, form.Kind);
        Assert.Equal(form, ReportingForm.Parse(form.Text));
        Assert.Equal(form, ReportingForm.Parse(form.Display));
    }

    [Theory]
    [InlineData("ppm NO3", "ppm is mg/kg or mg/L, and in seawater these differ by 2 to 3 %. Which one?", "mg/L NO3|mg/kg NO3")]
    [InlineData("ppb P", "ppb is ug/kg or ug/L, and in seawater these differ by 2 to 3 %. Which one?", "ug/L P|ug/kg P")]
    [InlineData("PPM", "PPM is mg/kg or mg/L, and in seawater these differ by 2 to 3 %. Which one?", "mg/L|mg/kg")]
    [InlineData("°dH", "\"°dH\" can mean dKH, the alkalinity, or dGH, the hardness. Which one?", "dKH|dGH")]
    [InlineData("NO3", "\"NO3\" names a species but no unit. Write the unit before it, such as mg/L NO3.", "")]
    [InlineData("dKH CaCO3", "\"dKH CaCO3\" names a species, but dKH stands alone. Write dKH.", "dKH")]
    [InlineData("mg/L NO3-P", "\"NO3-P\" counts the P in NO3, but NO3 holds none. Name one of its elements: NO3-N or NO3-O.", "")]
    [InlineData("mg/L Unobtainium", "\"Unobtainium\" is not a formula: Un is not an element with a standard atomic weight. Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.", "")]
    [InlineData("mg/L NO3 NO2", "\"NO3 NO2\" is not one species. Write its formula in one word, such as NO3, NO3-N or CaCO3.", "")]
    [InlineData("mg/L N O3", "\"N O3\" is not one species. Write its formula in one word, such as NO3, NO3-N or CaCO3.", "")]
    [InlineData("furlongs", "\"furlongs\" is not a reporting form known here. Write one such as mg/L NO3, mg/L NO3-N, umol/kg NO3, meq/L or dKH.", "")]
    [InlineData("", "The reporting form is empty. Write one such as mg/L NO3, mg/L NO3-N, umol/kg NO3, meq/L or dKH.", "")]
    public void What_is_no_form_is_refused_with_a_sentence(string typed, string sentence, string offers)
    {
        Assert.False(ReportingForm.TryParse(typed, out var form, out var error, out var offered));
        Assert.Null(form);
        Assert.Equal(sentence, error);
        Assert.Equal(offers, string.Join('|', offered));
        Assert.All(offered, each => ReportingForm.Parse(each));
    }

    [Fact]
    public void Forms_with_one_canonical_text_are_equal()
    {
        var one = ReportingForm.Parse("mg/L NO3");
        var other = ReportingForm.Parse("mg/l NO₃");
        Assert.True(one == other);
        Assert.False(one != other);
        Assert.Equal(one.GetHashCode(), other.GetHashCode());
        Assert.True(one != ReportingForm.Parse("mg/L NO3-N"));
        Assert.False(one.Equals(null));
    }

    [Fact]
    public void Every_form_comes_back_from_its_text_and_from_its_display() =>
        Gen.Select(Gen.Int[0, Units.Length - 1].Select(i => Units[i]), Gen.Int[0, SpeciesNames.Length - 1].Select(i => SpeciesNames[i])).Sample((unit, species) =>
        {
            var form = ReportingForm.Parse($"{unit} {species}");
            return form.Equals(ReportingForm.Parse(form.Text)) && form.Equals(ReportingForm.Parse(form.Display));
        });

    [Fact]
    public void Whatever_is_typed_as_a_form_never_throws_and_always_answers() =>
        Gen.String[Gen.Char["mgLukoleqdKHGppNO3PCaS-/() ₃µ°%²·as\uD800"], 0, 30].Sample(typed =>
            ReportingForm.TryParse(typed, out var form, out var error) ? form.Equals(ReportingForm.Parse(form.Text)) : error[^1] is '.' or '?');
}
