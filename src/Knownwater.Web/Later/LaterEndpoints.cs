using Knownwater.Web.Sheet;

namespace Knownwater.Web.Later;

/// <summary>Places of the index that are not built yet, and the cautions.</summary>
internal static class LaterEndpoints
{
    public static void MapLater(this IEndpointRouteBuilder app)
    {
        app.MapGet("/files", () => Pages.Show<LaterPage>(new LaterPage.Content("files", "Files", "Files are not built yet.",
            "Here will stand import, export and backup.",
            "Until then, everything is in one file, whose place the program prints when it starts: copy it while the program is stopped.", "/checks", "See the checks")));
        app.MapGet("/cautions", () => Pages.Show<CautionsPage>(""));
    }
}
