using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class RoundTests(Chromium chromium)
{
    [Theory]
    [InlineData(Screen.PhoneDark)]
    public async Task A_round_from_its_plan_to_its_verdicts(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        await Furnish(visit);
        await Plan(visit, "nitrate low", "N-1000", "1");
        await Plan(visit, "nitrate high", "N-1000", "5");
        await Plan(visit, "phosphate", "P-1000", "5");

        await page.GotoAsync("/known-water/rounds");
        await visit.Whole();
        await visit.Picture("r1-no-round");
        await page.GetByRole(AriaRole.Link, new() { Name = "Plan a round" }).ClickAsync();
        await visit.Whole();
        await visit.Picture("r2-plan");
        await visit.Press("Plan the round");
        await Expect(page.Locator("h1")).ToContainTextAsync("Round of");
        var round = new Uri(page.Url).AbsolutePath;
        await visit.Whole();
        await visit.Picture("r3-round");
        await page.GetByRole(AriaRole.Link, new() { Name = "Sheet to print" }).ClickAsync();
        await Expect(page.GetByText("Running order")).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("r4-sheet");

        // one button leads through it: make what is to be made, then run what is to be run
        for (var water = 1; water <= 3; water++)
        {
            await page.GotoAsync(round);
            await visit.Leave(page.Locator("a.do", new() { HasText = "Make: " }));
            while (new Uri(page.Url).AbsolutePath.EndsWith("/bench", StringComparison.Ordinal))
                await visit.Leave(page.Locator(".main-do"));
            await visit.Press("Put it on the shelf");
        }
        for (var check = 1; check <= 2; check++)
        {
            await page.GotoAsync(round);
            await visit.Leave(page.Locator("a.do", new() { HasText = "Start: " }));
            var both = await page.Locator("select[name='Levels[1].ReferenceWater']").CountAsync() == 1;
            await page.GetByLabel("Automatic dosing is paused").CheckAsync();
            await page.Locator("input[name=Replicates][value='4']").CheckAsync();
            await visit.Leave(page.GetByRole(AriaRole.Button, new() { Name = "Begin the readings" }));
            foreach (var level in both ? new[] { "0.03", "0.15" } : ["0.15"])
            {
                for (var i = 1; i <= 4; i++)
                    await visit.Read(level);
            }
            await Expect(page.Locator(".verdict").First).ToBeVisibleAsync();
            await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Go on with Round of" })).ToBeVisibleAsync();
        }
        await page.GotoAsync(round);
        await visit.Picture("r5-done");
        await page.GetByRole(AriaRole.Link, new() { Name = "Verdicts together" }).ClickAsync();
        await Expect(page.GetByText("lean on one source, P1, gain")).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("r6-verdicts");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    [Theory]
    [InlineData(Screen.PhoneDark)]
    public async Task Changing_bottles_and_their_values_holds_on_its_screen(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        await Furnish(visit);
        await page.GotoAsync("/known-water/stocks");
        await page.GetByRole(AriaRole.Link, new() { Name = "N-1000", Exact = true }).ClickAsync();
        await page.GetByText("Its certificate has another value too").ClickAsync();
        await page.Locator("[name=What]").SelectOptionAsync(new SelectOptionValue { Value = "phosphate|mg/L PO4" });
        await page.Locator("[name=Known]").FillAsync("50");
        await page.Locator("[name=Doubt]").FillAsync("1 %");
        await visit.Picture("v1-further");
        await visit.Press("Note it");
        await Expect(page.GetByText("50.00")).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("v2-stock");
        await page.GetByRole(AriaRole.Link, new() { Name = "Change", Exact = true }).ClickAsync();
        await visit.Whole();
        await visit.Picture("v3-change");
        await page.GotoAsync("/known-water/nutrient-free");
        await page.GetByRole(AriaRole.Link, new() { Name = "Change it" }).First.ClickAsync();
        await visit.Whole();
        await visit.Picture("v4-nutrient-free");

        await Plan(visit, "mixed", "N-1000", "5");
        await visit.Leave(page.GetByRole(AriaRole.Link, new() { Name = "Begin at the bench" }));
        while (new Uri(page.Url).AbsolutePath.EndsWith("/bench", StringComparison.Ordinal))
            await visit.Leave(page.Locator(".main-do"));
        await visit.Press("Put it on the shelf");
        await Expect(page.GetByText("Also known for")).ToBeVisibleAsync();
        var water = new Uri(page.Url).AbsolutePath;
        // another certificate, another value: the water follows when it is asked to
        await page.GotoAsync("/known-water/stocks");
        await page.GetByRole(AriaRole.Link, new() { Name = "N-1000", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Change", Exact = true }).ClickAsync();
        await page.Locator("[name=Known]").FillAsync("1010");
        await visit.Press("Change it");
        await page.GotoAsync(water);
        await Expect(page.GetByText("Reckoned anew it would be")).ToBeVisibleAsync();
        await visit.Whole();
        await visit.Picture("v5-anew");
        await visit.Press("Reckon it anew");
        await Expect(page.Locator("h1")).ToContainTextAsync("0.1010");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    [Fact]
    public async Task A_round_is_planned_and_its_first_water_made_by_keyboard_alone()
    {
        await using var visit = await Visit.Begin(chromium, Screen.DesktopLight);
        var page = visit.Page;
        await Furnish(visit);
        await Plan(visit, "nitrate low", "N-1000", "1");
        await Plan(visit, "phosphate", "P-1000", "5");
        await page.GotoAsync("/known-water");
        await To(page, "Check several methods in a round");
        await page.Keyboard.PressAsync("Enter");
        await To(page, "Plan a round");
        await page.Keyboard.PressAsync("Enter");
        await To(page, "Plan the round");
        await page.Keyboard.PressAsync("Enter");
        await To(page, "Make: nitrate low");
        await page.Keyboard.PressAsync("Enter");
        foreach (var done in new[] { "Pipetted", "Filled", "Mixed", "Pipetted", "Filled", "Mixed" })
        {
            await Expect(page.Locator(".main-do")).ToHaveTextAsync(done);
            await To(page, done);
            await page.Keyboard.PressAsync("Enter");
        }
        await To(page, "Put it on the shelf");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("h1")).ToContainTextAsync("nitrate low");
        Assert.Empty(visit.Complaints);

        // the sheet of one water fits one page of A4
        await page.GotoAsync("/known-water/prepare");
        await page.GetByRole(AriaRole.Link, new() { Name = "phosphate" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Sheet to print" }).ClickAsync();
        // a page that is still on its way cannot be printed, or is the one before
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Ready at hand" })).ToBeVisibleAsync();
        await page.WaitForLoadStateAsync();
        var paper = System.Text.Encoding.Latin1.GetString(await page.PdfAsync(new PagePdfOptions { Format = "A4" }));
        Assert.Equal(1, paper.Split("/Type /Page\n").Length - 1);
    }

    /// <summary>Tabs until a link or button of these words has the focus; fails after two hundred.</summary>
    private static async Task To(IPage page, string words)
    {
        for (var i = 0; i < 200; i++)
        {
            try
            {
                await page.Keyboard.PressAsync("Tab");
                if (await page.EvaluateAsync<string>("(document.activeElement?.innerText ?? '').trim()") == words)
                    return;
            }
            catch (PlaywrightException)
            {
                // the page of the key before is just leaving
            }
        }
        Assert.Fail($"{page.Url}: nothing that reads “{words}” takes the focus.");
    }

    private static async Task Furnish(Visit visit)
    {
        var page = visit.Page;
        await page.GotoAsync("/instruments/new");
        await page.Locator("[name=Name]").FillAsync("the harbour analyser");
        await visit.Leave(page.Locator("form.fields button.do[type=submit]").First);
        var instrument = new Uri(page.Url).AbsolutePath;
        foreach (var what in new[] { "nitrate|mg/L NO3", "phosphate|mg/L PO4" })
        {
            await page.GotoAsync(instrument + "/methods/new");
            await page.Locator("[name=What]").SelectOptionAsync(new SelectOptionValue { Value = what });
            foreach (var (field, value) in new[] { ("ToleranceAbsolute", "0.01"), ("TolerancePercent", "10"), ("MinutesPerReading", "10") })
                await page.Locator($"[name={field}]").FillAsync(value);
            await visit.Press("Add it");
        }
        await page.GotoAsync("/known-water/nutrient-free/new");
        await visit.Fill(("What stands on it?", "sea 26-A"), ("How much there is", "5000"));
        await visit.Press("Put it on the shelf");
        foreach (var (label, what) in new[] { ("N-1000", "nitrate|mg/L NO3"), ("P-1000", "phosphate|mg/L PO4") })
        {
            await page.GotoAsync("/known-water/stocks/new");
            await visit.Fill(("What stands on the bottle?", label), ("Value", "1000"), ("give or take", "0.5 %"), ("Certificate number, or the maker’s words", "26-0501"), ("How much is in it", "100"));
            await page.GetByLabel("What is certified in it?").SelectOptionAsync(new SelectOptionValue { Value = what });
            await visit.Press("Put it on the shelf");
        }
        foreach (var (kind, name, fields) in new[]
        {
            ("PistonPipette", "P1", new[] { ("Largest volume", "1"), ("Smallest volume", "0.1"), ("Off by at the most", "0.008"), ("Between deliveries", "0.003") }),
            ("PistonPipette", "P5", [("Largest volume", "5"), ("Smallest volume", "0.5"), ("Off by at the most", "0.04"), ("Between deliveries", "0.015")]),
            ("Flask", "F100", [("Volume at its mark", "100"), ("Off by at the most", "0.1")]),
            ("Flask", "F500", [("Volume at its mark", "500"), ("Off by at the most", "0.25")]),
        })
        {
            await page.GotoAsync("/known-water/glassware/new?kind=" + kind);
            await visit.Fill([("What do you call it?", name), .. fields]);
            await visit.Press("Add it");
        }
    }

    /// <summary>Plans two dilutions: a millilitre to 100 mL, then so much of that to 500 mL.</summary>
    private static async Task Plan(Visit visit, string label, string stock, string second)
    {
        var page = visit.Page;
        await page.GotoAsync("/known-water/prepare");
        await visit.Press("Dilute once more");
        async Task Choose(string field, string start)
        {
            var option = page.Locator($"select[name='{field}'] option", new() { HasText = start + ":" });
            await page.Locator($"select[name='{field}']").SelectOptionAsync(new SelectOptionValue { Value = await option.GetAttributeAsync("value") });
        }
        await Choose("Stock", stock);
        foreach (var (step, aliquot, with, made, inside) in new[] { (0, "1", "P1", "100", "F100"), (1, second, "P5", "500", "F500") })
        {
            await page.Locator($"[name='Steps[{step}].Aliquot']").FillAsync(aliquot);
            await Choose($"Steps[{step}].With", with);
            await page.Locator($"[name='Steps[{step}].How'][value=to]").CheckAsync();
            await page.Locator($"[name='Steps[{step}].Made']").FillAsync(made);
            await Choose($"Steps[{step}].In", inside);
        }
        await page.GetByText("More: name, wanted value").ClickAsync();
        await page.Locator("[name=Label]").FillAsync(label);
        await visit.Press("Show its value");
        await visit.Press("Keep this plan");
        await Expect(page.Locator("h1")).ToContainTextAsync(label);
    }
}
