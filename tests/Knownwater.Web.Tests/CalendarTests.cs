using System.Net;
using System.Text.RegularExpressions;
using Ical.Net;

namespace Knownwater.Web.Tests;

public sealed partial class CalendarTests : IDisposable
{
    private readonly KnownwaterApp app = new();

    public void Dispose() => app.Dispose();

    private static async Task<Reader> Furnished(KnownwaterApp app)
    {
        var reader = app.Open();
        await Walk.Furnish(reader);
        await reader.Send(await reader.Get("/known-water/new"), "/known-water/new", "save", ("Label", "KW-2; old, \\ odd"), ("What", "alkalinity|dKH"), ("Known", "7.90"), ("Doubt", "0.08"), ("Origin", "Certificate"), ("OriginDetail", "26-0418"), ("UseBy", DateTime.UtcNow.AddDays(20).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture)));
        return reader;
    }

    [Fact]
    public async Task The_dates_are_had_as_a_file_that_a_calendar_program_reads()
    {
        var reader = await Furnished(app);
        var file = await reader.Get("/due/knownwater.ics");
        Assert.StartsWith("text/calendar", file.Headers["Content-Type"], StringComparison.Ordinal);
        var calendar = Calendar.Load(file.Html)!;
        var water = calendar.Events.Single(e => e.Uid!.StartsWith("water-", StringComparison.Ordinal));
        Assert.Equal("KW-2; old, \\ odd keeps until today", water.Summary);
        Assert.False(water.Start!.HasTime);
        Assert.Equal(DateOnly.FromDateTime(DateTime.UtcNow.AddDays(20)), water.Start.Date);
        Assert.StartsWith("/known-water/", water.Url!.AbsolutePath, StringComparison.Ordinal);
        // RFC 5545: lines end in CR LF and have at most 75 octets
        Assert.All(file.Html.Split("\r\n"), line => Assert.InRange(System.Text.Encoding.UTF8.GetByteCount(line), 0, 75));
        Assert.DoesNotContain('\n', file.Html.Replace("\r\n", "", StringComparison.Ordinal));
    }

    [Fact]
    public async Task An_address_is_shown_once_and_answers_until_it_is_closed()
    {
        var reader = await Furnished(app);
        var page = await reader.Get("/due/calendar");
        Assert.Contains("KW-2; old", page.Text, StringComparison.Ordinal);
        var made = await reader.Send(page, "/due/calendar/open");
        Assert.Contains("no-store", made.Headers["Cache-Control"], StringComparison.Ordinal);
        var address = new Uri(Feed().Match(made.Html).Value).PathAndQuery;
        Assert.Equal(HttpStatusCode.OK, (await reader.Get(address)).Status);
        Assert.NotEmpty(Calendar.Load((await reader.Get(address)).Html)!.Events);
        Assert.DoesNotMatch(Feed(), (await reader.Get("/due/calendar")).Html);

        var closed = await reader.Send(await reader.Get("/due/calendar"), "/due/calendar/close");
        Assert.Contains("Closed. The address answers no more.", closed.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get(address)).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await reader.Get("/calendar/nonsense.ics")).Status);
    }

    [GeneratedRegex("http[^\"<]*/calendar/[^\"<]*[.]ics", RegexOptions.None, 1000)]
    private static partial Regex Feed();
}
