using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class HandKitTests(Chromium chromium)
{
    /// <summary>The small phone that every page must hold on, with usual text and with text twice as large.</summary>
    private static async Task Look(Visit visit, string name, bool script = true)
    {
        // the page cannot be asked where it runs no script
        if (!script)
            return;
        await visit.Page.SetViewportSizeAsync(360, 640);
        await visit.Whole();
        await visit.Picture(name);
        await visit.TextSize(200);
        await visit.HasNoSidewaysScroll();
        await visit.Picture(name + "-large");
        await visit.TextSize(100);
    }

    private static async Task Instrument(Visit visit, string name, string kind)
    {
        await visit.Page.GotoAsync("/instruments/new");
        await visit.Page.Locator("input[name=Name]").FillAsync(name);
        await visit.Page.Locator($"input[name=Kind][value={kind}]").CheckAsync();
        await visit.Page.Locator("main form .do").First.ClickAsync();
        await Expect(visit.Page.Locator("h1")).ToContainTextAsync(name);
    }

    /// <summary>Tabs until the element with such words has the focus; a person without a mouse.</summary>
    private static async Task TabTo(Visit visit, string words)
    {
        for (var i = 0; i < 80; i++)
        {
            if (await visit.Page.EvaluateAsync<string>("(document.activeElement?.innerText || document.activeElement?.getAttribute('aria-label') || '').trim()") is var at && at == words)
                return;
            await visit.Page.Keyboard.PressAsync("Tab");
        }
        Assert.Fail($"{visit.Page.Url}: no way by Tab to “{words}”.");
    }

    [Theory]
    [InlineData(Screen.PhoneDark, true)]
    [InlineData(Screen.PhoneLight, false)]
    public async Task A_kit_with_a_colour_card_is_checked_by_pressing_what_is_seen(Screen screen, bool script)
    {
        await using var visit = await Visit.Begin(chromium, screen, script);
        var page = visit.Page;
        await Instrument(visit, "the drawer kit", "HandKit");
        await page.GotoAsync(page.Url + "/methods/new");
        await page.Locator("select[name=What]").SelectOptionAsync(new SelectOptionValue { Value = "nitrate|mg/L NO3" });
        await page.GetByLabel("How is it read?").SelectOptionAsync(new SelectOptionValue { Value = "ColourSteps" });
        if (!await page.GetByLabel("Steps of the colour card").IsVisibleAsync())
            await page.GetByText("For a kit: steps of its card").ClickAsync();
        await page.GetByLabel("Steps of the colour card").FillAsync("0 2 5 10 25");
        await Look(visit, "h1-kit-method", script);
        await page.Locator("main form button[value=save]").Last.ClickAsync();
        await Expect(page.GetByText("by colour, steps 0, 2, 5, 10 and 25")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Check it" }).ClickAsync();
        await page.GetByLabel("Known value").FillAsync("8");
        await page.GetByLabel("give or take", new PageGetByLabelOptions { Exact = true }).FillAsync("0.2");
        await visit.Plan();
        await page.Locator("input[name=Replicates][value='3']").CheckAsync();
        await visit.Press("Begin the readings");
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 1");
        await Look(visit, "h2-kit-reading", script);
        if (script)
        {
            // the first one without a mouse
            await TabTo(visit, "between 5 and 10");
            await page.Keyboard.PressAsync("Enter");
        }
        else
        {
            await visit.Press("between 5 and 10");
        }
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 2");
        await visit.Press("like 10");
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 3");
        await visit.Read("7");
        await Expect(page.GetByText("7 is not on the card").First).ToBeVisibleAsync();
        await Look(visit, "h3-kit-refused", script);
        await visit.Press("between 5 and 10");
        await Expect(page.GetByText("Each reading lies between two colours")).ToBeVisibleAsync();
        await Look(visit, "h4-kit-verdict", script);
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    private static async Task Analyser(Visit visit)
    {
        await Instrument(visit, "the harbour analyser", "Analyser");
        await visit.Page.GotoAsync(visit.Page.Url + "/methods/new");
        await visit.Page.Locator("select[name=What]").SelectOptionAsync(new SelectOptionValue { Value = "alkalinity|dKH" });
        await visit.Page.Locator("main form button[value=save]").Last.ClickAsync();
        await Expect(visit.Page.GetByRole(AriaRole.Link, new() { Name = "Check its line" })).ToBeVisibleAsync();
    }

    [Theory]
    [InlineData(Screen.PhoneLight)]
    [InlineData(Screen.PhoneDark)]
    public async Task A_line_check_with_the_water_of_the_tank(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        await Analyser(visit);
        await Look(visit, "h5-instrument");
        await page.GetByRole(AriaRole.Link, new() { Name = "Check its line" }).ClickAsync();
        await page.GetByLabel("The water is from a tank, of a steady level").CheckAsync();
        await page.GetByLabel("About what does it read?").FillAsync("8.1");
        await Expect(page.GetByText("How many readings in each series?")).ToBeVisibleAsync();
        await page.Locator("input[name=Replicates][value='3']").CheckAsync();
        await Look(visit, "h6-line-start");
        await visit.Press("Begin the readings");
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 1 of 3, by hand");
        await Look(visit, "h7-line-first");
        foreach (var reading in new[] { "8.1", "8.2", "8.1" })
            await visit.Read(reading);
        await Expect(page.Locator("h1")).ToContainTextAsync("through the line");
        await Look(visit, "h8-line-second");
        foreach (var reading in new[] { "7.2", "7.1", "7.2" })
            await visit.Read(reading);
        await Expect(page.Locator("h1")).ToContainTextAsync("Through the line it reads");
        await Look(visit, "h9-line-verdict");
        await page.GetByText("Open a reading: change it, or leave it out").First.ClickAsync();
        await page.GotoAsync(page.Url + "/describe");
        await Expect(page.GetByText("Where the known value came from")).ToHaveCountAsync(0);
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    [Fact]
    public async Task A_changeover_with_two_lots_and_a_run_that_does_not_count()
    {
        await using var visit = await Visit.Begin(chromium, Screen.PhoneLight);
        var page = visit.Page;
        await Analyser(visit);
        var instrument = page.Url;
        foreach (var (lot, day) in new[] { ("A-19", "2026-06-01"), ("A-20", "2026-08-01") })
        {
            await page.GotoAsync(instrument + "/lots/new");
            await page.GetByLabel("What stands on the bottle?").FillAsync(lot);
            await page.GetByLabel("What is in it?").FillAsync("alkalinity reagent");
            await page.GetByLabel("Opened on").FillAsync(day);
            await page.Locator("input[name=Methods]").CheckAsync();
            await page.GetByLabel("It takes the place of the one in use").SetCheckedAsync(false);
            await visit.Press("Open it");
            await Expect(page.Locator("h1")).ToContainTextAsync("the harbour analyser");
        }
        await page.GotoAsync(instrument);
        await page.GetByRole(AriaRole.Link, new() { Name = "New bottle" }).ClickAsync();
        await page.GetByLabel("Known value").FillAsync("7.90");
        await page.GetByLabel("give or take", new PageGetByLabelOptions { Exact = true }).FillAsync("0.08");
        await page.GetByLabel("Runs before the first reading that do not count").FillAsync("1");
        await visit.Plan();
        await page.Locator("input[name=Replicates][value='3']").CheckAsync();
        await Look(visit, "h10-changeover-start");
        await visit.Press("Begin the readings");
        await Expect(page.Locator("h1")).ToContainTextAsync("Conditioning run 1 of 1, old bottle");
        await Look(visit, "h11-conditioning");
        foreach (var reading in new[] { "6.0", "7.9", "8.0", "7.9", "7.2", "8.7", "8.8", "8.7" })
            await visit.Read(reading);
        await Expect(page.Locator("h1")).ToContainTextAsync("The new bottle reads");
        await Expect(page.GetByText("Conditioning run, kept and not judged: 6.0").First).ToBeVisibleAsync();
        await Look(visit, "h12-changeover-verdict");
        Assert.Empty(visit.Complaints);
    }
}
