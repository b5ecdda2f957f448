using Knownwater.Records.Storage;
using Knownwater.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(Knownwater.Browser.Tests.Chromium))]

namespace Knownwater.Browser.Tests;

/// <summary>Debian's Chromium, driven; one for all tests.</summary>
public sealed class Chromium : IAsyncLifetime
{
    /// <summary>Milliseconds after which a page that does not come to what is expected counts as stuck.</summary>
    public const int Patience = 60_000;

    private IPlaywright? _playwright;
    private IBrowser? _browser;

    public IBrowser Browser => _browser!;

    public async ValueTask InitializeAsync()
    {
        _playwright = await Playwright.CreateAsync();
        // a busy machine is slow and not wrong; what a person may wait for is not asked here
        Assertions.SetDefaultExpectTimeout(Patience);
        _browser = await Another();
    }

    /// <summary>A browser of its own, for a test that stops its processes; whoever asks for it ends it.</summary>
    public Task<IBrowser> Another()
    {
        var program = new[] { "/usr/bin/chromium", "/usr/bin/chromium-browser" }.FirstOrDefault(File.Exists)
            ?? throw new FileNotFoundException("The browser tests need chromium; ./test.sh installs it on Debian.");
        return _playwright!.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = program,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
            await _browser.DisposeAsync();
        _playwright?.Dispose();
    }
}

/// <summary>The screens that the pages are looked at on.</summary>
public enum Screen
{
    PhoneDark,
    PhoneLight,
    DesktopLight,
    DesktopDark,
}

/// <summary>The application on a fresh store, and a page of the browser on it; notes every request that leaves for another host.</summary>
public sealed class Visit : IAsyncDisposable
{
    private const int DeskWidth = 1280, DeskHeight = 900;

    private readonly WebApplication _app;
    private readonly IBrowserContext _context;
    private readonly DirectoryInfo _folder;

    private Visit(WebApplication app, IBrowserContext context, IPage page, Uri address, DirectoryInfo folder, Screen screen)
    {
        (_app, _context, Page, Address, _folder, Screen) = (app, context, page, address, folder, screen);
        page.Request += (_, request) =>
        {
            if (new Uri(request.Url).Authority != address.Authority && !request.Url.StartsWith("data:", StringComparison.Ordinal))
                Strangers.Add(request.Url);
        };
        page.Console += (_, message) =>
        {
            // a refused form answers 422, which the console calls an error too; answers are watched below
            if (message.Type == "error" && !message.Text.StartsWith("Failed to load resource", StringComparison.Ordinal))
                Complaints.Add(message.Text);
        };
        page.Response += (_, response) =>
        {
            if (response.Status >= 400 && response.Status != 422)
                Complaints.Add($"{response.Status} {response.Url}");
        };
    }

    private static readonly Lazy<Task<string>> Template = new(async () =>
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-template-");
        AppDomain.CurrentDomain.ProcessExit += (_, _) => folder.Delete(recursive: true);
        await RecordsStore.Open(FileIn(folder));
        SqliteConnection.ClearAllPools();
        return FileIn(folder);
    });

    private int _textSize = 100;
    private ICDPSession? _protocol;

    private static string? Screenshots => Environment.GetEnvironmentVariable("KNOWNWATER_SCREENSHOTS") is { Length: > 0 } where ? where : null;

    public IPage Page { get; }

    public Uri Address { get; }

    /// <summary>The application's own use cases, to put things into its records without walking there.</summary>
    public IServiceProvider Services => _app.Services;

    /// <summary>The file of its records, to write into them with another clock.</summary>
    public string Records => FileIn(_folder);

    public Screen Screen { get; }

    /// <summary>Requests to other hosts: there must be none.</summary>
    public List<string> Strangers { get; } = [];

    /// <summary>Errors on the browser's console: there must be none.</summary>
    public List<string> Complaints { get; } = [];

    /// <summary>A file of records that was just made: a copy of one that this run made itself.</summary>
    public static async Task NewRecords(string file) => File.Copy(await Template.Value, file);

    public static async Task<Visit> Begin(Chromium chromium, Screen screen, bool script = true)
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-browser-");
        await NewRecords(FileIn(folder));
        var app = await WebEntry.CreateApp(["--records", FileIn(folder), "--urls", "http://127.0.0.1:0"], cancel: TestContext.Current.CancellationToken);
        await app.StartAsync(TestContext.Current.CancellationToken);
        var address = new Uri(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());
        var phone = screen is Screen.PhoneDark or Screen.PhoneLight;
        var context = await chromium.Browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = address.ToString(),
            ViewportSize = phone ? new ViewportSize { Width = 390, Height = 844 } : new ViewportSize { Width = DeskWidth, Height = DeskHeight },
            DeviceScaleFactor = phone ? 2 : 1,
            IsMobile = phone,
            HasTouch = phone,
            ColorScheme = screen is Screen.PhoneDark or Screen.DesktopDark ? ColorScheme.Dark : ColorScheme.Light,
            JavaScriptEnabled = script,
        });
        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(Chromium.Patience);
        return new Visit(app, context, page, address, folder, screen);
    }

    private bool IsPhone => Screen is Screen.PhoneDark or Screen.PhoneLight;

    /// <summary>Does something on the screen of this visit, and on a phone’s visit on a desktop of the other colours too.</summary>
    public async Task OnEachScreen(Func<string, Task> look)
    {
        await look(Screen.ToString());
        if (!IsPhone)
            return;
        var (size, dark) = (Page.ViewportSize!, Screen == Screen.PhoneDark);
        await Page.SetViewportSizeAsync(DeskWidth, DeskHeight);
        await Page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = dark ? ColorScheme.Light : ColorScheme.Dark });
        await Again();
        await look(dark ? "DesktopLight" : "DesktopDark");
        await Page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light });
        await Page.SetViewportSizeAsync(size.Width, size.Height);
        await Again();

        async Task Again()
        {
            // another view begins with the usual text size, and colours fade over
            if (_textSize != 100)
                await TextSize(_textSize);
            await Page.EvaluateAsync("() => document.getAnimations().filter(a => a instanceof CSSTransition).forEach(a => a.finish())");
        }
    }

    /// <summary>Keeps a picture where KNOWNWATER_SCREENSHOTS says; nothing where it says nothing.</summary>
    public async Task Picture(string name)
    {
        if (Screenshots is not { } where)
            return;
        Directory.CreateDirectory(where);
        await OnEachScreen(async screen =>
        {
            var size = Page.ViewportSize!;
            await Page.SetViewportSizeAsync(size.Width, await Page.EvaluateAsync<int>("document.documentElement.scrollHeight"));
            await TextSize(_textSize);
            await Page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(where, $"{name}-{screen}.png") });
            await Page.SetViewportSizeAsync(size.Width, size.Height);
            await TextSize(_textSize);
        });
    }

    /// <summary>Sets the browser's text size, as a person does in its settings; 100 is the usual.</summary>
    public async Task TextSize(int percent)
    {
        _textSize = percent;
        _protocol ??= await Page.Context.NewCDPSessionAsync(Page);
        await _protocol.SendAsync("Page.setFontSizes", new() { ["fontSizes"] = new Dictionary<string, object> { ["standard"] = 16 * percent / 100, ["fixed"] = 13 * percent / 100 } });
        await Assertions.Expect(Page.Locator("html")).ToHaveCSSAsync("font-size", $"{16 * percent / 100}px");
    }

    private static string FileIn(DirectoryInfo folder) => Path.Combine(folder.FullName, "records.db");

    public async ValueTask DisposeAsync()
    {
        await _context.DisposeAsync();
        await _app.StopAsync(TestContext.Current.CancellationToken);
        await _app.DisposeAsync();
        try
        {
            _folder.Delete(recursive: true);
        }
        catch (IOException)
        {
            // a pooled connection still holds the file; the folder is a temporary one
        }
    }
}
