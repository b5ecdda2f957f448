using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using Knownwater.Records.Due;
using Knownwater.Records.Storage;
using Knownwater.Web.Serve;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Due;

/// <summary>What falls on a day, for a calendar program: as a file, and under a secret address that it reads by itself.</summary>
internal static class CalendarEndpoints
{
    private const string ContentType = "text/calendar; charset=utf-8";

    public static void MapCalendar(this IEndpointRouteBuilder app)
    {
        app.MapGet("/due/calendar", async (Guid? done, ListDates list, ReadCalendarFeed feed, LanDoor door, CancellationToken cancel) =>
            Pages.Show<CalendarPage>(new CalendarPage.Content(await list.Handle(cancel), await feed.OpenSince(cancel), null, door.IsOpen, done)));

        app.MapPost("/due/calendar/open", async (IFormCollection posted, HttpContext context, OpenCalendarFeed open, ListDates list, ReadCalendarFeed feed, LanDoor door, CancellationToken cancel) =>
        {
            var pass = ((OpenCalendarFeed.Outcome.Opened)await open.Handle(new OpenCalendarFeed.Command { Who = Pages.Who(context, new FormState(posted)) }, cancel)).Pass;
            var at = $"{(door.IsOpen ? door.First : $"{context.Request.Scheme}://{context.Request.Host}")}/calendar/{pass}.ics";
            // shown once, so that no other page, and no way back to this one, holds it
            context.Response.Headers.CacheControl = "no-store";
            return Pages.Show<CalendarPage>(new CalendarPage.Content(await list.Handle(cancel), await feed.OpenSince(cancel), at, door.IsOpen, null));
        });

        app.MapPost("/due/calendar/close", async (IFormCollection posted, HttpContext context, CloseCalendarFeed close, CancellationToken cancel) =>
            await close.Handle(new CloseCalendarFeed.Command { Who = Pages.Who(context), RequestId = new FormState(posted).RequestId }, cancel) is CloseCalendarFeed.Outcome.Closed closed
                ? Pages.GoTo($"/due/calendar?done={closed.HistoryEntry}")
                : Pages.Missing("The calendar is not open any more."));

        app.MapGet("/due/knownwater.ics", async (HttpContext context, ListDates list, Clock clock, CancellationToken cancel) =>
            Results.File(Write(await list.Handle(cancel), clock, Base(context)), ContentType, "knownwater.ics"));

        app.MapGet("/calendar/{pass}.ics", async (string pass, HttpContext context, ReadCalendarFeed feed, Clock clock, CancellationToken cancel) =>
        {
            if (await feed.Handle(pass, cancel) is not { } items)
                return Results.NotFound();
            context.Response.Headers.CacheControl = "private, max-age=3600";
            return Results.Bytes(Write(items, clock, Base(context)), ContentType);
        }).WithMetadata(new OpenToAnyone(OverHttpToo: false));
    }

    private static string Base(HttpContext context) => $"{context.Request.Scheme}://{context.Request.Host}";

    private static byte[] Write(IReadOnlyList<DatedItem> items, Clock clock, string at)
    {
        var calendar = new Calendar { ProductId = "-//Knownwater//Due//EN", Method = "PUBLISH" };
        calendar.AddProperty("X-WR-CALNAME", "Knownwater");
        var now = new CalDateTime(clock.Now.ToDateTimeUtc());
        foreach (var (on, item, key) in items)
        {
            calendar.Events.Add(new CalendarEvent
            {
                Uid = $"{key}@knownwater",
                DtStamp = now,
                Start = new CalDateTime(on.Year, on.Month, on.Day),
                Summary = item.Sentence.TrimEnd('.'),
                Description = item.Reason,
                Url = new Uri(at + DueEndpoints.Address(item)),
                Transparency = TransparencyType.Transparent,
            });
        }

        return System.Text.Encoding.UTF8.GetBytes(new CalendarSerializer().SerializeToString(calendar)!);
    }
}
