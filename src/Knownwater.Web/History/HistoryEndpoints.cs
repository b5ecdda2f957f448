using Knownwater.Records.History;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.History;

/// <summary>What was done, and undoing it.</summary>
internal static class HistoryEndpoints
{
    public static void MapHistory(this IEndpointRouteBuilder app)
    {
        app.MapGet("/history", async (int? page, Guid? done, string? said, ListHistory list, CancellationToken cancel) =>
            Pages.Show<HistoryPage>(new HistoryPage.Content(await list.Handle(Query(page), cancel), done, new FormState())));

        app.MapPost("/history/{id:guid}/undo", async (Guid id, IFormCollection posted, HttpContext context, Undo undo, ListHistory list, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await undo.Handle(new Undo.Command { Entry = id, Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is Undo.Outcome.Refused refused)
            {
                form.Faults = refused.Faults;
                return Pages.Again<HistoryPage>(new HistoryPage.Content(await list.Handle(Query(1), cancel), null, form));
            }

            return Pages.GoTo("/history");
        });
    }

    public static string? Address(HistoryLine line) => line.SubjectKind switch
    {
        "check" => $"/checks/{line.Subject}",
        "instrument" => $"/instruments/{line.Subject}",
        "method" => $"/methods/{line.Subject}/change",
        "lot" => $"/lots/{line.Subject}/change",
        "water" => $"/known-water/{line.Subject}",
        "stock" => $"/known-water/stocks/{line.Subject}",
        "nutrient-free water" => "/known-water/nutrient-free",
        "preparation" => $"/known-water/prepare/{line.Subject}",
        "round" => $"/known-water/rounds/{line.Subject}",
        "glassware" => $"/known-water/glassware/{line.Subject}",
        "calendar" => "/due/calendar",
        "phone" => "/bench/phones",
        "tank" => $"/tanks/{line.Subject}",
        "alarm" => $"/drift/{line.Subject}",
        "drift watch" => "/drift/watch",
        "bench" => "/bench",
        _ => null,
    };

    private static ListHistory.Query Query(int? page) => new() { Page = Math.Max(page ?? 1, 1) };
}
