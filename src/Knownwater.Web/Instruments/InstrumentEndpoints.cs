using Knownwater.Quantities;
using Knownwater.Records;
using Knownwater.Records.Instruments;
using Knownwater.Web.Checks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Instruments;

/// <summary>Instruments, their dated settings and their methods.</summary>
internal static class InstrumentEndpoints
{
    private const string NoSuchInstrument = "This instrument is not in the records.", NoSuchMethod = "This method is not in the records.";

    public static void MapInstruments(this IEndpointRouteBuilder app)
    {
        app.MapGet("/instruments", async (ListInstruments list, CancellationToken cancel) => Pages.Show<InstrumentsPage>(await list.Handle(cancel)));

        app.MapGet("/instruments/new", () => Pages.Show<InstrumentFormPage>(new InstrumentFormPage.Content(null, new FormState { ["Kind"] = nameof(InstrumentKind.Analyser) })));

        app.MapPost("/instruments/new", async (IFormCollection posted, HttpContext context, AddInstrument add, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await add.Handle(new AddInstrument.Command { Name = form["Name"], Kind = form.Word<InstrumentKind>("Kind"), Note = form["Note"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            return outcome is AddInstrument.Outcome.Added added ? Pages.GoTo($"/instruments/{added.Instrument}") : AgainInstrument(form, (outcome as AddInstrument.Outcome.Refused)?.Faults, null);
        });

        app.MapGet("/instruments/{id:guid}", async (Guid id, ViewInstrument view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } instrument ? Pages.Show<InstrumentPage>(new InstrumentPage.Content(instrument, new FormState())) : Pages.Missing(NoSuchInstrument));

        app.MapGet("/instruments/{id:guid}/change", async (Guid id, ViewInstrument view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } instrument
                ? Pages.Show<InstrumentFormPage>(new InstrumentFormPage.Content(instrument, new FormState { ["Name"] = instrument.Name, ["Kind"] = instrument.Kind.ToString(), ["Note"] = instrument.Note }))
                : Pages.Missing(NoSuchInstrument));

        app.MapPost("/instruments/{id:guid}/change", async (Guid id, IFormCollection posted, HttpContext context, ChangeInstrument change, ViewInstrument view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } instrument)
                return Pages.Missing(NoSuchInstrument);
            var form = new FormState(posted);
            var outcome = await change.Handle(new ChangeInstrument.Command { Instrument = id, Name = form["Name"], Kind = form.Word<InstrumentKind>("Kind"), Note = form["Note"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            return outcome is ChangeInstrument.Outcome.Refused refused ? AgainInstrument(form, refused.Faults, instrument) : Pages.GoTo($"/instruments/{id}");
        });

        app.MapPost("/instruments/{id:guid}/setting", async (Guid id, IFormCollection posted, HttpContext context, RecordSetting record, ViewInstrument view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await record.Handle(new RecordSetting.Command { Instrument = id, What = form["What"], Old = form["Old"], New = form["New"], Why = form["Why"], On = form["On"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            return outcome is RecordSetting.Outcome.Refused refused ? await AgainPage(id, form, refused.Faults, view, cancel) : Pages.GoTo($"/instruments/{id}");
        });

        app.MapPost("/instruments/{id:guid}/remove", async (Guid id, IFormCollection posted, HttpContext context, RemoveInstrument remove, ViewInstrument view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            return await remove.Handle(new RemoveInstrument.Command { Instrument = id, Reason = form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel) switch
            {
                RemoveInstrument.Outcome.Removed removed => Pages.GoTo($"/history?done={removed.HistoryEntry}"),
                RemoveInstrument.Outcome.Refused refused => await AgainPage(id, form, refused.Faults, view, cancel),
                _ => Pages.Missing(NoSuchInstrument),
            };
        });

        app.MapGet("/instruments/{id:guid}/methods/new", async (Guid id, ViewInstrument view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } instrument
                ? Pages.Show<MethodFormPage>(new MethodFormPage.Content(instrument, null, new FormState { ["What"] = Measured.Default.Key }))
                : Pages.Missing(NoSuchInstrument));

        app.MapPost("/instruments/{id:guid}/methods/new", async (Guid id, IFormCollection posted, HttpContext context, AddMethod add, ViewInstrument view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } instrument)
                return Pages.Missing(NoSuchInstrument);
            var form = new FormState(posted);
            if (form["act"] == "unit")
                return Pages.Show<MethodFormPage>(new MethodFormPage.Content(instrument, null, form));
            var measured = Measured.Of(form);
            var outcome = await add.Handle(new AddMethod.Command
            {
                Instrument = id,
                Parameter = measured.Parameter,
                OtherName = form["OtherName"],
                Form = measured.Form,
                Matrix = form.Word<Matrix>("Matrix"),
                SalinityLow = form["SalinityLow"],
                SalinityHigh = form["SalinityHigh"],
                SampleVolume = form["SampleVolume"],
                RangeLow = form["RangeLow"],
                RangeHigh = form["RangeHigh"],
                Resolution = form["Resolution"],
                MinutesPerReading = form["MinutesPerReading"],
                Scale = form.Word<ReadingScale>("Scale"),
                Steps = form["Steps"],
                ValuePerDrop = form["ValuePerDrop"],
                TableAllowsForLastDrop = form.Ticked("TableAllowsForLastDrop"),
                ToleranceAbsolute = form["ToleranceAbsolute"],
                TolerancePercent = form["TolerancePercent"],
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            return outcome is AddMethod.Outcome.Refused refused ? AgainMethod(form, refused.Faults, instrument, null) : Pages.GoTo($"/instruments/{id}");
        });

        app.MapGet("/methods/{id:guid}/change", async (Guid id, ListInstruments list, CancellationToken cancel) =>
            Find(await list.Handle(cancel), id) is var (instrument, method) ? Pages.Show<MethodFormPage>(new MethodFormPage.Content(instrument, method, MethodFormPage.Filled(method))) : Pages.Missing(NoSuchMethod));

        app.MapPost("/methods/{id:guid}/change", async (Guid id, IFormCollection posted, HttpContext context, ChangeMethod change, ListInstruments list, CancellationToken cancel) =>
        {
            if (Find(await list.Handle(cancel), id) is not var (instrument, method))
                return Pages.Missing(NoSuchMethod);
            var form = new FormState(posted);
            if (form["act"] == "unit")
                return Pages.Show<MethodFormPage>(new MethodFormPage.Content(instrument, method, form));
            var measured = Measured.Of(form);
            var outcome = await change.Handle(new ChangeMethod.Command
            {
                Method = id,
                Parameter = measured.Parameter,
                OtherName = form["OtherName"],
                Form = measured.Form,
                Matrix = form.Word<Matrix>("Matrix"),
                SalinityLow = form["SalinityLow"],
                SalinityHigh = form["SalinityHigh"],
                SampleVolume = form["SampleVolume"],
                RangeLow = form["RangeLow"],
                RangeHigh = form["RangeHigh"],
                Resolution = form["Resolution"],
                MinutesPerReading = form["MinutesPerReading"],
                Scale = form.Word<ReadingScale>("Scale"),
                Steps = form["Steps"],
                ValuePerDrop = form["ValuePerDrop"],
                TableAllowsForLastDrop = form.Ticked("TableAllowsForLastDrop"),
                ToleranceAbsolute = form["ToleranceAbsolute"],
                TolerancePercent = form["TolerancePercent"],
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            return outcome is ChangeMethod.Outcome.Refused refused ? AgainMethod(form, refused.Faults, instrument, method) : Pages.GoTo($"/instruments/{instrument.Id}");
        });

        app.MapPost("/methods/{id:guid}/remove", async (Guid id, IFormCollection posted, HttpContext context, RemoveMethod remove, ListInstruments list, CancellationToken cancel) =>
        {
            if (Find(await list.Handle(cancel), id) is not var (instrument, method))
                return Pages.Missing(NoSuchMethod);
            var form = new FormState(posted);
            var outcome = await remove.Handle(new RemoveMethod.Command { Method = id, Reason = form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is RemoveMethod.Outcome.Removed removed)
                return Pages.GoTo($"/history?done={removed.HistoryEntry}");
            var filled = MethodFormPage.Filled(method);
            filled["Reason"] = form["Reason"];
            return AgainMethod(filled, (outcome as RemoveMethod.Outcome.Refused)?.Faults, instrument, method);
        });
    }

    public static (InstrumentView Instrument, MethodView Method)? Find(IReadOnlyList<InstrumentView> instruments, Guid method)
    {
        foreach (var instrument in instruments)
        {
            if (instrument.Methods.FirstOrDefault(m => m.Id == method) is { } found)
                return (instrument, found);
        }

        return null;
    }

    private static IResult AgainInstrument(FormState form, IReadOnlyList<FieldFault>? faults, InstrumentView? instrument)
    {
        form.Faults = faults ?? [];
        return Pages.Again<InstrumentFormPage>(new InstrumentFormPage.Content(instrument, form));
    }

    private static IResult AgainMethod(FormState form, IReadOnlyList<FieldFault>? faults, InstrumentView instrument, MethodView? method)
    {
        form.Faults = [.. (faults ?? []).Select(f => f.Field == "Parameter" ? f with { Field = "What" } : f)];
        return Pages.Again<MethodFormPage>(new MethodFormPage.Content(instrument, method, form));
    }

    private static async Task<IResult> AgainPage(Guid id, FormState form, IReadOnlyList<FieldFault> faults, ViewInstrument view, CancellationToken cancel)
    {
        form.Faults = faults;
        return await view.Handle(id, cancel) is { } instrument ? Pages.Again<InstrumentPage>(new InstrumentPage.Content(instrument, form)) : Pages.Missing(NoSuchInstrument);
    }
}
