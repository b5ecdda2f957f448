using System.Net;

namespace Knownwater.Web.Tests;

public sealed class SameWaterPageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    private static async Task<(string Instrument, string Method)> Furnish(Reader reader)
    {
        var instrument = (await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", "the harbour analyser"))).Address;
        var page = await reader.Send(await reader.Get(instrument + "/methods/new"), "/methods/new", "save", ("What", "alkalinity|dKH"), ("MinutesPerReading", "12"), ("ToleranceAbsolute", "0.3"), ("TolerancePercent", "2"));
        return (instrument, page.Links.First(l => l.Contains("/checks/new?method=", StringComparison.Ordinal)).Split("method=")[1].Split('&')[0]);
    }

    private static async Task<Sheet> Begin(Reader reader, string method, string kind, params (string, string)[] more)
    {
        var page = await reader.Get($"/checks/new?method={method}&kind={kind}");
        page = await reader.Send(page, "/checks/new", "plan", [("Levels[0].Known", "7.90"), ("Levels[0].Doubt", "0.5"), .. more]);
        return await reader.Send(page, "/checks/new", "begin", ("Replicates", "3"));
    }

    [Fact]
    public async Task A_line_check_reads_one_water_twice_and_says_what_the_line_does()
    {
        var reader = app.Open();
        var (instrument, method) = await Furnish(reader);
        Assert.Contains($"/checks/new?method={method}&kind=Line", WebUtility.HtmlDecode((await reader.Get(instrument)).Html), StringComparison.Ordinal);
        var start = await reader.Get($"/checks/new?method={method}&kind=Line");
        Assert.Contains("The same water twice: by hand, then through the sampling line.", start.Text, StringComparison.Ordinal);
        Assert.Contains("How many readings in each series?", (await reader.Send(start, "/checks/new", "plan", ("Levels[0].Known", "7.90"), ("Levels[0].Doubt", "0.5"))).Text, StringComparison.Ordinal);

        var page = await Begin(reader, method, "Line");
        Assert.Contains("Reading 1 of 3, by hand", page.Text, StringComparison.Ordinal);
        Assert.Contains("By hand first.", page.Text, StringComparison.Ordinal);
        page = await Walk.Read(reader, page, "7.9", "8.0", "7.9");
        Assert.Contains("Reading 1 of 3, through the line", page.Text, StringComparison.Ordinal);
        Assert.Contains("Now through the line.", page.Text, StringComparison.Ordinal);
        page = await Walk.Read(reader, page, "6.9", "7.0", "6.9");

        // the difference is −1.00 with s = 0.0577 from both: U = t(4)·s·√(2/3) = 2.776·0.0577·0.816 = 0.131
        Assert.Contains("Through the line it reads 1.00 dKH lower than by hand , and that matters.", page.Text, StringComparison.Ordinal);
        Assert.Contains("0.87 to 1.13 dKH", page.Text, StringComparison.Ordinal);
        Assert.Contains("drops out: both series are of one water", page.Text, StringComparison.Ordinal);
        Assert.Contains("Clean and flush the line", page.Text, StringComparison.Ordinal);
        Assert.Contains("aria-label=\"Three readings through the line, against the mean by hand, 7.93 dKH, in order: 6.9, 7.0, 6.9.", WebUtility.HtmlDecode(page.Html).Replace('\u00A0', ' '), StringComparison.Ordinal);
        Assert.Equal(1, page.Html.Split("<h1").Length - 1);
    }

    [Fact]
    public async Task Tank_water_serves_without_a_known_value()
    {
        var reader = app.Open();
        var (_, method) = await Furnish(reader);
        var page = await reader.Get($"/checks/new?method={method}&kind=Changeover");
        page = await reader.Send(page, "/checks/new", "plan", ("SteadyWater", "yes"), ("Levels[0].Known", "8.1"));
        Assert.Contains("About what does it read?", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("give or take", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/checks/new", "begin", ("Replicates", "3"));
        Assert.Contains("steady water of about 8.1 dKH", page.Text, StringComparison.Ordinal);
        page = await Walk.Read(reader, page, "8.1", "8.2", "8.1", "9.1", "9.2", "9.1");
        Assert.Contains("The new bottle reads 1.00 dKH higher than the old , and that matters.", page.Text, StringComparison.Ordinal);
        Assert.Contains("Which bottle is right, this water cannot tell.", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("No verdict yet", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("known water 8.1", page.Text, StringComparison.Ordinal);
        Assert.Equal(1, page.Html.Split("<h1").Length - 1);
        Assert.DoesNotContain("Where the known value came from", (await reader.Get(page.Address + "/describe")).Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await reader.Get("/checks")).Status);
        Assert.Equal(HttpStatusCode.OK, (await reader.Get("/due")).Status);
    }

    [Fact]
    public async Task A_changeover_names_both_bottles_and_keeps_which_series_each_was_in()
    {
        var reader = app.Open();
        var (instrument, method) = await Furnish(reader);
        Assert.Contains("No lot is recorded", (await reader.Get($"/checks/new?method={method}&kind=Changeover")).Text, StringComparison.Ordinal);
        foreach (var (name, day) in new[] { ("A-19", "2026-06-01"), ("A-20", "2026-08-01") })
            await reader.Send(await reader.Get($"{instrument}/lots/new?method={method}"), "/lots/new", "", ("Name", name), ("Reagent", "alkalinity reagent"), ("OpenedOn", day), ("ReplacesFormer", ""));
        var start = await reader.Get($"/checks/new?method={method}&kind=Changeover");
        Assert.Contains("The old bottle", start.Text, StringComparison.Ordinal);
        var same = await reader.Send(start, "/checks/new", "plan", ("Levels[0].Known", "7.90"), ("Levels[0].Doubt", "0.1"));
        var filled = same.Form("/checks/new").Fields;
        var (old, fresh) = (filled.First(f => f.Key == "OldLot").Value, filled.First(f => f.Key == "NewLot").Value);
        Assert.NotEqual(old, fresh);
        var refused = await reader.Send(same, "/checks/new", "begin", ("Replicates", "3"), ("OldLot", fresh));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("The new bottle is the old one.", refused.Text, StringComparison.Ordinal);

        var page = await Begin(reader, method, "Changeover");
        Assert.Contains("Reading 1 of 3, old bottle", page.Text, StringComparison.Ordinal);
        page = await Walk.Read(reader, page, "7.9", "8.0", "7.9", "7.9", "8.0", "7.9");
        Assert.Contains("The new bottle changes nothing that matters .", page.Text, StringComparison.Ordinal);
        Assert.Contains("Go on with the new bottle.", page.Text, StringComparison.Ordinal);
        Assert.Contains("A-19", page.Text, StringComparison.Ordinal);
        Assert.Contains("A-20", page.Text, StringComparison.Ordinal);
    }
}
