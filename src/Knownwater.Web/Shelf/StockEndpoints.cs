using Knownwater.Preparation;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Web.Checks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Shelf;

/// <summary>Stocks, and the nutrient-free waters that known water is made in.</summary>
internal static class StockEndpoints
{
    private static async Task<IResult> Recipe(MixSeawater mix, string recipe, string amount, string unit, string salinity, string purpose, CancellationToken cancel)
    {
        var form = new FormState { ["recipe"] = recipe, ["amount"] = amount, ["unit"] = unit, ["salinity"] = salinity, ["purpose"] = purpose };
        if (amount.Length == 0 && salinity.Length == 0)
        {
            (form["recipe"], form["amount"], form["salinity"]) = (SeawaterRecipe.All[0].Key, "5", "35");
            return Pages.Show<RecipePage>(new RecipePage.Content(null, form));
        }
        var (view, faults) = await mix.Handle(new MixSeawater.Query { Recipe = recipe, Amount = amount, IsKilograms = unit == "kg", Salinity = salinity, MatchedFor = form.Word<MatchedFor>("purpose") }, cancel);
        form.Faults = faults;
        return view is null ? Pages.Again<RecipePage>(new RecipePage.Content(null, form)) : Pages.Show<RecipePage>(new RecipePage.Content(view, form));
    }

    private const string NoSuchWater = "This nutrient-free water is not on the shelf.";

    private static async Task<NutrientFreeView?> NutrientFree(ListNutrientFree list, Guid id, CancellationToken cancel) => (await list.Handle(cancel)).FirstOrDefault(w => w.Id == id);

    private static FormState Filled(StockView stock, Guid id, string who)
    {
        var value = stock.Further.FirstOrDefault(f => f.Id == id);
        return new FormState
        {
            ["Label"] = stock.Label,
            ["Known"] = value?.KnownTyped ?? stock.Typed.Known,
            ["Doubt"] = value?.DoubtTyped ?? stock.Typed.Doubt,
            ["DoubtKind"] = (value?.DoubtKind ?? stock.Typed.DoubtKind).ToString(),
            ["Origin"] = stock.Typed.Origin.ToString(),
            ["OriginDetail"] = stock.Typed.OriginDetail,
            ["Medium"] = stock.Medium,
            ["Amount"] = stock.Typed.Amount,
            ["OpenedOn"] = stock.Typed.OpenedOn?.ToString("uuuu-MM-dd", null) ?? "",
            ["UseBy"] = stock.Typed.UseBy?.ToString("uuuu-MM-dd", null) ?? "",
            ["Who"] = who,
        };
    }

    private static FormState Filled(NutrientFreeView water, string who) => new()
    {
        ["Label"] = water.Label,
        ["Salinity"] = water.Typed.Salinity,
        ["Amount"] = water.Typed.Amount,
        ["OpenedOn"] = water.Typed.OpenedOn?.ToString("uuuu-MM-dd", null) ?? "",
        ["UseBy"] = water.Typed.UseBy?.ToString("uuuu-MM-dd", null) ?? "",
        ["What"] = Measured.Of(Knownwater.Quantities.Parameter.Find("nitrate")!).Key,
        ["Who"] = who,
    };

    private const string NoSuchStock = "This stock is not on the shelf.";

    public static void MapStocks(this IEndpointRouteBuilder app)
    {
        app.MapGet("/known-water/stocks", async (ListStocks list, CancellationToken cancel) => Pages.Show<StocksPage>(await list.Handle(cancel)));

        app.MapGet("/known-water/stocks/new", (HttpContext context) =>
            Pages.Show<StockFormPage>(new FormState { ["What"] = Measured.Of(Knownwater.Quantities.Parameter.Find("nitrate")!).Key, ["Origin"] = nameof(Origin.Certificate), ["Who"] = Pages.Who(context) }));

        app.MapPost("/known-water/stocks/new", async (IFormCollection posted, HttpContext context, AddStock add, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var measured = Measured.Of(form);
            if (form["act"] == "unit")
                return Pages.Show<StockFormPage>(form);
            var outcome = await add.Handle(new AddStock.Command
            {
                Label = form["Label"],
                Parameter = measured.Parameter,
                OtherName = form["OtherName"],
                Form = measured.Form,
                Known = form["Known"],
                Doubt = form["Doubt"],
                DoubtKind = form.Word<DoubtMeaning>("DoubtKind"),
                Origin = form.Word<Origin>("Origin"),
                OriginDetail = form["OriginDetail"],
                MediumKind = form["MediumKind"],
                MediumFormula = form["MediumFormula"],
                MediumStrength = form["MediumStrength"],
                Salt = form["Salt"],
                Medium = form["Medium"],
                Companions = form["Companions"],
                Amount = form["Amount"],
                OpenedOn = form["OpenedOn"],
                UseBy = form["UseBy"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is AddStock.Outcome.Added added)
                return Pages.GoTo($"/known-water/stocks/{added.Stock}");
            form.Faults = [.. ((AddStock.Outcome.Refused)outcome).Faults.Select(f => f.Field == "Parameter" ? f with { Field = "What" } : f)];
            return Pages.Again<StockFormPage>(form);
        });

        app.MapGet("/known-water/stocks/weigh", async (HttpContext context, ListGlassware glassware, CancellationToken cancel) =>
            Pages.Show<WeighStockPage>(new WeighStockPage.Content(await glassware.Handle(cancel), new FormState
            {
                ["What"] = Measured.Of(Knownwater.Quantities.Parameter.Find("nitrate")!).Key, ["PurityDoubt"] = "0.5", ["Purity"] = "99.5", ["Who"] = Pages.Who(context),
            })));

        app.MapPost("/known-water/stocks/weigh", async (IFormCollection posted, HttpContext context, WeighStock weigh, ListGlassware glassware, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var measured = Measured.Of(form);
            var pieces = await glassware.Handle(cancel);
            if (form["act"] == "look")
                return Pages.Show<WeighStockPage>(new WeighStockPage.Content(pieces, form));
            var outcome = await weigh.Handle(new WeighStock.Command
            {
                Label = form["Label"],
                Parameter = measured.Parameter,
                OtherName = form["OtherName"],
                Form = measured.Form,
                Salt = form["Salt"],
                Mass = form["Mass"],
                Balance = form.Key("Balance"),
                Purity = form["Purity"],
                PurityDoubt = form["PurityDoubt"],
                Volume = form["Volume"],
                Flask = form.Key("Flask"),
                OriginDetail = form["OriginDetail"],
                MadeOn = form["MadeOn"],
                UseBy = form["UseBy"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is WeighStock.Outcome.Made made)
                return Pages.GoTo($"/known-water/stocks/{made.Stock}");
            form.Faults = [.. ((WeighStock.Outcome.Refused)outcome).Faults.Select(f => f.Field == "Parameter" ? f with { Field = "What" } : f)];
            return Pages.Again<WeighStockPage>(new WeighStockPage.Content(pieces, form));
        });

        app.MapGet("/known-water/stocks/{id:guid}", async (Guid id, ViewStock view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } stock ? Pages.Show<StockPage>(new StockPage.Content(stock, new FormState())) : Pages.Missing(NoSuchStock));

        app.MapGet("/known-water/stocks/{id:guid}/change", async (Guid id, HttpContext context, ViewStock view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } stock ? Pages.Show<StockChangePage>(new StockChangePage.Content(stock, id, Filled(stock, id, Pages.Who(context)))) : Pages.Missing(NoSuchStock));

        app.MapPost("/known-water/stocks/{id:guid}/change", async (Guid id, IFormCollection posted, HttpContext context, ChangeStock change, ViewStock view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await change.Handle(new ChangeStock.Command
            {
                Stock = id,
                Label = form["Label"],
                Known = form["Known"],
                Doubt = form["Doubt"],
                DoubtKind = form.Word<DoubtMeaning>("DoubtKind"),
                Origin = form.Word<Origin>("Origin"),
                OriginDetail = form["OriginDetail"],
                Medium = form["Medium"],
                Amount = form["Amount"],
                OpenedOn = form["OpenedOn"],
                UseBy = form["UseBy"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (await view.Handle(id, cancel) is not { } stock)
                return Pages.Missing(NoSuchStock);
            if (outcome is ChangeStock.Outcome.Changed)
                return Pages.GoTo($"/known-water/stocks/{stock.Id}");
            form.Faults = ((ChangeStock.Outcome.Refused)outcome).Faults;
            return Pages.Again<StockChangePage>(new StockChangePage.Content(stock, id, form));
        });

        app.MapPost("/known-water/stocks/{id:guid}/open", async (Guid id, IFormCollection posted, HttpContext context, OpenStock open, ViewStock view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await open.Handle(new OpenStock.Command { Stock = id, Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is OpenStock.Outcome.Opened)
                return Pages.GoTo($"/known-water/stocks/{id}");
            form.Faults = ((OpenStock.Outcome.Refused)outcome).Faults;
            return await view.Handle(id, cancel) is { } stock ? Pages.Again<StockPage>(new StockPage.Content(stock, form)) : Pages.Missing(NoSuchStock);
        });

        app.MapPost("/known-water/stocks/{id:guid}/value", async (Guid id, IFormCollection posted, HttpContext context, AddStockValue add, ViewStock view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var measured = Measured.Of(form);
            if (await view.Handle(id, cancel) is not { } stock)
                return Pages.Missing(NoSuchStock);
            if (form["act"] == "unit")
                return Pages.Show<StockPage>(new StockPage.Content(stock, form));
            var outcome = await add.Handle(new AddStockValue.Command
            {
                Stock = id,
                Parameter = measured.Parameter,
                OtherName = form["OtherName"],
                Form = measured.Form,
                Known = form["Known"],
                Doubt = form["Doubt"],
                DoubtKind = form.Word<DoubtMeaning>("DoubtKind"),
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is AddStockValue.Outcome.Added)
                return Pages.GoTo($"/known-water/stocks/{id}");
            form.Faults = [.. ((AddStockValue.Outcome.Refused)outcome).Faults.Select(f => f.Field == "Parameter" ? f with { Field = "What" } : f)];
            return Pages.Again<StockPage>(new StockPage.Content(stock, form));
        });

        app.MapGet("/known-water/nutrient-free/{id:guid}/change", async (Guid id, HttpContext context, ListNutrientFree list, CancellationToken cancel) =>
            await NutrientFree(list, id, cancel) is { } water ? Pages.Show<NutrientFreeChangePage>(new NutrientFreeChangePage.Content(water, Filled(water, Pages.Who(context)))) : Pages.Missing(NoSuchWater));

        app.MapPost("/known-water/nutrient-free/{id:guid}/change", async (Guid id, IFormCollection posted, HttpContext context, ChangeNutrientFree change, ListNutrientFree list, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await change.Handle(new ChangeNutrientFree.Command { Water = id, Label = form["Label"], Salinity = form["Salinity"], Amount = form["Amount"], OpenedOn = form["OpenedOn"], UseBy = form["UseBy"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is ChangeNutrientFree.Outcome.Changed)
                return Pages.GoTo("/known-water/nutrient-free");
            form.Faults = ((ChangeNutrientFree.Outcome.Refused)outcome).Faults;
            return await NutrientFree(list, id, cancel) is { } water ? Pages.Again<NutrientFreeChangePage>(new NutrientFreeChangePage.Content(water, form)) : Pages.Missing(NoSuchWater);
        });

        app.MapPost("/known-water/nutrient-free/{id:guid}/background", async (Guid id, IFormCollection posted, HttpContext context, NoteBackground note, ListNutrientFree list, CancellationToken cancel) =>
        {
            if (await NutrientFree(list, id, cancel) is not { } water)
                return Pages.Missing(NoSuchWater);
            // both forms of the page are filled again
            var form = Filled(water, Pages.Who(context));
            foreach (var (name, value) in posted)
                form[name] = value.ToString();
            var measured = Measured.Of(form);
            if (form["act"] == "unit")
                return Pages.Show<NutrientFreeChangePage>(new NutrientFreeChangePage.Content(water, form));
            var outcome = await note.Handle(new NoteBackground.Command
            {
                Water = id,
                Parameter = measured.Parameter,
                OtherName = form["OtherName"],
                Form = measured.Form,
                Background = form["Background"],
                BackgroundDoubt = form["BackgroundDoubt"],
                BackgroundOrigin = form.Word<BackgroundOrigin>("BackgroundOrigin"),
                BackgroundMethod = form.Key("BackgroundMethod"),
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is NoteBackground.Outcome.Noted)
                return Pages.GoTo("/known-water/nutrient-free");
            form.Faults = [.. ((NoteBackground.Outcome.Refused)outcome).Faults.Select(f => f.Field == "Parameter" ? f with { Field = "What" } : f)];
            return Pages.Again<NutrientFreeChangePage>(new NutrientFreeChangePage.Content(water, form));
        });

        app.MapPost("/known-water/stocks/{id:guid}/remove", async (Guid id, IFormCollection posted, HttpContext context, RemoveStock remove, ViewStock view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } stock)
                return Pages.Missing(NoSuchStock);
            var form = new FormState(posted);
            var outcome = await remove.Handle(new RemoveStock.Command { Stock = id, Reason = form["act"] == "empty" ? "empty" : form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is RemoveStock.Outcome.Removed removed)
                return Pages.GoTo($"/history?done={removed.HistoryEntry}");
            form.Faults = ((RemoveStock.Outcome.Refused)outcome).Faults;
            return Pages.Again<StockPage>(new StockPage.Content(stock, form));
        });

        app.MapGet("/known-water/stocks/{id:guid}/label", async (Guid id, string? size, string? copies, string? start, ViewStock view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } stock ? Pages.Show<LabelPage>(new LabelPage.Content(LabelPage.Labelled.Of(stock), ShelfEndpoints.LabelForm(size, copies, start))) : Pages.Missing(NoSuchStock));

        app.MapPost("/known-water/stocks/{id:guid}/used", async (Guid id, IFormCollection posted, HttpContext context, DrawFromShelf draw, ViewStock view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await draw.Handle(new DrawFromShelf.Command { Bottle = id, Amount = form["Used"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is DrawFromShelf.Outcome.Drawn)
                return Pages.GoTo($"/known-water/stocks/{id}");
            form.Faults = ((DrawFromShelf.Outcome.Refused)outcome).Faults;
            return await view.Handle(id, cancel) is { } stock ? Pages.Again<StockPage>(new StockPage.Content(stock, form)) : Pages.Missing(NoSuchStock);
        });

        app.MapPost("/known-water/nutrient-free/{id:guid}/used", async (Guid id, IFormCollection posted, HttpContext context, DrawFromShelf draw, ListNutrientFree list, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await draw.Handle(new DrawFromShelf.Command { Bottle = id, Amount = form["Used"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is DrawFromShelf.Outcome.Drawn)
                return Pages.GoTo("/known-water/nutrient-free");
            form.Faults = ((DrawFromShelf.Outcome.Refused)outcome).Faults;
            return form.Fault("Bottle") is { } gone ? Pages.Missing(gone.Sentence) : Pages.Again<NutrientFreePage>(new NutrientFreePage.Content(await list.Handle(cancel), form, id));
        });

        app.MapPost("/known-water/stocks/{id:guid}/as-it-is", async (Guid id, IFormCollection posted, HttpContext context, PourAsItIs pour, ViewStock view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } stock)
                return Pages.Missing(NoSuchStock);
            var form = new FormState(posted);
            var outcome = await pour.Handle(new PourAsItIs.Command { Stock = id, Matrix = form.Word<Knownwater.Quantities.Matrix>("Matrix"), Salinity = form["Salinity"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is PourAsItIs.Outcome.Poured poured)
                return Pages.GoTo($"/known-water/{poured.Water}");
            form.Faults = ((PourAsItIs.Outcome.Refused)outcome).Faults;
            return Pages.Again<StockPage>(new StockPage.Content(stock, form));
        });

        app.MapGet("/known-water/nutrient-free", async (ListNutrientFree list, CancellationToken cancel) => Pages.Show<NutrientFreePage>(new NutrientFreePage.Content(await list.Handle(cancel), new FormState())));

        app.MapPost("/known-water/nutrient-free/{id:guid}/remove", async (Guid id, IFormCollection posted, HttpContext context, RemoveNutrientFree remove, ListNutrientFree list, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await remove.Handle(new RemoveNutrientFree.Command { Water = id, Reason = form["act"] == "empty" ? "empty" : form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is RemoveNutrientFree.Outcome.Removed removed)
                return Pages.GoTo($"/history?done={removed.HistoryEntry}");
            form.Faults = ((RemoveNutrientFree.Outcome.Refused)outcome).Faults;
            return form.Fault("Water") is { } gone ? Pages.Missing(gone.Sentence) : Pages.Again<NutrientFreePage>(new NutrientFreePage.Content(await list.Handle(cancel), form, id));
        });

        app.MapGet("/known-water/nutrient-free/recipe", (string? recipe, string? amount, string? unit, string? salinity, string? purpose, MixSeawater mix, CancellationToken cancel) =>
            Recipe(mix, recipe ?? "", amount ?? "", unit ?? "L", salinity ?? "", purpose ?? "", cancel));

        app.MapGet("/known-water/nutrient-free/new", (string? kind, string? salinity, HttpContext context) =>
            Pages.Show<NutrientFreeFormPage>(new FormState { ["What"] = Measured.Of(Knownwater.Quantities.Parameter.Find("nitrate")!).Key, ["Kind"] = kind ?? "", ["Salinity"] = salinity ?? "35", ["Who"] = Pages.Who(context) }));

        app.MapPost("/known-water/nutrient-free/new", async (IFormCollection posted, HttpContext context, AddNutrientFree add, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var measured = Measured.Of(form);
            if (form["act"] == "unit")
                return Pages.Show<NutrientFreeFormPage>(form);
            var outcome = await add.Handle(new AddNutrientFree.Command
            {
                Label = form["Label"],
                Kind = form.Word<NutrientFreeKind>("Kind"),
                Salinity = form["Salinity"],
                Amount = form["Amount"],
                OpenedOn = form["OpenedOn"],
                UseBy = form["UseBy"],
                Parameter = measured.Parameter,
                OtherName = form["OtherName"],
                Form = measured.Form,
                Background = form["Background"],
                BackgroundDoubt = form["BackgroundDoubt"],
                BackgroundOrigin = form.Word<BackgroundOrigin>("BackgroundOrigin"),
                BackgroundMethod = form.Key("BackgroundMethod"),
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is AddNutrientFree.Outcome.Added)
                return Pages.GoTo("/known-water/nutrient-free");
            form.Faults = [.. ((AddNutrientFree.Outcome.Refused)outcome).Faults.Select(f => f.Field == "Parameter" ? f with { Field = "What" } : f)];
            return Pages.Again<NutrientFreeFormPage>(form);
        });
    }
}
