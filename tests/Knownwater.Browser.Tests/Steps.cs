using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

/// <summary>What a person does at the bench.</summary>
internal static class Steps
{
    /// <summary>Fills the first page and begins, from wherever the visit stands.</summary>
    public static async Task Begin(this Visit visit, string parameter, string known, string doubt, int readings)
    {
        var page = visit.Page;
        await page.GetByLabel("What do you measure?").SelectOptionAsync(new SelectOptionValue { Value = parameter });
        await page.GetByLabel("Known value").FillAsync(known);
        await page.GetByLabel("give or take", new PageGetByLabelOptions { Exact = true }).FillAsync(doubt);
        await page.GetByLabel("Automatic dosing is paused").CheckAsync();
        await visit.Plan();
        await page.Locator($"input[name=Replicates][value='{readings}']").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Begin the readings" }).ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 1");
    }

    /// <summary>Asks how many readings, unless the page has worked it out by itself.</summary>
    public static async Task Plan(this Visit visit)
    {
        var begin = visit.Page.GetByRole(AriaRole.Button, new() { Name = "Begin the readings" });
        var work = visit.Page.GetByRole(AriaRole.Button, new() { Name = "Work out how many readings" });
        await Expect(begin.Or(work).First).ToBeVisibleAsync();
        if (await begin.CountAsync() == 0)
        {
            // the page may be working it out at this moment; pressing Enter asks for the same
            await visit.Page.GetByLabel("Known value").PressAsync("Enter");
        }
        await Expect(begin).ToBeVisibleAsync();
    }

    /// <summary>Types one reading and keeps it.</summary>
    public static async Task Read(this Visit visit, string typed)
    {
        await visit.Page.Locator("input[name=Typed]").FillAsync(typed);
        await visit.Page.GetByRole(AriaRole.Button, new() { Name = "Keep", Exact = true }).ClickAsync();
    }

    /// <summary>The page in the browser is whole: nothing wider than the screen.</summary>
    public static async Task HasNoSidewaysScroll(this Visit visit) =>
        Assert.True(await visit.Page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= document.documentElement.clientWidth"), $"{visit.Page.Url} is wider than the screen");
}
