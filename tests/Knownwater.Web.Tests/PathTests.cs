using System.Net;

namespace Knownwater.Web.Tests;

public sealed class PathTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    [Fact]
    public async Task An_empty_program_begins_with_the_quick_verdict()
    {
        var page = await app.Open().Get("/");
        Assert.Equal("/checks/new", page.Address);
        Assert.Contains("Is it reading right today?", page.Text, StringComparison.Ordinal);
        Assert.Contains("Pause every automatic dosing", page.Text, StringComparison.Ordinal);
        Assert.NotEqual("", page.Field("ToleranceAbsolute"));
    }

    [Fact]
    public async Task Five_readings_lead_to_a_verdict_that_is_kept_and_traced_to_its_certificate()
    {
        var reader = app.Open();
        var page = await reader.Get("/");
        page = await reader.Send(page, "/checks/new", "plan", ("What", "alkalinity|dKH"), ("Levels[0].Known", "7,90"), ("Levels[0].Doubt", "0,08"), ("ToleranceAbsolute", "0.3"), ("TolerancePercent", "2"));
        Assert.Equal(HttpStatusCode.OK, page.Status);
        Assert.Contains("How many readings?", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/checks/new", "begin", ("Replicates", "5"));
        Assert.Contains("Reading 1 of 5", page.Text, StringComparison.Ordinal);

        page = await Walk.Read(reader, page, "8.6", "8.8", "8.7", "8.9");
        Assert.Contains("Reading 5 of 5", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Reads high", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("8.75", page.Text, StringComparison.Ordinal);                 // no mean before the last one

        page = await Walk.Read(reader, page, "8.7");
        Assert.Contains("Reads high by 10.6 %, and that matters.", page.Text, StringComparison.Ordinal);
        Assert.Contains("aria-label=\"Five readings of known water of", page.Html, StringComparison.Ordinal);

        page = await reader.Get(page.Address + "/describe");
        page = await reader.Send(page, "/describe", "keep", ("Origins[0].Origin", "Certificate"), ("Origins[0].OriginDetail", "26-0417"), ("Origins[0].Label", "KW-36"), ("Temperature", "24"), ("Who", "MJ"));
        Assert.Contains("KW-36", page.Text, StringComparison.Ordinal);
        Assert.Contains("26-0417", page.Text, StringComparison.Ordinal);
        Assert.Contains("MJ", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_levels_are_judged_one_after_the_other()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/checks/new"), "/checks/new", "more", ("What", "nitrate|mg/L NO3"));
        page = await reader.Send(page, "/checks/new", "plan", ("Levels[0].Known", "2"), ("Levels[0].Doubt", "0.05"), ("Levels[1].Known", "10"), ("Levels[1].Doubt", "0.1"), ("ToleranceAbsolute", "1"), ("TolerancePercent", "10"));
        page = await reader.Send(page, "/checks/new", "begin", ("Replicates", "3"));
        Assert.Contains("level 1 of 2", page.Text, StringComparison.Ordinal);
        page = await Walk.Read(reader, page, "2.0", "2.1", "2.0");
        Assert.Contains("level 2 of 2", page.Text, StringComparison.Ordinal);
        page = await Walk.Read(reader, page, "10.1", "9.9", "10.0");
        Assert.Equal(2, page.Html.Split("aria-label=\"Verdict, level").Length - 1);
        Assert.Contains("between 2", page.Text, StringComparison.Ordinal);
        Assert.Equal(1, page.Html.Split("<h1").Length - 1);
        Assert.Contains("line between the levels", page.Text, StringComparison.Ordinal);
        Assert.Contains("share the chance of a wrong word", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_step_from_level_to_level_may_be_chosen_and_says_what_was_not_tested()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/checks/new"), "/checks/new", "more", ("What", "nitrate|mg/L NO3"));
        page = await reader.Send(page, "/checks/new", "plan", ("Levels[0].Known", "2"), ("Levels[0].Doubt", "0.05"), ("Levels[1].Known", "10"), ("Levels[1].Doubt", "0.1"), ("ToleranceAbsolute", "1"), ("TolerancePercent", "10"), ("Basis", "Difference"));
        page = await reader.Send(page, "/checks/new", "begin", ("Replicates", "3"));
        page = await Walk.Read(reader, page, "5.0", "5.1", "5.0");
        page = await Walk.Read(reader, page, "13.1", "12.9", "13.0");
        Assert.Contains("An offset was not tested.", page.Text, StringComparison.Ordinal);
        Assert.Contains("over the step from 2 to 10", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_reading_far_from_its_fellows_is_asked_about_and_the_offer_is_taken_by_a_button()
    {
        var reader = app.Open();
        var page = await Walk.Read(reader, await Walk.Start(reader), "8.6", "8.8", "87");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal("87", page.Field("Typed"));
        Assert.Contains("It did read 87", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/readings", "Typed=8.7");
        Assert.Contains("Reading 4 of 5", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_changed_reading_is_undone_by_the_line_that_says_so()
    {
        var reader = app.Open();
        var page = await Walk.Read(reader, await Walk.Start(reader), "8.6", "8.3");
        var check = page.Address;
        page = await reader.Send(await reader.Get(check + "/readings/1/2"), "/readings/1/2", "change", ("Typed", "8.8"));
        Assert.Contains("8.8", page.Text, StringComparison.Ordinal);
        Assert.Contains("Undo", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/undo");
        Assert.Contains("8.3", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_reading_left_out_shows_both_verdicts()
    {
        var reader = app.Open();
        var page = await Walk.Read(reader, await Walk.Start(reader), "7.9", "7.8", "8.0", "7.9", "9.9");
        if (page.Status == HttpStatusCode.UnprocessableEntity)
            page = await reader.Send(page, "/readings", "confirm");
        page = await reader.Send(await reader.Get(page.Address + "/readings/1/5"), "/readings/1/5", "exclude", ("Cause", "an air bubble"));
        Assert.Contains("an air bubble", page.Text, StringComparison.Ordinal);
        Assert.Contains("With the readings that were left out", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_declared_extension_is_offered_where_it_cannot_tell_yet()
    {
        var reader = app.Open();
        var page = await Walk.Read(reader, await Walk.Start(reader, absolute: "0.3", percent: "0", replicates: "3", more: ("ExtensionDeclared", "yes")), "8.3", "7.9", "8.2");
        Assert.Contains("Can\u2019t tell yet", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/extend");
        Assert.Contains("Reading 4 of", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_check_is_repeated_by_its_plan_from_the_list()
    {
        var reader = app.Open();
        await Walk.Furnish(reader);
        var page = await reader.Get("/checks");
        Assert.Contains("Reads high", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/repeat");
        Assert.Contains("Reading 1 of 5", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_form_sent_twice_does_its_work_once()
    {
        var reader = app.Open();
        var page = await Walk.Start(reader);
        await reader.Send(page, "/readings", "keep", ("Typed", "8.6"));
        page = await reader.Send(page, "/readings", "keep", ("Typed", "8.6"));
        Assert.Contains("Reading 2 of 5", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_discarded_check_is_brought_back_from_the_history()
    {
        var reader = app.Open();
        var page = await Walk.Read(reader, await Walk.Start(reader), "7.9", "7.8", "8.0", "7.9", "7.9");
        var check = page.Address;
        page = await reader.Send(page, "/discard", "", ("Reason", "a trial"));
        Assert.StartsWith("/history", page.Address, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get(check)).Status);
        await reader.Send(page, "/undo");
        Assert.Equal(HttpStatusCode.OK, (await reader.Get(check)).Status);
    }

    [Fact]
    public async Task What_is_due_says_why_and_leads_on()
    {
        var reader = app.Open();
        await Walk.Furnish(reader);
        var page = await reader.Get("/");
        Assert.Equal("/due", page.Address);
        Assert.Contains("1 of 5 readings", page.Text, StringComparison.Ordinal);
        Assert.Contains("Reads high", page.Text, StringComparison.Ordinal);
    }
}
