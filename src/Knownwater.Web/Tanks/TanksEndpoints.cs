using Knownwater.Records;
using Knownwater.Records.History;
using Knownwater.Records.Tanks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Tanks;

/// <summary>Tanks: the list, one tank, and what is said of it.</summary>
internal static class TanksEndpoints
{
    public const string NoSuchTank = "This tank is not in the records.";

    public static void MapTanks(this IEndpointRouteBuilder app)
    {
        app.MapGet("/tanks", async (ListTanks list, CancellationToken cancel) => Pages.Show<TanksPage>(await list.Handle(cancel)));

        app.MapGet("/tanks/new", () => Pages.Show<TankFormPage>(new TankFormPage.Content(null, new FormState { ["Kind"] = nameof(TankKind.Reef) })));

        app.MapPost("/tanks/new", async (IFormCollection posted, HttpContext context, AddTank add, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await add.Handle(new AddTank.Command
            {
                Name = form["Name"],
                Kind = form.Word<TankKind>("Kind"),
                Volume = form["Volume"],
                Unit = form.Word<TankVolumeUnit>("Unit"),
                Salinity = form["Salinity"],
                Note = form["Note"],
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            return outcome is AddTank.Outcome.Added added ? Pages.GoTo($"/tanks/{added.Tank}") : Again(form, (outcome as AddTank.Outcome.Refused)?.Faults, null);
        });

        app.MapGet("/tanks/{id:guid}", async (Guid id, ViewTank view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } tank ? Pages.Show<TankPage>(new TankPage.Content(tank, new FormState())) : Pages.Missing(NoSuchTank));

        app.MapGet("/tanks/{id:guid}/change", async (Guid id, ViewTank view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } tank ? Pages.Show<TankFormPage>(new TankFormPage.Content(tank, TankFormPage.Filled(tank))) : Pages.Missing(NoSuchTank));

        app.MapPost("/tanks/{id:guid}/change", async (Guid id, IFormCollection posted, HttpContext context, ChangeTank change, ViewTank view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } tank)
                return Pages.Missing(NoSuchTank);
            var form = new FormState(posted);
            var outcome = await change.Handle(new ChangeTank.Command
            {
                Tank = id,
                Name = form["Name"],
                Kind = form.Word<TankKind>("Kind"),
                Volume = form["Volume"],
                Unit = form.Word<TankVolumeUnit>("Unit"),
                Salinity = form["Salinity"],
                Note = form["Note"],
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            return outcome is ChangeTank.Outcome.Refused refused ? Again(form, refused.Faults, tank) : Pages.GoTo($"/tanks/{id}");
        });

        app.MapPost("/tanks/{id:guid}/remove", async (Guid id, IFormCollection posted, HttpContext context, RemoveTank remove, ViewTank view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } tank)
                return Pages.Missing(NoSuchTank);
            var form = new FormState(posted);
            var outcome = await remove.Handle(new RemoveTank.Command { Tank = id, Reason = form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is RemoveTank.Outcome.Removed removed)
                return Pages.GoTo($"/history?done={removed.HistoryEntry}");
            var filled = TankFormPage.Filled(tank);
            filled["Reason"] = form["Reason"];
            return Again(filled, (outcome as RemoveTank.Outcome.Refused)?.Faults, tank);
        });

        app.MapPost("/tanks/{id:guid}/undo", async (Guid id, IFormCollection posted, HttpContext context, Undo undo, ViewTank view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await undo.Handle(new Undo.Command { Entry = form.Key("Entry"), Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (await view.Handle(id, cancel) is not { } tank)
                return Pages.GoTo("/history");
            if (outcome is not Undo.Outcome.Refused refused)
                return Pages.GoTo($"/tanks/{id}");
            form.Faults = refused.Faults;
            return Pages.Again<TankPage>(new TankPage.Content(tank, form));
        });
    }

    private static IResult Again(FormState form, IReadOnlyList<FieldFault>? faults, TankView? tank)
    {
        form.Faults = faults ?? [];
        return Pages.Again<TankFormPage>(new TankFormPage.Content(tank, form));
    }
}
