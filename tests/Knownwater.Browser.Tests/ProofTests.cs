using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class ProofTests(Chromium chromium)
{
    [Theory]
    [InlineData(Screen.PhoneDark)]
    public async Task A_pipette_is_proven_at_the_bench(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;

        await page.GotoAsync("/known-water/glassware/new?kind=Balance");
        await page.GetByLabel("Which display has it?").SelectOptionAsync(new SelectOptionValue { Label = "step 0.001 g" });
        await visit.Press("Show its figures");
        await visit.Fill(("What do you call it?", "fine balance"));
        await visit.Press("Add it");
        await visit.Whole();

        await page.GotoAsync("/known-water/glassware/new");
        await page.GetByLabel("Class and size, as marked").SelectOptionAsync(new SelectOptionValue { Label = "1 mL" });
        await visit.Press("Show its figures");
        await Expect(page.GetByLabel("Off by at the most", new() { Exact = true })).ToHaveValueAsync("0.008");
        await visit.Fill(("What do you call it?", "P1"));
        await visit.Whole();
        await visit.Press("Add it");

        await page.GetByRole(AriaRole.Link, new() { Name = "Prove it by weighing" }).ClickAsync();
        await page.GetByText("Air, evaporation, tip").ClickAsync();
        await visit.Whole();
        await visit.Fill(("Volume that you set", "1"), ("Temperature of the water", "22"));
        await visit.Press("Begin the weighings");
        await Expect(page.Locator("h1")).ToHaveTextAsync("Tare. Deliver 1\u00a0mL. Cover. Weigh.");
        await visit.Whole();
        await visit.Picture("p1-what-to-do");
        foreach (var grams in new[] { "0.992", "0.995", "0.991", "0.994", "0.996", "0.992", "0.994" })
            await visit.Read(grams);
        await Expect(page.GetByText("So far: 0.99")).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("p2-so-far");
        foreach (var grams in new[] { "0.993", "0.995", "0.991" })
            await visit.Read(grams);
        await visit.Press("Finish the proof");
        // the worked pipette: mean 0.9933 g, Z 1.00328 mL/g at 22 °C
        await Expect(page.Locator("h1")).ToContainTextAsync("Delivers 0.9966\u00a0mL where 1\u00a0mL is set: 0.34\u202f% low");
        await visit.Whole();
        await visit.Picture("p3-result");
        await page.GetByRole(AriaRole.Link, new() { Name = "To P1" }).ClickAsync();
        await visit.Whole();
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }
}
