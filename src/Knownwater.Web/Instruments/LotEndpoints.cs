using Knownwater.Records.Instruments;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Instruments;

/// <summary>Lots of reagent: opened, changed, emptied.</summary>
internal static class LotEndpoints
{
    private const string NoSuchInstrument = "This instrument is not in the records.", NoSuchLot = "This lot is not in the records.";

    public static void MapLots(this IEndpointRouteBuilder app)
    {
        app.MapGet("/instruments/{id:guid}/lots/new", async (Guid id, Guid? method, ViewInstrument view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } instrument)
                return Pages.Missing(NoSuchInstrument);
            var form = new FormState { ["Methods"] = method?.ToString() ?? (instrument.Methods.Count == 1 ? instrument.Methods[0].Id.ToString() : ""), ["ReplacesFormer"] = "yes" };
            return Pages.Show<LotFormPage>(new LotFormPage.Content(instrument, null, form));
        });

        app.MapPost("/instruments/{id:guid}/lots/new", async (Guid id, IFormCollection posted, HttpContext context, OpenLot open, ViewInstrument view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } instrument)
                return Pages.Missing(NoSuchInstrument);
            var form = new FormState(posted);
            var outcome = await open.Handle(new OpenLot.Command
            {
                Methods = form.Keys("Methods"),
                Name = form["Name"],
                Reagent = form["Reagent"],
                OpenedOn = form["OpenedOn"],
                ExpiresOn = form["ExpiresOn"],
                ReplacesFormer = form.Ticked("ReplacesFormer"),
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is not OpenLot.Outcome.Refused refused)
                return Pages.GoTo($"/instruments/{id}");
            form.Faults = refused.Faults;
            return Pages.Again<LotFormPage>(new LotFormPage.Content(instrument, null, form));
        });

        app.MapGet("/lots/{id:guid}/change", async (Guid id, ListInstruments list, CancellationToken cancel) =>
            Find(await list.Handle(cancel), id) is var (instrument, lot)
                ? Pages.Show<LotFormPage>(new LotFormPage.Content(instrument, lot, new FormState
                {
                    ["Name"] = lot.Name,
                    ["Reagent"] = lot.Reagent,
                    ["OpenedOn"] = lot.OpenedOn.ToString("uuuu-MM-dd", null),
                    ["ExpiresOn"] = lot.ExpiresOn?.ToString("uuuu-MM-dd", null) ?? "",
                }))
                : Pages.Missing(NoSuchLot));

        app.MapPost("/lots/{id:guid}/change", async (Guid id, IFormCollection posted, HttpContext context, ChangeLot change, ListInstruments list, CancellationToken cancel) =>
        {
            if (Find(await list.Handle(cancel), id) is not var (instrument, lot))
                return Pages.Missing(NoSuchLot);
            var form = new FormState(posted);
            var outcome = await change.Handle(new ChangeLot.Command { Lot = id, Name = form["Name"], Reagent = form["Reagent"], OpenedOn = form["OpenedOn"], ExpiresOn = form["ExpiresOn"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is not ChangeLot.Outcome.Refused refused)
                return Pages.GoTo($"/instruments/{instrument.Id}");
            form.Faults = refused.Faults;
            return Pages.Again<LotFormPage>(new LotFormPage.Content(instrument, lot, form));
        });

        app.MapPost("/lots/{id:guid}/empty", async (Guid id, IFormCollection posted, HttpContext context, EmptyLot empty, ListInstruments list, CancellationToken cancel) =>
        {
            if (Find(await list.Handle(cancel), id) is not var (instrument, lot))
                return Pages.Missing(NoSuchLot);
            var form = new FormState(posted);
            var outcome = await empty.Handle(new EmptyLot.Command { Lot = id, On = form["On"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is not EmptyLot.Outcome.Refused refused)
                return Pages.GoTo($"/instruments/{instrument.Id}");
            form.Faults = refused.Faults;
            return Pages.Again<LotFormPage>(new LotFormPage.Content(instrument, lot, form));
        });
    }

    private static (InstrumentView Instrument, LotView Lot)? Find(IReadOnlyList<InstrumentView> instruments, Guid lot)
    {
        foreach (var instrument in instruments)
        {
            if (instrument.Methods.SelectMany(m => m.Lots).FirstOrDefault(l => l.Id == lot) is { } found)
                return (instrument, found);
        }

        return null;
    }
}
