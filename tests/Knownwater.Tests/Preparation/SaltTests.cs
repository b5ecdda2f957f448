using System.Globalization;
using System.Text.RegularExpressions;
using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Preparation;

public sealed partial class SaltTests
{
    private const int Weighable = 11;

    private static IReadOnlyList<string[]> Rows => Table.Rows("standards/stocks.csv");

    public static TheoryData<string> Formulas => [.. Rows.Select(r => r[0])];

    private static Salt Of(string formula) => Salts.Find(ChemicalFormula.Parse(formula))!;

    [Fact]
    public void Every_salt_of_the_table_is_known_and_no_other() => Assert.Equal(Rows.Select(r => r[0]).Order(), Salts.All.Select(s => s.Formula.Text).Order());

    [Theory]
    [MemberData(nameof(Formulas))]
    public void What_may_be_weighed_and_dosed_is_as_in_the_table(string formula)
    {
        var row = Rows.Single(r => r[0] == formula);
        Assert.Equal(row[Weighable] == "no", Of(formula).WhyNotAtHome is not null);
        Assert.Equal(row[10] == "none" ? "" : row[10], string.Join(';', Of(formula).MayBeDosedIn));
        Assert.Equal(Of(formula).WhyNotAtHome is null, Of(formula).Instead is null);
        // molar masses of the table have five digits
        Assert.Equal(Table.Number(row[2]), Of(formula).Formula.MolarMassGramsPerMole, 6e-5 * Table.Number(row[2]));
    }

    // mg of a species in a gram of salt, five digits in the table: the anhydrous part, the hydrate and ammonium's two nitrogens among them
    [Theory]
    [MemberData(nameof(Formulas))]
    public void What_a_gram_delivers_agrees_with_the_table(string formula)
    {
        var checkedAny = false;
        foreach (Match part in Delivered().Matches(Rows.Single(r => r[0] == formula)[4]))
        {
            var species = part.Groups["species"].Value;
            if (species is "P2O5" or "hardness" or "Na" or "Cl")
                continue;
            var form = ReportingForm.Parse(species == "alkalinity" ? "meq/L" : $"mg/L {species}");
            var perGram = SaltYield.PerGramPerMillilitre(Of(formula).Formula, form) / 1000;
            var expected = Table.Number(part.Groups["value"].Value);
            Assert.Equal(expected, perGram, 6e-5 * expected);
            checkedAny = true;
        }
        // the rest deliver only what is left out above, or a number in another unit
        Assert.True(checkedAny || formula is "NaCl" or "KBr" or "Ca(OH)2", formula);
    }

    [Theory]
    [InlineData("NaNO2", "certified nitrite solution")]
    [InlineData("NH4Cl", "certified ammonium solution")]
    [InlineData("Na2SiF6", "certified silicate solution")]
    [InlineData("Na2SiO3.9H2O", "certified silicate solution")]
    [InlineData("KI", "certified iodide or iodate solution")]
    [InlineData("H3BO3", "certified boron solution")]
    [InlineData("B(OH)3", "certified boron solution")]
    public void A_salt_that_is_not_weighed_at_home_is_refused_with_what_does(string formula, string instead)
    {
        var said = Assert.Throws<PreparationException>(() => Salts.RequireWeighable(ChemicalFormula.Parse(formula))).Message;
        Assert.Contains("not weighed at home", said);
        Assert.Contains(instead, said);
        Assert.EndsWith(".", said);
    }

    // 31.6 g of KNO3 in 100 g of water (20 °C): 316 g in 1316 g of solution, so 240.1 g/L and more. CaCl2.2H2O by its anhydrous 74.5 g: 745/1745 kg × 147.01/110.98 = 565.5 g/L
    [Theory]
    [InlineData("KNO3", 240.12)]
    [InlineData("CaCl2.2H2O", 565.55)]
    [InlineData("CaSO4.2H2O", 2.3943)]
    public void A_strength_beyond_what_dissolves_names_the_largest(string formula, double most)
    {
        var salt = ChemicalFormula.Parse(formula);
        Assert.Equal(most, Of(formula).MostGramsPerLitre!.Value, 1e-4 * most);
        Salts.RequireDissolves(salt, 0.999 * most);
        var said = Assert.Throws<PreparationException>(() => Salts.RequireDissolves(salt, 1.01 * most)).Message;
        Assert.Contains((1.01 * most).ToString("0.####", CultureInfo.InvariantCulture), said);
        Assert.Contains("is the most that surely does", said);
    }

    // the table's own grams for its common stock all dissolve, save gypsum's, of which it says so
    [Theory]
    [MemberData(nameof(Formulas))]
    public void The_usual_stock_dissolves(string formula)
    {
        var grams = Regex.Match(Rows.Single(r => r[0] == formula)[5], @"for 1000 mg/L as [\w-]+: (\d[\d.]*) g/L", RegexOptions.None, TimeSpan.FromSeconds(1));
        if (grams.Success && formula != "CaSO4.2H2O")
            Salts.RequireDissolves(Of(formula).Formula, Table.Number(grams.Groups[1].Value));
        Assert.Throws<PreparationException>(() => Salts.RequireDissolves(ChemicalFormula.Parse("CaSO4.2H2O"), 4.2957));
    }

    // stocks.csv, MgCl2: hexahydrate = 2.1354 × anhydrous, there from 203.3/95.205; the last digit of 203.3 is worth 0.0005
    [Fact]
    public void A_hydrate_is_weighed_for_another()
    {
        Assert.Equal(2.1354, Salts.Hydrate(1, ChemicalFormula.Parse("MgCl2"), ChemicalFormula.Parse("MgCl2.6H2O")), 5e-4);
        Assert.Contains("more than water", Assert.Throws<PreparationException>(() => Salts.Hydrate(1, ChemicalFormula.Parse("MgCl2"), ChemicalFormula.Parse("MgSO4.7H2O"))).Message);
    }

    [Fact]
    public void A_salt_outside_the_table_is_left_to_its_data_sheet()
    {
        Salts.RequireWeighable(ChemicalFormula.Parse("KHC8H4O4"));
        Salts.RequireDissolves(ChemicalFormula.Parse("KHC8H4O4"), 900);
        Assert.Contains("data sheet decides", Assert.Single(Salts.Cautions(ChemicalFormula.Parse("KHC8H4O4"))));
    }

    [Theory]
    [InlineData("NaNO2", 1, "mg/L NO2", "not weighed at home")]
    [InlineData("KNO3", 30, "mg/L NO3", "does not dissolve to 300 g/L")]
    public void A_preparation_refuses_such_a_salt(string formula, double grams, string form, string expected)
    {
        var plan = new PreparationPlan
        {
            Form = ReportingForm.Parse(form),
            Stock = new StockSolution { Name = formula, Salt = new WeighedSalt { Formula = ChemicalFormula.Parse(formula), Mass = Estimate.Exact(grams), Purity = Estimate.Exact(1), Volume = Estimate.Exact(100) } },
            Matrix = new MatrixWater { Kind = Matrix.FreshWater },
        };
        Assert.Contains(expected, Assert.Throws<PreparationException>(() => Preparations.Of(plan)).Message);
    }

    [GeneratedRegex(@"(?<species>[A-Za-z0-9]+(-[NP])?) (?<value>\d[\d.]*) (mg/g|meq/g)", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Delivered();
}
