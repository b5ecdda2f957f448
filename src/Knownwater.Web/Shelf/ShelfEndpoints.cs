using Knownwater.Quantities;
using Knownwater.Records;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Web.Checks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Shelf;

/// <summary>The shelf of known waters.</summary>
internal static class ShelfEndpoints
{
    private const string NoSuchWater = "This known water is not on the shelf.";

    public static void MapShelf(this IEndpointRouteBuilder app)
    {
        app.MapGet("/known-water", async (ViewShelf view, CancellationToken cancel) => Pages.Show<ShelfPage>(await view.Handle(cancel)));

        app.MapGet("/known-water/new", (string? parameter, HttpContext context) =>
        {
            var measured = Knownwater.Quantities.Parameter.Find(parameter ?? "") is { } listed ? Measured.Of(listed) : Measured.Default;
            return Pages.Show<WaterFormPage>(new WaterFormPage.Content(null, new FormState { ["What"] = measured.Key, ["Who"] = Pages.Who(context) }));
        });

        app.MapPost("/known-water/new", async (IFormCollection posted, HttpContext context, AddReferenceWater add, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var measured = Measured.Of(form);
            if (form["act"] == "unit")
                return Pages.Show<WaterFormPage>(new WaterFormPage.Content(null, form));
            var outcome = await add.Handle(new AddReferenceWater.Command
            {
                Label = form["Label"],
                Parameter = measured.Parameter,
                OtherName = form["OtherName"],
                Form = measured.Form,
                Matrix = form.Word<Matrix>("Matrix"),
                Salinity = form["Salinity"],
                Known = form["Known"],
                Doubt = form["Doubt"],
                DoubtKind = form.Word<DoubtMeaning>("DoubtKind"),
                Origin = form.Word<Origin>("Origin"),
                OriginDetail = form["OriginDetail"],
                MadeOn = form["MadeOn"],
                UseBy = form["UseBy"],
                Amount = form["Amount"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            return outcome switch
            {
                AddReferenceWater.Outcome.Added added => Pages.GoTo($"/known-water/{added.Water}"),
                AddReferenceWater.Outcome.Refused refused => Again(form, refused.Faults, null),
                _ => Pages.Missing(NoSuchWater),
            };
        });

        app.MapGet("/known-water/{id:guid}", async (Guid id, ViewReferenceWater view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } water ? Pages.Show<WaterPage>(new WaterPage.Content(water, new FormState())) : Pages.Missing(NoSuchWater));

        app.MapGet("/known-water/{id:guid}/label", async (Guid id, string? size, string? copies, string? start, ViewReferenceWater view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } water
                ? Pages.Show<LabelPage>(new LabelPage.Content(LabelPage.Labelled.Of(water), LabelForm(size, copies, start)))
                : Pages.Missing(NoSuchWater));

        app.MapGet("/known-water/code", (string? code, FindByCode find, CancellationToken cancel) => Find(code ?? "", find, cancel));
        app.MapGet("/known-water/code/{code}", (string code, FindByCode find, CancellationToken cancel) => Find(code, find, cancel));

        app.MapPost("/known-water/{id:guid}/used", async (Guid id, IFormCollection posted, HttpContext context, DrawFromShelf draw, ViewReferenceWater view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await draw.Handle(new DrawFromShelf.Command { Bottle = id, Amount = form["Used"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is DrawFromShelf.Outcome.Drawn)
                return Pages.GoTo($"/known-water/{id}");
            form.Faults = ((DrawFromShelf.Outcome.Refused)outcome).Faults;
            return await view.Handle(id, cancel) is { } water ? Pages.Again<WaterPage>(new WaterPage.Content(water, form)) : Pages.Missing(NoSuchWater);
        });

        app.MapPost("/known-water/{id:guid}/anew", async (Guid id, IFormCollection posted, HttpContext context, ReckonAnew reckon, ViewReferenceWater view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await reckon.Handle(new ReckonAnew.Command { Water = id, Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is not ReckonAnew.Outcome.Refused refused)
                return Pages.GoTo($"/known-water/{id}");
            form.Faults = refused.Faults;
            return await view.Handle(id, cancel) is { } water ? Pages.Again<WaterPage>(new WaterPage.Content(water, form)) : Pages.Missing(NoSuchWater);
        });

        app.MapGet("/known-water/{id:guid}/change", async (Guid id, HttpContext context, ViewReferenceWater view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } water ? Pages.Show<WaterFormPage>(new WaterFormPage.Content(water, Filled(water, Pages.Who(context)))) : Pages.Missing(NoSuchWater));

        app.MapPost("/known-water/{id:guid}/change", async (Guid id, IFormCollection posted, HttpContext context, ChangeReferenceWater change, ViewReferenceWater view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } water)
                return Pages.Missing(NoSuchWater);
            var form = new FormState(posted);
            var measured = Measured.Of(form);
            if (form["act"] == "unit")
                return Pages.Show<WaterFormPage>(new WaterFormPage.Content(water, form));
            var outcome = await change.Handle(new ChangeReferenceWater.Command
            {
                Water = id,
                Label = form["Label"],
                Parameter = measured.Parameter,
                OtherName = form["OtherName"],
                Form = measured.Form,
                Matrix = form.Word<Matrix>("Matrix"),
                Salinity = form["Salinity"],
                Known = form["Known"],
                Doubt = form["Doubt"],
                DoubtKind = form.Word<DoubtMeaning>("DoubtKind"),
                Origin = form.Word<Origin>("Origin"),
                OriginDetail = form["OriginDetail"],
                MadeOn = form["MadeOn"],
                UseBy = form["UseBy"],
                Amount = form["Amount"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            return outcome is ChangeReferenceWater.Outcome.Refused refused ? Again(form, refused.Faults, water) : Pages.GoTo($"/known-water/{id}");
        });

        app.MapPost("/known-water/{id:guid}/remove", async (Guid id, IFormCollection posted, HttpContext context, RemoveReferenceWater remove, ViewReferenceWater view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } water)
                return Pages.Missing(NoSuchWater);
            var form = new FormState(posted);
            var outcome = await remove.Handle(new RemoveReferenceWater.Command { Water = id, Reason = form["act"] == "empty" ? "empty" : form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is RemoveReferenceWater.Outcome.Refused refused)
            {
                form.Faults = refused.Faults;
                return Pages.Again<WaterPage>(new WaterPage.Content(water, form));
            }

            return Pages.GoTo(outcome is RemoveReferenceWater.Outcome.Removed removed ? $"/history?done={removed.HistoryEntry}" : "/known-water");
        });
    }

    /// <summary>The question of the label page as it stands in its address.</summary>
    public static FormState LabelForm(string? size, string? copies, string? start) => new() { ["size"] = size ?? "", ["copies"] = copies ?? "", ["start"] = start ?? "" };

    private static async Task<IResult> Find(string code, FindByCode find, CancellationToken cancel) => await find.Handle(code, cancel) switch
    {
        { Water: { } water } => Pages.GoTo($"/known-water/{water}"),
        { Stock: { } stock } => Pages.GoTo($"/known-water/stocks/{stock}"),
        _ => Pages.Missing($"No bottle on the shelf has the code “{code.Trim()}”. It stands on the label, as in KW-12 or S-3."),
    };

    private static IResult Again(FormState form, IReadOnlyList<FieldFault> faults, ReferenceWaterView? water)
    {
        form.Faults = [.. faults.Select(f => f.Field == "Parameter" ? f with { Field = "What" } : f)];
        return Pages.Again<WaterFormPage>(new WaterFormPage.Content(water, form));
    }

    private static FormState Filled(ReferenceWaterView water, string who) => new()
    {
        ["What"] = new Measured(water.ParameterKey, water.Form.Text).Key,
        ["Form"] = water.Form.Text,
        ["OtherName"] = water.ParameterName,
        ["Label"] = water.Label,
        ["Matrix"] = water.Matrix?.ToString() ?? "",
        ["Salinity"] = water.Salinity,
        ["Known"] = water.KnownTyped,
        ["Doubt"] = water.DoubtTyped,
        ["DoubtKind"] = water.DoubtKind.ToString(),
        ["Origin"] = water.Origin.ToString(),
        ["OriginDetail"] = water.OriginDetail,
        ["MadeOn"] = water.MadeOn?.ToString("uuuu-MM-dd", null) ?? "",
        ["UseBy"] = water.UseBy?.ToString("uuuu-MM-dd", null) ?? "",
        ["Amount"] = water.AmountTyped,
        ["Who"] = who,
    };
}
