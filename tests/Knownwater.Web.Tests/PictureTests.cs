using System.Net;
using System.Xml.Linq;
using SkiaSharp;

namespace Knownwater.Web.Tests;

public sealed class PictureTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    [Fact]
    public async Task The_picture_of_a_verdict_is_had_as_SVG_and_as_PNG_of_twice_its_size_with_its_letters()
    {
        using var client = app.CreateClient();
        var reader = app.Open();
        var verdict = await Walk.Read(reader, await Walk.Start(reader), "8.6", "8.8", "8.7", "8.9", "8.7");
        Assert.Contains($"href=\"{verdict.Address}/picture-1.png\"", verdict.Html, StringComparison.Ordinal);

        using var svg = await client.GetAsync(new Uri(verdict.Address + "/picture-1.svg", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("image/svg+xml", svg.Content.Headers.ContentType!.MediaType);
        Assert.StartsWith("alkalinity-", svg.Content.Headers.ContentDisposition!.FileName, StringComparison.Ordinal);
        var drawn = XElement.Parse(await svg.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

        using var png = await client.GetAsync(new Uri(verdict.Address + "/picture-1.png", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("image/png", png.Content.Headers.ContentType!.MediaType);
        using var bitmap = SKBitmap.Decode(await png.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        Assert.Equal(2 * (int)drawn.Attribute("width")!, bitmap.Width);
        Assert.Equal(2 * (double)drawn.Attribute("height")!, bitmap.Height, 2.0);
        // the title stands in the upper left: letters are darker than paper
        var ink = 0;
        for (var x = 48; x < 500; x++)
            for (var y = 40; y < 100; y++)
                ink += bitmap.GetPixel(x, y).Red < 100 ? 1 : 0;
        Assert.InRange(ink, 300, 12_000);
    }

    [Fact]
    public async Task What_is_not_there_is_said_to_be_missing()
    {
        var reader = app.Open();
        var verdict = await Walk.Read(reader, await Walk.Start(reader), "7.9", "7.8", "8.0", "7.9", "7.9");
        foreach (var rest in (string[])["picture-2.svg", "picture.svg", "picture-1.gif"])
            Assert.Equal(HttpStatusCode.NotFound, (await reader.Get($"{verdict.Address}/{rest}")).Status);
    }
}
