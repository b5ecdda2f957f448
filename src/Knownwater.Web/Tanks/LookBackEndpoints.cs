using Knownwater.Records;
using Knownwater.Records.History;
using Knownwater.Records.Tanks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Tanks;

/// <summary>What a failed check puts in doubt, and what is cleared of it.</summary>
internal static class LookBackEndpoints
{
    private const string NoSuchCheck = "This check is not in the records.";

    public static void MapLookBack(this IEndpointRouteBuilder app)
    {
        app.MapGet("/checks/{id:guid}/look-back", async (Guid id, LookBack look, CancellationToken cancel) =>
            await look.Handle(id, cancel) is { } view ? Pages.Show<LookBackPage>(new LookBackPage.Content(view, new FormState())) : Pages.Missing(NoSuchCheck));

        app.MapPost("/checks/{id:guid}/look-back", async (Guid id, IFormCollection posted, HttpContext context, ClearDoubt clear, LookBack look, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await clear.Handle(new ClearDoubt.Command
            {
                Check = id,
                Readings = form.Keys("Readings"),
                Doses = form.Keys("Doses"),
                Everything = form["act"] == "all",
                Reason = form["Reason"],
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            return await Answer(id, form, (outcome as ClearDoubt.Outcome.Refused)?.Faults, look, cancel);
        });

        app.MapPost("/checks/{id:guid}/look-back/undo", async (Guid id, IFormCollection posted, HttpContext context, Undo undo, LookBack look, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await undo.Handle(new Undo.Command { Entry = form.Key("Entry"), Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            return await Answer(id, form, (outcome as Undo.Outcome.Refused)?.Faults, look, cancel);
        });
    }

    private static async Task<IResult> Answer(Guid id, FormState form, IReadOnlyList<FieldFault>? faults, LookBack look, CancellationToken cancel)
    {
        if (faults is null)
            return Pages.GoTo($"/checks/{id}/look-back");
        form.Faults = faults;
        return await look.Handle(id, cancel) is { } view ? Pages.Again<LookBackPage>(new LookBackPage.Content(view, form)) : Pages.Missing(NoSuchCheck);
    }
}
