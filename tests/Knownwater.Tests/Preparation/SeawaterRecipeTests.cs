using Knownwater.Preparation;
using Knownwater.Quantities;

namespace Knownwater.Tests.Preparation;

public sealed class SeawaterRecipeTests
{
    private static SeawaterRecipe Recipe(string key) => SeawaterRecipe.Find(key)!;

    private static double Grams(SeawaterMix mix, string formula) => mix.Lines.Single(l => l.Formula.Text == formula).Grams;

    [Theory]
    [InlineData("kester-1967", "Kester et al. 1967")]
    [InlineData("lyman-fleming-1940", "Lyman & Fleming 1940")]
    [InlineData("simplified", "simplified reference matrix (no Br, B, Sr, F)")]
    public void The_grams_are_those_of_the_source(string key, string named)
    {
        var rows = Table.Rows("standards/seawater_recipe.csv").Where(r => r[0] == named).ToList();
        var published = rows.Where(r => !r[1].Contains("equivalent", StringComparison.Ordinal)).ToDictionary(r => r[1], r => Table.Number(r[3]), StringComparer.Ordinal);
        Assert.Equal(published.Keys.Order(), Recipe(key).Salts.Select(s => s.Salt.Text).Order());
        Assert.All(Recipe(key).Salts, s => Assert.Equal(published[s.Salt.Text], s.GramsPerKilogram, 1e-12));
        // anhydrous salts are weighed as hydrates: the source's own equivalents, five digits
        var mix = Recipe(key).Mix(1, Recipe(key).PracticalSalinity);
        foreach (var row in rows.Where(r => r[1].Contains("equivalent", StringComparison.Ordinal)))
            Assert.Equal(Table.Number(row[3]), Grams(mix, row[1].Split(' ')[0]), 6e-5 * Table.Number(row[3]));
    }

    // ASTM D1141 is by volume; its two stock solutions give the same water: 20 mL/L of 555.6 g/L MgCl2.6H2O and 57.9 g/L CaCl2, 10 mL/L of 69.5 g/L KCl, 20.1 g/L NaHCO3, 10.0 g/L KBr
    [Fact]
    public void The_recipe_by_volume_agrees_with_its_stock_solutions()
    {
        var mix = Recipe("astm-d1141").Mix(1, Recipe("astm-d1141").PracticalSalinity, atHome: false);
        double PerLitre(string formula) => Grams(mix, formula) / mix.Litres;
        Assert.Equal(24.53, PerLitre("NaCl"), 1e-6);
        Assert.Equal(0.020 * 555.6, PerLitre("MgCl2.6H2O"), 0.01);
        Assert.Equal(0.020 * 57.9, PerLitre("CaCl2.2H2O") * 110.98 / 147.01, 0.003);
        Assert.Equal(0.010 * 69.5, PerLitre("KCl"), 1e-6);
        Assert.Equal(0.010 * 20.1, PerLitre("NaHCO3"), 1e-6);
        Assert.Equal(0.010 * 10.0, PerLitre("KBr"), 0.0011);
        Assert.Equal(0.010 * 2.7, PerLitre("H3BO3"), 1e-6);
    }

    // Published chlorinity: Lyman & Fleming 19.00, ASTM D1141 19.38 (by volume, its density not stated: 0.1 %); Kester's water is of salinity 35.0 by its authors, chlorinity 35.0/1.80655 = 19.374
    [Theory]
    [InlineData("lyman-fleming-1940", 19.00, 0.005)]
    [InlineData("astm-d1141", 19.38, 0.03)]
    [InlineData("kester-1967", 19.374, 0.01)]
    public void Chlorinity_and_salinity_are_the_published_ones(string key, double chlorinity, double within)
    {
        var mix = Recipe(key).Mix(1, Recipe(key).PracticalSalinity, atHome: false);
        Assert.Equal(chlorinity, mix.Chlorinity, within);
        // S = 1.80655 Cl (Wooster, Lee & Dietrich 1969); the salts of the recipes are not quite in the sea's ratio
        Assert.Equal(1.80655 * chlorinity, mix.PracticalSalinity, 0.06);
    }

    // total of Lyman & Fleming: 34.481 g/kg
    [Fact]
    public void The_parts_give_the_published_total() => Assert.Equal(34.481, Recipe("lyman-fleming-1940").Salts.Sum(s => s.GramsPerKilogram), 1e-9);

    // Kester et al. give 0.05327, 0.01033 and 0.00009 mol/kg; grams of Na2SO4 and NaHCO3 by hand
    [Fact]
    public void The_ions_are_those_of_the_source()
    {
        var ions = Recipe("kester-1967").Mix(1, Recipe("kester-1967").PracticalSalinity, atHome: false).MolesPerKilogram;
        Assert.Equal(0.05327, ions["Mg"], 1e-6);
        Assert.Equal(0.01033, ions["Ca"], 1e-6);
        Assert.Equal(0.00009, ions["Sr"], 1e-7);
        Assert.Equal(4.008 / 142.04, ions["SO4"], 1e-6);
        Assert.Equal(0.196 / 84.006, ions["HCO3"], 1e-7);
        Assert.Equal(0.026 / 61.831, ions["B"], 1e-8);
        // and near the reference composition of the sea at salinity 35 (Millero et al. 2008), within two parts in a hundred
        Assert.Equal(0.46897, ions["Na"], 0.02 * 0.46897);
        Assert.Equal(0.05282, ions["Mg"], 0.02 * 0.05282);
        Assert.Equal(0.02824, ions["SO4"], 0.02 * 0.02824);
        Assert.Equal(0.01021, ions["K"], 0.03 * 0.01021);
    }

    [Theory]
    [InlineData(5, 35)]
    [InlineData(10, 33)]
    [InlineData(0.5, 20)]
    public void An_amount_and_a_salinity_scale_it(double kilograms, double salinity)
    {
        var mix = Recipe("simplified").Mix(kilograms, salinity);
        Assert.Equal(salinity, mix.PracticalSalinity, 1e-9);
        Assert.Equal(24.0 * kilograms * salinity / Recipe("simplified").PracticalSalinity, Grams(mix, "NaCl"), 1e-9);
        Assert.Equal(1000 * kilograms, mix.WaterGrams + mix.Lines.Sum(l => l.Grams), 1e-6);
        Assert.Equal(kilograms, mix.Litres * new WaterState(salinity, 20).DensityKilogramsPerCubicMetre / 1000, 1e-9);
    }

    [Fact]
    public void Calcium_goes_in_after_sulfate_and_bicarbonate_last()
    {
        foreach (var recipe in SeawaterRecipe.All)
        {
            var order = recipe.Mix(1, 35).Lines.Select(l => l.Formula.Text).ToList();
            Assert.Equal("NaHCO3", order[^1]);
            Assert.True(order.IndexOf("Na2SO4") < order.IndexOf("MgCl2.6H2O"));
            Assert.True(order.IndexOf("MgCl2.6H2O") < order.IndexOf("CaCl2.2H2O"));
            Assert.DoesNotContain("H3BO3", order);
            Assert.DoesNotContain("NaF", order);
            Assert.DoesNotContain("MgCl2", order);
        }
        Assert.Contains(Recipe("kester-1967").Mix(1, 35).LeftOut, s => s.Contains("unborn child", StringComparison.Ordinal));
        Assert.Empty(Recipe("simplified").Mix(1, 35).LeftOut);
    }

    [Theory]
    [InlineData(MatchedFor.Alkalinity, "NaHCO3")]
    [InlineData(MatchedFor.Calcium, "CaCl2.2H2O,NaHCO3")]
    [InlineData(MatchedFor.Magnesium, "MgCl2.6H2O,NaHCO3")]
    [InlineData(MatchedFor.MagnesiumAsSulfate, "MgCl2.6H2O,Na2SO4,NaHCO3")]
    public void Matched_ions_leave_out_what_is_weighed_in(MatchedFor reference, string missing)
    {
        var whole = Recipe("simplified").Mix(2, 35);
        var mix = Recipe("simplified").Mix(2, 35, reference);
        Assert.Equal(missing.Split(',').Order(), whole.Lines.Select(l => l.Formula.Text).Except(mix.Lines.Select(l => l.Formula.Text)).Order());
        Assert.All(mix.Lines, l => Assert.Equal(Grams(whole, l.Formula.Text), l.Grams, 1e-9));
        Assert.Equal(missing.Split(',').Length, mix.LeftOut.Count);
        Assert.True(mix.PracticalSalinity < 35);
    }

    [Theory]
    [InlineData(0, 35, "0 kg")]
    [InlineData(2000, 35, "2000 kg")]
    [InlineData(double.NaN, 35, "NaN kg")]
    [InlineData(5, 43, "salinity of 43")]
    [InlineData(5, -1, "salinity of -1")]
    public void Amount_and_salinity_have_limits(double kilograms, double salinity, string said) =>
        Assert.Contains(said, Assert.Throws<PreparationException>(() => Recipe("simplified").Mix(kilograms, salinity)).Message);
}
