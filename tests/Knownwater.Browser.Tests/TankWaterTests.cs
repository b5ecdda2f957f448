using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class TankWaterTests(Chromium chromium)
{
    [Theory]
    [InlineData(Screen.PhoneDark)]
    public async Task What_water_it_is(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        await page.GotoAsync("/tanks/water");
        await visit.Whole();
        await visit.Picture("w1-asked");
        await page.Locator("[name=Alkalinity]").FillAsync("8.0");
        await page.Locator("[name=Ph]").FillAsync("8.2");
        await page.Locator("[name=Ammonia]").FillAsync("0.5");
        await visit.Press("Show what it is");
        await Expect(page.Locator("h1")).ToContainTextAsync("Salinity 35.0");
        await Expect(page.Locator(".fig svg").First).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("w2-sea");
        await page.Locator("[name=Kind][value=fresh]").CheckAsync();
        await page.Locator("[name=Ph]").FillAsync("7.0");
        await visit.Press("Show what it is");
        await Expect(page.Locator("h1")).ToContainTextAsync("Fresh water");
        await visit.Whole();
        await visit.Picture("w3-fresh");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }
}
