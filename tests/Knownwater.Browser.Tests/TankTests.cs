using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class TankTests(Chromium chromium)
{
    private static readonly string[] High = ["8.6", "8.8", "8.7", "8.9", "8.7"];

    private static async Task Furnish(Visit visit)
    {
        var page = visit.Page;
        if (visit.Screen is Screen.PhoneLight or Screen.PhoneDark)
            await page.SetViewportSizeAsync(360, 640);
        await page.GotoAsync("/instruments/new");
        await page.Locator("[name=Name]").FillAsync("the harbour analyser");
        await page.Keyboard.PressAsync("Enter");
        await page.GetByRole(AriaRole.Link, new() { Name = "Add a method" }).First.ClickAsync();
        await page.Locator("[name=What]").SelectOptionAsync(new SelectOptionValue { Value = "alkalinity|dKH" });
        await visit.Press("Add it");
        await page.GotoAsync("/tanks/new");
        await page.Locator("[name=Name]").FillAsync("Lagoon");
        await page.Locator("[name=Volume]").FillAsync("280");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("h1")).ToHaveTextAsync("Lagoon");
    }

    [Theory]
    [InlineData(Screen.PhoneLight)]
    public async Task A_tank_is_read_and_dosed_and_what_a_failed_check_puts_in_doubt_is_cleared(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        await Furnish(visit);
        await page.GetByRole(AriaRole.Link, new() { Name = "Enter readings" }).First.ClickAsync();
        await visit.Whole();
        await visit.Picture("b1-enter");
        await page.Locator("[name='Lines[0].Typed']").FillAsync("8,x");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("[aria-invalid=true]")).ToHaveCountAsync(1);
        await visit.Whole();
        await visit.Picture("b2-wrong");
        await page.Locator("[name='Lines[0].Typed']").FillAsync("8,2");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator(".undo")).ToContainTextAsync("alkalinity 8.2 dKH entered.");
        await page.GetByRole(AriaRole.Link, new() { Name = "Record a dose" }).First.ClickAsync();
        await visit.Whole();
        await visit.Picture("b3-dose");
        await page.Locator("[name=What]").FillAsync("bicarbonate solution");
        await page.Locator("[name=Amount]").FillAsync("38 mL a day");
        await page.Locator("[name=Parameter]").SelectOptionAsync("alkalinity");
        await page.Locator("main button.do[value=save]:not(.hidden)").ClickAsync();
        await Expect(page.Locator(".undo")).ToContainTextAsync("38 mL a day of bicarbonate solution dosed.");
        await visit.Whole();
        await visit.Picture("b4-tank");
        var tank = page.Url;

        await page.GotoAsync("/due");
        await page.GetByRole(AriaRole.Link, new() { Name = "Plan a check" }).First.ClickAsync();
        await page.GetByLabel("Known value").FillAsync("7.90");
        await page.GetByLabel("give or take", new PageGetByLabelOptions { Exact = true }).FillAsync("0.08");
        await visit.Plan();
        await page.Locator("input[name=Replicates][value='5']").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Begin the readings" }).ClickAsync();
        foreach (var reading in High)
            await visit.Read(reading);
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "What to do, in this order" })).ToBeVisibleAsync();
        await Expect(page.Locator(".until")).ToContainTextAsync("Lagoon: 38 mL a day of bicarbonate solution");
        await visit.Whole();
        await visit.Picture("b5-verdict");
        await visit.TextSize(200);
        await visit.HasNoSidewaysScroll();
        await visit.Picture("b6-verdict-large");
        await visit.TextSize(100);

        await page.GotoAsync(tank);
        await Expect(page.Locator("main tbody th .doubt-mark").First).ToContainTextAsync("in doubt");
        await visit.Whole();
        await visit.Picture("b7-tank-marked");
        await page.Locator("main .doubt-mark a").First.ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("One reading and one dose are in doubt");
        await visit.Whole();
        await visit.Picture("b8-look-back");
        await visit.TextSize(200);
        await visit.HasNoSidewaysScroll();
        await visit.Picture("b9-look-back-large");
        await visit.TextSize(100);
        await page.Locator("[name=Readings]").First.CheckAsync();
        await visit.Press("Clear what is ticked");
        await Expect(page.Locator("[aria-invalid=true]")).ToHaveCountAsync(1);
        await Expect(page.Locator("[name=Readings]").First).ToBeCheckedAsync();
        await visit.Whole();
        await page.Locator("[name=Reason]").FillAsync("a second method agreed");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("h1")).ToContainTextAsync("One dose is in doubt");
        await page.Locator("[name=Reason]").FillAsync("never changed by it");
        await visit.Press("Clear all 1");
        await Expect(page.Locator("h1")).ToHaveTextAsync("Nothing is in doubt any more.");
        await visit.Whole();
        await visit.Picture("b10-cleared");
        await visit.Press("Undo");
        await Expect(page.Locator("h1")).ToContainTextAsync("One dose is in doubt");
        await page.GotoAsync("/due");
        await Expect(page.Locator("main")).ToContainTextAsync("One dose of alkalinity in Lagoon is in doubt");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    [Theory]
    [InlineData(Screen.PhoneLight)]
    public async Task Readings_go_in_by_the_keyboard_alone_at_twice_the_text_size(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        await Furnish(visit);
        await visit.TextSize(200);
        await page.GotoAsync(page.Url + "/readings/new");
        await visit.HasNoSidewaysScroll();
        await visit.Picture("b11-enter-large");
        for (var i = 0; i < 60 && await page.EvaluateAsync<string>("document.activeElement?.name ?? ''") != "Lines[0].Typed"; i++)
            await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.TypeAsync("8.1");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator(".undo")).ToContainTextAsync("alkalinity 8.1 dKH entered.");
        Assert.Empty(visit.Complaints);
    }
}
