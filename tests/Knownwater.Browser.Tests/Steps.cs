using Deque.AxeCore.Commons;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Knownwater.Browser.Tests;

/// <summary>What a person does at the bench.</summary>
internal static class Steps
{
    private static readonly string Axe = new BundledAxeScriptProvider().GetScript();

    /// <summary>Fills the first page and begins, from wherever the visit stands.</summary>
    public static async Task Begin(this Visit visit, string parameter, string known, string doubt, int readings)
    {
        var page = visit.Page;
        await page.GetByLabel("What do you measure?").SelectOptionAsync(new SelectOptionValue { Value = parameter });
        await page.GetByLabel("Known value").FillAsync(known);
        await page.GetByLabel("give or take", new PageGetByLabelOptions { Exact = true }).FillAsync(doubt);
        await page.GetByLabel("Automatic dosing is paused").CheckAsync();
        await visit.Plan();
        await page.Locator($"input[name=Replicates][value='{readings}']").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Begin the readings" }).ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("Reading 1");
    }

    /// <summary>Asks how many readings, unless the page has worked it out by itself.</summary>
    public static async Task Plan(this Visit visit)
    {
        var begin = visit.Page.GetByRole(AriaRole.Button, new() { Name = "Begin the readings" });
        var work = visit.Page.GetByRole(AriaRole.Button, new() { Name = "Work out how many readings" });
        await Expect(begin.Or(work).First).ToBeVisibleAsync();
        if (await begin.CountAsync() == 0)
        {
            // the page may be working it out at this moment; pressing Enter asks for the same
            await visit.Page.GetByLabel("Known value").PressAsync("Enter");
        }
        await Expect(begin).ToBeVisibleAsync();
    }

    /// <summary>Fills fields by their labels.</summary>
    public static async Task Fill(this Visit visit, params (string Label, string Typed)[] fields)
    {
        foreach (var (label, typed) in fields)
            await visit.Page.GetByLabel(label, new PageGetByLabelOptions { Exact = true }).FillAsync(typed);
    }

    /// <summary>Presses a button by its words.</summary>
    public static Task Press(this Visit visit, string words) => visit.Leave(visit.Page.GetByRole(AriaRole.Button, new() { Name = words, Exact = true }));

    /// <summary>An analyser with a method for alkalinity in seawater, and its page.</summary>
    public static async Task Analyser(this Visit visit, string sampleVolume)
    {
        var page = visit.Page;
        await page.GotoAsync("/instruments/new");
        await page.Locator("[name=Name]").FillAsync("the harbour analyser");
        await page.Locator("main form button.do").First.ClickAsync();
        await Expect(page.Locator("h1")).ToHaveTextAsync("the harbour analyser");
        var instrument = page.Url;
        await page.GotoAsync(instrument + "/methods/new");
        await page.Locator("select[name=What]").SelectOptionAsync("alkalinity|dKH");
        await page.Locator("[name=SampleVolume]").FillAsync(sampleVolume);
        await visit.Leave(page.Locator("button.do[value=save]"));
        await page.GotoAsync(instrument);
    }

    /// <summary>Goes on with the Tab key until what has the focus is called so.</summary>
    public static async Task Reach(this Visit visit, string name)
    {
        for (var presses = 0; presses < 150; presses++)
        {
            await visit.Page.Keyboard.PressAsync("Tab");
            var here = await visit.Page.EvaluateAsync<string>("() => { const e = document.activeElement; return (e.labels?.[0]?.innerText ?? e.getAttribute('aria-label') ?? e.textContent).replace(/\\s+/g, ' ').trim(); }");
            if (here == name)
                return;
        }
        Assert.Fail($"The Tab key does not come to “{name}” on {visit.Page.Url}.");
    }

    /// <summary>Types one reading and keeps it.</summary>
    public static async Task Read(this Visit visit, string typed)
    {
        await visit.Page.Locator("input[name=Typed]").FillAsync(typed);
        await visit.Leave(visit.Page.GetByRole(AriaRole.Button, new() { Name = "Keep", Exact = true }));
    }

    /// <summary>Clicks what leads to another page, and is on that page when it returns: what is done next cannot meet the old one.</summary>
    public static async Task Leave(this Visit visit, ILocator through)
    {
        await visit.Page.EvaluateAsync("() => { document.documentElement.dataset.left = ''; }");
        await through.ClickAsync();
        await Expect(visit.Page.Locator("html[data-left]")).ToHaveCountAsync(0);
    }

    /// <summary>The page in the browser is whole: nothing wider than the screen.</summary>
    public static async Task HasNoSidewaysScroll(this Visit visit)
    {
        var beyond = await visit.Page.EvaluateAsync<string[]>(
            """
            () => {
              const width = document.documentElement.clientWidth;
              if (document.documentElement.scrollWidth <= width) return [];
              return ['by ' + (document.documentElement.scrollWidth - width) + ' px', ...[...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > width).map(e => e.outerHTML.slice(0, 120)).slice(0, 6)];
            }
            """);
        Assert.True(beyond.Length == 0, $"{visit.Page.Url} is wider than the screen: {string.Join("; ", beyond)}");
    }

    /// <summary>No violation found by axe on the page unrolled to its full height: at one scroll position the bar at the lower edge covers what lies under it.</summary>
    public static async Task IsAccessible(this Visit visit)
    {
        var size = visit.Page.ViewportSize!;
        await visit.Page.SetViewportSizeAsync(size.Width, await visit.Page.EvaluateAsync<int>("document.documentElement.scrollHeight") + 100);
        // run in the page itself: the package's own way draws a second page for each result
        if (!await visit.Page.EvaluateAsync<bool>("typeof axe === 'object'"))
            await visit.Page.EvaluateAsync(Axe);
        var violations = await visit.Page.EvaluateAsync<string[]>(
            """
            async tags => (await axe.run(document, { runOnly: { type: 'tag', values: tags }, resultTypes: ['violations'] })).violations
              .map(v => v.id + ': ' + v.help + ' at ' + v.nodes.map(n => n.html + ' (' + n.any.map(a => a.message).join(', ') + ')').join(', '))
            """, new[] { "wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice" });
        await visit.Page.SetViewportSizeAsync(size.Width, size.Height);
        Assert.True(violations.Length == 0, $"{visit.Page.Url} ({size.Width} px): {string.Join("; ", violations)}");
    }

    /// <summary>The page holds on its screens and by the rules of accessibility; a phone's visit looks at it on a desktop too.</summary>
    public static Task Whole(this Visit visit) => visit.OnEachScreen(async _ =>
    {
        await visit.HasNoSidewaysScroll();
        await visit.IsAccessible();
    });

    /// <summary>Photographs the square code on the page and reads it as a phone would.</summary>
    public static async Task<string> ScanSquareCode(this Visit visit)
    {
        var picture = await visit.Page.Locator(".square-code").First.ScreenshotAsync();
        // an empty page of the same browser turns the picture into grey values
        await using var context = await visit.Page.Context.Browser!.NewContextAsync();
        var page = await context.NewPageAsync();
        var grey = await page.EvaluateAsync<GreyPicture>(
            """
            async picture => {
              const image = new Image();
              image.src = 'data:image/png;base64,' + picture;
              await image.decode();
              const canvas = document.createElement('canvas');
              [canvas.width, canvas.height] = [image.width, image.height];
              const context = canvas.getContext('2d');
              context.drawImage(image, 0, 0);
              const data = context.getImageData(0, 0, image.width, image.height).data;
              const values = [];
              for (let i = 0; i < data.length; i += 4) values.push(Math.round((data[i] + data[i + 1] + data[i + 2]) / 3));
              return { width: image.width, height: image.height, values };
            }
            """, Convert.ToBase64String(picture));
        var source = new ZXing.RGBLuminanceSource([.. grey.Values.Select(v => (byte)v)], grey.Width, grey.Height, ZXing.RGBLuminanceSource.BitmapFormat.Gray8);
        var read = new ZXing.BarcodeReaderGeneric { Options = { TryHarder = true, PossibleFormats = [ZXing.BarcodeFormat.QR_CODE] } }.Decode(source);
        Assert.NotNull(read);
        return read.Text;
    }

    private sealed class GreyPicture
    {
        public int Width { get; set; }

        public int Height { get; set; }

        public int[] Values { get; set; } = [];
    }
}
