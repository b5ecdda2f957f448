using Knownwater.Records.Drift;
using Knownwater.Web.Sheet;
using NodaTime.Text;

namespace Knownwater.Web.Drift;

/// <summary>The course of each method.</summary>
internal static class DriftEndpoints
{
    private const string NoSuchMethod = "There is no such method here.", NoSuchAlarm = "This alarm is not in the records; its check may have been taken away.";

    public static void MapDrift(this IEndpointRouteBuilder app)
    {
        app.MapGet("/drift", async (ListDrift list, ChangeDriftWatch watch, CancellationToken cancel) =>
            Pages.Show<DriftsPage>(new DriftsPage.Content(await list.Handle(cancel), await watch.Read(cancel))));

        app.MapGet("/drift/watch", async (Guid? done, ChangeDriftWatch watch, CancellationToken cancel) =>
        {
            var view = await watch.Read(cancel);
            return Pages.Show<DriftWatchPage>(new DriftWatchPage.Content(new FormState { ["FalseAlarms"] = view.FalseAlarms, ["Risk"] = view.Risk }, view, done));
        });

        app.MapPost("/drift/watch", async (IFormCollection posted, HttpContext context, ChangeDriftWatch watch, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await watch.Handle(new ChangeDriftWatch.Command { FalseAlarms = form["FalseAlarms"], Risk = form["Risk"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is ChangeDriftWatch.Outcome.Refused refused)
            {
                form.Faults = refused.Faults;
                return Pages.Again<DriftWatchPage>(new DriftWatchPage.Content(form, await watch.Read(cancel), null));
            }

            return Pages.GoTo(outcome is ChangeDriftWatch.Outcome.Changed changed ? $"/drift/watch?done={changed.HistoryEntry}" : "/drift");
        });

        app.MapGet("/drift/{method:guid}", async (Guid method, string? from, string? to, Guid? done, ViewDrift view, CancellationToken cancel) =>
            await view.Handle(method, Day(from), Day(to), cancel) is { } course ? Pages.Show<DriftPage>(new DriftPage.Content(course, done)) : Pages.Missing(NoSuchMethod));

        app.MapGet("/drift/{method:guid}/alarms/{alarm:guid}", async (Guid method, Guid alarm, ViewDrift view, CancellationToken cancel) =>
            AlarmPage.Content.Of(await view.Handle(method, null, null, cancel), alarm, new FormState()) is { } content ? Pages.Show<AlarmPage>(content) : Pages.Missing(NoSuchAlarm));

        app.MapPost("/drift/{method:guid}/alarms/{alarm:guid}", async (Guid method, Guid alarm, IFormCollection posted, HttpContext context, CloseAlarm close, ViewDrift view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await close.Handle(new CloseAlarm.Command { Alarm = alarm, Reason = form["Reason"], Others = form.Ticked("Others"), Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is CloseAlarm.Outcome.Closed closed)
                return Pages.GoTo($"/drift/{closed.Method}?done={closed.HistoryEntry}");
            form.Faults = ((CloseAlarm.Outcome.Refused)outcome).Faults;
            return AlarmPage.Content.Of(await view.Handle(method, null, null, cancel), alarm, form) is { } content ? Pages.Again<AlarmPage>(content) : Pages.Missing(NoSuchAlarm);
        });

        app.MapGet("/drift/{method:guid}/charts", async (Guid method, ViewCharts view, CancellationToken cancel) =>
            await view.Handle(method, cancel) is { } charts ? Pages.Show<ChartsPage>(new ChartsPage.Content(charts)) : Pages.Missing(NoSuchMethod));

        app.MapGet("/drift/{method:guid}/charts/{chart}.{ending}", async (Guid method, string chart, string ending, ViewCharts view, CancellationToken cancel) =>
            await view.Handle(method, cancel) is { } charts && charts.Charts.FirstOrDefault(c => c.Key == chart) is { } look
                ? Picture.Of(look.Figure, $"{charts.Title}: {look.Heading}", ending) : Pages.Missing("There is no such chart here."));

        app.MapGet("/drift/{method:guid}/picture.{ending}", async (Guid method, string ending, string? from, string? to, ViewDrift view, CancellationToken cancel) =>
            await view.Handle(method, Day(from), Day(to), cancel) is { Figure: { } figure } course ? Picture.Of(figure, course.Title, ending) : Pages.Missing(NoSuchMethod));
    }

    /// <summary>The address of a span of days.</summary>
    public static string Address(Guid method, NodaTime.LocalDate? from, NodaTime.LocalDate? to, string rest = "") =>
        $"/drift/{method}{rest}{(from is { } f && to is { } t ? $"?from={LocalDatePattern.Iso.Format(f)}&to={LocalDatePattern.Iso.Format(t)}" : "")}";

    private static NodaTime.LocalDate? Day(string? text) => LocalDatePattern.Iso.Parse(text ?? "") is { Success: true } day ? day.Value : null;
}
