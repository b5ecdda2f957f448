using Knownwater.Records.Checks;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Checks;

/// <summary>What must hold before the first reading, and dosing that was paused for it.</summary>
internal static class GuardsEndpoints
{
    private const string NoSuchCheck = "This check is not in the records.", NothingPaused = "No dosing was paused for this check.";

    public static void MapGuards(this IEndpointRouteBuilder app)
    {
        app.MapGet("/checks/{id:guid}/before", async (Guid id, ReadGuards read, CancellationToken cancel) =>
            await read.Handle(id, cancel) is not { } view ? Pages.Missing(NoSuchCheck)
            : view.State == CheckState.Open ? Pages.Show<BeforePage>(new BeforePage.Content(view, BeforePage.Filled(view)))
            : Pages.GoTo($"/checks/{id}"));

        app.MapPost("/checks/{id:guid}/before", async (Guid id, IFormCollection posted, HttpContext context, PassGuards pass, ReadGuards read, BeginRun begin, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await pass.Handle(new PassGuards.Command
            {
                Check = id,
                DosingPaused = form["Dosing"] == "paused",
                PausedAt = form["PausedAt"],
                Confirmed = [.. Enum.GetValues<GuardKind>().Where(k => form.Ticked($"Confirmed.{k}") || (k == GuardKind.Dosing && form["Dosing"] == "none"))],
                Reasons = Enum.GetValues<GuardKind>().Select(k => (Kind: k, Reason: form[$"Reasons.{k}"])).Where(r => r.Reason.Trim().Length > 0).ToDictionary(r => r.Kind, r => r.Reason),
                SampleVolume = form["SampleVolume"],
                MatrixEffect = form["MatrixEffect"],
                Temperature = form["Temperature"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is PassGuards.Outcome.Passed && form["act"] == "readings")
                return Pages.GoTo($"/checks/{id}");
            if (outcome is PassGuards.Outcome.Passed)
            {
                await begin.Handle(new BeginRun.Command { Check = id, Who = Pages.Who(context, form), RequestId = form.RequestId }, cancel);
                return Pages.GoTo($"/checks/{id}/run");
            }
            if (await read.Handle(id, cancel) is not { } view)
                return Pages.Missing(NoSuchCheck);
            if (view.State != CheckState.Open)
                return Pages.GoTo($"/checks/{id}");
            form.Faults = outcome switch { PassGuards.Outcome.NotYet notYet => notYet.Faults, PassGuards.Outcome.Refused refused => refused.Faults, _ => [] };
            return Pages.Again<BeforePage>(new BeforePage.Content(view, form));
        });

        app.MapGet("/checks/{id:guid}/dosing", async (Guid id, ReadDosing read, CancellationToken cancel) =>
            await read.Handle(id, cancel) is { } view ? Pages.Show<DosingPage>(new DosingPage.Content(view, new FormState())) : Pages.Missing(NothingPaused));

        app.MapPost("/checks/{id:guid}/dosing", async (Guid id, IFormCollection posted, HttpContext context, ResumeDosing resume, ReadDosing read, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            if (await resume.Handle(new ResumeDosing.Command { Check = id, At = form["At"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel) is not ResumeDosing.Outcome.Refused refused)
                return Pages.GoTo($"/checks/{id}/dosing");
            if (await read.Handle(id, cancel) is not { } view)
                return Pages.Missing(NothingPaused);
            form.Faults = refused.Faults;
            return Pages.Again<DosingPage>(new DosingPage.Content(view, form));
        });
    }
}
