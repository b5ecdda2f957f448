using System.Net;

namespace Knownwater.Web.Tests;

public sealed class CausesPageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    [Fact]
    public async Task A_check_that_reads_high_leads_to_what_to_suspect_and_to_the_next_test()
    {
        var reader = app.Open();
        var verdict = await Walk.Read(reader, await Walk.Start(reader), "8.6", "8.8", "8.7", "8.9", "8.7");
        Assert.Contains($"href=\"{verdict.Address}/causes\"", verdict.Html, StringComparison.Ordinal);

        var page = await reader.Get(verdict.Address + "/causes");
        Assert.Equal(HttpStatusCode.OK, page.Status);
        Assert.Contains("How likely each is", page.Text, StringComparison.Ordinal);
        Assert.Contains("There is no earlier check of this method to ask.", page.Text, StringComparison.Ordinal);
        Assert.Contains("hold the last proven rate", page.Text, StringComparison.Ordinal);
        Assert.Equal(1, page.Html.Split("<h1").Length - 1);
    }

    [Fact]
    public async Task A_check_that_reads_right_is_not_suspected_and_one_that_is_not_there_is_said_to_be_missing()
    {
        var reader = app.Open();
        var verdict = await Walk.Read(reader, await Walk.Start(reader), "7.9", "7.8", "8.0", "7.9", "7.9");
        Assert.DoesNotContain("/causes\"", verdict.Html, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"/checks/{Guid.NewGuid()}/causes")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get((await Walk.Start(reader)).Address + "/causes")).Status);
    }

    [Fact]
    public async Task A_suspected_lot_leads_to_a_changeover_check_with_the_same_water()
    {
        var reader = app.Open();
        await Walk.Furnish(reader);
        var plan = (await reader.Get((await reader.Get("/instruments")).Links.First(l => l.StartsWith("/instruments/", StringComparison.Ordinal) && !l.EndsWith("/new", StringComparison.Ordinal)))).Links.First(l => l.StartsWith("/checks/new?method=", StringComparison.Ordinal) && !l.Contains("kind", StringComparison.Ordinal));
        var shelf = (await reader.Get("/known-water")).Links.First(l => l.StartsWith("/checks/new?water=", StringComparison.Ordinal));
        async Task<Sheet> Check(params string[] readings)
        {
            var page = await reader.Get($"{plan}&{shelf.Split('?')[1]}");
            page = await reader.Send(page, "/checks/new", "plan");
            return await Walk.Read(reader, await reader.Send(page, "/checks/new", "begin", ("Replicates", "5")), readings);
        }
        await Check("7.9", "7.8", "8.0", "7.9", "7.9");
        var causes = await reader.Get((await Check("7.0", "7.1", "6.9", "7.0", "7.0")).Address + "/causes");

        Assert.Contains("Plan a changeover check", causes.Text, StringComparison.Ordinal);
        var changeover = await reader.Get(WebUtility.HtmlDecode(causes.Links.First(l => l.Contains("kind=Changeover", StringComparison.Ordinal))));
        Assert.Contains("with the old bottle, then with the new", changeover.Text, StringComparison.Ordinal);
        Assert.Contains($"<option value=\"{shelf.Split('=')[1].Split('&')[0]}\" selected", changeover.Html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_blank_is_planned_with_its_known_value_filled_in() =>
        Assert.Equal("0", (await app.Open().Get("/checks/new?known=0")).Field("Levels[0].Known"));
}
