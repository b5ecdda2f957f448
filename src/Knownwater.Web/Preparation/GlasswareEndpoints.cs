using Knownwater.Preparation;
using Knownwater.Records.Preparation;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Preparation;

/// <summary>The glassware and balances of the bench.</summary>
internal static class GlasswareEndpoints
{
    private const string NoSuchPiece = "This piece is not among the glassware.";

    public static void MapGlassware(this IEndpointRouteBuilder app)
    {
        app.MapGet("/known-water/glassware", async (ListGlassware list, CancellationToken cancel) => Pages.Show<GlasswarePage>(await list.Handle(cancel)));

        app.MapGet("/known-water/glassware/new", (string? kind, HttpContext context) =>
            Pages.Show<GlasswareFormPage>(new FormState { ["Kind"] = Enum.TryParse<GlasswareKind>(kind, out var known) ? known.ToString() : nameof(GlasswareKind.PistonPipette), ["Who"] = Pages.Who(context) }));

        app.MapPost("/known-water/glassware/new", async (IFormCollection posted, HttpContext context, AddGlassware add, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            if (form["act"] == "kind")
                return Pages.Show<GlasswareFormPage>(form);
            var outcome = await add.Handle(new AddGlassware.Command
            {
                Name = form["Name"],
                Kind = form.Word<GlasswareKind>("Kind"),
                Nominal = form["Nominal"],
                Least = form["Least"],
                Tolerance = form["Tolerance"],
                Triangular = form.Ticked("Triangular"),
                Repeatability = form["Repeatability"],
                Readability = form["Readability"],
                Basis = form["Basis"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is AddGlassware.Outcome.Added added)
                return Pages.GoTo($"/known-water/glassware/{added.Piece}");
            form.Faults = ((AddGlassware.Outcome.Refused)outcome).Faults;
            return Pages.Again<GlasswareFormPage>(form);
        });

        app.MapGet("/known-water/glassware/{id:guid}", async (Guid id, ViewGlassware view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } piece ? Pages.Show<PiecePage>(new PiecePage.Content(piece, new FormState())) : Pages.Missing(NoSuchPiece));

        app.MapPost("/known-water/glassware/{id:guid}/remove", async (Guid id, IFormCollection posted, HttpContext context, RemoveGlassware remove, ViewGlassware view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } piece)
                return Pages.Missing(NoSuchPiece);
            var form = new FormState(posted);
            var outcome = await remove.Handle(new RemoveGlassware.Command { Piece = id, Reason = form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is RemoveGlassware.Outcome.Removed removed)
                return Pages.GoTo($"/history?done={removed.HistoryEntry}");
            form.Faults = ((RemoveGlassware.Outcome.Refused)outcome).Faults;
            return Pages.Again<PiecePage>(new PiecePage.Content(piece, form));
        });
    }
}
