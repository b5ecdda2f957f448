using System.Net;

namespace Knownwater.Web.Tests;

public sealed class RoundPageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    /// <summary>An analyser for nitrate and phosphate, a stock of each, glassware for two dilutions, and three waters planned.</summary>
    private static async Task Furnish(Reader reader)
    {
        var page = await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", "the harbour analyser"));
        foreach (var (what, tolerance) in new[] { ("nitrate|mg/L NO3", "0.01"), ("phosphate|mg/L PO4", "0.01") })
            await reader.Send(await reader.Get(page.Address + "/methods/new"), "/methods/new", "save", ("What", what), ("MinutesPerReading", "10"), ("ToleranceAbsolute", tolerance), ("TolerancePercent", "10"));
        await reader.Send(await reader.Get("/known-water/nutrient-free/new"), "/nutrient-free/new", "save", ("Label", "sea 26-A"), ("Amount", "5000"));
        foreach (var (label, what) in new[] { ("N-1000", "nitrate|mg/L NO3"), ("P-1000", "phosphate|mg/L PO4") })
            await reader.Send(await reader.Get("/known-water/stocks/new"), "/stocks/new", "save", ("Label", label), ("What", what), ("Known", "1000"), ("Doubt", "0.5 %"), ("OriginDetail", "26-0501"), ("Amount", "100"));
        async Task Piece(string kind, params (string, string)[] fields) => await reader.Send(await reader.Get("/known-water/glassware/new?kind=" + kind), "/glassware/new", "save", [("Kind", kind), .. fields]);
        await Piece("PistonPipette", ("Name", "P1"), ("Nominal", "1"), ("Least", "0.1"), ("Tolerance", "0.008"), ("Repeatability", "0.003"));
        await Piece("PistonPipette", ("Name", "P5"), ("Nominal", "5"), ("Least", "0.5"), ("Tolerance", "0.04"), ("Repeatability", "0.015"));
        await Piece("Flask", ("Name", "F100"), ("Nominal", "100"), ("Tolerance", "0.1"));
        await Piece("Flask", ("Name", "F500"), ("Nominal", "500"), ("Tolerance", "0.25"));
        foreach (var (label, stock, second) in new[] { ("nitrate low", "N-1000", "1"), ("nitrate high", "N-1000", "5"), ("phosphate", "P-1000", "5") })
        {
            page = await reader.Send(await reader.Get("/known-water/prepare"), "/prepare", "more");
            string Named(string field, string start) => page.Html.Split($"name=\"{field}\"")[1].Split("</select>")[0].Split("<option ").First(o => o.Contains($">{start}", StringComparison.Ordinal)).Split("value=\"")[1].Split('"')[0];
            await reader.Send(page, "/prepare", "keep", ("Label", label), ("Stock", Named("Stock", stock)),
                ("Steps[0].Aliquot", "1"), ("Steps[0].With", Named("Steps[0].With", "P1:")), ("Steps[0].How", "to"), ("Steps[0].Made", "100"), ("Steps[0].In", Named("Steps[0].In", "F100:")),
                ("Steps[1].Aliquot", second), ("Steps[1].With", Named("Steps[1].With", "P5:")), ("Steps[1].How", "to"), ("Steps[1].Made", "500"), ("Steps[1].In", Named("Steps[1].In", "F500:")));
        }
    }

    private static async Task<Sheet> Plan(Reader reader) =>
        await reader.Send(await reader.Get("/known-water/rounds/new"), "/rounds", "", ("Label", "autumn round"), ("Who", "MJ"));

    /// <summary>Does every act of a preparation that is left, and puts its water on the shelf.</summary>
    private static async Task Make(Reader reader, string preparation)
    {
        var page = await reader.Get(preparation + "/bench");
        while (page.Address.EndsWith("/bench", StringComparison.Ordinal))
            page = await reader.Send(page, "/bench", "done");
        await reader.Send(page, "/finish", "", ("UseBy", "2999-01-01"));
    }

    [Fact]
    public async Task A_round_from_its_plan_to_its_verdicts()
    {
        var reader = app.Open();
        await Furnish(reader);
        Assert.Contains("No round yet.", (await reader.Get("/known-water/rounds")).Text, StringComparison.Ordinal);
        // never checked methods with waters are ticked, with the lowest and the highest of these
        var page = await Plan(reader);
        Assert.Contains("autumn round", page.Text, StringComparison.Ordinal);
        Assert.Contains("Three waters to make and two checks to run: about", page.Text, StringComparison.Ordinal);
        Assert.Contains("Make: ", page.Text, StringComparison.Ordinal);
        var round = page.Address;

        // the sheet has the common dilution once, and both checks with their readings
        var sheet = await reader.Get(round + "/sheet");
        Assert.Equal(2, sheet.Text.Split("Put 1 mL of it into F100").Length - 1);
        Assert.Contains("the first dilution of nitrate low", sheet.Text, StringComparison.Ordinal);
        Assert.Contains("Running order", sheet.Text, StringComparison.Ordinal);

        // what takes from another one's dilution says so when it is begun too early, and nothing is lost
        var links = page.Links.Where(l => l.StartsWith("/known-water/prepare/", StringComparison.Ordinal) && !l.EndsWith("/bench", StringComparison.Ordinal)).Distinct().ToList();
        Assert.Equal(3, links.Count);
        var early = await reader.Send(await reader.Get(links[1] + "/bench"), "/bench", "done", ("Slip", "spilt a little"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, early.Status);
        Assert.Contains("its dilution is not made yet", early.Text, StringComparison.Ordinal);
        Assert.Equal("spilt a little", early.Field("Slip"));
        foreach (var link in links)
            await Make(reader, link);

        page = await reader.Get(round);
        Assert.Contains("Start: ", page.Text, StringComparison.Ordinal);
        for (var check = 1; check <= 2; check++)
        {
            var start = page.Links.Last(l => l.StartsWith("/checks/new?method=", StringComparison.Ordinal));
            page = await reader.Get(start);
            Assert.Equal(round.Split('/')[^1], page.Field("Round"));
            page = await reader.Send(page, "/checks/new", "plan");
            page = await reader.Send(page, "/checks/new", "begin", ("Replicates", "4"));
            var levels = page.Text.Contains("Phosphate", StringComparison.Ordinal) ? new[] { "0.15" } : ["0.03", "0.15"];
            foreach (var reading in levels)
                page = await Walk.Read(reader, page, reading, reading, reading, reading);
            Assert.Contains("Go on with autumn round", page.Text, StringComparison.Ordinal);
            page = await reader.Get(round);
        }
        Assert.Contains("Both checks are run.", page.Text, StringComparison.Ordinal);
        page = await reader.Get(round + "/verdicts");
        Assert.Contains("lean on one source, P1, gain", page.Text, StringComparison.Ordinal);
        Assert.Contains("to explain why both read wrong, far beyond", page.Text, StringComparison.Ordinal);
        Assert.Contains("None of two methods reads right.", page.Text, StringComparison.Ordinal);
        Assert.Contains("correlation 0.", page.Text, StringComparison.Ordinal);
        Assert.Contains("all its checks are run", (await reader.Get("/known-water/rounds")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_missing_is_said_beside_its_method_and_what_was_chosen_stays()
    {
        var reader = app.Open();
        Assert.Contains("two methods or more", (await reader.Get("/known-water/rounds/new")).Text, StringComparison.Ordinal);
        await Furnish(reader);
        var page = await reader.Get("/known-water/rounds/new");
        page = await reader.Send(page, "/rounds", "", ("Label", "no water"), ("Methods[1].Bottles[0]", ""), ("Methods[1].Bottles[1]", ""));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("No water is chosen for phosphate", page.Text, StringComparison.Ordinal);
        Assert.Equal("no water", page.Field("Label"));
        Assert.Contains("Methods[1].Bottles[0]", page.Html.Split("No water is chosen")[0].Split("<fieldset")[^1], StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get("/known-water/rounds/" + Guid.NewGuid())).Status);

        page = await reader.Send(await Plan(reader), "/remove", "", ("Reason", ""));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        page = await reader.Send(page, "/remove", "", ("Reason", "no time"));
        Assert.Contains("autumn round given up: no time.", page.Text, StringComparison.Ordinal);
        Assert.Contains("No round yet.", (await reader.Get("/known-water/rounds")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_stock_of_two_analytes_is_changed_opened_and_poured_as_it_is()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/known-water/stocks/new"), "/stocks/new", "save", ("Label", "mix 3"), ("What", "nitrate|mg/L NO3"), ("Known", "1000"), ("Doubt", "0.5 %"), ("OriginDetail", "26-0501"), ("Amount", "100"));
        var stock = page.Address;
        page = await reader.Send(page, "/value", "unit", ("What", "phosphate|mg/L PO4"), ("Known", "50"));
        Assert.Equal("50", page.Field("Known"));
        page = await reader.Send(page, "/value", "save");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        page = await reader.Send(page, "/value", "save", ("Doubt", "1 %"));
        Assert.Contains("Also known for Phosphate, 50.00 ± 0.57 mg/L PO₄", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/open");
        Assert.Contains("Opened ", page.Text, StringComparison.Ordinal);

        page = await reader.Get(stock + "/change");
        Assert.Equal(("mix 3", "1000", "0.5 %"), (page.Field("Label"), page.Field("Known"), page.Field("Doubt")));
        page = await reader.Send(page, "/change", "", ("Label", "mix 3b"), ("Known", "about a thousand"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal(("mix 3b", "about a thousand"), (page.Field("Label"), page.Field("Known")));
        page = await reader.Send(page, "/change", "", ("Known", "1010"));
        Assert.Contains("mix 3b: 1010", page.Text, StringComparison.Ordinal);
        var further = page.Links.First(l => l.EndsWith("/change", StringComparison.Ordinal) && !l.StartsWith(stock, StringComparison.Ordinal));
        page = await reader.Send(await reader.Get(further), "/change", "", ("Known", "49"));
        Assert.Contains("Phosphate, 49.00", page.Text, StringComparison.Ordinal);

        page = await reader.Send(page, "/as-it-is", "", ("Matrix", "FreshWater"));
        Assert.Contains("Also known for Phosphate , 49.00", page.Text, StringComparison.Ordinal);
        Assert.Contains("Phosphate 49.00", (await reader.Get(page.Address + "/label")).Text, StringComparison.Ordinal);
        Assert.Contains("phosphate, 49.00", (await reader.Get("/known-water")).Text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_nutrient_free_water_is_changed_and_its_background_noted_later()
    {
        var reader = app.Open();
        await Furnish(reader);
        var page = await reader.Get("/known-water/nutrient-free");
        page = await reader.Get(page.Links.First(l => l.EndsWith("/change", StringComparison.Ordinal)));
        Assert.Equal("sea 26-A", page.Field("Label"));
        var again = await reader.Send(page, "/change", "", ("Salinity", "a lot"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, again.Status);
        Assert.Equal("a lot", again.Field("Salinity"));
        again = await reader.Send(page, "/background", "save", ("Background", "0.1"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, again.Status);
        Assert.Contains("doubt of the background is missing", again.Text, StringComparison.Ordinal);
        Assert.Equal("0.1", again.Field("Background"));
        again = await reader.Send(again, "/background", "save", ("BackgroundDoubt", "0.05"), ("BackgroundOrigin", "AnalyserUnderCheck"), ("BackgroundMethod", again.Choice("BackgroundMethod", "Nitrate, in mg/L NO₃")));
        Assert.Contains("measured on the analyser that is checked with it", again.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/change", "", ("Label", "sea 26-B"), ("Amount", "4000"));
        Assert.Contains("sea 26-B", page.Text, StringComparison.Ordinal);
    }
}
