using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

/// <summary>A phone at the run sheet: what the hand does on it.</summary>
public sealed partial class Device(RunBench bench, Wire wire, IBrowserContext context)
{
    public Wire Wire { get; } = wire;

    public IPage Page { get; private set; } = null!;

    private string Sheet => $"/checks/{bench.Check}/run";

    /// <summary>Opens the sheet in a new tab; begins the run where none is under way.</summary>
    public async Task Open()
    {
        if (Page is not null)
            await Page.CloseAsync();
        Page = await context.NewPageAsync();
        Page.SetDefaultTimeout(Chromium.Patience);
        await Page.GotoAsync(Sheet);
        if (await Page.GetByRole(AriaRole.Button, new() { Name = "Begin the run" }).IsVisibleAsync())
            await Page.GetByRole(AriaRole.Button, new() { Name = "Begin the run" }).ClickAsync();
        await Ready();
    }

    public Task Ready() => Expect(Page.Locator("#run[data-ready]")).ToBeVisibleAsync();

    /// <summary>Waits until the browser keeps the page for a load without the network.</summary>
    public Task KeptForLater() => Page.WaitForFunctionAsync("async sheet => !!navigator.serviceWorker.controller && !!(await caches.match(sheet))", Sheet);

    /// <summary>The step that the sheet shows, from zero; the number of steps when all are done.</summary>
    public async Task<int> Step()
    {
        var count = (await Page.Locator("#run-count").TextContentAsync())!;
        return Count().Match(count) is { Success: true } match ? int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture) - 1 : int.MaxValue;
    }

    /// <summary>Does steps until the sheet shows this one.</summary>
    public async Task DoUntil(int step, params string[] readings)
    {
        var typed = new Queue<string>(readings);
        while (await Step() < step)
            await Do(typed);
        Assert.Empty(typed);
    }

    /// <summary>Does what is left, and opens the verdict.</summary>
    public async Task DoTheRest(params string[] readings)
    {
        await DoUntil(int.MaxValue, readings);
        await Expect(Page.Locator("#run-do")).ToHaveTextAsync("See the verdict");
        await Page.Locator("#run-do").ClickAsync();
        await Expect(Page.Locator(".verdict h1")).ToBeVisibleAsync();
    }

    /// <summary>Nothing waits on the device any more.</summary>
    public Task Sent() => Expect(Page.Locator("#run-kept")).ToHaveTextAsync("Kept in the records; the network may drop.");

    /// <summary>So many entries wait on the device.</summary>
    public Task Waiting(int entries) => Expect(Page.Locator("#run-kept")).ToHaveTextAsync($"{entries} entries wait on this device for the network.");

    private async Task Do(Queue<string> typed)
    {
        var count = await Page.Locator("#run-count").TextContentAsync();
        if (await Page.Locator("#run-read").IsVisibleAsync())
            await Page.Locator("#f-Typed").FillAsync(typed.Dequeue());
        await Page.Locator("#run-do").ClickAsync();
        await Page.WaitForFunctionAsync("count => document.getElementById('run-count').textContent !== count", count);
    }

    [GeneratedRegex(@"^Step (\d+) of", RegexOptions.None, 1000)]
    private static partial Regex Count();
}
