using System.Diagnostics;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

public class FirstVerdictTests(Chromium chromium)
{
    private static readonly string[] Readings = ["8.6", "8.8", "8.7", "8.9", "8.7"];

    [Theory]
    [InlineData(Screen.PhoneDark)]
    [InlineData(Screen.DesktopLight)]
    public async Task From_an_empty_store_to_a_printed_verdict(Screen screen)
    {
        var clock = Stopwatch.StartNew();
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;

        await page.GotoAsync("/");
        await Expect(page.Locator("h1")).ToHaveTextAsync("Is it reading right today?");
        await visit.IsAccessible();
        await visit.Picture("1-quick-verdict");
        await visit.Begin("alkalinity|dKH", "7.90", "0.08", 5);
        await visit.IsAccessible();

        await visit.Read(Readings[0]);
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 2");
        await visit.Read("8.8o");
        await Expect(page.Locator("[name=Typed]")).ToHaveAttributeAsync("aria-invalid", "true");
        await Expect(page.Locator("[name=Typed]")).ToHaveValueAsync("8.8o");
        await visit.IsAccessible();
        await visit.Read(Readings[1]);
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 3");
        await visit.Read("87");
        await Expect(page.GetByText("ten times")).ToBeVisibleAsync();
        await Expect(page.GetByText("Reads ")).ToHaveCountAsync(0);
        await visit.Picture("2-readings");
        await page.GetByRole(AriaRole.Button, new() { Name = "Use 8.7" }).ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 4");
        await visit.Read(Readings[3]);
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 5");
        await visit.Read(Readings[4]);

        await Expect(page.Locator(".verdict h1")).ToContainTextAsync("Reads high by 10.6");
        await Expect(page.Locator("figure svg[role=img]")).ToBeVisibleAsync();
        await visit.HasNoSidewaysScroll();
        await visit.IsAccessible();
        await visit.Picture("3-verdict");

        // print: one page, black on white, nothing to click
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Expect(page.Locator("nav.index")).ToBeHiddenAsync();
        await Expect(page.Locator(".verdict h1")).ToBeVisibleAsync();
        var pdf = await page.PdfAsync(new() { Format = "A4" });
        Assert.Equal("%PDF"u8.ToArray(), pdf[..4]);
        Keep(pdf, $"4-printed-{screen}.pdf");
        await page.EmulateMediaAsync(new() { Media = Media.Screen });

        Assert.True(clock.Elapsed < TimeSpan.FromMinutes(10), $"it took {clock.Elapsed}");
        TestContext.Current.TestOutputHelper?.WriteLine($"From the empty store to the printed verdict, {screen}: {clock.Elapsed.TotalSeconds:0.0} s");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    [Fact]
    public async Task The_path_is_walked_without_script()
    {
        await using var visit = await Visit.Begin(chromium, Screen.PhoneLight, script: false);
        await visit.Page.GotoAsync("/");
        await visit.Begin("phosphate|mg/L PO4", "0,10", "0,006", 3);
        foreach (var reading in new[] { "0,14", "0,10", "0,13" })
            await visit.Read(reading);

        await Expect(visit.Page.Locator(".verdict h1")).ToContainTextAsync("Can’t tell yet");
    }

    [Fact]
    public async Task The_path_is_walked_by_keyboard_alone()
    {
        await using var visit = await Visit.Begin(chromium, Screen.DesktopLight);
        var page = visit.Page;
        await page.GotoAsync("/");
        await Until(page, "Levels[0].Known");
        await page.Keyboard.TypeAsync("7.90");
        await Until(page, "Levels[0].Doubt");
        await page.Keyboard.TypeAsync("0.08");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Begin the readings" })).ToBeVisibleAsync();
        await UntilButton(page, "Begin the readings");
        await page.Keyboard.PressAsync("Enter");
        if (await page.Locator("[aria-invalid=true], .error").CountAsync() > 0)
        {
            await Until(page, "AutomationPaused");
            await page.Keyboard.PressAsync("Space");
            await UntilButton(page, "Begin the readings");
            await page.Keyboard.PressAsync("Enter");
        }
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 1");
        var total = int.Parse((await page.Locator("h1").InnerTextAsync()).Split(' ')[^1], System.Globalization.CultureInfo.InvariantCulture);
        for (var i = 0; i < total; i++)
        {
            await Until(page, "Typed");
            await page.Keyboard.TypeAsync(Readings[i % Readings.Length]);
            await page.Keyboard.PressAsync("Enter");
            if (i + 1 < total)
                await Expect(page.Locator("h1")).ToContainTextAsync($"Reading {i + 2}");
        }
        await Expect(page.Locator(".verdict h1")).ToContainTextAsync("Reads high");
    }

    [Theory]
    [InlineData(Screen.PhoneLight)]
    public async Task Every_page_of_the_index_is_whole_and_accessible(Screen screen)
    {
        await using var visit = await Visit.Begin(chromium, screen);
        var page = visit.Page;
        await page.GotoAsync("/");
        await visit.Begin("alkalinity|dKH", "7.90", "0.08", 3);
        foreach (var reading in new[] { "7.9", "8.0", "7.9" })
            await visit.Read(reading);
        await Expect(page.Locator(".verdict")).ToBeVisibleAsync();
        var verdict = page.Url;

        foreach (var path in new[] { verdict, verdict + "/describe", "/due", "/known-water", "/known-water/new", "/checks", "/checks/new", "/drift", "/drift/watch", "/tanks", "/instruments", "/instruments/new", "/files", "/history", "/bench", "/cautions" })
        {
            var answer = await page.GotoAsync(path);
            Assert.True(answer!.Ok, $"{path}: {answer.Status}");
            await visit.Picture("page" + new Uri(page.Url).AbsolutePath.Replace('/', '-')[..Math.Min(24, new Uri(page.Url).AbsolutePath.Length)]);
            await visit.HasNoSidewaysScroll();
            await visit.IsAccessible();
            var bytes = await page.EvaluateAsync<double>("performance.getEntriesByType('navigation').concat(performance.getEntriesByType('resource')).reduce((sum, e) => sum + (e.encodedBodySize || 0), 0)");
            Assert.True(bytes < 250_000, $"{path} weighs {bytes} bytes");
        }
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    /// <summary>Tabs until the field of that name has the focus; fails after a hundred.</summary>
    private static async Task Until(IPage page, string name)
    {
        for (var i = 0; i < 100; i++)
        {
            if (await page.EvaluateAsync<string>("document.activeElement?.name ?? ''") == name)
                return;
            await page.Keyboard.PressAsync("Tab");
        }
        Assert.Fail($"The keyboard never reached {name} on {page.Url}");
    }

    private static async Task UntilButton(IPage page, string text)
    {
        for (var i = 0; i < 100; i++)
        {
            if ((await page.EvaluateAsync<string>("document.activeElement?.tagName === 'BUTTON' ? document.activeElement.innerText.trim() : ''")) == text)
                return;
            await page.Keyboard.PressAsync("Tab");
        }
        Assert.Fail($"The keyboard never reached “{text}” on {page.Url}");
    }

    private static void Keep(byte[] pdf, string name)
    {
        if (Environment.GetEnvironmentVariable("KNOWNWATER_SCREENSHOTS") is { Length: > 0 } where)
            File.WriteAllBytes(Path.Combine(where, name), pdf);
    }

    [Fact]
    public async Task A_page_that_shuts_somebody_out_is_noticed()
    {
        await using var visit = await Visit.Begin(chromium, Screen.PhoneLight);
        await visit.Page.GotoAsync("/cautions");
        await visit.IsAccessible();
        // styles are set by script: the page lets no markup bring its own
        await visit.Page.EvaluateAsync("() => { document.querySelector('h1').insertAdjacentHTML('afterend', '<img src=\"data:,\"><p>pale</p>'); Object.assign(document.querySelector('h1 ~ p').style, { color: '#999', background: '#aaa' }); }");
        var fault = await Assert.ThrowsAnyAsync<Xunit.Sdk.XunitException>(visit.IsAccessible);
        Assert.Contains("image-alt", fault.Message, StringComparison.Ordinal);
        Assert.Contains("color-contrast", fault.Message, StringComparison.Ordinal);
    }
}
