using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class BeforeTests(Chromium chromium)
{
    private static async Task Begin(Visit visit, string sampleVolume)
    {
        var page = visit.Page;
        await visit.Analyser(sampleVolume);
        await page.Locator("a[href^='/checks/new?method=']").First.ClickAsync();
        await page.GetByLabel("Known value").FillAsync("7.90");
        await page.GetByLabel("give or take", new PageGetByLabelOptions { Exact = true }).FillAsync("0.08");
        await visit.Plan();
        await page.Locator("input[name=Replicates]").First.CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Run it step by step" }).ClickAsync();
        await Expect(page.Locator("h1")).ToHaveTextAsync("Before the first reading");
    }

    [Theory]
    [InlineData(Screen.PhoneLight)]
    [InlineData(Screen.DesktopDark)]
    public async Task What_must_hold_is_seen_to_and_dosing_is_let_listen_again(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        if (screen is Screen.PhoneDark or Screen.PhoneLight)
            await page.SetViewportSizeAsync(360, 640);
        await Begin(visit, "");
        await visit.Whole();
        await visit.Picture("g1-before");
        await visit.TextSize(200);
        await visit.HasNoSidewaysScroll();
        await visit.Picture("g2-before-large");
        await visit.TextSize(100);
        await visit.Press("Begin the run");
        await Expect(page.GetByText("Say that it is paused, or that nothing listens.")).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("g3-before-not-yet");
        await page.GetByLabel("It is paused").CheckAsync();
        foreach (var box in await page.Locator("input[type=checkbox]").AllAsync())
            await box.CheckAsync();
        await page.Locator("[name='Reasons.SampleVolume']").FillAsync("the leaflet is lost");
        await visit.Press("Begin the run");
        await Expect(page.Locator("h1")).ToContainTextAsync("Pause every automatic dosing");
        await page.GotoAsync("/due");
        await Expect(page.GetByText("Automatic dosing is paused since").First).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("g4-due");
        await page.GetByRole(AriaRole.Link, new() { Name = "Let it listen again" }).ClickAsync();
        await visit.Whole();
        await visit.Picture("g5-dosing");
        await visit.Press("It listens again");
        await Expect(page.Locator("h1")).ToContainTextAsync("Automatic dosing listens again since");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    [Fact]
    public async Task It_is_seen_to_with_the_keyboard_alone()
    {
        await using var visit = await Visit.Begin(chromium, Screen.DesktopLight);
        var page = visit.Page;
        await Begin(visit, "5");
        await visit.Reach("It is paused");
        await page.Keyboard.PressAsync("Space");
        var boxes = await page.Locator(".guards input[type=checkbox]").CountAsync();
        Assert.True(boxes >= 3);
        for (var box = 0; box < boxes; box++)
        {
            do
                await page.Keyboard.PressAsync("Tab");
            while (!await page.EvaluateAsync<bool>("() => document.activeElement.type === 'checkbox'"));
            await page.Keyboard.PressAsync("Space");
        }
        await visit.Reach("Begin the run");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("h1")).ToContainTextAsync("Pause every automatic dosing");
    }
}
