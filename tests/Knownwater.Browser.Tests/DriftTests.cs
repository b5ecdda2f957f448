using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Storage;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

/// <summary>The picture of a course, by finger on a phone and by key and pointer on a desk.</summary>
public sealed class DriftTests(Chromium chromium)
{
    private static readonly DateTimeOffset First = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);

    private static readonly string[][] Readings = [["7.9", "8.0"], ["8.0", "7.9"], ["7.8", "7.9"], ["7.9", "8.0"], ["7.9", "7.8"], ["8.0", "7.9"], ["7.9", "7.8"], ["6.9", "7.0"]];

    [Fact]
    public async Task A_finger_shows_the_card_of_a_check_and_a_second_tap_opens_it()
    {
        await using var visit = await Visit.Begin(chromium, Screen.PhoneDark);
        var (page, checks) = (visit.Page, await Course(visit));
        await page.SetViewportSizeAsync(360, 640);
        await page.ReloadAsync();
        var (points, card) = (page.Locator(".fig a[data-card]"), page.Locator(".point-card"));
        await Expect(points).ToHaveCountAsync(Readings.Length);
        ILocator Mark(int check) => page.Locator($".fig a[href='/checks/{checks[check]}']").Locator(".pt, .sig");

        await Mark(0).TapAsync(new() { Force = true });
        await Says(visit, 0, "Lot A-19");
        await IsBeside(visit, Mark(0));
        await visit.Picture("d1-card-left");
        await page.Locator(".key").TapAsync();
        await Expect(card).ToBeHiddenAsync();
        await Mark(7).TapAsync(new() { Force = true });
        await Says(visit, 7, "Lot A-20 Signalled low");
        await IsBeside(visit, Mark(7));
        await visit.Whole();
        await visit.Picture("d2-card-right");

        // large text, and a tap elsewhere
        await visit.TextSize(200);
        foreach (var check in new[] { 0, 4, 7 })
        {
            await page.Locator(".key").TapAsync();
            await Mark(check).TapAsync(new() { Force = true });
            await Expect(card.Locator("a")).ToHaveAttributeAsync("href", $"/checks/{checks[check]}");
            await IsBeside(visit, Mark(check));
            await visit.HasNoSidewaysScroll();
            await visit.Picture($"d3-card-{check}-large");
        }
        await page.Locator(".key").TapAsync();
        await Expect(card).ToBeHiddenAsync();
        await visit.TextSize(100);

        // across the picture a finger draws a span, from the second check to the fifth; up or down it scrolls the page
        await page.EvaluateAsync("document.querySelector('.fig').scrollIntoView({ block: 'center' })");
        var (second, fifth) = (await Box(Mark(1)), await Box(Mark(4)));
        await Swipe(page, (second.X - 6, second.Y + 60), (fifth.X + 14, fifth.Y + 64));
        await Expect(points).ToHaveCountAsync(4);
        var (closer, at) = (page.Url, await page.EvaluateAsync<double>("scrollY"));
        var picture = await Box(page.Locator(".fig > svg"));
        await Swipe(page, (180, picture.Y + 0.8 * picture.Height), (180, picture.Y + 0.3 * picture.Height));
        await page.WaitForFunctionAsync("was => scrollY > was + 40", at);
        await Expect(page.Locator(".fig .drawn")).ToHaveCountAsync(0);
        Assert.Equal(closer, page.Url);
        await page.GotoAsync(new Uri(page.Url).AbsolutePath);

        await Mark(2).TapAsync(new() { Force = true });
        await Expect(card).ToBeVisibleAsync();
        await Mark(2).TapAsync(new() { Force = true });
        await page.WaitForURLAsync($"**/checks/{checks[2]}");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    [Fact]
    public async Task Keys_step_through_the_checks_and_a_span_is_drawn_across()
    {
        await using var visit = await Visit.Begin(chromium, Screen.DesktopLight);
        var (page, checks) = (visit.Page, await Course(visit));
        var (points, card, focused) = (page.Locator(".fig a[data-card]"), page.Locator(".point-card"), page.Locator(".fig a:focus"));
        async Task Press(string key, int check)
        {
            await page.Keyboard.PressAsync(key);
            await Expect(focused).ToHaveAttributeAsync("href", $"/checks/{checks[check]}");
            await Expect(card.Locator("a")).ToHaveAttributeAsync("href", $"/checks/{checks[check]}");
        }

        // one stop of the Tab key, at the newest check
        await Expect(page.Locator(".fig a[data-card][tabindex='0']")).ToHaveCountAsync(1);
        await page.Locator("[data-shown] > .acts a").Last.FocusAsync();
        await Press("Tab", 7);
        Assert.EndsWith("dKH, lot A-20, signalled low", await focused.GetAttributeAsync("aria-label"), StringComparison.Ordinal);
        await Press("ArrowLeft", 6);
        await Press("Home", 0);
        for (var check = 1; check < 3; check++)
            await Press("ArrowRight", check);
        await Press("PageDown", 7);
        await Press("ArrowRight", 7);
        await visit.Whole();
        await visit.Picture("d4-card-keys");
        await page.Keyboard.PressAsync("Escape");
        await Expect(card).ToBeHiddenAsync();
        await Expect(focused).ToHaveAttributeAsync("href", $"/checks/{checks[7]}");
        await Press("Home", 0);
        await page.Keyboard.PressAsync("Tab");
        await Expect(focused).ToHaveCountAsync(0);
        await Expect(card).ToBeHiddenAsync();

        // the pointer may go over to the card and Escape sends it away
        var mark = await Box(page.Locator($".fig a[href='/checks/{checks[5]}'] .pt"));
        await page.Mouse.MoveAsync(mark.X + mark.Width / 2, mark.Y + mark.Height / 2);
        await Says(visit, 5, "Lot A-19");
        var own = await Box(card);
        await page.Mouse.MoveAsync(own.X + own.Width / 2, own.Y + own.Height / 2, new() { Steps = 8 });
        await page.WaitForTimeoutAsync(400);
        await Expect(card).ToBeVisibleAsync();
        await page.Keyboard.PressAsync("Escape");
        await Expect(card).ToBeHiddenAsync();

        // from the second check to the fifth, on the same page
        await page.EvaluateAsync("() => { document.documentElement.dataset.kept = ''; }");
        var (from, to) = (await Box(page.Locator($".fig a[href='/checks/{checks[1]}'] .pt")), await Box(page.Locator($".fig a[href='/checks/{checks[4]}'] .pt")));
        await page.Mouse.MoveAsync(from.X - 6, from.Y + 40);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(to.X + to.Width + 6, to.Y + 60, new() { Steps = 5 });
        await Expect(page.Locator(".fig .drawn")).ToBeVisibleAsync();
        await visit.Picture("d5-span-drawn");
        await page.Mouse.UpAsync();
        await Expect(points).ToHaveCountAsync(4);
        var asked = new Uri(page.Url);
        Assert.Equal(["?from", "2026-03-18", "to", "2026-04-29"], asked.Query.Split('=', '&').Select(Fortnight));
        await Expect(page.Locator("a[download]").First).ToHaveAttributeAsync("href", asked.AbsolutePath + "/picture.svg" + asked.Query);
        await Expect(page.Locator("main > [role=status]")).ToContainTextAsync(" to ");
        await visit.Picture("d6-span");

        // closer round a check, back by the browser's own way, wider, later
        await points.First.FocusAsync();
        await Press("ArrowRight", 2);
        await page.Keyboard.PressAsync("+");
        await Expect(points).ToHaveCountAsync(1);
        await Expect(focused).ToHaveAttributeAsync("href", $"/checks/{checks[2]}");
        await page.GoBackAsync();
        await Expect(points).ToHaveCountAsync(4);
        Assert.Equal(asked.AbsoluteUri, page.Url);
        await Expect(focused).ToHaveAttributeAsync("href", $"/checks/{checks[2]}");
        await page.Keyboard.PressAsync("-");
        await Expect(points).ToHaveCountAsync(7);
        await page.Keyboard.PressAsync("Shift+ArrowRight");
        await Expect(page.Locator($".fig a[href='/checks/{checks[7]}']")).ToHaveCountAsync(1);
        await Expect(page.Locator("html[data-kept]")).ToHaveCountAsync(1);

        // the other charts have the cards and the keys too
        var course = asked.AbsolutePath;
        await page.GotoAsync(course + "/charts");
        await page.Locator(".fig").First.Locator("a").First.FocusAsync();
        var of = await focused.GetAttributeAsync("data-day");
        await page.Keyboard.PressAsync("ArrowRight");
        await Expect(focused).Not.ToHaveAttributeAsync("data-day", of!);
        await Expect(page.Locator(".point-card:visible p")).ToHaveTextAsync((await focused.GetAttributeAsync("data-card"))!);
        await visit.Picture("d7-charts");

        await page.GotoAsync(course);
        await page.Locator($".fig a[href='/checks/{checks[3]}']").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForURLAsync($"**/checks/{checks[3]}");
        Assert.Empty(visit.Strangers);
        Assert.Empty(visit.Complaints);
    }

    private static async Task Swipe(IPage page, (double X, double Y) from, (double X, double Y) to)
    {
        await using var protocol = await page.Context.NewCDPSessionAsync(page);
        Task Touch(string type, params object[] points) => protocol.SendAsync("Input.dispatchTouchEvent", new() { ["type"] = type, ["touchPoints"] = points });
        await Touch("touchStart", new { x = from.X, y = from.Y });
        for (var step = 1; step <= 8; step++)
            await Touch("touchMove", new { x = from.X + step * (to.X - from.X) / 8, y = from.Y + step * (to.Y - from.Y) / 8 });
        await Touch("touchEnd");
    }

    /// <summary>The card says what the table says of the same check.</summary>
    private static async Task Says(Visit visit, int check, string rest)
    {
        var row = visit.Page.Locator("[data-shown] tbody tr").Nth(Readings.Length - 1 - check);
        var (day, off) = (await row.Locator("th").TextContentAsync(), await row.Locator("td").First.TextContentAsync());
        Assert.StartsWith(First.AddDays(14 * check).ToString("d\u00a0MMMM", CultureInfo.InvariantCulture), day, StringComparison.Ordinal);
        await Expect(visit.Page.Locator(".point-card p")).ToHaveTextAsync($"{day} Off by {off} dKH {rest}");
        await Expect(visit.Page.Locator(".point-card a")).ToHaveTextAsync("Open the check");
    }

    /// <summary>The day of the nearest check; what is no day as it is.</summary>
    private static string Fortnight(string text) => DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, out var day)
        ? First.AddDays(14 * Math.Round((day - First).TotalDays / 14)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : text;

    /// <summary>The card lies in the picture and leaves its own point free.</summary>
    private static async Task IsBeside(Visit visit, ILocator mark)
    {
        var (card, picture, point) = (await Box(visit.Page.Locator(".point-card")), await Box(visit.Page.Locator(".fig > svg")), await Box(mark));
        Assert.True(card.X >= picture.X - 1 && card.X + card.Width <= picture.X + picture.Width + 1 && card.Y >= picture.Y - 1 && card.Y + card.Height <= picture.Y + picture.Height + 1,
            $"The card at {Words(card)} does not lie in the picture at {Words(picture)}.");
        Assert.True(card.Y + card.Height <= point.Y || card.Y >= point.Y + point.Height, $"The card at {Words(card)} covers its point at {Words(point)}.");
    }

    private static string Words(LocatorBoundingBoxResult box) => string.Create(CultureInfo.InvariantCulture, $"{box.X:0}, {box.Y:0}, {box.Width:0} × {box.Height:0}");

    private static async Task<LocatorBoundingBoxResult> Box(ILocator of) => (await of.BoundingBoxAsync())!;

    /// <summary>A check every fortnight, the last with a lot that reads low; the visit then stands at its course.</summary>
    private static async Task<IReadOnlyList<Guid>> Course(Visit visit)
    {
        var cancel = TestContext.Current.CancellationToken;
        var time = new Calendar { Now = First.AddDays(-1) };
        await using var services = new ServiceCollection().AddRecords(await RecordsStore.Open(visit.Records, time, cancel)).BuildServiceProvider();
        async Task<TOutcome> Do<TUseCase, TOutcome>(Func<TUseCase, Task<TOutcome>> act)
            where TUseCase : notnull
        {
            await using var scope = services.CreateAsyncScope();
            return await act(scope.ServiceProvider.GetRequiredService<TUseCase>());
        }

        var instrument = Assert.IsType<AddInstrument.Outcome.Added>(await Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = "the harbour analyser", Kind = InstrumentKind.Analyser }, cancel))).Instrument;
        var method = Assert.IsType<AddMethod.Outcome.Added>(await Do<AddMethod, AddMethod.Outcome>(u => u.Handle(new AddMethod.Command
        {
            Instrument = instrument, Parameter = "alkalinity", Form = "dKH", Matrix = Matrix.Seawater, SampleVolume = "5", Resolution = "0.1", MinutesPerReading = "12", ToleranceAbsolute = "0.3", TolerancePercent = "2",
        }, cancel))).Method;
        async Task Open(string name) => Assert.IsType<OpenLot.Outcome.Opened>(await Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = name }, cancel)));
        await Open("A-19");
        List<Guid> checks = [];
        foreach (var (readings, i) in Readings.Select((r, i) => (r, i)))
        {
            if (i == Readings.Length - 1)
            {
                time.Now = First.AddDays(14 * i - 5);
                await Open("A-20");
            }
            time.Now = First.AddDays(14 * i);
            checks.Add(Assert.IsType<StartCheck.Outcome.Started>(await Do<StartCheck, StartCheck.Outcome>(u => u.Handle(new StartCheck.Command
            {
                Parameter = "alkalinity", Form = "dKH", Method = method, Levels = [new LevelEntry { Known = "7.90", Doubt = "0.08" }], ToleranceAbsolute = "0.3", TolerancePercent = "2",
                Replicates = "2", Resolution = "0.1", MinutesPerReading = "12", UseTypicalScatter = true,
            }, cancel))).Check);
            foreach (var reading in readings)
                await Do<KeepReading, KeepReading.Outcome>(u => u.Handle(new KeepReading.Command { Check = checks[^1], Level = 1, Typed = reading }, cancel));
        }
        visit.Page.PageError += (_, fault) => visit.Complaints.Add(fault);
        await visit.Page.GotoAsync($"/drift/{method}");
        return checks;
    }

    private sealed class Calendar : TimeProvider
    {
        public DateTimeOffset Now { get; set; }

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
