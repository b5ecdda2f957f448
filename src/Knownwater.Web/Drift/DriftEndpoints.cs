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
        app.MapGet("/drift", async (ListDrift list, CancellationToken cancel) => Pages.Show<DriftsPage>(await list.Handle(cancel)));

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
