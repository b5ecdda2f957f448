using Knownwater.Records.Drift;
using Knownwater.Web.Sheet;
using NodaTime.Text;

namespace Knownwater.Web.Drift;

/// <summary>The course of each method.</summary>
internal static class DriftEndpoints
{
    private const string NoSuchMethod = "There is no such method here.";

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

        app.MapGet("/drift/{method:guid}", async (Guid method, string? from, string? to, ViewDrift view, CancellationToken cancel) =>
            await view.Handle(method, Day(from), Day(to), cancel) is { } course ? Pages.Show<DriftPage>(course) : Pages.Missing(NoSuchMethod));

        app.MapGet("/drift/{method:guid}/picture.{ending}", async (Guid method, string ending, string? from, string? to, ViewDrift view, CancellationToken cancel) =>
            await view.Handle(method, Day(from), Day(to), cancel) is { Figure: { } figure } course ? Picture.Of(figure, course.Title, ending) : Pages.Missing(NoSuchMethod));
    }

    /// <summary>The address of a span of days.</summary>
    public static string Address(Guid method, NodaTime.LocalDate? from, NodaTime.LocalDate? to, string rest = "") =>
        $"/drift/{method}{rest}{(from is { } f && to is { } t ? $"?from={LocalDatePattern.Iso.Format(f)}&to={LocalDatePattern.Iso.Format(t)}" : "")}";

    private static NodaTime.LocalDate? Day(string? text) => LocalDatePattern.Iso.Parse(text ?? "") is { Success: true } day ? day.Value : null;
}
