using Knownwater.Preparation;
using Knownwater.Quantities;

namespace Knownwater.Tests.Preparation;

public class SaltYieldTests
{
    [Theory]
    [InlineData("KI", "mg/L IO3")]
    [InlineData("Na2S2O3", "mg/L SO4")]
    [InlineData("KBr", "mg/L BrO3")]
    [InlineData("NaNO2", "mg/L NO3")]
    public void An_element_in_another_form_gives_none_of_the_analyte(string salt, string form) =>
        Assert.Contains("another form", Assert.Throws<PreparationException>(() => SaltYield.PerGramPerMillilitre(ChemicalFormula.Parse(salt), ReportingForm.Parse(form))).Message, StringComparison.Ordinal);

    // molar masses by hand from the abridged weights of IUPAC 2021: IO3 126.904 + 3 · 15.999 = 174.901, KIO3 213.999; 2 SO4 = 192.116 in Fe(NH4)2(SO4)2.6H2O, 392.131
    [Theory]
    [InlineData("KIO3", "mg/L IO3", 174.901 / 213.999)]
    [InlineData("KIO3", "mg/L I", 126.904 / 213.999)]
    [InlineData("Fe(NH4)2(SO4)2.6H2O", "mg/L SO4", 192.116 / 392.131)]
    public void A_gram_gives_its_share_of_the_molar_mass(string salt, string form, double share) =>
        Assert.Equal(1e6 * share, SaltYield.PerGramPerMillilitre(ChemicalFormula.Parse(salt), ReportingForm.Parse(form)), 1e6 * share * 2e-5);
}
