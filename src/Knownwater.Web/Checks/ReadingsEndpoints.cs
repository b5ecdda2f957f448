using System.Globalization;
using Knownwater.Records;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Checks;

/// <summary>Readings one by one: kept, changed, left out, taken in again, undone.</summary>
internal static class ReadingsEndpoints
{
    private const string NoSuchReading = "This reading is not in the records.";

    public static void MapReadings(this IEndpointRouteBuilder app)
    {
        app.MapPost("/checks/{id:guid}/readings", async (Guid id, IFormCollection posted, HttpContext context, KeepReading keep, ViewCheck view, ViewBench bench, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await keep.Handle(new KeepReading.Command
            {
                Check = id,
                Level = int.TryParse(form["Level"], CultureInfo.InvariantCulture, out var level) ? level : 0,
                Typed = form["Typed"],
                Confirmed = form["act"] == "confirm",
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            return outcome switch
            {
                KeepReading.Outcome.Doubtful doubtful => await ChecksEndpoints.Again(id, Doubtful(form), [new FieldFault("Typed", doubtful.Sentence, doubtful.Offers)], view, bench, cancel),
                KeepReading.Outcome.Refused refused => await ChecksEndpoints.Again(id, form, refused.Faults, view, bench, cancel),
                _ => Pages.GoTo($"/checks/{id}"),
            };
        });

        app.MapPost("/checks/{id:guid}/undo", async (Guid id, IFormCollection posted, HttpContext context, Undo undo, ViewCheck view, ViewBench bench, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await undo.Handle(new Undo.Command { Entry = form.Key("Entry"), LastActOfCheck = form.Key("Entry") is null ? id : null, Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is Undo.Outcome.Refused refused)
                return await ChecksEndpoints.Again(id, form, refused.Faults, view, bench, cancel);
            return await view.Handle(id, cancel) is null ? Pages.GoTo("/history") : Pages.GoTo($"/checks/{id}");
        });

        app.MapGet("/checks/{id:guid}/readings/{level:int}/{reading:int}", async (Guid id, int level, int reading, ViewCheck view, CancellationToken cancel) =>
            Find(await view.Handle(id, cancel), level, reading) is { } found
                ? Pages.Show<ReadingPage>(found with { Form = new FormState { ["Typed"] = found.Reading.Typed } })
                : Pages.Missing(NoSuchReading));

        app.MapPost("/checks/{id:guid}/readings/{level:int}/{reading:int}", async (Guid id, int level, int reading, IFormCollection posted, HttpContext context, ChangeReading change, ExcludeReading exclude, IncludeReading include, ViewCheck view, CancellationToken cancel) =>
        {
            if (Find(await view.Handle(id, cancel), level, reading) is not { } found)
                return Pages.Missing(NoSuchReading);
            var form = new FormState(posted);
            var who = Pages.Who(context);
            var faults = form["act"] switch
            {
                "exclude" => await exclude.Handle(new ExcludeReading.Command { Check = id, Level = level, Reading = reading, Reason = form["Cause"], Who = who, RequestId = form.RequestId }, cancel) is ExcludeReading.Outcome.Refused left
                    ? [.. left.Faults.Select(f => f.Field == "Reason" ? f with { Field = "Cause" } : f)]
                    : null,
                "include" => await include.Handle(new IncludeReading.Command { Check = id, Level = level, Reading = reading, Who = who, RequestId = form.RequestId }, cancel) is IncludeReading.Outcome.Refused taken
                    ? taken.Faults
                    : null,
                _ => await Change(change, id, level, reading, form, who, cancel),
            };
            if (faults is null)
                return Pages.GoTo($"/checks/{id}");
            form.Faults = faults;
            return Pages.Again<ReadingPage>(found with { Form = form });
        });
    }

    private static async Task<IReadOnlyList<FieldFault>?> Change(ChangeReading change, Guid id, int level, int reading, FormState form, string who, CancellationToken cancel)
    {
        var outcome = await change.Handle(new ChangeReading.Command { Check = id, Level = level, Reading = reading, Typed = form["Typed"], Confirmed = form["act"] == "confirm", Reason = form["Reason"], Who = who, RequestId = form.RequestId }, cancel);
        if (outcome is ChangeReading.Outcome.Doubtful doubtful)
        {
            Doubtful(form);
            return [new FieldFault("Typed", doubtful.Sentence, doubtful.Offers)];
        }

        return outcome is ChangeReading.Outcome.Refused refused ? refused.Faults : null;
    }

    private static FormState Doubtful(FormState form)
    {
        form["Doubtful"] = "yes";
        return form;
    }

    private static ReadingPage.Content? Find(CheckView? check, int level, int reading) =>
        check?.Levels.FirstOrDefault(l => l.Ordinal == level) is { } found && found.Readings.FirstOrDefault(r => r.Ordinal == reading) is { } line
            ? new ReadingPage.Content(check, found, line, new FormState())
            : null;
}
