using System.Net;

namespace Knownwater.Web.Tests;

public sealed class LookBackPageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    [Fact]
    public async Task What_a_failed_check_puts_in_doubt_is_named_due_marked_cleared_and_brought_back()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", "the harbour analyser"));
        await reader.Send(await reader.Get(page.Address + "/methods/new"), "/methods/new", "save", ("What", "alkalinity|dKH"));
        var tank = (await reader.Send(await reader.Get("/tanks/new"), "/tanks/new", "", ("Name", "Lagoon"), ("Volume", "280"))).Address;
        await reader.Send(await reader.Get(tank + "/readings/new"), "/readings/new", "", ("Lines[0].Typed", "8.4"));
        await reader.Send(await reader.Get(tank + "/doses/new"), "/doses/new", "save", ("What", "bicarbonate solution"), ("Amount", "38 mL a day"), ("Parameter", "alkalinity"));
        var plan = (await reader.Get("/due")).Links.First(l => l.StartsWith("/checks/new?method=", StringComparison.Ordinal));
        page = await reader.Send(await reader.Get(plan), "/checks/new", "plan", ("Levels[0].Known", "7.90"), ("Levels[0].Doubt", "0.08"), ("ToleranceAbsolute", "0.3"), ("TolerancePercent", "2"));
        page = await reader.Send(page, "/checks/new", "begin", ("Replicates", "5"));
        var verdict = await Walk.Read(reader, page, "8.6", "8.8", "8.7", "8.9", "8.7");
        Assert.Contains("What to do, in this order", verdict.Text, StringComparison.Ordinal);
        Assert.Contains("Lagoon : 38 mL a day of bicarbonate solution", verdict.Text, StringComparison.Ordinal);
        Assert.Contains("Emergency", verdict.Text, StringComparison.Ordinal);

        Assert.Contains("One reading of alkalinity in Lagoon and one dose are in doubt", (await reader.Get("/due")).Text, StringComparison.Ordinal);
        Assert.Contains("in doubt by the check of", (await reader.Get(tank)).Text, StringComparison.Ordinal);
        page = await reader.Get(verdict.Address + "/look-back");
        Assert.Contains("One reading and one dose are in doubt", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/look-back", "all");
        Assert.Contains("Why they are believed after all is not said.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/look-back", "all", ("Reason", "the stock was past its best"));
        Assert.Contains("Nothing is in doubt any more.", page.Text, StringComparison.Ordinal);
        Assert.Contains("cleared: the stock was past its best", (await reader.Get(tank)).Text, StringComparison.Ordinal);
        Assert.DoesNotContain("in doubt", (await reader.Get("/due")).Text, StringComparison.Ordinal);
        page = await reader.Send(await reader.Get(verdict.Address + "/look-back"), "/look-back/undo");
        Assert.Contains("One reading and one dose are in doubt", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_check_without_a_method_asks_for_it_and_one_that_is_not_there_is_said_to_be_missing()
    {
        var reader = app.Open();
        var verdict = await Walk.Read(reader, await Walk.Start(reader), "8.6", "8.8", "8.7", "8.9", "8.7");
        Assert.Contains("Which method was it?", (await reader.Get(verdict.Address + "/look-back")).Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"/checks/{Guid.NewGuid()}/look-back")).Status);
    }
}
