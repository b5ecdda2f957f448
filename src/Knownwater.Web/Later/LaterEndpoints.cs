using Knownwater.Web.Sheet;

namespace Knownwater.Web.Later;

/// <summary>Places of the index that are not built yet, and the cautions.</summary>
internal static class LaterEndpoints
{
    public static void MapLater(this IEndpointRouteBuilder app)
    {
        app.MapGet("/drift", () => Pages.Show<LaterPage>(new LaterPage.Content("drift", "Drift", "Drift is not built yet.",
            "Here will stand how each method moves between checks: steady, drifting, or stepping with a new lot, and when the next check is due.",
            "Until then, check the same method every two weeks; the list of checks shows them one below the other.", "/checks", "See the checks")));
        app.MapGet("/files", () => Pages.Show<LaterPage>(new LaterPage.Content("files", "Files", "Files are not built yet.",
            "Here will stand import, export and backup.",
            "Until then, everything is in one file, whose place the program prints when it starts: copy it while the program is stopped.", "/checks", "See the checks")));
        app.MapGet("/cautions", () => Pages.Show<CautionsPage>(""));
    }
}
