using System.Net;

namespace Knownwater.Web.Tests;

public sealed class BottlePageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    [Fact]
    public async Task A_standard_in_nitric_acid_says_what_it_spoils()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/known-water/stocks/new"), "/stocks/new", "save",
            ("Label", "K-1000"), ("What", "potassium|mg/L K"), ("Known", "1000"), ("Doubt", "0.5 %"), ("Salt", "KNO3"), ("MediumKind", "nitric-2"));
        Assert.Contains("It spoils checks of nitrate, alkalinity, pH", page.Text, StringComparison.Ordinal);
        Assert.Contains("gloves and goggles", page.Text, StringComparison.Ordinal);
        Assert.Contains("KNO₃ in nitric acid 2 % v/v", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_acid_asks_for_formula_and_strength_and_keeps_what_was_typed()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/known-water/stocks/new"), "/stocks/new", "save",
            ("Label", "Ca-1000"), ("What", "calcium|mg/L Ca"), ("Known", "1000"), ("Doubt", "0.5 %"), ("Salt", "CaCl2"), ("MediumKind", "other"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("Which acid or alkali is it?", page.Text, StringComparison.Ordinal);
        Assert.Equal("CaCl2", page.Field("Salt"));
        page = await reader.Send(page, "/stocks/new", "save", ("MediumFormula", "HCl"), ("MediumStrength", "0,1"));
        Assert.Contains("It spoils checks of alkalinity, pH", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_salt_is_weighed_into_a_stock()
    {
        var reader = app.Open();
        var page = await reader.Get("/known-water/stocks/weigh");
        Assert.Contains("A balance and a flask are needed", page.Text, StringComparison.Ordinal);
        await reader.Send(await reader.Get("/known-water/glassware/new?kind=Balance"), "/glassware/new", "save", ("Name", "balance"), ("Tolerance", "0.001"), ("Readability", "0.0001"));
        await reader.Send(await reader.Get("/known-water/glassware/new?kind=Flask"), "/glassware/new", "save", ("Kind", "Flask"), ("Name", "F1000"), ("Nominal", "1000"), ("Tolerance", "0.4"));
        page = await reader.Send(await reader.Get("/known-water/stocks/weigh"), "/stocks/weigh", "look", ("Salt", "NaNO3"));
        Assert.Contains("It draws water: weigh fast.", page.Text, StringComparison.Ordinal);
        Assert.Equal("NaNO3", page.Field("Salt"));
        var balance = page.Choice("Balance", "balance");
        var flask = page.Choice("Flask", "F1000");
        page = await reader.Send(page, "/stocks/weigh", "save", ("Salt", "NaNO2"), ("Label", "N"), ("Mass", "1.5"), ("Volume", "1000"), ("Balance", balance), ("Flask", flask));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("is not weighed at home. It is toxic when swallowed", page.Text, StringComparison.Ordinal);
        Assert.Equal("1.5", page.Field("Mass"));
        // 1.3708 g of NaNO3 in a litre is 1000 mg/L (stocks.csv); at 99.5 % it is 995. Doubt by hand, relative: purity 0.290 %, balance 0.042 %, flask 0.023 %; 1.96 · 0.294 % of 995 = 5.7
        page = await reader.Send(page, "/stocks/weigh", "save", ("Salt", "NaNO3"), ("Mass", "1.3708"));
        Assert.Contains("N: 995.0 ± 5.7 mg/L NO₃", page.Text, StringComparison.Ordinal);
        Assert.Contains("1.3708 g of NaNO3 in 1000 mL", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_nutrient_free_water_goes_off_the_shelf_with_a_reason_and_comes_back()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/known-water/nutrient-free/new"), "/nutrient-free/new", "save", ("Label", "sea 26-A"), ("Salinity", "35"));
        page = await reader.Send(page, "/remove", "");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("Say why it goes off the shelf", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/remove", "", ("Reason", "cloudy"));
        Assert.Contains("sea 26-A taken off the shelf: cloudy.", page.Text, StringComparison.Ordinal);
        Assert.Contains("No nutrient-free water yet.", (await reader.Get("/known-water/nutrient-free")).Text, StringComparison.Ordinal);
        await reader.Send(page, "/undo", "");
        Assert.Contains("sea 26-A", (await reader.Get("/known-water/nutrient-free")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Seawater_is_reckoned_and_put_on_the_shelf()
    {
        var reader = app.Open();
        var page = await reader.Get("/known-water/nutrient-free/recipe");
        Assert.Equal("35", page.Field("salinity"));
        page = await reader.Get("/known-water/nutrient-free/recipe?recipe=kester-1967&amount=5&unit=L&salinity=35&purpose=Nothing");
        Assert.Contains("5 L of artificial seawater, salinity 35", page.Text.Replace('\u00a0', ' '), StringComparison.Ordinal);
        Assert.Contains("Bicarbonate goes in last", page.Text, StringComparison.Ordinal);
        Assert.Contains("unborn child", page.Text, StringComparison.Ordinal);
        page = await reader.Get("/known-water/nutrient-free/recipe?recipe=simplified&amount=&unit=L&salinity=50&purpose=Nothing");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal("50", page.Field("salinity"));
        Assert.Contains("How much is wanted is missing", page.Text, StringComparison.Ordinal);
        page = await reader.Get("/known-water/nutrient-free/new?kind=MixedSeawater&salinity=34.9");
        Assert.Equal("34.9", page.Field("Salinity"));
    }
}
