using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Knownwater.Web.Tests.Serve;

public sealed class RunFromAPhoneTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(false, "http://pond:5199")]
    [InlineData(true, "https://pond:5200")]
    public async Task A_paired_phone_reaches_all_of_the_sheet_and_a_stranger_none_of_it(bool https, string address)
    {
        await using var app = await LanApp.Within(https);
        var phone = app.Read(address);
        await phone.Send(await phone.Get("/pair"), "/pair", "", ("Code", app.Codes.Make(onThisMachine: true)!.Code), ("Name", "Wet phone"));
        var (page, check) = await RunSheetTests.Begin(phone);
        Assert.Contains("Step 1 of", page.Text, StringComparison.Ordinal);
        var token = page.Field("__RequestVerificationToken");
        var events = new { run = page.Field("Run"), client = Guid.NewGuid(), events = new[] { new { key = Guid.NewGuid(), kind = "done", step = 0 } } };

        // one who knows the address, and even a token, but is not paired
        using var stranger = app.Client(address);
        async Task Refused(HttpMethod method, string path, HttpContent? content = null)
        {
            using var request = new HttpRequestMessage(method, new Uri(path, UriKind.Relative)) { Content = content };
            request.Headers.Add("RequestVerificationToken", token);
            using var answer = await stranger.SendAsync(request, Cancel);
            Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
            Assert.NotEmpty((await answer.Content.ReadFromJsonAsync<JsonElement>(Cancel)).GetProperty("refused").GetString()!);
        }
        await Refused(HttpMethod.Get, "/run-sheet-worker.js");
        await Refused(HttpMethod.Get, check + "/run");
        await Refused(HttpMethod.Get, check + "/run/record");
        await Refused(HttpMethod.Get, check + "/run/token");
        await Refused(HttpMethod.Get, check + "/run/events");
        await Refused(HttpMethod.Post, check + "/run/events", JsonContent.Create(events));
        await Refused(HttpMethod.Post, check + "/run/photos?Key=0190a5c0-0000-7000-8000-000000000000&Step=0", new ByteArrayContent([0xFF, 0xD8, 0xFF]));
        await Refused(HttpMethod.Get, check + "/run/photos/0190a5c0-0000-7000-8000-000000000000");
        Assert.Contains("Step 1 of", (await phone.Get(check + "/run")).Text, StringComparison.Ordinal);

        Assert.Equal(HttpStatusCode.OK, (await phone.Get("/run-sheet-worker.js")).Status);
        using var sent = new HttpRequestMessage(HttpMethod.Post, new Uri(check + "/run/events", UriKind.Relative)) { Content = JsonContent.Create(events) };
        sent.Headers.Add("RequestVerificationToken", token);
        using var kept = await phone.Client.SendAsync(sent, Cancel);
        Assert.Equal("kept", (await kept.Content.ReadFromJsonAsync<JsonElement>(Cancel)).GetProperty("answers")[0].GetProperty("fate").GetString());
        Assert.Contains("Step 2 of", (await phone.Get(check + "/run")).Text, StringComparison.Ordinal);
    }
}
