using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Knownwater.Web.Serve;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Knownwater.Web.Tests.Serve;

public sealed class GateTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>Every mapped route with a value for each of its parts, and the methods it takes.</summary>
    private static IEnumerable<(string Route, string Method, string Address, bool Open)> Routes(LanApp app) =>
        from endpoint in app.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        let route = endpoint.RoutePattern.RawText!
        let address = string.Join('/', endpoint.RoutePattern.PathSegments.Select(s => string.Concat(s.Parts.Select(p => p switch
        {
            Microsoft.AspNetCore.Routing.Patterns.RoutePatternLiteralPart literal => literal.Content,
            Microsoft.AspNetCore.Routing.Patterns.RoutePatternParameterPart part when part.ParameterPolicies.Any(q => q.Content == "guid") => "0190a5c0-0000-7000-8000-000000000000",
            _ => "1",
        }))))
        from method in endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["GET", "POST", "PUT", "DELETE"]
        select (route, method, "/" + address, endpoint.Metadata.GetMetadata<OpenToAnyone>() is not null);

    private static async Task<HttpResponseMessage> Ask(HttpClient client, string method, string address, string accept)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), address);
        request.Headers.Accept.ParseAdd(accept);
        if (method != "GET")
            request.Content = JsonContent.Create(new { a = 1 });
        return await client.SendAsync(request, Cancel);
    }

    [Fact]
    public async Task What_is_open_to_anyone_is_this_and_nothing_else()
    {
        await using var app = await LanApp.Within();
        Assert.Equal(["GET /assets/{name}", "GET /calendar/{pass}.ics", "GET /favicon.ico", "GET /pair", "GET /trust", "GET /trust/knownwater.crt", "POST /pair"],
            Routes(app).Where(r => r.Open).Select(r => $"{r.Method} {r.Route}").Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData(false, "http://pond:5199")]
    [InlineData(true, "http://pond:5199")]
    [InlineData(true, "https://pond:5200")]
    public async Task Every_other_route_is_refused_to_who_is_not_paired_and_tells_nothing(bool https, string address)
    {
        await using var app = await LanApp.Within(https);
        var client = app.Client(address, cookies: false);
        var closed = Routes(app).Where(r => !r.Open).ToList();
        Assert.InRange(closed.Count, 60, 1000);
        foreach (var (route, method, path, _) in closed)
        {
            using var page = await Ask(client, method, path, "text/html,*/*;q=0.8");
            var html = await page.Content.ReadAsStringAsync(Cancel);
            Assert.True(page.StatusCode == HttpStatusCode.Unauthorized, $"{method} {route} answers {page.StatusCode}");
            Assert.Contains(https && address[4] == ':' ? "First, let this phone trust the machine" : "This phone is not paired yet", html, StringComparison.Ordinal);
            Assert.DoesNotContain("My bench", html, StringComparison.Ordinal);
            Assert.Contains("no-store", page.Headers.CacheControl!.ToString(), StringComparison.Ordinal);
            Assert.NotEmpty(page.Headers.WwwAuthenticate);
            Assert.Contains("default-src 'none'", page.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);

            using var bare = await Ask(client, method, path, "application/json");
            Assert.Equal(HttpStatusCode.Unauthorized, bare.StatusCode);
            Assert.Equal(["refused"], JsonDocument.Parse(await bare.Content.ReadAsStringAsync(Cancel)).RootElement.EnumerateObject().Select(p => p.Name));
        }
    }

    [Theory]
    [InlineData("/nowhere")]
    [InlineData("/assets")]
    [InlineData("/pair/other")]
    [InlineData("/https/authority.pem")]
    [InlineData("/trust/../https/server.pem")]
    [InlineData("/%2e%2e/https/server.pem")]
    public async Task What_is_no_route_is_refused_in_the_same_words(string address)
    {
        await using var app = await LanApp.Within();
        using var answer = await Ask(app.Client(cookies: false), "GET", address, "text/html");
        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
        Assert.DoesNotContain("My bench", await answer.Content.ReadAsStringAsync(Cancel), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("127.0.0.1", HttpStatusCode.OK)]
    [InlineData("127.9.9.9", HttpStatusCode.OK)]
    [InlineData("::1", HttpStatusCode.OK)]
    [InlineData("::ffff:127.0.0.1", HttpStatusCode.OK)]
    [InlineData("::ffff:192.168.7.20", HttpStatusCode.Unauthorized)]
    [InlineData("192.168.7.1", HttpStatusCode.Unauthorized)]
    [InlineData("10.0.0.1", HttpStatusCode.Unauthorized)]
    [InlineData("fd00::2", HttpStatusCode.Unauthorized)]
    [InlineData("0.0.0.0", HttpStatusCode.Unauthorized)]
    [InlineData("203.0.113.9", HttpStatusCode.Unauthorized)]
    [InlineData(null, HttpStatusCode.Unauthorized)]
    public async Task Only_the_machine_itself_is_let_in_without_pairing(string? from, HttpStatusCode status)
    {
        await using var app = await LanApp.Within(from: from);
        using var answer = await app.Client("http://127.0.0.1:5199", cookies: false).GetAsync(new Uri("/due", UriKind.Relative), Cancel);
        Assert.Equal(status, answer.StatusCode);
    }

    [Theory]
    [InlineData("pond:5199", HttpStatusCode.Unauthorized)]
    [InlineData("POND.local:5199", HttpStatusCode.Unauthorized)]
    [InlineData("127.0.0.2:5199", HttpStatusCode.Unauthorized)]
    [InlineData("elsewhere.example", HttpStatusCode.BadRequest)]
    [InlineData("pond.elsewhere.example", HttpStatusCode.BadRequest)]
    [InlineData("192.168.7.20", HttpStatusCode.BadRequest)]
    public async Task Only_its_own_addresses_and_names_are_answered_under(string host, HttpStatusCode status)
    {
        await using var app = await LanApp.Within();
        using var request = new HttpRequestMessage(HttpMethod.Get, "/due");
        request.Headers.Host = host;
        using var answer = await app.Client(cookies: false).SendAsync(request, Cancel);
        Assert.Equal(status, answer.StatusCode);
    }

    // a page of that name, opened by a browser on this machine, after the name was turned to loopback
    [Theory]
    [InlineData("localhost:5199", HttpStatusCode.OK)]
    [InlineData("127.0.0.1:5199", HttpStatusCode.OK)]
    [InlineData("[::1]:5199", HttpStatusCode.OK)]
    [InlineData("rebound.example:5199", HttpStatusCode.BadRequest)]
    [InlineData("pond:5199", HttpStatusCode.Unauthorized)]
    [InlineData("pond.local:5199", HttpStatusCode.Unauthorized)]
    [InlineData("127.0.0.2:5199", HttpStatusCode.Unauthorized)]
    public async Task Nobody_who_turns_a_name_to_this_machine_s_loopback_gets_its_trust(string host, HttpStatusCode status)
    {
        await using var app = await LanApp.Within(from: "127.0.0.1");
        using var request = new HttpRequestMessage(HttpMethod.Get, "/due");
        request.Headers.Host = host;
        using var answer = await app.Client(cookies: false).SendAsync(request, Cancel);
        Assert.Equal(status, answer.StatusCode);
    }

    [Theory]
    [InlineData("X-Forwarded-For", "127.0.0.1")]
    [InlineData("Forwarded", "for=127.0.0.1")]
    [InlineData("X-Real-IP", "127.0.0.1")]
    [InlineData("X-Original-For", "127.0.0.1")]
    public async Task What_a_request_says_of_its_origin_opens_nothing_even_where_the_environment_asks_for_it(string header, string value)
    {
        // the setting by which a framework takes forwarded headers from anyone; on a real connection, as they are read before all else
        await using var app = await LanApp.OnTheNetwork(false, "--ForwardedHeaders_Enabled", "true");
        using var client = new HttpClient();
        using var request = new HttpRequestMessage(HttpMethod.Get, app.Door.First + "/due");
        request.Headers.Add(header, value);
        using var answer = await client.SendAsync(request, Cancel);
        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
    }

    [Fact]
    public async Task On_a_real_connection_the_machine_s_own_loopback_is_trusted_and_its_own_address_in_the_network_is_not()
    {
        await using var app = await LanApp.OnTheNetwork();
        using var client = new HttpClient();
        using var own = await client.GetAsync($"http://127.0.0.1:{app.Door.Port}/due", Cancel);
        Assert.Equal(HttpStatusCode.OK, own.StatusCode);
        using var network = await client.GetAsync(app.Door.First + "/due", Cancel);
        Assert.Equal(HttpStatusCode.Unauthorized, network.StatusCode);
    }

    [Fact]
    public async Task Served_for_itself_alone_it_is_shut_to_others_who_reach_it_by_some_other_way()
    {
        using var app = new KnownwaterApp();
        using var client = app.CreateClient();
        client.DefaultRequestHeaders.Add(ComesFrom.Header, LanApp.Phone);
        client.DefaultRequestHeaders.Accept.ParseAdd("text/html");
        var page = await Sheet.Of(await client.GetAsync(new Uri("/due", UriKind.Relative), Cancel));
        Assert.Equal(HttpStatusCode.Unauthorized, page.Status);
        Assert.Contains("It lets no phone in now", page.Text, StringComparison.Ordinal);
        Assert.Contains("serve --lan", (await app.Open().Get("/bench/phones")).Text, StringComparison.Ordinal);
    }
}
