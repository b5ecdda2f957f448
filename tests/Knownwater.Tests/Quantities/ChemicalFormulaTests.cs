using CsCheck;
using Knownwater.Quantities;

namespace Knownwater.Tests.Quantities;

public class ChemicalFormulaTests
{
    // Computed from the IUPAC 2021 abridged weights to four decimals.
    [Fact]
    public void Molar_masses_agree_with_the_table()
    {
        var rows = Table.Rows("conversions/molar_masses.csv");
        Assert.Equal(26, rows.Count);
        foreach (var row in rows)
            Assert.Equal(Table.Number(row[1]), ChemicalFormula.Parse(row[0]).MolarMassGramsPerMole, 1e-9);
    }

    // Prohaska et al. 2022, table 2: weight and printed uncertainty, taken as a rectangular half-width.
    [Fact]
    public void Atomic_weights_and_their_uncertainties_agree_with_the_table()
    {
        foreach (var row in Table.Rows("atomic-weights/atomic_weights_iupac2021_abridged.csv"))
        {
            var element = ChemicalFormula.Parse(row[0]);
            Assert.Equal(Table.Number(row[1]), element.MolarMassGramsPerMole, 1e-12);
            Assert.Equal(Table.Number(row[2]) / Math.Sqrt(3), element.MolarMassUncertainty, 1e-12);
        }
    }

    // QUAM A1 style by hand: three O add linearly, N in quadrature: √((0.001)² + (3 · 0.001)²)/√3.
    [Fact]
    public void Atoms_of_one_element_share_their_uncertainty() =>
        Assert.Equal(Math.Sqrt(10) * 0.001 / Math.Sqrt(3), ChemicalFormula.Parse("NO3").MolarMassUncertainty, 1e-15);

    [Theory]
    [InlineData("CaCl2.2H2O", "CaCl2.2H2O", "CaCl₂·2H₂O", "Ca:1 Cl:2 H:4 O:2")]
    [InlineData("CaCl₂·2H₂O", "CaCl2.2H2O", "CaCl₂·2H₂O", "Ca:1 Cl:2 H:4 O:2")]
    [InlineData("Si(OH)4", "Si(OH)4", "Si(OH)₄", "H:4 O:4 Si:1")]
    [InlineData("KHC8H4O4", "KHC8H4O4", "KHC₈H₄O₄", "C:8 H:5 K:1 O:4")]
    [InlineData("Al2[SO4]3 * 18 H2O", "Al2[SO4]3.18H2O", "Al₂[SO₄]₃·18H₂O", "Al:2 H:36 O:30 S:3")]
    [InlineData("Mg(NO3)2·6H2O", "Mg(NO3)2.6H2O", "Mg(NO₃)₂·6H₂O", "H:12 Mg:1 N:2 O:12")]
    [InlineData("(NH4)2Fe(SO4)2.6H2O", "(NH4)2Fe(SO4)2.6H2O", "(NH₄)₂Fe(SO₄)₂·6H₂O", "Fe:1 H:20 N:2 O:14 S:2")]
    [InlineData(" Cd ", "Cd", "Cd", "Cd:1")]
    [InlineData("NH₄⁺", "NH4", "NH₄", "H:4 N:1")]
    public void Formulas_are_read_with_hydrates_and_brackets(string typed, string text, string display, string atoms)
    {
        var formula = ChemicalFormula.Parse(typed);
        Assert.Equal(text, formula.Text);
        Assert.Equal(display, formula.Display);
        Assert.Equal(atoms, string.Join(' ', formula.Atoms.Select(each => $"{each.Key}:{each.Value}")));
        Assert.Equal(formula, ChemicalFormula.Parse(formula.Display));
    }

    [Theory]
    [InlineData("", "The formula is empty. Write one such as NO3 or CaCl2.2H2O.")]
    [InlineData("Xx2", "\"Xx2\" is not a formula: Xx is not an element with a standard atomic weight. Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.")]
    [InlineData("Tc", "\"Tc\" is not a formula: Tc is not an element with a standard atomic weight. Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.")]
    [InlineData("Si(OH4", "\"Si(OH4\" is not a formula: its bracket ( is not closed. Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.")]
    [InlineData("Si(OH]4", "\"Si(OH]4\" is not a formula: \"]\" does not belong there. Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.")]
    [InlineData("NO3-", "\"NO3-\" is not a formula: a charge is not part of it. Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.")]
    [InlineData("no3", "\"no3\" is not a formula: \"n\" does not belong there. Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.")]
    [InlineData("H0", "\"H0\" is not a formula: 0 is no count of atoms. Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.")]
    [InlineData("CaCl2.", "\"CaCl2.\" is not a formula: a part of it is empty. Write elements and counts, as in NO3, Si(OH)4 or CaCl2.2H2O.")]
    public void What_is_no_formula_is_refused_with_a_sentence(string typed, string sentence)
    {
        Assert.False(ChemicalFormula.TryParse(typed, out var formula, out var error));
        Assert.Null(formula);
        Assert.Equal(sentence, error);
        Assert.Equal(sentence, Assert.Throws<QuantityFormatException>(() => ChemicalFormula.Parse(typed)).Message);
    }

    [Fact]
    public void The_mass_of_a_hydrate_is_that_of_its_parts() =>
        Gen.Int[1, 24].Sample(water =>
        {
            var whole = ChemicalFormula.Parse($"MgSO4.{water}H2O").MolarMassGramsPerMole;
            var parts = ChemicalFormula.Parse("MgSO4").MolarMassGramsPerMole + (water * ChemicalFormula.Parse("H2O").MolarMassGramsPerMole);
            return Math.Abs(whole - parts) < 1e-9;
        });

    [Fact]
    public void Whatever_is_typed_as_a_formula_never_throws_and_always_answers() =>
        Gen.String[Gen.Char["CaNOHSiel0123456789()[].·₂⁺- \uD800"], 0, 30].Sample(typed =>
            ChemicalFormula.TryParse(typed, out var formula, out var error)
                ? double.IsFinite(formula.MolarMassGramsPerMole) && formula.Equals(ChemicalFormula.Parse(formula.Text))
                : error.EndsWith('.'));
}
