using System.Net;

namespace Knownwater.Web.Tests;

public sealed class KitPageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    /// <summary>A hand kit with one method; gives the address of the kit and that page.</summary>
    private static async Task<Sheet> Kit(Reader reader, params (string Name, string Value)[] method)
    {
        var kit = (await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", "the drawer kit"), ("Kind", "HandKit"))).Address;
        return await reader.Send(await reader.Get(kit + "/methods/new"), "/methods/new", "save", method);
    }

    private static (string, string)[] Colours(string steps = "0 2 5 10 25") =>
        [("What", "nitrate|mg/L NO3"), ("Scale", "ColourSteps"), ("Steps", steps), ("ToleranceAbsolute", "5"), ("TolerancePercent", "10")];

    private static string Method(Sheet page) => page.Links.First(l => l.Contains("/checks/new?method=", StringComparison.Ordinal)).Split("method=")[1].Split('&')[0];

    private static async Task<Sheet> Begin(Reader reader, Sheet kit, string known, string readings = "3", params (string, string)[] more)
    {
        var page = await reader.Get($"/checks/new?method={Method(kit)}");
        page = await reader.Send(page, "/checks/new", "plan", [("Levels[0].Known", known), ("Levels[0].Doubt", "0.1"), .. more]);
        return await reader.Send(page, "/checks/new", "begin", ("Replicates", readings));
    }

    [Fact]
    public async Task A_method_is_read_by_the_colours_of_a_card_and_keeps_what_was_typed_when_it_is_refused()
    {
        var reader = app.Open();
        var refused = await Kit(reader, Colours("0 5 10 2"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("the steps of a card rise", refused.Text, StringComparison.Ordinal);
        Assert.Equal("0 5 10 2", refused.Field("Steps"));
        var kit = await reader.Send(refused, "/methods/new", "Steps=0 2 5 10");
        // an offer fills the field; the form is sent by its own button
        if (kit.Address.EndsWith("/methods/new", StringComparison.Ordinal))
            kit = await reader.Send(kit, "/methods/new", "save");
        Assert.Contains("by colour, steps 0, 2, 5 and 10\u00A0mg/L", WebUtility.HtmlDecode(kit.Html), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_colour_is_pressed_or_typed_and_the_verdict_says_what_the_card_leaves_open()
    {
        var reader = app.Open();
        var page = await Begin(reader, await Kit(reader, Colours()), "8", "4");
        Assert.Contains("Steps of the card: 0, 2, 5, 10 and 25.", page.Text, StringComparison.Ordinal);
        foreach (var label in new[] { "like 0", "between 0 and 2", "between 5 and 10", "like 25", "darker than 25" })
            Assert.Contains($">{label}</button>", page.Html, StringComparison.Ordinal);
        Assert.DoesNotContain("paler than", page.Html, StringComparison.Ordinal);

        page = await reader.Send(page, "/readings", "Typed=5-10");
        Assert.Contains("between 5 and 10", page.Text.Split("Or press")[0], StringComparison.Ordinal);
        page = await reader.Send(page, "/readings", "keep", ("Typed", "7"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal("7", page.Field("Typed"));
        Assert.Contains("7 is not on the card", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/readings", "Typed=5-10");
        page = await reader.Send(page, "/readings", "Typed=10");
        page = await reader.Send(page, "/readings", "keep", ("Typed", "like 5"));
        Assert.Contains("Each reading lies between two colours: the card leaves up to 7.5 mg/L open to either side", page.Text, StringComparison.Ordinal);
        Assert.Contains("like 10", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_colour_darker_than_the_card_is_kept_as_a_limit()
    {
        var reader = app.Open();
        var page = await Begin(reader, await Kit(reader, Colours("2 5 10")), "9");
        Assert.Contains(">paler than 2</button>", page.Html, StringComparison.Ordinal);
        foreach (var _ in Enumerable.Range(0, 3))
            page = await reader.Send(page, "/readings", "Typed=>");
        Assert.Contains(">10", WebUtility.HtmlDecode(page.Html), StringComparison.Ordinal);
        Assert.Contains("darker than 10", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_reading_of_tank_water_is_changed_by_the_colours_of_the_card_too()
    {
        var reader = app.Open();
        await Kit(reader, Colours());
        var tank = (await reader.Send(await reader.Get("/tanks/new"), "/tanks/new", "", ("Name", "Lagoon"), ("Volume", "280"))).Address;
        var page = await reader.Send(await reader.Get(tank + "/readings/new"), "/readings/new", "", ("Lines[0].Typed", "5-10"));
        page = await reader.Get(page.Links.First(l => l.Contains("/readings/", StringComparison.Ordinal) && !l.EndsWith("/new", StringComparison.Ordinal)));
        Assert.Contains("<option value=\"5-10\" selected>between 5 and 10</option>", page.Html, StringComparison.Ordinal);
        Assert.Contains(">darker than 25</option>", WebUtility.HtmlDecode(page.Html), StringComparison.Ordinal);
        page = await reader.Send(page, page.Address, "change", ("Typed", "10"));
        Assert.Equal(tank, page.Address.Split('?')[0]);
        Assert.Matches("Nitrate\\s+10\\s+mg/L", page.Text);
    }

    [Fact]
    public async Task Drops_are_counted_and_shown_in_the_reporting_form()
    {
        var reader = app.Open();
        var kit = await Kit(reader, ("What", "alkalinity|dKH"), ("Scale", "Drops"), ("ValuePerDrop", "0.5"), ("SampleVolume", "5"), ("ToleranceAbsolute", "1"), ("TolerancePercent", "0"));
        var page = await Begin(reader, kit, "7.75");
        Assert.Contains("<span class=\"unit\">drops</span>", page.Html, StringComparison.Ordinal);
        Assert.Contains("each is worth 0.5 dKH", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/readings", "keep", ("Typed", "16"));
        Assert.Contains("7.75 dKH 16 drops", page.Text, StringComparison.Ordinal);
        page = await Walk.Read(reader, page, "16 drops", "17");
        Assert.Contains("Each reading lies within its last drop: 0.25 dKH stay open to either side", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Conditioning_runs_are_declared_before_shown_as_such_and_never_judged()
    {
        var reader = app.Open();
        await Walk.Furnish(reader);
        var instrument = (await reader.Get("/instruments")).Links.First(l => l.StartsWith("/instruments/", StringComparison.Ordinal) && !l.EndsWith("/new", StringComparison.Ordinal));
        var page = await Begin(reader, await reader.Get(instrument), "7.90", "3", ("ConditioningRuns", "2"));
        Assert.Contains("Conditioning run 1 of 2", page.Text, StringComparison.Ordinal);
        page = await Walk.Read(reader, page, "2.1", "5.5");
        Assert.Contains("Reading 1 of 3", page.Text, StringComparison.Ordinal);
        Assert.Contains("Conditioning runs, kept and not judged: 2.1 dKH; 5.5 dKH.", page.Text, StringComparison.Ordinal);
        page = await Walk.Read(reader, page, "7.9", "7.8", "7.9");
        Assert.Contains("Conditioning runs, kept and not judged: 2.1 dKH; 5.5 dKH.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Mean of three readings 7.87", page.Text.Replace('\u00A0', ' '), StringComparison.OrdinalIgnoreCase);

        var refused = await reader.Send(await reader.Get($"/checks/new?method={Method(await reader.Get(instrument))}"), "/checks/new", "plan", ("Levels[0].Known", "7.9"), ("Levels[0].Doubt", "0.1"));
        refused = await reader.Send(refused, "/checks/new", "begin", ("Replicates", "3"), ("ConditioningRuns", "40"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Equal("40", refused.Field("ConditioningRuns"));
    }
}
