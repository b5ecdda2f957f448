using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class CausesTests(Chromium chromium)
{
    [Theory]
    [InlineData(Screen.PhoneDark)]
    public async Task A_failed_check_says_what_to_suspect_and_plans_the_test_that_tells(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        await page.GotoAsync("/");
        await visit.Begin("alkalinity|dKH", "7.90", "0.08", 5);
        foreach (var reading in new[] { "8.6", "8.8", "8.7", "8.9", "8.7" })
            await visit.Read(reading);
        await page.GetByRole(AriaRole.Link, new() { Name = "What to suspect" }).ClickAsync();
        await Expect(page.Locator("h1")).ToHaveCountAsync(1);
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "The test that tells most for its time" })).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("k1-causes");
        await visit.TextSize(200);
        await visit.HasNoSidewaysScroll();
        await visit.Picture("k2-causes-large");
        await visit.TextSize(100);
        await page.Locator("main .acts .do:not(.plain)").First.ClickAsync();
        await Expect(page.Locator("h1")).ToHaveCountAsync(1);
        Assert.DoesNotContain("/causes", page.Url, StringComparison.Ordinal);
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }
}
