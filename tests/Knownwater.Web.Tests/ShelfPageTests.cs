using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;

namespace Knownwater.Web.Tests;

/// <summary>The shelf, its labels and what is left, by their pages.</summary>
public sealed class ShelfPageTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    private static async Task<Sheet> Water(Reader reader, params (string Name, string Value)[] more) =>
        await reader.Send(await reader.Get("/known-water/new"), "/known-water/new", "save",
            [("Label", "N-10, lot 26-04"), ("What", "nitrate|mg/L NO3"), ("Known", "10"), ("Doubt", "0.08"), ("DoubtKind", "Expanded"), ("Origin", "OwnPreparation"), ("Salinity", "35"), ("MadeOn", "2026-09-03"), ("UseBy", "2998-12-03"), ("Who", "MJ"), .. more]);

    private static async Task<Sheet> Stock(Reader reader) =>
        await reader.Send(await reader.Get("/known-water/stocks/new"), "/stocks/new", "save",
            ("Label", "K-1000"), ("What", "potassium|mg/L K"), ("Known", "1000"), ("Doubt", "5"), ("DoubtKind", "Expanded"), ("Salt", "KNO3"), ("MediumKind", "nitric-2"), ("Amount", "100"));

    [Theory]
    [InlineData("70x37")]
    [InlineData("63x38")]
    [InlineData("38x21")]
    [InlineData("62x29")]
    public async Task A_label_says_what_it_is_and_its_square_code_is_read_back(string size)
    {
        var reader = app.Open();
        var water = (await Water(reader)).Address;
        var label = await reader.Get($"{water}/label?size={size}&copies=2&start=1");
        Assert.Equal(HttpStatusCode.OK, label.Status);
        Assert.Contains($"labels size-{size}", label.Html, StringComparison.Ordinal);
        foreach (var words in new[] { "KW-1", "Nitrate", "10.000 ± 0.078 mg/L NO₃", "Seawater, salinity 35", "Made 3 September 2026", "Use by 3 December 2998", "Not a drink.", "MJ" })
            Assert.Contains(words, label.Text, StringComparison.Ordinal);
        var texts = SquareCodes(label).ToList();
        Assert.Equal(2, texts.Count);
        Assert.All(texts, t => Assert.Equal("KW-1 nitrate 10.000 +/- 0.078 mg/L NO3, seawater 35, made 2026-09-03, use by 2998-12-03", t));
    }

    [Fact]
    public async Task A_stock_has_a_label_with_its_hazard()
    {
        var reader = app.Open();
        var page = await Stock(reader);
        var label = await reader.Get(page.Address + "/label");
        Assert.Contains("Gloves, goggles. Not a drink.", label.Text, StringComparison.Ordinal);
        Assert.Contains("nitric acid 2 % v/v", label.Text, StringComparison.Ordinal);
        var text = Assert.Single(SquareCodes(label));
        Assert.StartsWith("S-1 potassium 1000.0 +/- 4.9 mg/L K, stock in KNO3 in nitric acid 2 % v/v", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("70x37", "1", "24", 24, 0)]
    [InlineData("63x38", "5", "3", 3, 4)]
    [InlineData("38x21", "65", "2", 2, 64)]
    [InlineData("70x37", "99", "0", 1, 23)]
    [InlineData("x", "-1", "1000", 65, 0)]
    public async Task A_started_sheet_goes_on_at_its_first_free_place(string size, string start, string copies, int labels, int blank)
    {
        var reader = app.Open();
        var label = await reader.Get($"{(await Water(reader)).Address}/label?size={size}&copies={copies}&start={start}");
        Assert.Equal(blank, Regex.Count(label.Html, "class=\"label blank\"", RegexOptions.None, TimeSpan.FromSeconds(1)));
        Assert.Equal(labels, Regex.Count(label.Html, "class=\"label-text\"", RegexOptions.None, TimeSpan.FromSeconds(1)));
    }

    [Fact]
    public async Task A_code_leads_to_its_bottle_and_starts_a_check()
    {
        var reader = app.Open();
        var water = (await Water(reader)).Address;
        var stock = (await Stock(reader)).Address;
        Assert.Equal(water, (await reader.Get("/known-water/code/KW-1")).Address);
        Assert.Equal(water, (await reader.Get("/known-water/code?code=" + Uri.EscapeDataString("kw-1 nitrate 10.000 +/- 0.078 mg/L NO3, seawater 35"))).Address);
        Assert.Equal(stock, (await reader.Get("/known-water/code/s-1")).Address);
        var missing = await reader.Get("/known-water/code/KW-99");
        Assert.Equal(HttpStatusCode.NotFound, missing.Status);
        Assert.Contains("No bottle on the shelf has the code “KW-99”", missing.Text, StringComparison.Ordinal);

        var start = await reader.Get("/checks/new/code?code=KW-1");
        Assert.Equal(HttpStatusCode.OK, start.Status);
        Assert.Contains(("Levels[0].ReferenceWater", water.Split('/')[^1]), start.Form("/checks/new").Fields.Select(f => (f.Key, f.Value)));
        start = await reader.Get("/checks/new/code?code=KW-99");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, start.Status);
        Assert.Equal("KW-99", start.Field("code"));
        Assert.Contains("No bottle on the shelf has the code “KW-99”", start.Text, StringComparison.Ordinal);
        Assert.Contains("That is a stock.", (await reader.Get("/checks/new/code?code=S-1")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_used_is_noted_and_an_empty_bottle_goes_off_the_shelf()
    {
        var reader = app.Open();
        var page = await Water(reader, ("Amount", "500"));
        Assert.Contains("about 500 mL left", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/used", "", ("Used", "600"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal("600", page.Field("Used"));
        Assert.Contains("600 mL is more than the 500 mL that are left by the records", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/used", "", ("Used", "470"));
        Assert.Contains("about 30 mL left", page.Text, StringComparison.Ordinal);
        Assert.Contains("KW-1 N-10, lot 26-04 runs low: about 30 mL left.", (await reader.Get("/known-water")).Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/remove", "empty");
        Assert.Contains("N-10, lot 26-04 taken off the shelf: empty.", page.Text, StringComparison.Ordinal);
        Assert.Contains("The shelf is empty.", (await reader.Get("/known-water")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stocks_and_nutrient_free_waters_stand_on_the_shelf_and_are_used_up()
    {
        var reader = app.Open();
        var stock = await Stock(reader);
        stock = await reader.Send(stock, "/used", "", ("Used", "1 L"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, stock.Status);
        stock = await reader.Send(stock, "/used", "", ("Used", "5"));
        Assert.Contains("about 95 mL left", stock.Text, StringComparison.Ordinal);
        await reader.Send(await reader.Get("/known-water/nutrient-free/new"), "/nutrient-free/new", "save", ("Label", "sea 26-A"), ("Salinity", "35"), ("Amount", "5 L"));
        var page = await reader.Get("/known-water/nutrient-free");
        page = await reader.Send(page, "/used", "", ("Used", "none"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal("none", page.Field("Used"));
        page = await reader.Send(page, "/used", "", ("Used", "1 L"));
        Assert.Contains("about 4000 mL left", page.Text, StringComparison.Ordinal);
        var shelf = (await reader.Get("/known-water")).Text;
        foreach (var words in new[] { "Known waters None yet", "K-1000 S-1", "about 95 mL left", "sea 26-A", "about 4000 mL left" })
            Assert.Contains(words, shelf, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_past_its_date_says_so_where_it_is_used()
    {
        var reader = app.Open();
        var page = await Water(reader, ("MadeOn", "2020-01-01"), ("UseBy", "2020-01-08"));
        Assert.Contains("It is past its date.", page.Text, StringComparison.Ordinal);
        var start = await reader.Get("/checks/new?water=" + page.Address.Split('/')[^1]);
        Assert.Contains("N-10, lot 26-04 is past its date; its value may have moved.", start.Text, StringComparison.Ordinal);
        Assert.Contains("KW-1 N-10, lot 26-04 is past its date since 8 January 2020. Make it fresh, or take it off the shelf.", (await reader.Get("/known-water")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_water_that_was_made_here_is_made_again_by_the_same_plan()
    {
        var reader = app.Open();
        await reader.Send(await reader.Get("/known-water/stocks/new"), "/stocks/new", "save", ("Label", "N-1000"), ("What", "nitrate|mg/L NO3"), ("Known", "1000"), ("Doubt", "0.5 %"));
        await reader.Send(await reader.Get("/known-water/nutrient-free/new"), "/nutrient-free/new", "save", ("Label", "sea 26-A"), ("Salinity", "35"));
        await reader.Send(await reader.Get("/known-water/glassware/new"), "/glassware/new", "save", ("Kind", "PistonPipette"), ("Name", "P1"), ("Nominal", "1"), ("Least", "0.1"), ("Tolerance", "0.008"));
        await reader.Send(await reader.Get("/known-water/glassware/new?kind=Balance"), "/glassware/new", "save", ("Name", "kitchen balance"), ("Tolerance", "2"), ("Readability", "1"));
        var page = await reader.Send(await reader.Get("/known-water/prepare"), "/prepare", "keep", ("Label", "nitrate 3"), ("Steps[0].Aliquot", "0.9"), ("Steps[0].Made", "300"), ("Temperature", "24"), ("Mixing", "0.3"));
        var sheet = await reader.Get(page.Address + "/sheet");
        Assert.Contains("Tare. Pour in 300 g of sea 26-A. really:", sheet.Text, StringComparison.Ordinal);
        Assert.Contains("Done by", sheet.Text, StringComparison.Ordinal);
        page = await reader.Get("/known-water/prepare?again=" + page.Address.Split('/')[^1]);
        Assert.Equal(("nitrate 3", "0.9", "300", "24", "0.3"), (page.Field("Label"), page.Field("Steps[0].Aliquot"), page.Field("Steps[0].Made"), page.Field("Temperature"), page.Field("Mixing")));
    }

    /// <summary>Draws the square codes of a page as a printer would and reads them as a phone would.</summary>
    private static IEnumerable<string> SquareCodes(Sheet page)
    {
        const int scale = 4;
        foreach (Match code in Regex.Matches(page.Html, "<svg class=\"square-code\" viewBox=\"0 0 (\\d+) \\1\".*?<path d=\"([^\"]*)\"", RegexOptions.Singleline, TimeSpan.FromSeconds(1)))
        {
            var size = int.Parse(code.Groups[1].Value, CultureInfo.InvariantCulture);
            var grey = new byte[size * scale * size * scale];
            Array.Fill(grey, byte.MaxValue);
            foreach (Match run in Regex.Matches(code.Groups[2].Value, "M(\\d+) (\\d+)h(\\d+)v1h-\\3z", RegexOptions.None, TimeSpan.FromSeconds(1)))
            {
                var (x, y, length) = (Number(run, 1), Number(run, 2), Number(run, 3));
                for (var row = y * scale; row < (y + 1) * scale; row++)
                    Array.Fill(grey, byte.MinValue, row * size * scale + x * scale, length * scale);
            }
            var source = new ZXing.RGBLuminanceSource(grey, size * scale, size * scale, ZXing.RGBLuminanceSource.BitmapFormat.Gray8);
            var read = new ZXing.BarcodeReaderGeneric { Options = { PossibleFormats = [ZXing.BarcodeFormat.QR_CODE] } }.Decode(source);
            Assert.NotNull(read);
            yield return read.Text;
        }

        static int Number(Match match, int group) => int.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture);
    }
}
