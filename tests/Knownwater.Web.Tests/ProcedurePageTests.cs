using System.Net;
using System.Text.Json;

namespace Knownwater.Web.Tests;

public sealed class ProcedurePageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    /// <summary>An analyser with a method that takes 5 mL, and the page of its procedure.</summary>
    private static async Task<(string Instrument, Sheet Page)> Open(Reader reader, string kind = "Analyser")
    {
        var instrument = (await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", "the harbour analyser"), ("Kind", kind))).Address;
        await reader.Send(await reader.Get(instrument + "/methods/new"), "/methods/new", "save", ("What", "alkalinity|dKH"), ("SampleVolume", "5"));
        return (instrument, await reader.Get(instrument + "/procedure"));
    }

    [Fact]
    public async Task The_page_shows_the_steps_with_reasons_and_says_when_a_figure_holds()
    {
        var reader = app.Open();
        var (instrument, page) = await Open(reader);
        Assert.Equal(HttpStatusCode.OK, page.Status);
        Assert.Contains($"{instrument}/procedure", (await reader.Get(instrument)).Links);
        Assert.Contains("Automatic analyser, fed by hand", page.Text, StringComparison.Ordinal);
        Assert.Contains("Common practice, no published source.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Pour nothing. The analyser runs dry.", page.Text, StringComparison.Ordinal);
        Assert.Contains("before the fill, of what stays behind; after it, of what is measured", page.Text, StringComparison.Ordinal);
        // by hand, r 0.5, v 10, V 5 mL: before the fill (0.5/10.5)² = 0.227 %, after it times 0.5/5.5 = 0.0206 %
        Assert.Contains("2, as here 0.23 % 0.021 % 0.19 % high", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain('{', page.Text[..page.Text.IndexOf("As a document", StringComparison.Ordinal)]);
        Assert.Equal(1, page.Html.Split("<h1").Length - 1);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"/instruments/{Guid.NewGuid()}/procedure")).Status);
    }

    [Fact]
    public async Task A_step_is_added_changed_moved_and_left_out_by_plain_forms()
    {
        var reader = app.Open();
        var (instrument, _) = await Open(reader);
        var form = await reader.Get(instrument + "/procedure/step?after=fill-1");
        var again = await reader.Send(form, "/procedure/step", "", ("Act", "Wait for the <click>."), ("Done", ""), ("Minutes", "0.5"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, again.Status);
        Assert.Contains("The button has no word yet.", again.Text, StringComparison.Ordinal);
        Assert.Equal(("Wait for the <click>.", "0.5"), (again.Field("Act"), again.Field("Minutes")));
        var page = await reader.Send(again, "/procedure/step", "", ("Done", "It clicked"));
        Assert.Contains("Version 1; it stands now.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Wait for the <click>.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Timer: 30 s", page.Text, StringComparison.Ordinal);

        page = await reader.Send(await reader.Get(instrument + "/procedure/step?key=wait-for-the-click"), "/procedure/step", "", ("Act", "Wait for the valve."));
        Assert.Contains("Wait for the valve.", page.Text, StringComparison.Ordinal);
        // the first form of a step on the page is that of step 1, which can only go down or out
        page = await reader.Send(page, "/procedure", "down", ("Key", "wait-for-the-click"));
        Assert.True(page.Html.IndexOf("id=\"drain-1\"", StringComparison.Ordinal) < page.Html.IndexOf("id=\"wait-for-the-click\"", StringComparison.Ordinal));
        page = await reader.Send(page, "/procedure", "leave-out", ("Key", "wait-for-the-click"));
        Assert.DoesNotContain("id=\"wait-for-the-click\"", page.Html, StringComparison.Ordinal);
        page = await reader.Send(page, "/procedure", "leave-out", ("Key", "reading"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("it is exactly one step", page.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get(instrument + "/procedure/step?key=wait-for-the-click")).Status);
    }

    [Fact]
    public async Task Volumes_and_the_document_are_kept_as_typed_until_they_can_be_read()
    {
        var reader = app.Open();
        var (instrument, page) = await Open(reader);
        page = await reader.Send(page, "/procedure", "head", ("Residual", "a drop"), ("Rinse", "12 mL"), ("Name", "Ours"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal(("a drop", "12 mL", "Ours"), (page.Field("Residual"), page.Field("Rinse"), page.Field("Name")));
        page = await reader.Send(page, "/procedure", "head", ("Residual", "300 µL"), ("Rinse", "12 mL"), ("Name", "Ours"));
        Assert.Contains("0.3 mL", page.Text, StringComparison.Ordinal);

        page = await reader.Send(page, "/procedure", "whole", ("Document", "{ \"name\": \"Ours\""));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("This is no JSON document: line 1 cannot be read.", page.Text, StringComparison.Ordinal);
        Assert.Contains("{ \"name\": \"Ours\" ", page.Text + " ", StringComparison.Ordinal);

        using var file = await reader.Client.GetAsync(new Uri(instrument + "/procedure.json", UriKind.Relative), TestContext.Current.CancellationToken);
        var text = await file.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Equal(("application/json", "procedure.json"), (file.Content.Headers.ContentType!.MediaType, file.Content.Headers.ContentDisposition!.FileName));
        Assert.Equal("300 µL", JsonDocument.Parse(text).RootElement.GetProperty("residual").GetString()!.Replace("0.3 mL", "300 µL", StringComparison.Ordinal));
        page = await reader.Send(page, "/procedure", "whole", ("Document", text.Replace("\"name\": \"Ours\"", "\"name\": \"Theirs\"", StringComparison.Ordinal)));
        Assert.Contains("Version 2; it stands now.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Theirs", page.Text, StringComparison.Ordinal);

        page = await reader.Get(instrument + "/procedure?version=0");
        Assert.Contains("it stands no more", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/procedure", "again");
        Assert.Contains("Version 3; it stands now.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Automatic analyser, fed by hand", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_who_change_it_at_once_do_not_overwrite_each_other()
    {
        var reader = app.Open();
        var (instrument, page) = await Open(reader);
        await reader.Send(await reader.Get(instrument + "/procedure"), "/procedure", "head", ("Name", "Mine"), ("Residual", "0.5 mL"), ("Rinse", "10 mL"));
        var second = await reader.Send(page, "/procedure", "head", ("Name", "Yours"), ("Residual", "0.5 mL"), ("Rinse", "10 mL"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, second.Status);
        Assert.Contains("version 1 stands now", second.Text, StringComparison.Ordinal);
        Assert.Equal("Yours", second.Field("Name"));
    }

    [Fact]
    public async Task A_laboratory_has_none_and_no_link_to_one()
    {
        var reader = app.Open();
        var (instrument, page) = await Open(reader, "Laboratory");
        Assert.Contains("No procedure.", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain($"{instrument}/procedure", (await reader.Get(instrument)).Links);
    }
}
