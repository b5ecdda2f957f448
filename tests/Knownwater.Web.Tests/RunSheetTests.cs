using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace Knownwater.Web.Tests;

public sealed partial class RunSheetTests : IDisposable
{
    private static readonly byte[] Jpeg = [0xFF, 0xD8, 0xFF, 0xE0, 0, 16, 0x4A, 0x46, 0x49, 0x46];

    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    [Fact]
    public async Task Without_script_a_run_leads_by_plain_forms_from_the_first_step_to_the_verdict()
    {
        var reader = app.Open();
        var (page, check) = await Begin(reader);
        var typed = new Queue<string>(["8.6", "8.8", "8.7"]);
        for (var i = 0; i < 200 && !page.Text.Contains("All readings are in.", StringComparison.Ordinal); i++)
        {
            Assert.Equal(HttpStatusCode.OK, page.Status);
            page = IsReading(page) ? await reader.Send(page, "/run", "keep", ("Typed", typed.Dequeue())) : await reader.Send(page, "/run", "done");
        }
        Assert.Empty(typed);
        page = await reader.Send(page, "/run", "end");
        Assert.Equal(check, page.Address);
        Assert.Contains("Reads high", page.Text, StringComparison.Ordinal);
        Assert.Contains("What was done at the bench", page.Text, StringComparison.Ordinal);
        page = await reader.Get(check + "/run/record");
        Assert.Contains("Reading 2 typed: 8.8", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_script_back_a_slip_and_a_reading_of_two_meanings()
    {
        var reader = app.Open();
        var (page, check) = await Begin(reader);
        Assert.Contains("Step 1 of", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/run", "done");
        Assert.Contains("Step 2 of", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/run", "back");
        Assert.Contains("Step 1 of", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/run", "slip");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Contains("Nothing is written yet.", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/run", "slip", ("Note", "spilled a drop"));
        Assert.Contains("Kept so far: 1 written", page.Text, StringComparison.Ordinal);
        while (!IsReading(page))
            page = await reader.Send(page, "/run", "done");
        page = await reader.Send(page, "/run", "keep", ("Typed", "1,234"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, page.Status);
        Assert.Equal("1,234", page.Field("Typed"));
        Assert.Contains("Which one?", page.Text, StringComparison.Ordinal);
        page = await reader.Send(page, "/run", "Typed=8.6");
        Assert.Equal(HttpStatusCode.OK, page.Status);
        Assert.Contains("8.6", (await reader.Get(check)).Text, StringComparison.Ordinal);
        Assert.Contains("Slip: spilled a drop", (await reader.Get(check + "/run/record")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Events_are_taken_once_in_order_and_another_device_sees_them()
    {
        var reader = app.Open();
        var (page, check) = await Begin(reader);
        var (run, token) = (page.Field("Run"), page.Field("__RequestVerificationToken"));
        var first = Guid.NewGuid();
        var batch = new { run, client = Guid.NewGuid(), events = new[] { new { key = first, kind = "done", step = 0, at = 1_788_000_000_000, age = 1500 }, new { key = Guid.NewGuid(), kind = "done", step = 1, at = 1_788_000_001_000, age = 500 } } };
        var answer = await Post(reader, check + "/run/events", batch, token);
        Assert.Equal(["kept", "kept"], answer.GetProperty("answers").EnumerateArray().Select(a => a.GetProperty("fate").GetString()));
        answer = await Post(reader, check + "/run/events", batch, token);
        Assert.Equal(2, answer.GetProperty("state").GetProperty("step").GetInt32());
        Assert.Equal(3, answer.GetProperty("state").GetProperty("last").GetInt32());

        var other = app.Open().Client;
        var seen = await other.GetFromJsonAsync<JsonElement>(new Uri(check + "/run/events?after=1", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(2, seen.GetProperty("step").GetInt32());
        Assert.Equal([2, 3], seen.GetProperty("events").EnumerateArray().Select(e => e.GetProperty("ordinal").GetInt32()));
        using var same = await other.GetAsync(new Uri($"{check}/run/events?after=3&mark={seen.GetProperty("mark").GetString()}", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NoContent, same.StatusCode);
    }

    [Fact]
    public async Task An_event_without_a_good_token_is_refused_and_a_fresh_token_is_to_be_had()
    {
        var reader = app.Open();
        var (_, check) = await Begin(reader);
        var batch = new { events = new[] { new { key = Guid.NewGuid(), kind = "done", step = 0 } } };
        foreach (var stale in new[] { "", "CfDJ8stale" })
        {
            var refused = await Post(reader, check + "/run/events", batch, stale, HttpStatusCode.BadRequest);
            Assert.True(refused.GetProperty("renew").GetBoolean());
        }
        var fresh = await reader.Client.GetFromJsonAsync<JsonElement>(new Uri(check + "/run/token", UriKind.Relative), TestContext.Current.CancellationToken);
        await Post(reader, check + "/run/events", batch, fresh.GetProperty("token").GetString()!);
    }

    [Theory]
    [InlineData("""{"events":[{"key":"0190a5c0-0000-7000-8000-000000000000","kind":"explode","step":0}]}""", HttpStatusCode.BadRequest)]
    [InlineData("""{"events":[{"kind":"done","step":0}]}""", HttpStatusCode.BadRequest)]
    [InlineData("""{"events":[null]}""", HttpStatusCode.BadRequest)]
    [InlineData("""{"events":[]}""", HttpStatusCode.UnprocessableEntity)]
    [InlineData("""{}""", HttpStatusCode.BadRequest)]
    [InlineData("""not json""", HttpStatusCode.BadRequest)]
    public async Task What_cannot_be_read_is_refused_with_a_sentence(string body, HttpStatusCode status)
    {
        var reader = app.Open();
        var (page, check) = await Begin(reader);
        using var content = new StringContent(body, Encoding.UTF8, "application/json");
        var answer = await Post(reader, check + "/run/events", content, page.Field("__RequestVerificationToken"), status);
        Assert.NotEmpty(answer.GetProperty("sentence").GetString()!);
        Assert.Contains("Step 1 of", (await reader.Get(check + "/run")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Too_much_at_once_is_refused()
    {
        var reader = app.Open();
        var (page, check) = await Begin(reader);
        using var content = new StringContent(new string(' ', 250_000), Encoding.UTF8, "application/json");
        await Post(reader, check + "/run/events", content, page.Field("__RequestVerificationToken"), HttpStatusCode.RequestEntityTooLarge);
    }

    [Fact]
    public async Task A_photo_is_served_as_what_it_is_and_nothing_else()
    {
        var reader = app.Open();
        var (page, check) = await Begin(reader);
        var token = page.Field("__RequestVerificationToken");
        var key = Guid.NewGuid();
        using (var content = new ByteArrayContent(Jpeg))
            await Post(reader, $"{check}/run/photos?Key={key}&Step=0&Text=cloudy", content, token);
        using (var content = new ByteArrayContent("<script>alert(1)</script>"u8.ToArray()))
        {
            content.Headers.ContentType = new("image/jpeg");
            var refused = await Post(reader, $"{check}/run/photos?Key={Guid.NewGuid()}&Step=0", content, token, HttpStatusCode.UnprocessableEntity);
            Assert.Contains("JPEG", refused.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        }
        using (var content = new ByteArrayContent(new byte[2_000_001]))
            await Post(reader, $"{check}/run/photos?Key={Guid.NewGuid()}&Step=0", content, token, HttpStatusCode.RequestEntityTooLarge);
        page = await reader.Get(check + "/run/record");
        var address = Shots().Match(page.Html).Groups[1].Value;
        using var shot = await reader.Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(Jpeg, await shot.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        Assert.Equal("image/jpeg", shot.Content.Headers.ContentType!.MediaType);
        Assert.Equal("inline", shot.Content.Headers.ContentDisposition!.DispositionType);
        Assert.Contains("nosniff", shot.Headers.GetValues("X-Content-Type-Options"));
        Assert.Contains("1 photo", (await reader.Get(check)).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_script_a_photo_goes_with_its_form_and_one_that_is_too_large_is_named()
    {
        var reader = app.Open();
        var (page, check) = await Begin(reader);
        async Task<Sheet> Photo(byte[] picture)
        {
            using var form = new MultipartFormDataContent
            {
                { new StringContent(page.Field("__RequestVerificationToken")), "__RequestVerificationToken" },
                { new StringContent(Guid.NewGuid().ToString()), "request" },
                { new StringContent("0"), "Step" },
                { new ByteArrayContent(picture), "Photo", "a.jpg" },
            };
            using var answer = await reader.Client.PostAsync(new Uri(check + "/run/photo", UriKind.Relative), form, TestContext.Current.CancellationToken);
            return await Sheet.Of(answer);
        }
        Assert.Contains("1 photo", (await Photo(Jpeg)).Text, StringComparison.Ordinal);
        var refused = await Photo([.. Jpeg, .. new byte[2_000_000]]);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("2.0", refused.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_worker_reaches_no_further_than_a_sheet()
    {
        var worker = await app.Open().Get("/run-sheet-worker.js");
        Assert.Equal(HttpStatusCode.OK, worker.Status);
        Assert.StartsWith("text/javascript", worker.Headers["Content-Type"], StringComparison.Ordinal);
        Assert.Equal("no-cache", worker.Headers["Cache-Control"]);
        Assert.False(worker.Headers.ContainsKey("Service-Worker-Allowed"));
    }

    [Fact]
    public async Task The_page_with_all_its_steps_style_and_module_weighs_less_than_250_kB()
    {
        var reader = app.Open();
        var (page, _) = await Begin(reader, "10");
        var total = Encoding.UTF8.GetByteCount(page.Html);
        foreach (Match asset in Assets().Matches(page.Html))
            total += (await reader.Get(WebUtility.HtmlDecode(asset.Groups[1].Value))).Html.Length;
        total += (await reader.Get("/run-sheet-worker.js")).Html.Length;
        Assert.InRange(total, 20_000, 250_000);
    }

    [Fact]
    public async Task A_check_that_is_over_or_without_a_method_says_what_to_do_instead()
    {
        var reader = app.Open();
        var quick = await Walk.Start(reader);
        var page = await reader.Get(quick.Address + "/run");
        Assert.Contains("Type the readings", page.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get("/checks/0190a5c0-0000-7000-8000-000000000000/run")).Status);
    }

    /// <summary>An analyser with a method, a check of it, and its sheet at the first step.</summary>
    internal static async Task<(Sheet Page, string Check)> Begin(Reader reader, string readings = "3")
    {
        var page = await reader.Send(await reader.Get("/instruments/new"), "/instruments/new", "", ("Name", "the harbour analyser"));
        page = await reader.Send(await reader.Get(page.Address + "/methods/new"), "/methods/new", "save", ("What", "alkalinity|dKH"), ("MinutesPerReading", "12"), ("Resolution", "0.1"), ("SampleVolume", "5"), ("Matrix", "Seawater"));
        page = await reader.Get("/checks/new");
        var method = MethodOptions().Match(page.Html).Groups[1].Value;
        page = await Walk.Start(reader, replicates: readings, more: ("Method", method));
        var check = page.Address;
        page = await reader.Get(check + "/run");
        // the sheet leads through what must hold first
        Assert.EndsWith("/before", page.Address, StringComparison.Ordinal);
        page = await reader.Send(page, "/before", "run", ("Dosing", "none"), ("Confirmed.Matrix", "yes"), ("Confirmed.UseBy", "yes"), ("Confirmed.Range", "yes"), ("Confirmed.Amount", "yes"), ("Confirmed.Lots", "yes"), ("Confirmed.Temperature", "yes"));
        Assert.True(page.Address.EndsWith("/run", StringComparison.Ordinal), page.Text);
        return (page, check);
    }

    private static bool IsReading(Sheet page) => Reading().IsMatch(page.Html);

    private static async Task<JsonElement> Post(Reader reader, string address, object body, string token, HttpStatusCode status = HttpStatusCode.OK)
    {
        using var content = JsonContent.Create(body);
        return await Post(reader, address, content, token, status);
    }

    private static async Task<JsonElement> Post(Reader reader, string address, HttpContent content, string token, HttpStatusCode status = HttpStatusCode.OK)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri(address, UriKind.Relative)) { Content = content };
        if (token.Length > 0)
            request.Headers.Add("RequestVerificationToken", token);
        using var answer = await reader.Client.SendAsync(request, TestContext.Current.CancellationToken);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(status == answer.StatusCode, $"{address} answers {answer.StatusCode}: {text}");
        return JsonSerializer.Deserialize<JsonElement>(text);
    }

    [GeneratedRegex("id=\"run-read\"(?![^>]*hidden)", RegexOptions.None, 1000)]
    private static partial Regex Reading();

    [GeneratedRegex("<img src=\"([^\"]+)\"", RegexOptions.None, 1000)]
    private static partial Regex Shots();

    [GeneratedRegex("(?:href|src)=\"(/assets/[^\"]+)\"", RegexOptions.None, 1000)]
    private static partial Regex Assets();

    [GeneratedRegex("<option[^>]* value=\"([0-9a-f-]{36})\"", RegexOptions.None, 1000)]
    private static partial Regex MethodOptions();
}
