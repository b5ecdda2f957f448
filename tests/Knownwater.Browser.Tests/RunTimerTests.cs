using System.Diagnostics;
using System.Globalization;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

/// <summary>The timers of the run sheet. In a class of its own, so that the minute it waits passes beside other tests.</summary>
public class RunTimerTests(Chromium chromium)
{
    private const string Signals = "() => `${window.shaken} shakes, ${window.tones} tones`";

    [Fact]
    public async Task A_timer_is_exact_within_a_second_after_a_minute_in_the_background_and_after_a_new_load()
    {
        await using var bench = await RunBench.New(minutes: "2");
        await using var browser = await chromium.Another();
        var phone = await bench.Device(browser);
        await phone.DoUntil(12);
        await phone.Sent();
        var start = (await bench.Run()).Starts[12].ToUnixTimeMilliseconds();
        Assert.InRange(Math.Abs(await Difference(phone.Page, start)), 0, 1);
        await phone.Page.EvaluateAsync("() => { window.ticks = 0; setInterval(() => window.ticks++, 100); }");

        // what a phone does to a page behind a locked screen: its process is held, and later let go on
        var pages = await Pages(browser);
        await Signal("-STOP", pages);
        await Task.Delay(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);
        await Signal("-CONT", pages);
        Assert.InRange(Math.Abs(await Difference(phone.Page, start)), 0, 1);
        // no tick passed meanwhile: what counted them would now be a minute behind
        Assert.InRange(await phone.Page.EvaluateAsync<int>("() => window.ticks"), 0, 150);

        await phone.Page.ReloadAsync();
        await phone.Ready();
        Assert.InRange(Math.Abs(await Difference(phone.Page, start)), 0, 1);
        var desk = await bench.Device(chromium.Browser);
        Assert.InRange(Math.Abs(await Difference(desk.Page, start)), 0, 1);
    }

    [Fact]
    public async Task The_end_of_a_timer_sounds_and_vibrates_only_where_it_was_asked_for()
    {
        await using var bench = await RunBench.New(minutes: "0.05");
        var phone = await bench.Device(chromium.Browser);
        var page = phone.Page;
        await page.EvaluateAsync("() => { window.shaken = 0; navigator.vibrate = () => ++window.shaken; window.tones = 0; const start = OscillatorNode.prototype.start; OscillatorNode.prototype.start = function (when) { window.tones++; start.call(this, when); }; }");
        await phone.DoUntil(12);
        await Expect(page.Locator("#run-timer-note")).ToContainTextAsync("over");
        Assert.Equal("0 shakes, 0 tones", await page.EvaluateAsync<string>(Signals));
        await page.GetByText("Sound, screen, network").ClickAsync();
        await page.GetByLabel("Sound when a timer ends").CheckAsync();
        await page.GetByLabel("Vibrate when a timer ends").CheckAsync();
        await page.Locator("#run-timer-again").ClickAsync();
        await Expect(page.Locator("#run-timer-note")).Not.ToContainTextAsync("over");
        await Expect(page.Locator("#run-timer-note")).ToContainTextAsync("over");
        Assert.Equal("1 shakes, 2 tones", await page.EvaluateAsync<string>(Signals));
    }

    /// <summary>The processes in which a browser runs its pages.</summary>
    private static async Task<List<int>> Pages(IBrowser browser)
    {
        var protocol = await browser.NewBrowserCDPSessionAsync();
        var answer = await protocol.SendAsync("SystemInfo.getProcessInfo");
        List<int> pages = [.. answer!.Value.GetProperty("processInfo").EnumerateArray().Where(p => p.GetProperty("type").GetString() == "renderer").Select(p => p.GetProperty("id").GetInt32())];
        Assert.NotEmpty(pages);
        return pages;
    }

    private static async Task Signal(string signal, IEnumerable<int> processes)
    {
        using var kill = Process.Start("kill", [signal, .. processes.Select(p => p.ToString(CultureInfo.InvariantCulture))]);
        await kill.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, kill.ExitCode);
    }

    /// <summary>
    /// Seconds that the page shows more than are left by the records' start and this machine's clock, at the moments when the shown second
    /// changes. Of three changes the nearest counts: a busy machine delays one of them, and a timer that is off is off at all three.
    /// </summary>
    private static async Task<double> Difference(IPage page, long start)
    {
        var seen = await page.EvaluateAsync<string[]>(
            """
            () => new Promise(good => {
              const seen = [];
              new MutationObserver((_, observer) => {
                seen.push(`${document.getElementById('run-time').textContent}:${Date.now()}`);
                if (seen.length < 3) return;
                observer.disconnect();
                good(seen);
              }).observe(document.getElementById('run-time'), { childList: true, characterData: true, subtree: true });
            })
            """);
        var nearest = seen.Select(s => s.Split(':').Select(n => long.Parse(n, CultureInfo.InvariantCulture)).ToList())
            .Select(n => 60 * n[0] + n[1] - (start + 120_000 - n[2]) / 1000.0)
            .MinBy(Math.Abs);
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{string.Join(", ", seen)}: off by {nearest:0.000} s"));
        return nearest;
    }
}
