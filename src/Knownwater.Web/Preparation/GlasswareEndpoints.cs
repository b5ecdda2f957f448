using System.Globalization;
using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records;
using Knownwater.Records.Benches;
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
            Pages.Show<GlasswareFormPage>(new GlasswareFormPage.Content(new FormState { ["Kind"] = Enum.TryParse<GlasswareKind>(kind, out var known) ? known.ToString() : nameof(GlasswareKind.PistonPipette), ["Who"] = Pages.Who(context) })));

        app.MapPost("/known-water/glassware/new", async (IFormCollection posted, HttpContext context, AddGlassware add, ViewBench bench, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            if (await Prefilled(form, bench, cancel))
                return Pages.Show<GlasswareFormPage>(new GlasswareFormPage.Content(form));
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
            return Pages.Again<GlasswareFormPage>(new GlasswareFormPage.Content(form));
        });

        app.MapGet("/known-water/glassware/{id:guid}", async (Guid id, ViewGlassware view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } piece ? Pages.Show<PiecePage>(new PiecePage.Content(piece, new FormState())) : Pages.Missing(NoSuchPiece));

        app.MapGet("/known-water/glassware/{id:guid}/change", async (Guid id, HttpContext context, ViewGlassware view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } piece)
                return Pages.Missing(NoSuchPiece);
            var typed = piece.Typed;
            return Pages.Show<GlasswareFormPage>(new GlasswareFormPage.Content(new FormState
            {
                ["Kind"] = piece.Kind.ToString(), ["Name"] = piece.Name, ["Nominal"] = typed.Nominal, ["Least"] = typed.Least, ["Tolerance"] = typed.Tolerance, ["Triangular"] = typed.Triangular ? "yes" : "",
                ["Repeatability"] = typed.Repeatability, ["Readability"] = typed.Readability, ["Basis"] = typed.Basis, ["Who"] = Pages.Who(context),
            }, id, piece.Name));
        });

        app.MapPost("/known-water/glassware/{id:guid}/change", async (Guid id, IFormCollection posted, HttpContext context, ChangeGlassware change, ViewGlassware view, ViewBench bench, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } piece)
                return Pages.Missing(NoSuchPiece);
            var form = new FormState(posted);
            if (await Prefilled(form, bench, cancel))
                return Pages.Show<GlasswareFormPage>(new GlasswareFormPage.Content(form, id, piece.Name));
            var outcome = await change.Handle(new ChangeGlassware.Command
            {
                Piece = id,
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
            if (outcome is ChangeGlassware.Outcome.Changed)
                return Pages.GoTo($"/known-water/glassware/{id}");
            form.Faults = ((ChangeGlassware.Outcome.Refused)outcome).Faults;
            return Pages.Again<GlasswareFormPage>(new GlasswareFormPage.Content(form, id, piece.Name));
        });

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

    /// <summary>Whether the post only asks for the fields of a kind or the figures of a class; these are filled in, in the owner's decimal sign.</summary>
    private static async Task<bool> Prefilled(FormState form, ViewBench bench, CancellationToken cancel)
    {
        if (form["act"] == "kind")
        {
            form["Listed"] = "";
            return true;
        }
        if (form["act"] != "figures")
            return false;
        if (GlasswareCatalogue.Find(form["Listed"]) is not { } entry || entry.Kind != form.Word<GlasswareKind>("Kind"))
        {
            form.Faults = [new FieldFault("Listed", "No class and size is chosen. Choose one, or type the figures yourself.")];
            return true;
        }
        var sign = (await bench.Handle(cancel)).Sign;
        string Figure(double? value) => value is { } v and not 0 ? v.ToString("0.########", CultureInfo.InvariantCulture).Replace('.', sign == DecimalSign.Comma ? ',' : '.') : "";
        form["Nominal"] = entry.Nominal is null ? form["Nominal"] : Figure(entry.Nominal);
        form["Least"] = Figure(entry.Least);
        form["Tolerance"] = entry.ToleranceIsRelative ? Figure(100 * entry.Tolerance) + " %" : Figure(entry.Tolerance);
        form["Repeatability"] = Figure(entry.Repeatability);
        form["Readability"] = Figure(entry.Readability);
        form["Basis"] = entry.Kind == GlasswareKind.Balance ? $"working limit, {entry.Status}" : $"{entry.Standard}, {entry.Class}; {entry.Status}";
        return true;
    }
}
