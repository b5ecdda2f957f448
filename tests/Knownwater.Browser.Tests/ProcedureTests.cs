using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class ProcedureTests(Chromium chromium)
{
    [Theory]
    [InlineData(Screen.PhoneDark)]
    public async Task The_procedure_of_an_instrument_is_read_and_changed(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        if (screen is Screen.PhoneDark or Screen.PhoneLight)
            await page.SetViewportSizeAsync(360, 640);
        await visit.Analyser("5");
        await page.GetByRole(AriaRole.Link, new() { Name = "Its procedure" }).ClickAsync();
        await Expect(page.Locator("h1")).ToHaveTextAsync("Automatic analyser, fed by hand");
        await visit.Whole();
        await visit.Picture("p1-procedure");
        await visit.TextSize(200);
        await visit.HasNoSidewaysScroll();
        await visit.Picture("p2-procedure-large");
        await visit.TextSize(100);

        await page.Locator("#fill-1 summary").ClickAsync();
        await page.Locator("#fill-1").GetByRole(AriaRole.Link, new() { Name = "Add one after it" }).ClickAsync();
        await Expect(page.Locator("h1")).ToHaveTextAsync("Add a step");
        await visit.Fill(("What to do", "Wait for the valve to click."));
        await visit.Press("Keep as a new version");
        await Expect(page.Locator("#f-Done-wrong")).ToBeVisibleAsync();
        await Expect(page.GetByLabel("What to do")).ToHaveValueAsync("Wait for the valve to click.");
        await visit.Whole();
        await visit.Picture("p3-step");
        await visit.Fill(("Word of the button", "It clicked"), ("Timer", "0.5"));
        await visit.Press("Keep as a new version");
        await Expect(page.Locator("#wait-for-the-valve-to-cl")).ToContainTextAsync("30");
        await page.Locator("#wait-for-the-valve-to-cl summary").ClickAsync();
        await visit.Whole();
        await page.Locator("#wait-for-the-valve-to-cl").GetByRole(AriaRole.Button, new() { Name = "Move down" }).ClickAsync();
        await page.GetByText("Change name and volumes").ClickAsync();
        await page.GetByLabel("Stays behind").FillAsync("a drop");
        await page.Locator("form:has(#f-Residual) button[value=head]").ClickAsync();
        await Expect(page.Locator("#f-Residual-wrong")).ToBeVisibleAsync();
        await Expect(page.GetByLabel("Stays behind")).ToHaveValueAsync("a drop");
        await visit.Whole();
        await visit.Picture("p4-procedure-changed");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    [Fact]
    public async Task A_step_is_added_with_the_keyboard_alone()
    {
        await using var visit = await Visit.Begin(chromium, Screen.DesktopLight);
        var page = visit.Page;
        await visit.Analyser("5");
        await visit.Reach("Its procedure");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("h1")).ToHaveTextAsync("Automatic analyser, fed by hand");
        await visit.Reach("Change step 1");
        await page.Keyboard.PressAsync("Enter");
        await visit.Reach("Add one after it: step 1");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("h1")).ToHaveTextAsync("Add a step");
        await visit.Reach("What to do");
        await page.Keyboard.TypeAsync("Listen.");
        await visit.Reach("Word of the button");
        await page.Keyboard.TypeAsync("Heard");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#listen")).ToContainTextAsync("Heard");
    }
}
