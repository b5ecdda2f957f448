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
    public async Task A_blank_is_planned_with_its_known_value_filled_in() =>
        Assert.Equal("0", (await app.Open().Get("/checks/new?known=0")).Field("Levels[0].Known"));
}
