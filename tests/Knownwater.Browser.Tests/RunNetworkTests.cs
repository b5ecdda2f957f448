using System.Diagnostics;
using System.Globalization;
using Knownwater.Records.Checks;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

/// <summary>A whole check with the network, the page or the program gone in its midst: nothing is lost, nothing is doubled.</summary>
public class RunNetworkTests(Chromium chromium)
{
    [Fact]
    public async Task The_network_is_cut_between_two_steps_and_answers_are_lost()
    {
        await using var bench = await RunBench.New();
        var phone = await bench.Device(chromium.Browser);
        await phone.DoUntil(4);
        await phone.Sent();
        phone.Wire.State = WireState.Cut;
        await phone.DoUntil(14, "8.6");
        await phone.Waiting(10);
        Assert.Equal(5, (await bench.Run()).Events.Count);

        // everything arrives, and the phone does not learn of it, so it sends again
        phone.Wire.State = WireState.AnswersLost;
        for (var wait = Stopwatch.StartNew(); (await bench.Run()).Events.Count < 15 && wait.Elapsed < TimeSpan.FromSeconds(60);)
            await Task.Delay(100, TestContext.Current.CancellationToken);
        Assert.Equal(15, (await bench.Run()).Events.Count);
        await phone.Waiting(10);
        await phone.DoUntil(16);
        phone.Wire.State = WireState.Whole;
        await phone.Sent();
        await phone.DoTheRest("8.8");

        var run = await bench.Run();
        Assert.Equal([.. RunBench.EachOnce(run, "8.6", "8.8"), (RunEventKind.Ended, run.Steps.Count, "")], RunBench.Events(run));
        Assert.Equal(["8.6", "8.8"], await bench.Readings());
    }

    [Fact]
    public async Task The_page_is_loaded_anew_and_opened_anew_without_the_network()
    {
        await using var bench = await RunBench.New();
        var phone = await bench.Device(chromium.Browser);
        await phone.KeptForLater();
        await phone.DoUntil(3);
        await phone.Sent();
        phone.Wire.State = WireState.Cut;
        await phone.DoUntil(6);
        await phone.Page.ReloadAsync();
        await phone.Ready();
        Assert.Equal(6, await phone.Step());
        await phone.Waiting(3);
        await phone.DoUntil(15, "8.6");
        await phone.Page.GetByText("Slip, note, photo").ClickAsync();
        await phone.Page.Locator("#f-Note").FillAsync("a bubble at the wall");
        await phone.Page.Locator("button[value=slip]").ClickAsync();
        await phone.Waiting(13);
        await phone.Open();
        Assert.Equal(15, await phone.Step());
        await phone.Page.Locator("#run-back").ClickAsync();
        await Expect(phone.Page.Locator("#run-count")).ToContainTextAsync("Step 15 of");
        await phone.DoUntil(17);
        phone.Wire.State = WireState.Whole;
        await phone.Sent();
        await phone.DoTheRest("8.8");

        var run = await bench.Run();
        var expected = RunBench.EachOnce(run, "8.6", "8.8");
        expected.InsertRange(16, [(RunEventKind.Slip, 15, "a bubble at the wall"), (RunEventKind.Back, 15, ""), (RunEventKind.Done, 14, "")]);
        Assert.Equal([.. expected, (RunEventKind.Ended, run.Steps.Count, "")], RunBench.Events(run));
        Assert.Equal(["8.6", "8.8"], await bench.Readings());
    }

    [Fact]
    public async Task The_program_is_killed_in_the_midst_and_started_again()
    {
        await using var bench = await RunBench.New();
        var phone = await bench.Device(chromium.Browser);
        await phone.DoUntil(5);
        await phone.Sent();
        // in the midst of an act: pressed, and not waited for
        await phone.Page.Locator("#run-do").ClickAsync();
        await bench.KillProgram();
        var left = await bench.Run();
        Assert.Equal(RunBench.EachOnce(left, "", "")[..6], RunBench.Events(left)[..6]);
        Assert.InRange(left.Events.Count, 6, 7);
        await phone.DoUntil(14, "8.6");
        await bench.StartProgram();
        await phone.Sent();
        await phone.DoUntil(20);
        await phone.Sent();
        await bench.KillProgram();
        left = await bench.Run();
        Assert.Equal(RunBench.EachOnce(left, "8.6", "")[..21], RunBench.Events(left));
        await bench.StartProgram();
        await phone.DoTheRest("8.8");

        var run = await bench.Run();
        Assert.Equal([.. RunBench.EachOnce(run, "8.6", "8.8"), (RunEventKind.Ended, run.Steps.Count, "")], RunBench.Events(run));
        Assert.Equal(["8.6", "8.8"], await bench.Readings());
    }

    [Fact]
    public async Task Two_devices_on_one_run_see_the_same_within_two_seconds_and_one_that_was_away_doubles_nothing()
    {
        await using var bench = await RunBench.New();
        var phone = await bench.Device(chromium.Browser);
        var desk = await bench.Device(chromium.Browser);
        var longest = TimeSpan.Zero;
        for (var step = 1; step <= 6; step++)
        {
            var (hand, eye) = step % 2 == 0 ? (phone, desk) : (desk, phone);
            await hand.DoUntil(step);
            var wait = Stopwatch.StartNew();
            await eye.Page.WaitForFunctionAsync("step => document.getElementById('run-count').textContent.startsWith(`Step ${step + 1} of`)", step);
            longest = wait.Elapsed > longest ? wait.Elapsed : longest;
        }
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(CultureInfo.InvariantCulture, $"The other device shows the step within {longest.TotalSeconds:0.00} s"));
        Assert.InRange(longest.TotalSeconds, 0, 2);

        // both go on, the desk without the network, and read the display differently
        await desk.Sent();
        desk.Wire.State = WireState.Cut;
        await desk.DoUntil(15, "8.9");
        await phone.DoUntil(14, "8.6");
        await phone.Sent();
        desk.Wire.State = WireState.Whole;
        await Expect(desk.Page.Locator("#run-said")).ToContainTextAsync("Reading 1 was in already, as 8.6; it stands.");
        await Expect(phone.Page.Locator("#run-count")).ToContainTextAsync("Step 16 of");
        await desk.Sent();
        await phone.DoTheRest("8.8");
        await Expect(desk.Page.Locator("#run-do")).ToHaveTextAsync("See the verdict");

        var run = await bench.Run();
        var all = RunBench.EachOnce(run, "8.6", "8.8");
        var late = all[7..14].Append((RunEventKind.ReadingKept, 13, "8.9"));
        Assert.Equal([.. all[..15], .. late, .. all[15..], (RunEventKind.Ended, run.Steps.Count, "")], RunBench.Events(run));
        Assert.Equal(["8.6", "8.8"], await bench.Readings());
    }
}
