using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class KnownWaterTests(Chromium chromium)
{
    [Theory]
    [InlineData(Screen.PhoneDark)]
    public async Task From_an_empty_shelf_to_two_levels_and_their_verdict(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;

        await page.GotoAsync("/known-water");
        await Expect(page.Locator("h1")).ToHaveTextAsync("The shelf is empty.");
        await page.GetByRole(AriaRole.Link, new() { Name = "Make the first one" }).ClickAsync();
        await Expect(page.GetByText("Three things are needed")).ToBeVisibleAsync();
        await visit.Picture("k1-what-is-needed");

        await page.GotoAsync("/known-water/stocks/new");
        await visit.Fill(("What stands on the bottle?", "N-1000"), ("Value", "1000"), ("give or take", "0.5 %"), ("Certificate number, or the maker’s words", "26-0501"), ("How much is in it", "100"));
        await page.GetByLabel("What is certified in it?").SelectOptionAsync(new SelectOptionValue { Value = "nitrate|mg/L NO3" });
        await visit.Whole();
        await visit.Picture("k2-stock");
        await visit.Press("Put it on the shelf");
        await page.GotoAsync("/known-water/nutrient-free/new");
        await visit.Fill(("What stands on it?", "sea 26-A"), ("How much there is", "5000"));
        await visit.Whole();
        await visit.Press("Put it on the shelf");
        await page.GotoAsync("/known-water/glassware/new");
        await visit.Fill(("What do you call it?", "P1"), ("Largest volume", "1"), ("Smallest volume", "0.1"), ("Off by at the most", "0.008"), ("Between deliveries", "0.003"));
        await visit.Whole();
        await visit.Picture("k3-pipette");
        await visit.Press("Add it");
        await page.GotoAsync("/known-water/glassware/new?kind=Balance");
        await visit.Fill(("What do you call it?", "kitchen balance"), ("Off by at the most", "2"), ("Step of its display", "1"));
        await visit.Press("Add it");

        var low = await Make(visit, "nitrate 2", "1", "500", "503", picture: true);
        var high = await Make(visit, "nitrate 8", "1", "125", "", picture: false);

        await page.GotoAsync("/known-water");
        await Expect(page.GetByText("nitrate 8").First).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("k8-shelf");
        Assert.NotEqual(low, high);

        // the label, on each size of sheet, and its square code read back
        await page.GotoAsync(low);
        await page.GetByRole(AriaRole.Link, new() { Name = "Label", Exact = true }).ClickAsync();
        foreach (var size in new[] { "63x38", "38x21", "62x29", "70x37" })
        {
            await page.Locator("select[name=size]").SelectOptionAsync(new SelectOptionValue { Value = size });
            await visit.Press("Show them so");
            await Expect(page.Locator($".labels.size-{size} .label")).ToHaveCountAsync(1);
            // a desktop screen of 96 dpi shows the smallest label with little more than a pixel a module; paper and phone do better
            if (screen != Screen.PhoneDark)
                continue;
            var text = await visit.ScanSquareCode();
            Assert.StartsWith("KW-1 nitrate 2.03", text, StringComparison.Ordinal);
            Assert.Contains("mg/L NO3, seawater 34.9, made ", text, StringComparison.Ordinal);
        }
        await visit.IsAccessible();
        await visit.Picture("k9-label");
        await page.GotoAsync("/known-water");
        await page.GetByLabel("Code on a label").FillAsync("kw-2");
        await visit.Press("Find it");
        await Expect(page.Locator("h1")).ToContainTextAsync("nitrate 8");

        await page.GotoAsync(low);
        await page.GetByRole(AriaRole.Link, new() { Name = "Check with it and nitrate 8" }).ClickAsync();
        await Expect(page.Locator("select[name='Levels[1].ReferenceWater']")).ToHaveValueAsync(high.Split('/')[^1]);
        await page.GetByLabel("Automatic dosing is paused").CheckAsync();
        await page.Locator("input[name=Replicates][value='5']").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Begin the readings" }).ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 1 of 5");
        foreach (var reading in new[] { "2.0", "2.1", "2.0", "2.1", "2.0", "8.1", "8.2", "8.1", "8.0", "8.2" })
        {
            await Expect(page.Locator("h1")).ToContainTextAsync("Reading");
            await visit.Read(reading);
        }
        await Expect(page.Locator(".verdict").First).ToContainTextAsync("Reads right");
        await visit.Whole();
        await visit.Picture("k10-verdict");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    [Theory]
    [InlineData(Screen.PhoneDark)]
    public async Task Every_page_of_the_shelf_holds_on_its_screen(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        foreach (var (address, name) in new[]
        {
            ("stocks", "stocks"), ("stocks/new", "stock-new"), ("stocks/weigh", "weigh"), ("nutrient-free", "nutrient-free"), ("nutrient-free/new", "nutrient-free-new"),
            ("nutrient-free/recipe", "recipe"), ("glassware", "glassware"), ("glassware/new?kind=Flask", "flask-new"), ("prepare", "prepare"),
        })
        {
            var answer = await page.GotoAsync("/known-water/" + address);
            Assert.True(answer!.Status == 200, $"{address} answered {answer.Status}");
            await visit.Whole();
            await visit.Picture("s-" + name);
        }
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    /// <summary>Plans a level, does it at the bench and puts it on the shelf; gives the water's address.</summary>
    private static async Task<string> Make(Visit visit, string label, string stock, string water, string really, bool picture)
    {
        var page = visit.Page;
        await page.GotoAsync("/known-water/prepare");
        await page.Locator("[name='Steps[0].Aliquot']").FillAsync(stock);
        await page.Locator("[name='Steps[0].Made']").FillAsync(water);
        await page.GetByText("More: name, wanted value").ClickAsync();
        await page.Locator("[name=Label]").FillAsync(label);
        await visit.Press("Show its value");
        await Expect(page.Locator("#value")).ToContainTextAsync("P1, gain");
        if (picture)
        {
            await visit.Whole();
            await visit.Picture("k4-value");
        }
        await visit.Press("Keep this plan");
        if (picture)
        {
            await page.GetByRole(AriaRole.Link, new() { Name = "Sheet to print" }).ClickAsync();
            await Expect(page.Locator(".ticks .box").First).ToBeVisibleAsync();
            await visit.Whole();
            await visit.Picture("k4b-sheet");
            await page.GoBackAsync();
        }
        await page.GetByRole(AriaRole.Link, new() { Name = "Begin at the bench" }).ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("Pour in");
        if (picture)
        {
            await visit.Whole();
            await visit.Picture("k5-act");
        }
        if (really.Length > 0)
        {
            await page.GetByText("It went otherwise").ClickAsync();
            await page.Locator("[name=Amount]").FillAsync(really);
        }
        await visit.Press("Poured");
        if (picture)
        {
            await Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("carry on");
            await visit.Picture("k6-rescue");
        }
        await visit.Press("Pipetted");
        await visit.Press("Mixed");
        await Expect(page.Locator("h1")).ToContainTextAsync(label);
        await visit.Press("Put it on the shelf");
        await Expect(page.Locator("h1")).ToContainTextAsync(label);
        if (picture)
        {
            await visit.Whole();
            await visit.Picture("k7-water");
        }
        return new Uri(page.Url).AbsolutePath;
    }
}
