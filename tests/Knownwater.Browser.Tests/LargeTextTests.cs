using Knownwater.Records.Demo;
using Microsoft.Extensions.DependencyInjection;

namespace Knownwater.Browser.Tests;

/// <summary>The demo on the smallest phone, its text twice as large.</summary>
public sealed class LargeTextTests(Chromium chromium)
{
    [Fact]
    public async Task No_page_is_wider_than_a_small_phone_with_large_text()
    {
        await using var visit = await Visit.Begin(chromium, Screen.PhoneDark);
        var page = visit.Page;
        await page.SetViewportSizeAsync(360, 640);
        await using (var scope = visit.Services.CreateAsyncScope())
            Assert.IsType<LoadDemo.Outcome.Loaded>(await scope.ServiceProvider.GetRequiredService<LoadDemo>().Handle(null, TestContext.Current.CancellationToken));

        async Task<string> Found(string on, string words)
        {
            await page.GotoAsync(on);
            return (await page.Locator($"main a:has-text(\"{words}\")").First.GetAttributeAsync("href"))!;
        }
        await page.GotoAsync("/drift");
        var course = (await page.Locator("main .entries li:has-text(\"Nitrate in seawater\") a").First.GetAttributeAsync("href"))!;
        var moved = (await page.Locator("main .entries li:has-text(\"Total ammonia\") a").First.GetAttributeAsync("href"))!;
        await page.GotoAsync(moved);
        var alarm = (await page.Locator("main a[href*='/alarms/']").First.GetAttributeAsync("href"))!;
        var tank = await Found("/tanks", "Brook");
        var analyser = await Found("/instruments", "Harbour analyser");
        var failed = await Found("/due", "Open the check");
        string[] paths =
        [
            "/due", "/due/calendar", "/drift", "/drift/watch", course, course + "/charts", moved, alarm, failed, failed + "/causes", await Found(failed, "Look back"),
            tank, tank + "/readings/new", tank + "/doses/new", analyser, analyser + "/procedure", await Found(analyser, "Check its line"), await Found(analyser, "New bottle"), "/trust", "/bench/phones",
        ];
        foreach (var path in paths)
        {
            var answer = await page.GotoAsync(path);
            Assert.True(answer!.Ok, $"{path}: {answer.Status}");
            await visit.TextSize(200);
            await visit.HasNoSidewaysScroll();
        }
        // the pages of drift, measured at the usual size
        foreach (var path in new[] { course, course + "/charts", alarm })
        {
            await page.GotoAsync(path);
            await visit.TextSize(100);
            await visit.Whole();
        }
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }
}
