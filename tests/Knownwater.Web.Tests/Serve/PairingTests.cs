using System.Net;
using Knownwater.Web.Serve;

namespace Knownwater.Web.Tests.Serve;

public sealed class PairingTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static Task<Sheet> Type(Reader phone, string code, string name = "") => Type(phone, "/pair", code, name);

    private static async Task<Sheet> Type(Reader phone, string at, string code, string name) => await phone.Send(await phone.Get(at), "/pair", "", ("Code", code), ("Name", name));

    /// <summary>A reader on the machine itself.</summary>
    private static Reader Machine(LanApp app)
    {
        var reader = app.Read("http://127.0.0.1:5199");
        reader.Client.DefaultRequestHeaders.Add(ComesFrom.Header, "127.0.0.1");
        return reader;
    }

    private static string Wrong(string code) => (code[0] == 'A' ? 'C' : 'A') + code[1..];

    [Fact]
    public async Task A_phone_with_the_code_is_let_in_and_goes_where_it_wanted()
    {
        await using var app = await LanApp.Within();
        var phone = app.Read();
        var code = app.Codes.Make(onThisMachine: true)!.Code;
        var page = await Type(phone, "/checks/new?what=1", $" {code[..4].ToLowerInvariant()} {code[4..]} ", "Wet phone");
        Assert.Equal(HttpStatusCode.OK, page.Status);
        Assert.Equal("/checks/new?what=1", page.Address);
        Assert.Contains("Check now", page.Text, StringComparison.Ordinal);
        Assert.Contains("Wet phone", (await phone.Get("/bench/phones")).Text, StringComparison.Ordinal);
        Assert.Equal("/checks/new", (await phone.Get("/pair")).Address);
        // another phone is still a stranger
        Assert.Equal(HttpStatusCode.Unauthorized, (await app.Read().Get("/due")).Status);
    }

    [Fact]
    public async Task The_square_code_s_address_fills_the_code_in_and_spends_nothing_before_the_button()
    {
        await using var app = await LanApp.Within();
        var code = app.Codes.Make(onThisMachine: true)!.Code;
        var phone = app.Read();
        for (var looked = 0; looked < 3; looked++)
            Assert.Equal($"{code[..4]}-{code[4..]}", (await phone.Get(new Uri(app.Door.Inviting(code)).PathAndQuery)).Field("Code"));
        Assert.Equal(code, app.Codes.Current?.Code);
        var page = await phone.Send(await phone.Get($"/pair?code={code}"), "/pair");
        Assert.Equal("/checks/new", page.Address);
        Assert.Null(app.Codes.Current);
    }

    [Theory]
    [InlineData(false, "knownwater-phone", "http://pond:5199")]
    [InlineData(true, "__Host-knownwater-phone", "https://pond:5200")]
    public async Task The_secret_is_in_a_cookie_that_no_script_and_no_other_site_gets(bool https, string name, string address)
    {
        await using var app = await LanApp.Within(https);
        var phone = app.Client(address, cookies: false);
        using var asked = await phone.GetAsync(new Uri("/pair", UriKind.Relative), Cancel);
        var form = (await Sheet.Of(asked)).Form("/pair");
        form.Set("Code", app.Codes.Make(true)!.Code);
        using var request = new HttpRequestMessage(HttpMethod.Post, "/pair") { Content = new FormUrlEncodedContent(form.Fields) };
        request.Headers.Add("Cookie", asked.Headers.GetValues("Set-Cookie").Select(c => c.Split(';')[0]));
        using var answer = await phone.SendAsync(request, Cancel);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        var cookie = answer.Headers.GetValues("Set-Cookie").Single(c => c.StartsWith(name + "=", StringComparison.Ordinal));
        var parts = cookie.Split(';', StringSplitOptions.TrimEntries)[1..].Select(p => p.ToLowerInvariant()).ToList();
        Assert.Contains("httponly", parts);
        Assert.Contains("samesite=strict", parts);
        Assert.Contains("path=/", parts);
        Assert.Contains("max-age=31536000", parts);
        Assert.Equal(https, parts.Contains("secure"));
        Assert.DoesNotContain(parts, p => p.StartsWith("domain", StringComparison.Ordinal));

        // and it is good over that alone
        var pass = cookie.Split(';')[0].Split('=', 2)[1];
        foreach (var (given, over, status) in new[] { (name, address, HttpStatusCode.OK), (https ? "knownwater-phone" : "__Host-knownwater-phone", https ? "http://pond:5199" : "https://pond:5200", HttpStatusCode.Unauthorized), ("other", address, HttpStatusCode.Unauthorized) })
        {
            using var again = new HttpRequestMessage(HttpMethod.Get, "/due");
            again.Headers.Add("Cookie", $"{given}={pass}");
            using var seen = await app.Client(over, cookies: false).SendAsync(again, Cancel);
            Assert.Equal(status, seen.StatusCode);
        }
    }

    [Fact]
    public async Task A_code_is_good_for_one_phone()
    {
        await using var app = await LanApp.Within();
        var code = app.Codes.Make(true)!.Code;
        Assert.Equal(HttpStatusCode.OK, (await Type(app.Read(), code)).Status);
        var second = await Type(app.Read(), code);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, second.Status);
        Assert.Contains("No code is good now", second.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_code_is_good_for_ten_minutes()
    {
        await using var app = await LanApp.Within();
        var code = app.Codes.Make(true)!.Code;
        app.Time.Advance(TimeSpan.FromMinutes(10) - TimeSpan.FromSeconds(1));
        Assert.Equal(1, app.Codes.Current!.Minutes);
        Assert.Contains("not the code", (await Type(app.Read(), Wrong(code))).Text, StringComparison.Ordinal);
        app.Time.Advance(TimeSpan.FromSeconds(1));
        Assert.Contains("No code is good now", (await Type(app.Read(), code)).Text, StringComparison.Ordinal);
        var fresh = app.Codes.Make(true)!.Code;
        Assert.Equal(HttpStatusCode.OK, (await Type(app.Read(), fresh)).Status);
    }

    [Fact]
    public async Task A_new_code_ends_the_one_before()
    {
        await using var app = await LanApp.Within();
        var (old, fresh) = (app.Codes.Make(true)!.Code, app.Codes.Make(true)!.Code);
        Assert.Contains("not the code", (await Type(app.Read(), old)).Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await Type(app.Read(), fresh)).Status);
    }

    [Fact]
    public async Task Five_wrong_codes_end_it_and_only_the_machine_itself_makes_the_next()
    {
        await using var app = await LanApp.Within();
        var helper = app.Read();
        await Type(helper, app.Codes.Make(true)!.Code, "Helper");
        var code = app.Codes.Make(true)!.Code;
        var guesser = app.Read();
        Assert.Contains("It takes 4 tries more", (await Type(guesser, Wrong(code))).Text, StringComparison.Ordinal);
        foreach (var n in new[] { "3 tries", "2 tries", "one try" })
            Assert.Contains(n, (await Type(guesser, Wrong(code))).Text, StringComparison.Ordinal);
        Assert.Contains("the fifth wrong one", (await Type(guesser, Wrong(code))).Text, StringComparison.Ordinal);
        Assert.Contains("No code is good now", (await Type(guesser, code)).Text, StringComparison.Ordinal);

        // a paired phone sees why, and cannot make the next
        var page = await helper.Get("/bench/phones");
        Assert.Contains("tried wrongly five times", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("/bench/phones/code", page.Html, StringComparison.Ordinal);
        Assert.Null(app.Codes.Make(onThisMachine: false));

        var machine = Machine(app);
        page = await machine.Send(await machine.Get("/bench/phones"), "/bench/phones/code");
        Assert.Equal(HttpStatusCode.OK, page.Status);
        Assert.Contains(PairingCodes.Grouped(app.Codes.Current!.Code), page.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await Type(app.Read(), app.Codes.Current!.Code)).Status);
    }

    [Fact]
    public async Task A_paired_phone_makes_a_code_for_the_next()
    {
        await using var app = await LanApp.Within();
        var first = app.Read();
        await Type(first, app.Codes.Make(true)!.Code);
        var page = await first.Send(await first.Get("/bench/phones"), "/bench/phones/code");
        Assert.Contains("Scan this", page.Text, StringComparison.Ordinal);
        Assert.Contains($"aria-label=\"Square code: {app.Door.Inviting(app.Codes.Current!.Code)}\"", page.Html, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await Type(app.Read(), app.Codes.Current!.Code)).Status);
    }

    [Fact]
    public async Task What_cannot_be_a_code_is_told_apart_and_costs_no_try()
    {
        await using var app = await LanApp.Within();
        app.Codes.Make(true);
        var phone = app.Read();
        Assert.Contains("The code is missing", (await Type(phone, " ")).Text, StringComparison.Ordinal);
        Assert.Contains("“OOOO-1111” is no code", (await Type(phone, "OOOO-1111")).Text, StringComparison.Ordinal);
        Assert.Contains("“ACDE” is no code", (await Type(phone, "ACDE")).Text, StringComparison.Ordinal);
        var page = await Type(phone, app.Codes.Current!.Code, new string('x', 41));
        Assert.Contains("41 characters long; 40 fit", page.Text, StringComparison.Ordinal);
        Assert.Equal(PairingCodes.Tries, app.Codes.Current!.TriesLeft);
    }

    [Fact]
    public async Task Tries_are_slowed_whoever_makes_them()
    {
        await using var app = await LanApp.Within();
        var phones = Enumerable.Range(1, 3).Select(n =>
        {
            var phone = app.Read();
            phone.Client.DefaultRequestHeaders.Add(ComesFrom.Header, $"192.168.7.{n}");
            return phone;
        }).ToList();
        List<HttpStatusCode> answers = [];
        for (var tried = 0; tried < PairEndpoints.TriesAMinute + 2; tried++)
            answers.Add((await Type(phones[tried % 3], "ACDE-FHJK")).Status);
        Assert.Equal(Enumerable.Repeat(HttpStatusCode.UnprocessableEntity, PairEndpoints.TriesAMinute).Concat(Enumerable.Repeat(HttpStatusCode.TooManyRequests, 2)), answers);
        var slowed = await Type(phones[0], "ACDE-FHJK");
        Assert.Contains("Wait a minute", slowed.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("My bench", slowed.Html, StringComparison.Ordinal);
        // looking is not slowed, and neither is the machine
        Assert.Equal(HttpStatusCode.OK, (await phones[0].Get("/pair")).Status);
    }

    [Fact]
    public async Task Pairing_without_the_form_s_token_is_refused_and_spends_nothing()
    {
        await using var app = await LanApp.Within();
        var code = app.Codes.Make(true)!.Code;
        using var content = new FormUrlEncodedContent([new("Code", code)]);
        using var answer = await app.Read().Client.PostAsync(new Uri("/pair", UriKind.Relative), content, Cancel);
        var page = await Sheet.Of(answer);
        Assert.Equal(HttpStatusCode.BadRequest, page.Status);
        Assert.DoesNotContain("My bench", page.Html, StringComparison.Ordinal);
        Assert.Equal(code, app.Codes.Current?.Code);
    }

    [Theory]
    [InlineData("//elsewhere.example")]
    [InlineData("/\\elsewhere.example")]
    [InlineData("https://elsewhere.example")]
    [InlineData("javascript:alert(1)")]
    [InlineData("/\t/elsewhere.example")]
    public async Task After_pairing_it_leads_nowhere_else(string to)
    {
        await using var app = await LanApp.Within();
        var phone = app.Read();
        var page = await phone.Send(await phone.Get("/pair"), "/pair", "", ("Code", app.Codes.Make(true)!.Code), ("To", to));
        Assert.Equal("/checks/new", page.Address);
    }

    [Fact]
    public async Task Taken_away_a_phone_is_refused_with_its_next_request_and_let_in_again_when_that_is_undone()
    {
        await using var app = await LanApp.Within();
        var (phone, machine) = (app.Read(), Machine(app));
        await Type(phone, app.Codes.Make(true)!.Code, "Wet phone");
        var form = await phone.Get("/instruments/new");
        Assert.Equal(HttpStatusCode.OK, form.Status);

        var page = await machine.Send(await machine.Get("/bench/phones"), "/remove");
        Assert.Contains("Taken away", page.Text, StringComparison.Ordinal);
        Assert.Contains("None is paired yet", page.Text, StringComparison.Ordinal);
        var refused = await phone.Send(form, "/instruments/new", "", ("Name", "slipped in"));
        Assert.Equal(HttpStatusCode.Unauthorized, refused.Status);
        Assert.Equal("", refused.Field("To"));
        Assert.DoesNotContain("slipped in", (await machine.Get("/instruments")).Text, StringComparison.Ordinal);

        await machine.Send(page, "/undo");
        Assert.Equal(HttpStatusCode.OK, (await phone.Get("/due")).Status);
        Assert.Contains("Wet phone taken away", (await machine.Get("/history")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_machine_itself_needs_no_code()
    {
        await using var app = await LanApp.Within();
        Assert.Equal("/bench/phones", (await Machine(app).Get("/pair")).Address);
    }

    [Fact]
    public async Task In_its_window_every_line_typed_makes_a_new_code()
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-lan-");
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        await using var output = new Window();
        // the machine of the test is in some private network, or is given the stub of one
        Assert.NotNull(LanAddress.Any);
        var run = WebEntry.Run(["--records", Path.Combine(folder.FullName, "records.db"), "--lan", "true", "--at", "http://127.0.0.1:0"], output, output, new StringReader("\n\n"), stop.Token);
        for (var waited = 0; waited < 400 && output.ToString().Split("Code: ").Length < 4; waited++)
            await Task.Delay(50, Cancel);
        await stop.CancelAsync();
        Assert.Equal(0, await run);
        var codes = output.ToString().Split("Code: ")[1..].Select(after => after[..9]).ToList();
        Assert.All(codes, code => Assert.Equal('-', code[4]));
        Assert.Equal(3, codes.Distinct(StringComparer.Ordinal).Count());
        Assert.Contains("press Enter here", output.ToString(), StringComparison.Ordinal);
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        folder.Delete(recursive: true);
    }

    [Fact]
    public void Codes_are_drawn_from_all_their_letters_alike()
    {
        var codes = new PairingCodes(TimeProvider.System);
        var drawn = Enumerable.Range(0, 6000).Select(_ => codes.Make(true)!.Code).ToList();
        Assert.All(drawn, c => Assert.Equal(PairingCodes.Length, c.Length));
        Assert.Equal(drawn.Count, drawn.Distinct(StringComparer.Ordinal).Count());
        var counts = string.Concat(drawn).CountBy(c => c).ToDictionary(c => c.Key, c => c.Value);
        Assert.Equal(PairingCodes.Alphabet.Order(), counts.Keys.Order());
        // chi-square with 23 degrees of freedom; 62 is exceeded once in 50 000 runs by chance (tables: 0.99999 quantile 62.6)
        var expected = 48000.0 / 24;
        Assert.True(counts.Values.Sum(n => (n - expected) * (n - expected) / expected) < 62.6);
        Assert.DoesNotContain(PairingCodes.Alphabet, c => "0O1IL2Z5S8BV".Contains(c, StringComparison.Ordinal));
    }

    /// <summary>What is printed, to be read while the program prints on.</summary>
    private sealed class Window : StringWriter
    {
        private readonly Lock _one = new();

        public override Task WriteLineAsync(string? value)
        {
            lock (_one)
                WriteLine(value);
            return Task.CompletedTask;
        }

        public override string ToString()
        {
            lock (_one)
                return base.ToString();
        }
    }
}
