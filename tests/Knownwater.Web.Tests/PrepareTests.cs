using System.Net;

namespace Knownwater.Web.Tests;

public sealed class PrepareTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    [Fact]
    public async Task From_an_empty_shelf_to_known_water_and_its_verdict()
    {
        var reader = app.Open();
        var page = await reader.Get("/known-water");
        Assert.Contains("The shelf is empty.", page.Text, StringComparison.Ordinal);
        page = await reader.Get("/known-water/prepare");
        Assert.Contains("Three things are needed", page.Text, StringComparison.Ordinal);
        await Furnish(reader);

        page = await reader.Get("/known-water/prepare");
        Assert.Equal("500", page.Field("Steps[0].Made"));
        page = await reader.Send(page, "/prepare", "look", ("Label", "nitrate 2"));
        // 500 g read in air are 488.4 mL of seawater of 1024.76 kg/m³ (S 35, 20 °C); 1000/489.4 = 2.043
        Assert.Contains("2.043 ± 0.028 mg/L NO₃", page.Text, StringComparison.Ordinal);
        Assert.Contains("P1, gain", page.Text, StringComparison.Ordinal);
        Assert.Contains("never goes into a tank", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/prepare", "keep");
        Assert.Contains("Begin at the bench", page.Text, StringComparison.Ordinal);
        var preparation = page.Address;

        page = await reader.Get(preparation + "/bench");
        Assert.Contains("Tare. Pour in 500 g of sea 26-A.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/bench", "done", ("Amount", "503"));
        Assert.Contains("You are at 503 g instead of 500: carry on, the value is now 2.03", page.Text, StringComparison.Ordinal);
        Assert.Contains("1 mL of it to the water", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/bench", "done");
        page = await reader.Send(page, "/bench", "done");
        Assert.Equal(preparation, page.Address);
        page = await reader.Send(page, "/finish", "", ("UseBy", "2999-01-01"));
        Assert.Contains("nitrate 2: 2.03", page.Text, StringComparison.Ordinal);
        Assert.Contains("certificate 26-0501", page.Text, StringComparison.Ordinal);

        page = await reader.Get("/checks/new?water=" + page.Address.Split('/')[^1]);
        page = await reader.Send(page, "/checks/new", "plan", ("ToleranceAbsolute", "0.3"), ("TolerancePercent", "5"));
        page = await reader.Send(page, "/checks/new", "begin", ("Replicates", "4"));
        page = await Walk.Read(reader, page, "2.0", "2.1", "2.0", "2.1");
        Assert.Contains("Reads right", page.Text, StringComparison.Ordinal);
        Assert.Contains("P1, gain", page.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0.05", "0.1")]
    [InlineData("3", "1 mL")]
    [InlineData("0", "above 0")]
    [InlineData("a drop", "a drop")]
    public async Task What_cannot_be_poured_is_refused_and_stays_in_its_field(string aliquot, string says)
    {
        var reader = app.Open();
        await Furnish(reader);
        var page = await reader.Send(await reader.Get("/known-water/prepare"), "/prepare", "look", ("Steps[0].Aliquot", aliquot));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal(aliquot, page.Field("Steps[0].Aliquot"));
        Assert.Contains(says, page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_step_back_takes_the_amount_back()
    {
        var reader = app.Open();
        await Furnish(reader);
        var page = await reader.Send(await reader.Get("/known-water/prepare"), "/prepare", "keep", ("Label", "nitrate 2"));
        var preparation = page.Address;
        page = await reader.Send(await reader.Get(preparation + "/bench"), "/bench", "done", ("Amount", "510"), ("Slip", "poured too fast"));
        page = await reader.Send(page, "/bench", "done");
        Assert.Contains("Act 3 of 3", page.Text, StringComparison.Ordinal);
        var form = page.Form("/bench");
        using var content = new FormUrlEncodedContent(form.Fields);
        using var answer = await reader.Client.PostAsync(new Uri(preparation + "/bench/back", UriKind.Relative), content, TestContext.Current.CancellationToken);
        page = await Sheet.Of(answer);
        Assert.Contains("Act 2 of 3", page.Text, StringComparison.Ordinal);
        Assert.Contains("poured too fast", (await reader.Get(preparation)).Text, StringComparison.Ordinal);
    }

    /// <summary>A stock, a nutrient-free water, a pipette and a balance, by their pages.</summary>
    private static async Task Furnish(Reader reader)
    {
        var page = await reader.Send(await reader.Get("/known-water/stocks/new"), "/stocks/new", "save", ("Label", "N-1000"), ("What", "nitrate|mg/L NO3"), ("Known", "1000"), ("Doubt", "0.5 %"), ("OriginDetail", "26-0501"), ("Amount", "100"));
        Assert.Contains("N-1000: 1000.0 ± 5.7 mg/L NO₃", page.Text, StringComparison.Ordinal);
        page = await reader.Send(await reader.Get("/known-water/nutrient-free/new"), "/nutrient-free/new", "save", ("Label", "sea 26-A"), ("Salinity", "35"));
        Assert.Contains("Its background is not measured", page.Text, StringComparison.Ordinal);
        page = await reader.Send(await reader.Get("/known-water/glassware/new"), "/glassware/new", "save", ("Kind", "PistonPipette"), ("Name", "P1"), ("Nominal", "1"), ("Least", "0.1"), ("Tolerance", "0.008"), ("Repeatability", "0.003"));
        Assert.Contains("Piston pipette, 0.1 to 1 mL", page.Text, StringComparison.Ordinal);
        page = await reader.Send(await reader.Get("/known-water/glassware/new?kind=Balance"), "/glassware/new", "save", ("Name", "kitchen balance"), ("Tolerance", "2"), ("Readability", "1"));
        Assert.Contains("kitchen balance", page.Text, StringComparison.Ordinal);
    }
}
