using System.Globalization;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

/// <summary>The screens of the run sheet.</summary>
public class RunSheetTests(Chromium chromium)
{
    [Theory]
    [InlineData(Screen.PhoneDark)]
    [InlineData(Screen.DesktopLight)]
    public async Task Every_step_holds_on_a_small_phone_and_in_large_text(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        if (screen == Screen.PhoneDark)
            await page.SetViewportSizeAsync(360, 640);
        var check = await RunBench.AnalyserCheck(visit.Services, 2);
        await page.GotoAsync($"/checks/{check}");
        await page.GetByRole(AriaRole.Link, new() { Name = "Run it step by step" }).ClickAsync();
        await visit.Whole();
        await visit.Picture("r1-begin");
        await visit.Press("Begin the run");
        await Expect(page.Locator("#run[data-ready]")).ToBeVisibleAsync();
        var layouts = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 1; ; i++)
        {
            Assert.InRange(i, 1, 40);
            await visit.HasNoSidewaysScroll();
            await ButtonIsInView(page);
            // axe and the text size take long, so once for each set of parts that a step has
            if (layouts.Add(await page.EvaluateAsync<string>("() => [...document.querySelectorAll('.run [id]')].filter(e => e.checkVisibility()).map(e => e.id).join(' ')")))
            {
                await visit.IsAccessible();
                await visit.TextSize(200);
                await visit.HasNoSidewaysScroll();
                await ButtonIsInView(page);
                await visit.Picture(string.Create(CultureInfo.InvariantCulture, $"r2-step-{i:00}-large"));
                await visit.TextSize(100);
            }
            await visit.Picture(string.Create(CultureInfo.InvariantCulture, $"r2-step-{i:00}"));
            if (await page.Locator("#run-do").TextContentAsync() == "See the verdict")
                break;
            var count = await page.Locator("#run-count").TextContentAsync();
            if (await page.Locator("#run-read").IsVisibleAsync())
            {
                await page.Locator("#f-Typed").FillAsync("8,o");
                await page.Locator("#run-do").ClickAsync();
                await Expect(page.Locator("#f-Typed-wrong")).ToContainTextAsync("8,o");
                await visit.Whole();
                await visit.Picture("r3-not-a-number");
                await page.Locator("#f-Typed").FillAsync("8.6");
            }
            await page.Locator("#run-do").ClickAsync();
            await Expect(page.Locator("#run-count")).Not.ToHaveTextAsync(count!);
        }

        await page.Locator("#run-note summary").ClickAsync();
        await visit.Whole();
        await page.Locator("#f-Note").FillAsync("a drop beside the chamber");
        await page.Locator("button[value=slip]").ClickAsync();
        await page.Locator("#run-note summary").ClickAsync();
        await page.Locator("#f-Photo").SetInputFilesAsync(new FilePayload { Name = "lid.png", MimeType = "image/png", Buffer = Photo });
        await Expect(page.Locator("#run-said")).ToHaveTextAsync("Photo kept.");
        await Expect(page.Locator("#run-kept")).ToContainTextAsync("Kept in the records");
        await page.GotoAsync($"/checks/{check}/run/record");
        await Expect(page.GetByText("Slip: a drop beside the chamber").First).ToBeVisibleAsync();
        // the sheet makes photos small and of one kind, and the record shows them
        Assert.Equal(2, await page.Locator(".run-shot img").EvaluateAsync<int>("async image => { await image.decode(); return image.naturalWidth; }"));
        await visit.Whole();
        await visit.Picture("r4-record");
        await page.GotoAsync($"/checks/{check}");
        await visit.Whole();
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    /// <summary>The one button of the step can be pressed without scrolling, and is large enough for a wet thumb.</summary>
    private static async Task ButtonIsInView(IPage page)
    {
        await Expect(page.Locator("#run-do")).ToBeInViewportAsync(new() { Ratio = 0.99f });
        Assert.InRange((await page.Locator("#run-do").BoundingBoxAsync())!.Height, 80, 400);
    }

    /// <summary>Two pixels by one: a PNG as a camera might send, only smaller.</summary>
    private static byte[] Photo { get; } = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAIAAAABCAIAAAB7QOjdAAAAD0lEQVR4nGNQSGj48OACAAoHA6Fl1XUaAAAAAElFTkSuQmCC");
}
