using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Checks;

/// <summary>The list of checks, one check with its verdict, and what one does with a check as a whole.</summary>
internal static class ChecksEndpoints
{
    private const string NoSuchCheck = "This check is not in the records.";

    public static void MapChecks(this IEndpointRouteBuilder app)
    {
        app.MapGet("/checks", async (string? parameter, string? instrument, string? verdict, int? page, ListChecks list, CancellationToken cancel) =>
        {
            var query = new ListChecks.Query
            {
                Parameter = string.IsNullOrEmpty(parameter) ? null : parameter,
                Instrument = Guid.TryParse(instrument, out var id) ? id : null,
                Verdict = Enum.TryParse<Verdict>(verdict, out var chosen) && Enum.IsDefined(chosen) ? chosen : null,
                Page = Math.Max(page ?? 1, 1),
            };
            return Pages.Show<ChecksPage>(new ChecksPage.Content(query, await list.Handle(query, cancel)));
        });

        app.MapGet("/checks/{id:guid}", async (Guid id, ViewCheck view, ViewBench bench, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } check ? Show(check, await bench.Handle(cancel), new FormState()) : Pages.Missing(NoSuchCheck));

        Act(app, "extend", async (id, form, who, services, cancel) =>
            await services.GetRequiredService<ExtendCheck>().Handle(new ExtendCheck.Command { Check = id, Who = who, RequestId = form.RequestId }, cancel) switch
            {
                ExtendCheck.Outcome.Refused refused => refused.Faults,
                _ => null,
            });
        Act(app, "stop", async (id, form, who, services, cancel) =>
            await services.GetRequiredService<StopCheck>().Handle(new StopCheck.Command { Check = id, Reason = form["Reason"], Who = who, RequestId = form.RequestId }, cancel) switch
            {
                StopCheck.Outcome.Refused refused => refused.Faults,
                _ => null,
            });
        Act(app, "planned", async (id, form, who, services, cancel) =>
            await services.GetRequiredService<ChangePlannedReplicates>().Handle(new ChangePlannedReplicates.Command { Check = id, Replicates = form["Replicates"], Who = who, RequestId = form.RequestId }, cancel) switch
            {
                ChangePlannedReplicates.Outcome.Refused refused => refused.Faults,
                _ => null,
            });

        app.MapPost("/checks/{id:guid}/repeat", async (Guid id, IFormCollection posted, HttpContext context, RepeatCheck repeat, ViewCheck view, ViewBench bench, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await repeat.Handle(new RepeatCheck.Command { Check = id, ExpiredLotReason = form["ExpiredLotReason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            return outcome switch
            {
                RepeatCheck.Outcome.Started started => Pages.GoTo($"/checks/{started.Check}"),
                RepeatCheck.Outcome.Refused refused => await Again(id, form, refused.Faults, view, bench, cancel),
                _ => Pages.Missing(NoSuchCheck),
            };
        });

        app.MapPost("/checks/{id:guid}/discard", async (Guid id, IFormCollection posted, HttpContext context, DiscardCheck discard, ViewCheck view, ViewBench bench, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await discard.Handle(new DiscardCheck.Command { Check = id, Reason = form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            return outcome switch
            {
                DiscardCheck.Outcome.Discarded discarded => Pages.GoTo($"/history?done={discarded.HistoryEntry}"),
                DiscardCheck.Outcome.Refused refused => await Again(id, form, refused.Faults, view, bench, cancel),
                _ => Pages.Missing(NoSuchCheck),
            };
        });

        app.MapGet("/checks/{id:guid}/picture.{ending}", async (Guid id, string ending, ViewCheck view, ViewBench bench, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } check && LevelsPictures.Of(check.Together, (await bench.Handle(cancel)).Sign) is { } figure
                ? Picture.Of(figure, $"{check.Title}, {check.StartedWords}", ending)
                : Pages.Missing("There is no picture of several levels here."));

        app.MapGet("/checks/{id:guid}/picture-{level:int}.{ending}", async (Guid id, int level, string ending, ViewCheck view, ViewBench bench, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } check && check.Levels.FirstOrDefault(l => l.Ordinal == level) is { } one && VerdictPictures.Of(one, (await bench.Handle(cancel)).Sign) is { } figure
                ? Picture.Of(figure, $"{check.Title}, {check.StartedWords}", ending)
                : Pages.Missing("There is no picture of that level here."));

        app.MapGet("/checks/{id:guid}/describe", async (Guid id, HttpContext context, ViewCheck view, ListInstruments list, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } check
                ? Pages.Show<DescribePage>(new DescribePage.Content(check, await list.Handle(cancel), DescribePage.Filled(check, Pages.Who(context))))
                : Pages.Missing(NoSuchCheck));

        app.MapPost("/checks/{id:guid}/describe", async (Guid id, IFormCollection posted, HttpContext context, DescribeCheck describe, ViewCheck view, ListInstruments list, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } check)
                return Pages.Missing(NoSuchCheck);
            var form = new FormState(posted);
            if (form["act"] == "lots")
                return Pages.Show<DescribePage>(new DescribePage.Content(check, await list.Handle(cancel), form));
            var outcome = await describe.Handle(new DescribeCheck.Command
            {
                Check = id,
                Method = form.Key("Method"),
                Lots = form.Keys("Lots"),
                Matrix = form.WordOrNone<Matrix>("Matrix"),
                Salinity = form["Salinity"],
                Temperature = form["Temperature"],
                Notes = form["Notes"],
                Origins = [.. check.Levels.Where(l => form[$"Origins[{l.Ordinal - 1}].Origin"].Length > 0).Select(l => Origin(form, l.Ordinal))],
                ExpiredLotReason = form["ExpiredLotReason"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is not DescribeCheck.Outcome.Refused refused)
                return Pages.GoTo($"/checks/{id}");
            form.Faults = refused.Faults;
            return Pages.Again<DescribePage>(new DescribePage.Content(check, await list.Handle(cancel), form));
        });
    }

    /// <summary>A check that takes readings shows its lines, a closed one its verdict.</summary>
    public static IResult Show(CheckView check, BenchView bench, FormState form)
    {
        var status = form.Faults.Count > 0 ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK;
        return check.State == CheckState.Open && check.CurrentLevel is not null
            ? Pages.Show<ReadingsPage>(new ReadingsPage.Content(check, bench, form), status)
            : Pages.Show<VerdictPage>(new VerdictPage.Content(check, bench, form), status);
    }

    public static async Task<IResult> Again(Guid id, FormState form, IReadOnlyList<FieldFault> faults, ViewCheck view, ViewBench bench, CancellationToken cancel)
    {
        form.Faults = faults;
        return await view.Handle(id, cancel) is { } check ? Show(check, await bench.Handle(cancel), form) : Pages.Missing(NoSuchCheck);
    }

    private static LevelOrigin Origin(FormState form, int level)
    {
        var at = $"Origins[{level - 1}].";
        return new LevelOrigin
        {
            Level = level,
            Origin = form.Word<Origin>(at + "Origin"),
            OriginDetail = form[at + "OriginDetail"],
            Label = form[at + "Label"],
            MadeOn = form[at + "MadeOn"],
            UseBy = form[at + "UseBy"],
        };
    }

    private static void Act(IEndpointRouteBuilder app, string name, Func<Guid, FormState, string, IServiceProvider, CancellationToken, Task<IReadOnlyList<FieldFault>?>> act) =>
        app.MapPost("/checks/{id:guid}/" + name, async (Guid id, IFormCollection posted, HttpContext context, ViewCheck view, ViewBench bench, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var faults = await act(id, form, Pages.Who(context), context.RequestServices, cancel);
            return faults is null ? Pages.GoTo($"/checks/{id}") : await Again(id, form, faults, view, bench, cancel);
        });
}
