using Knownwater.Records.Due;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Due;

/// <summary>What needs doing now, each with its reason.</summary>
internal static class DueEndpoints
{
    public static void MapDue(this IEndpointRouteBuilder app)
    {
        app.MapGet("/due", async (ListDue list, CancellationToken cancel) => Pages.Show<DuePage>(await list.Handle(cancel)));
        app.MapGet("/health", async (ListDue list, CancellationToken cancel) =>
        {
            await list.Handle(cancel);
            return Results.Text("ok");
        });
    }

    /// <summary>Where the act of an item leads.</summary>
    public static string Address(DueItem item) => item.Act switch
    {
        DueAct.OpenCourse when item.Method is { } moved => $"/drift/{moved}#alarms",
        DueAct.PlanCheck when item.Method is { } method => $"/checks/new?method={method}",
        DueAct.OpenInstrument when item.Instrument is { } instrument => $"/instruments/{instrument}",
        DueAct.OpenWater when item.Water is { } water => $"/known-water/{water}",
        DueAct.OpenStock when item.Stock is { } stock => $"/known-water/stocks/{stock}",
        DueAct.OpenRound when item.Round is { } round => $"/known-water/rounds/{round}",
        DueAct.OpenDosing when item.Check is { } check => $"/checks/{check}/dosing",
        DueAct.LookBack when item.Check is { } failed => $"/checks/{failed}/look-back",
        DueAct.Keep when item.Check is { } check => $"/checks/{check}/describe",
        _ when item.Check is { } check => $"/checks/{check}",
        _ => "/checks/new",
    };
}
