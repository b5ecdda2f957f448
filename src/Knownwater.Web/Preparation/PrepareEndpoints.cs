using System.Globalization;
using Knownwater.Preparation;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Preparation;

/// <summary>Preparing known water: the plan, the acts at the bench, and the bottle on the shelf.</summary>
internal static class PrepareEndpoints
{
    private const string NoSuchPreparation = "This preparation is not there.";

    public static void MapPrepare(this IEndpointRouteBuilder app)
    {
        app.MapGet("/known-water/prepare", async (Guid? stock, Guid? water, Guid? again, HttpContext context, ViewPreparation view, ListStocks stocks, ListNutrientFree waters, ListGlassware glassware, ListPreparations open, CancellationToken cancel) =>
        {
            var content = await Content(stocks, waters, glassware, open, cancel);
            var form = content.Form;
            form["Steps"] = "1";
            form["Stock"] = (stock ?? (content.Stocks is [var first, ..] ? first.Id : null))?.ToString() ?? "";
            form["Water"] = (water ?? (content.Waters is [var sea, ..] ? sea.Id : null))?.ToString() ?? "";
            form["Mixing"] = PlanPreparation.SuggestedMixing;
            form["Temperature"] = "20";
            form["Who"] = Pages.Who(context);
            // the recipe that most people can do: a bottle on the balance, about half a litre of water, one millilitre of stock
            form["Steps[0].With"] = content.Pieces.FirstOrDefault(p => p.Kind is GlasswareKind.PistonPipette or GlasswareKind.BulbPipette or GlasswareKind.Syringe)?.Id.ToString() ?? "";
            form["Steps[0].In"] = (content.Pieces.FirstOrDefault(p => p.Kind == GlasswareKind.Balance) ?? content.Pieces.FirstOrDefault(p => p.Kind is GlasswareKind.Flask or GlasswareKind.Cylinder))?.Id.ToString() ?? "";
            var weighed = content.Pieces.FirstOrDefault(p => p.Id.ToString() == form["Steps[0].In"])?.Kind == GlasswareKind.Balance;
            form["Steps[0].How"] = weighed ? "into" : "to";
            form["Steps[0].Aliquot"] = "1";
            form["Steps[0].Made"] = weighed ? "500" : content.Pieces.FirstOrDefault(p => p.Id.ToString() == form["Steps[0].In"])?.Piece.Nominal?.ToString("0.######", CultureInfo.InvariantCulture) ?? "";
            if (again is { } former && await view.Handle(former, cancel) is { } preparation)
                Repeat(form, preparation.Plan, content);
            return Pages.Show<PreparePage>(content);
        });

        app.MapPost("/known-water/prepare", async (IFormCollection posted, HttpContext context, PlanPreparation plan, ListStocks stocks, ListNutrientFree waters, ListGlassware glassware, ListPreparations open, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var steps = Math.Clamp(int.TryParse(form["Steps"], out var n) ? n : 1, 1, PreparationPlan.MostSteps);
            if (form["act"] == "more")
                steps = Math.Min(steps + 1, PreparationPlan.MostSteps);
            form["Steps"] = steps.ToString(CultureInfo.InvariantCulture);
            var command = new PlanPreparation.Command
            {
                Label = form["Label"],
                Stock = form.Key("Stock"),
                Water = form.Key("Water"),
                Steps = [.. Enumerable.Range(0, steps).Select(i => $"Steps[{i}].").Select(p => new PlanPreparation.StepEntry
                {
                    Aliquot = form[p + "Aliquot"],
                    With = form.Key(p + "With"),
                    Made = form[p + "Made"],
                    IsTotal = form[p + "How"] != "into",
                    In = form.Key(p + "In"),
                    Diluent = form[p + "Diluent"] == "pure" ? Diluent.PureWater : Diluent.Matrix,
                })],
                Temperature = form["Temperature"],
                Mixing = form["Mixing"],
                Target = form["Target"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            };
            var content = await Content(stocks, waters, glassware, open, cancel) with { Form = form };
            if (form["act"] == "more")
                return Pages.Show<PreparePage>(content);
            if (form["act"] == "keep")
            {
                var outcome = await plan.Handle(command, cancel);
                if (outcome is PlanPreparation.Outcome.Planned planned)
                    return Pages.GoTo($"/known-water/prepare/{planned.Preparation}");
                form.Faults = ((PlanPreparation.Outcome.Refused)outcome).Faults;
                return Pages.Again<PreparePage>(content);
            }
            var (view, faults) = await plan.Look(command, cancel);
            form.Faults = faults;
            return view is null ? Pages.Again<PreparePage>(content) : Pages.Show<PreparePage>(content with { View = view });
        });

        app.MapGet("/known-water/prepare/{id:guid}", async (Guid id, ViewPreparation view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } preparation ? Pages.Show<PreparationPage>(new PreparationPage.Content(preparation, new FormState())) : Pages.Missing(NoSuchPreparation));

        app.MapGet("/known-water/prepare/{id:guid}/sheet", async (Guid id, ViewPreparation view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } preparation ? Pages.Show<SheetPage>(preparation) : Pages.Missing(NoSuchPreparation));

        app.MapGet("/known-water/prepare/{id:guid}/bench", async (Guid id, ViewPreparation view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is not { } preparation ? Pages.Missing(NoSuchPreparation)
            : preparation.Next is null ? Pages.GoTo($"/known-water/prepare/{id}")
            : Pages.Show<ActPage>(new ActPage.Content(preparation, new FormState(), "")));

        app.MapPost("/known-water/prepare/{id:guid}/bench", async (Guid id, IFormCollection posted, HttpContext context, RecordAct record, ViewPreparation view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await record.Handle(new RecordAct.Command
            {
                Preparation = id,
                Ordinal = int.TryParse(form["Ordinal"], out var ordinal) ? ordinal : 0,
                Amount = form["Amount"],
                Slip = form["Slip"],
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is RecordAct.Outcome.Gone || await view.Handle(id, cancel) is not { } preparation)
                return Pages.Missing(NoSuchPreparation);
            if (outcome is RecordAct.Outcome.Refused refused)
            {
                form.Faults = refused.Faults;
                return Pages.Again<ActPage>(new ActPage.Content(preparation, form, ""));
            }
            var rescue = ((RecordAct.Outcome.Recorded)outcome).Rescue;
            return rescue.Length == 0
                ? Pages.GoTo(preparation.Next is null ? $"/known-water/prepare/{id}" : $"/known-water/prepare/{id}/bench")
                : preparation.Next is null ? Pages.Show<PreparationPage>(new PreparationPage.Content(preparation, new FormState(), rescue)) : Pages.Show<ActPage>(new ActPage.Content(preparation, new FormState(), rescue));
        });

        app.MapPost("/known-water/prepare/{id:guid}/bench/back", async (Guid id, IFormCollection posted, HttpContext context, RecordAct record, ViewPreparation view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            // back from the act that is shown to the one before it
            var ordinal = int.TryParse(form["Ordinal"], out var shown) ? shown - 1 : 0;
            var outcome = await record.Handle(new RecordAct.Command { Preparation = id, Ordinal = ordinal, Back = true, Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is RecordAct.Outcome.Refused refused && await view.Handle(id, cancel) is { Next: not null } there)
            {
                form.Faults = refused.Faults;
                return Pages.Again<ActPage>(new ActPage.Content(there, form, ""));
            }
            return outcome is RecordAct.Outcome.Gone ? Pages.Missing(NoSuchPreparation) : Pages.GoTo($"/known-water/prepare/{id}/bench");
        });

        app.MapPost("/known-water/prepare/{id:guid}/finish", async (Guid id, IFormCollection posted, HttpContext context, FinishPreparation finish, ViewPreparation view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await finish.Handle(new FinishPreparation.Command { Preparation = id, UseBy = form["UseBy"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is FinishPreparation.Outcome.Finished finished)
                return Pages.GoTo($"/known-water/{finished.Water}");
            form.Faults = ((FinishPreparation.Outcome.Refused)outcome).Faults;
            return await view.Handle(id, cancel) is { } preparation ? Pages.Again<PreparationPage>(new PreparationPage.Content(preparation, form)) : Pages.Missing(NoSuchPreparation);
        });
    }

    /// <summary>Fills the form with a former plan; bottles that left the shelf since stay as the page chose them.</summary>
    private static void Repeat(FormState form, PlanPreparation.Command plan, PreparePage.Content content)
    {
        form["Label"] = plan.Label;
        if (content.Stocks.Any(s => s.Id == plan.Stock))
            form["Stock"] = plan.Stock.ToString()!;
        if (content.Waters.Any(w => w.Id == plan.Water))
            form["Water"] = plan.Water.ToString()!;
        (form["Temperature"], form["Mixing"], form["Target"]) = (plan.Temperature, plan.Mixing, plan.Target);
        if (plan.Steps.Count == 0)
            return;
        form["Steps"] = plan.Steps.Count.ToString(CultureInfo.InvariantCulture);
        foreach (var (step, i) in plan.Steps.Select((s, i) => (s, $"Steps[{i}].")))
        {
            (form[i + "Aliquot"], form[i + "With"], form[i + "How"]) = (step.Aliquot, step.With.ToString()!, step.IsTotal ? "to" : "into");
            (form[i + "Made"], form[i + "In"], form[i + "Diluent"]) = (step.Made, step.In.ToString()!, step.Diluent == Diluent.PureWater ? "pure" : "matrix");
        }
    }

    private static async Task<PreparePage.Content> Content(ListStocks stocks, ListNutrientFree waters, ListGlassware glassware, ListPreparations open, CancellationToken cancel) =>
        new(new FormState(), await stocks.Handle(cancel), await waters.Handle(cancel), await glassware.Handle(cancel), await open.Handle(cancel), null);
}
