using System.Net;

namespace Knownwater.Web.Tests;

public sealed class RefusalTests(KnownwaterApp app) : IClassFixture<KnownwaterApp>
{
    [Theory]
    [InlineData("Levels[0].Known", "7,9o")]
    [InlineData("Levels[0].Known", "alkaline")]
    [InlineData("Levels[0].Known", "\u22125")]
    [InlineData("Levels[0].Doubt", "a bit")]
    [InlineData("ToleranceAbsolute", "0.3 x")]
    [InlineData("TolerancePercent", "-2")]
    [InlineData("Resolution", "fine")]
    [InlineData("MinutesPerReading", "soon")]
    public async Task What_was_typed_stays_and_the_sentence_stands_beside_its_field(string field, string typed)
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/checks/new"), "/checks/new", "plan",
            ("What", "alkalinity|dKH"), ("Levels[0].Known", "7.90"), ("Levels[0].Doubt", "0.08"), ("ToleranceAbsolute", "0.3"), ("TolerancePercent", "2"), (field, typed));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal(typed, page.Field(field));
        Assert.Equal(field == "Levels[0].Known" ? "0.08" : "7.90", page.Field(field == "Levels[0].Known" ? "Levels[0].Doubt" : "Levels[0].Known"));
        var markup = page.FieldMarkup(field);
        Assert.Contains("aria-invalid=\"true\"", markup, StringComparison.Ordinal);
        Assert.Contains("autofocus", markup, StringComparison.Ordinal);
        var id = "f-" + field.Replace("[", "-", StringComparison.Ordinal).Replace("].", "-", StringComparison.Ordinal) + "-wrong";
        Assert.Contains($"id=\"{id}\"", page.Html, StringComparison.Ordinal);
        Assert.Contains(id, markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_likely_meaning_is_a_button_that_fills_the_field()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/checks/new"), "/checks/new", "plan", ("What", "alkalinity|dKH"), ("Levels[0].Known", "7,9o"), ("Levels[0].Doubt", "0,08"));
        Assert.Contains("7,90", page.Text, StringComparison.Ordinal);
        Assert.Contains("value=\"Levels[0].Known=7,90\"", page.Html, StringComparison.Ordinal);
        page = await reader.Send(page, "/checks/new", "Levels[0].Known=7,90");
        Assert.Equal("7,90", page.Field("Levels[0].Known"));
        Assert.Equal(HttpStatusCode.OK, page.Status);
    }

    [Fact]
    public async Task An_ambiguous_number_offers_both_meanings()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/checks/new"), "/checks/new", "plan", ("What", "calcium|mg/L Ca"), ("Levels[0].Known", "1,234"), ("Levels[0].Doubt", "5"));
        Assert.Contains("Levels[0].Known=1.234", page.Html, StringComparison.Ordinal);
        Assert.Contains("Levels[0].Known=1234", page.Html, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("eight")]
    [InlineData("")]
    [InlineData("-8.6")]
    public async Task A_reading_that_is_no_number_is_refused_beside_its_line(string typed)
    {
        var reader = app.Open();
        var page = await Walk.Read(reader, await Walk.Start(reader), typed);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal(typed, page.Field("Typed"));
        Assert.Contains("id=\"f-Typed-wrong\"", page.Html, StringComparison.Ordinal);
        Assert.Contains("Reading 1 of 5", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_number_of_readings_stands_after_the_first_one()
    {
        var reader = app.Open();
        var before = await Walk.Start(reader);
        await Walk.Read(reader, before, "8.6");
        var page = await reader.Send(before, "/planned", "", ("Replicates", "7"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("Reading 2 of 5", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_number_of_readings_is_changed_before_the_first_one()
    {
        var reader = app.Open();
        var page = await reader.Send(await Walk.Start(reader), "/planned", "", ("Replicates", "7"));
        Assert.Contains("Reading 1 of 7", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Known_water_of_the_other_kind_than_the_methods_is_refused()
    {
        var reader = app.Open();
        await Walk.Furnish(reader);
        var check = (await Walk.Read(reader, await Walk.Start(reader), "7.9", "7.8", "8.0", "7.9", "7.9")).Address;
        var page = await reader.Get(check + "/describe");
        var method = System.Text.RegularExpressions.Regex.Match(page.Html, "<optgroup label=\"the harbour analyser\">\\s*<option value=\"([^\"]+)\"", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(1)).Groups[1].Value;
        Assert.NotEqual("", method);
        page = await reader.Send(page, "/describe", "keep", ("Method", method), ("Matrix", "FreshWater"), ("Notes", "after cleaning"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("fresh", page.Text, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("after cleaning", page.Html, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/instruments/new", "", "Name", "")]
    [InlineData("/known-water/new", "save", "Known", "ten")]
    [InlineData("/bench", "", "TimeZone", "Atlantis")]
    public async Task Every_form_says_what_is_wrong_beside_the_field(string address, string press, string field, string typed)
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get(address), address, press, (field, typed));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal(typed, page.Field(field));
        Assert.Contains($"id=\"f-{field}-wrong\"", page.Html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_check_is_discarded_only_with_a_reason()
    {
        var reader = app.Open();
        var page = await reader.Send(await Walk.Start(reader), "/discard", "", ("Reason", ""));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
    }
}
