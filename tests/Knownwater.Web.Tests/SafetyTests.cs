using System.Net;
using System.Text.RegularExpressions;

namespace Knownwater.Web.Tests;

public sealed partial class SafetyTests(KnownwaterApp app) : IClassFixture<KnownwaterApp>
{
    [Theory]
    [InlineData("/checks/new", HttpStatusCode.OK)]
    [InlineData("/due", HttpStatusCode.OK)]
    [InlineData("/nowhere", HttpStatusCode.NotFound)]
    [InlineData("/checks/0190a5c0-0000-7000-8000-000000000000", HttpStatusCode.NotFound)]
    [InlineData("/health", HttpStatusCode.OK)]
    public async Task Every_answer_carries_the_headers_that_keep_it_safe(string address, HttpStatusCode status)
    {
        var page = await app.Open().Get(address);
        Assert.Equal(status, page.Status);
        var policy = page.Headers["Content-Security-Policy"];
        Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.Equal("nosniff", page.Headers["X-Content-Type-Options"]);
        Assert.False(page.Headers.ContainsKey("Server"));
    }

    [Theory]
    [InlineData("/checks/new")]
    [InlineData("/bench")]
    [InlineData("/instruments/new")]
    [InlineData("/known-water/new")]
    public async Task A_form_without_its_token_is_refused_with_a_sentence(string address)
    {
        using var content = new FormUrlEncodedContent([new("Name", "from elsewhere")]);
        using var answer = await app.Open().Client.PostAsync(new Uri(address, UriKind.Relative), content, TestContext.Current.CancellationToken);
        var page = await Sheet.Of(answer);
        Assert.Equal(HttpStatusCode.BadRequest, page.Status);
        Assert.Contains("Nothing was written", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_host_name_is_refused()
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/due");
        request.Headers.Host = "elsewhere.example";
        using var answer = await app.Open().Client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Theory]
    [InlineData("http://0.0.0.0:5199")]
    [InlineData("http://192.168.1.5:80")]
    [InlineData("nonsense")]
    public async Task Only_addresses_of_this_machine_are_served(string address) =>
        Assert.Equal(2, await WebEntry.Run(["--urls", address], cancel: TestContext.Current.CancellationToken));

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Every_link_leads_to_a_page_that_is_small_plain_and_asks_no_other_host(bool furnished)
    {
        using var own = new KnownwaterApp();
        var reader = own.Open();
        if (furnished)
            await Walk.Furnish(reader);
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var open = new Queue<string>(["/"]);
        while (open.TryDequeue(out var address))
        {
            if (!seen.Add(address))
                continue;
            var page = await reader.Get(address);
            Assert.True(page.Status == HttpStatusCode.OK, $"{address} answers {page.Status}");
            if (page.Headers.TryGetValue("Content-Disposition", out var disposition) && disposition.StartsWith("attachment", StringComparison.Ordinal))
            {
                // a file to take away
                Assert.InRange(page.Html.Length, 100, 250_000);
                continue;
            }
            Assert.True(page.Html.Length < 100_000, $"{address} has {page.Html.Length} characters");
            Assert.False(Inline().IsMatch(page.Html), $"{address} has something inline: {Inline().Match(page.Html).Value}");
            Assert.False(Foreign().IsMatch(page.Html), $"{address} asks elsewhere: {Foreign().Match(page.Html).Value}");
            Assert.Single(Headings().Matches(page.Html));
            Assert.True(DoubledIds(page.Html) is null, $"{address} has the id {DoubledIds(page.Html)} twice");
            foreach (var target in page.Links.Where(l => l.StartsWith('#')))
                Assert.True(page.Html.Contains($"id=\"{target[1..]}\"", StringComparison.Ordinal), $"{address} has no {target}");
            foreach (var link in page.Links.Where(l => l.StartsWith('/')))
                open.Enqueue(link);
        }

        Assert.InRange(seen.Count, furnished ? 25 : 12, 400);
    }

    [Fact]
    public async Task Style_sheet_and_modules_are_served_for_long_under_the_name_of_their_content()
    {
        var reader = app.Open();
        var page = await reader.Get("/checks/new");
        var assets = AssetAddresses().Matches(page.Html).Select(m => WebUtility.HtmlDecode(m.Groups[1].Value)).Distinct(StringComparer.Ordinal).ToList();
        Assert.Contains(assets, a => a.Contains(".css", StringComparison.Ordinal));
        foreach (var asset in assets)
        {
            var answer = await reader.Get(asset);
            Assert.Equal(HttpStatusCode.OK, answer.Status);
            Assert.Contains("immutable", answer.Headers["Cache-Control"], StringComparison.Ordinal);
            Assert.InRange(answer.Html.Length, 100, 60_000);
        }
    }

    [Fact]
    public async Task What_is_typed_is_shown_as_text_never_as_markup()
    {
        var reader = app.Open();
        var page = await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", "<img src=x onerror=alert(1)>"));
        Assert.DoesNotContain("<img", page.Html, StringComparison.Ordinal);
        Assert.Contains("&lt;img", page.Html, StringComparison.Ordinal);
    }

    private static string? DoubledIds(string html) =>
        Ids().Matches(html).Select(m => m.Groups[1].Value).GroupBy(id => id, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1)?.Key;

    [GeneratedRegex("\\sstyle=\"|<style|<script(?![^>]*src=)|\\son[a-z]+=\"|javascript:", RegexOptions.None, 2000)]
    private static partial Regex Inline();

    [GeneratedRegex("(?:src|href|action)=\"(?:https?:)?//", RegexOptions.None, 2000)]
    private static partial Regex Foreign();

    [GeneratedRegex("<h1[\\s>]", RegexOptions.None, 2000)]
    private static partial Regex Headings();

    [GeneratedRegex("(?:href|src)=\"(/assets/[^\"]+)\"", RegexOptions.None, 2000)]
    private static partial Regex AssetAddresses();

    [GeneratedRegex("\\sid=\"([^\"]+)\"", RegexOptions.None, 2000)]
    private static partial Regex Ids();
}
