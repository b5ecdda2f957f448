using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Preparation;

public sealed class PrecipitationTests
{
    private static DissolvedIons Salt(string formula, double moles) => DissolvedIons.None.WithSalt(ChemicalFormula.Parse(formula), moles);

    private static DissolvedIons And(DissolvedIons ions, string formula, double moles) => ions.WithSalt(ChemicalFormula.Parse(formula), moles);

    [Theory]
    [InlineData("CaCl2", 0.5, "NaHCO3", 0.5, "CaCO3")]
    [InlineData("CaCl2", 0.1, "Na2CO3", 0.1, "CaCO3")]
    [InlineData("CaCl2", 0.5, "Na2SO4", 0.5, "CaSO4.2H2O")]
    [InlineData("CaCl2", 0.5, "MgSO4.7H2O", 0.5, "CaSO4.2H2O")]
    [InlineData("CaCl2", 0.1, "KH2PO4", 0.1, "CaHPO4.2H2O")]
    [InlineData("SrCl2", 0.01, "Na2SO4", 0.01, "SrSO4")]
    [InlineData("BaCl2", 0.001, "K2SO4", 0.001, "BaSO4")]
    [InlineData("MgCl2", 0.5, "Na2CO3", 0.5, "MgCO3.3H2O")]
    [InlineData("MgCl2", 0.1, "NaOH", 0.1, "Mg(OH)2")]
    [InlineData("CaCl2", 0.1, "NaF", 0.1, "CaF2")]
    public void Strong_solutions_that_do_not_bear_each_other_are_certain(string one, double moles, string other, double otherMoles, string solid)
    {
        var risk = Assert.Single(Precipitation.Of(And(Salt(one, moles), other, otherMoles)), r => r.Solid == solid);
        Assert.True(risk.IsCertain);
        Assert.Contains(risk.Name, risk.Sentence);
        Assert.Contains("the limit", risk.Sentence);
        Assert.EndsWith(".", risk.Sentence);
        Assert.Empty(Precipitation.Of(Salt(one, moles)));
    }

    [Fact]
    public void Struvite_needs_all_three()
    {
        var two = And(Salt("MgCl2", 0.1), "NH4Cl", 0.1);
        Assert.Empty(Precipitation.Of(two));
        Assert.Contains(Precipitation.Of(And(two, "K2HPO4", 0.1)), r => r.Solid == "MgNH4PO4.6H2O");
    }

    // Solubility of gypsum in water at 25 °C is 2.1 g/L CaSO4, 15.2 mmol/L (Marshall & Slusher 1966); without its ion pairs the rule must warn below that and not far below
    [Fact]
    public void Gypsum_s_solubility_lies_where_it_is_measured()
    {
        Assert.NotEmpty(Precipitation.Of(Salt("CaSO4", 0.0152)));
        Assert.Empty(Precipitation.Of(Salt("CaSO4", 0.0152 / 2)));
    }

    // Strontium sulfate dissolves to 0.132 g/L at 25 °C (0.72 mmol/L, CRC Handbook 0.135 g/L), barium sulfate to about 1.0e-5 mol/L (square root of 1.1e-10)
    [Theory]
    [InlineData("SrSO4", 0.00072)]
    [InlineData("BaSO4", 1.05e-5)]
    public void A_sparingly_soluble_sulfate_stays_dissolved_below_its_solubility(string formula, double moles)
    {
        Assert.Empty(Precipitation.Of(Salt(formula, 0.6 * moles)));
        Assert.NotEmpty(Precipitation.Of(Salt(formula, 1.2 * moles)));
    }

    // Davies at I = 0.1: log γ = −0.509·4·(0.31623/1.31623 − 0.03) = −0.4281; product for calcium 0.01, sulfate 0.01, NaCl 0.06: 1e-4 · 10^−0.8562 = 1.3927e-5, below 10^−4.58; at twice both, by hand 4.6e-5 at I = 0.14
    [Fact]
    public void The_ion_product_is_of_activities()
    {
        var ions = And(And(Salt("CaCl2", 0.01), "Na2SO4", 0.01), "NaCl", 0.04);
        Assert.Equal(0.1, ions.IonicStrength, 1e-12);
        Assert.Empty(Precipitation.Of(ions));
        var twice = And(And(Salt("CaCl2", 0.02), "Na2SO4", 0.02), "NaCl", 0.02);
        Assert.Equal(0.14, twice.IonicStrength, 1e-12);
        var root = Math.Sqrt(0.14);
        Assert.Equal(4e-4 * Math.Pow(10, -2 * 0.509 * 4 * (root / (1 + root) - 0.042)), Assert.Single(Precipitation.Of(twice)).Product, 1e-10);
    }

    [Fact]
    public void The_sea_itself_stays_dissolved()
    {
        foreach (var salinity in new double[] { 20, 30, 35, 40 })
            Assert.Empty(Precipitation.Of(DissolvedIons.None.WithSeawater(salinity), salinity));
    }

    // ordinary references in seawater: nitrate, phosphate 2 mg/L, ammonia 1 mg/L N, alkalinity up to 12 dKH, calcium 460, magnesium 1400, strontium 12 mg/L in all
    [Fact]
    public void Ordinary_known_waters_stay_dissolved()
    {
        var sea = DissolvedIons.None.WithSeawater(35);
        DissolvedIons With(string form, double value) => sea.WithAmount(ReportingForm.Parse(form), value);
        Assert.Empty(Precipitation.Of(With("mg/L PO4", 2), 35));
        Assert.Empty(Precipitation.Of(With("mg/L NH3-N", 1), 35));
        Assert.Empty(Precipitation.Of(With("dKH", 5.5), 35));
        Assert.Empty(Precipitation.Of(With("mg/L Ca", 420), 35));
        Assert.Empty(Precipitation.Of(With("mg/L Mg", 1400), 35));
        Assert.Empty(Precipitation.Of(With("mg/L Sr", 12), 35));
        Assert.Empty(Precipitation.Of(With("mg/L B", 5), 35));
    }

    [Theory]
    [InlineData("dKH", 100, "CaCO3")]
    [InlineData("mg/L PO4", 500, "CaHPO4.2H2O")]
    [InlineData("mg/L Ba", 10, "BaSO4")]
    [InlineData("mg/L Sr", 2000, "SrSO4")]
    public void Too_much_in_seawater_falls_out(string form, double value, string solid) =>
        Assert.Contains(Precipitation.Of(DissolvedIons.None.WithSeawater(35).WithAmount(ReportingForm.Parse(form), value), 35), r => r.Solid == solid);

    [Theory]
    [InlineData("NaHCO3", "HCO3", 1)]
    [InlineData("Ca(NO3)2.4H2O", "NO3", 2)]
    [InlineData("(NH4)2Fe(SO4)2.6H2O", "SO4", 2)]
    [InlineData("(NH4)2Fe(SO4)2.6H2O", "NH4", 2)]
    [InlineData("Ca3(PO4)2", "PO4", 2)]
    [InlineData("Ca(OH)2", "OH", 2)]
    [InlineData("H3BO3", "OH", 0)]
    [InlineData("NaHCO3", "CO3", 0)]
    public void A_salt_gives_its_ions(string formula, string ion, double count) => Assert.Equal(count, Salt(formula, 1)[ion]);

    [Fact]
    public void Amounts_become_ions()
    {
        // 40.078 mg/L of calcium is 1 mmol/L; 94.97 mg/L PO4 and 30.974 mg/L PO4-P are 1 mmol/L (IUPAC 2021 abridged)
        Assert.Equal(0.001, DissolvedIons.None.WithAmount(ReportingForm.Parse("mg/L Ca"), 40.078)["Ca"], 1e-9);
        Assert.Equal(0.001, DissolvedIons.None.WithAmount(ReportingForm.Parse("mg/L PO4"), 94.970)["PO4"], 1e-8);
        Assert.Equal(0.001, DissolvedIons.None.WithAmount(ReportingForm.Parse("mg/L PO4-P"), 30.974)["PO4"], 1e-8);
        Assert.Equal(0.0028, DissolvedIons.None.WithAmount(ReportingForm.Parse("meq/L"), 2.8)["HCO3"], 1e-12);
        Assert.Same(DissolvedIons.None, DissolvedIons.None.WithAmount(ReportingForm.Parse("mg/L Fe"), 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => DissolvedIons.None.With("Ca", -1));
    }

    [Fact]
    public void A_preparation_refuses_what_falls_out_and_warns_of_what_may()
    {
        PreparedWater Make(double alkalinity, string form) => Preparations.Of(new PreparationPlan
        {
            Form = ReportingForm.Parse(form),
            Stock = new StockSolution { Name = "two in one", Concentration = Estimate.Exact(10000), Companions = [new Companion("alkalinity", alkalinity, ReportingForm.Parse("meq/L"))] },
            Matrix = new MatrixWater { Kind = Matrix.FreshWater },
        });
        Assert.Contains("calcium carbonate", Assert.Throws<PreparationException>(() => Make(500, "mg/L Ca")).Message);
        Assert.DoesNotContain(Make(500, "mg/L K").Cautions, c => c.Contains("fall out", StringComparison.Ordinal));
        Assert.Contains(Make(0.02, "mg/L Ca").Cautions, c => c.Contains("may fall out", StringComparison.Ordinal));
    }
}
