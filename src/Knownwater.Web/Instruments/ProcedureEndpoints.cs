using System.Globalization;
using System.Text;
using Knownwater.Records;
using Knownwater.Records.Instruments;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Instruments;

/// <summary>The procedure of an instrument: its steps as read, their changes, its versions.</summary>
internal static class ProcedureEndpoints
{
    private const string NoSuchProcedure = "This procedure is not in the records.";
    private static readonly string[] HeadFields = ["Name", "Source", "Residual", "Rinse"], WholeFields = ["Document"];

    public static void MapProcedures(this IEndpointRouteBuilder app)
    {
        app.MapGet("/instruments/{id:guid}/procedure", async (Guid id, int? version, ViewProcedure view, CancellationToken cancel) =>
            await view.Handle(id, version, cancel) is { } procedure ? Pages.Show<ProcedurePage>(new ProcedurePage.Content(procedure, ProcedurePage.Filled(procedure))) : Pages.Missing(NoSuchProcedure));

        app.MapGet("/instruments/{id:guid}/procedure.json", async (Guid id, int? version, ViewProcedure view, CancellationToken cancel) =>
            await view.Handle(id, version, cancel) is { Procedure: not null } procedure ? Results.File(Encoding.UTF8.GetBytes(procedure.Document), "application/json", "procedure.json") : Pages.Missing(NoSuchProcedure));

        app.MapPost("/instruments/{id:guid}/procedure", async (Guid id, IFormCollection posted, HttpContext context, ChangeProcedure change, ViewProcedure view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            ProcedureEdit? edit = form["act"] switch
            {
                "head" => new ProcedureEdit.Head(form["Name"], form["Source"], form["Residual"], form["Rinse"]),
                "up" => new ProcedureEdit.Move(form["Key"], true),
                "down" => new ProcedureEdit.Move(form["Key"], false),
                "leave-out" => new ProcedureEdit.LeaveOut(form["Key"]),
                "again" => new ProcedureEdit.Again(Number(form["Version"]) ?? -1),
                "whole" => new ProcedureEdit.Whole(form["Document"]),
                _ => null,
            };
            if (edit is null)
                return Pages.Missing(NoSuchProcedure);
            var faults = await Change(change, id, form, edit, context, cancel);
            if (faults is null)
                return Pages.GoTo($"/instruments/{id}/procedure{(edit is ProcedureEdit.Move moved ? "#" + moved.Key : "")}");
            if (await view.Handle(id, null, cancel) is not { } procedure)
                return Pages.Missing(NoSuchProcedure);
            var again = ProcedurePage.Filled(procedure);
            foreach (var name in edit switch { ProcedureEdit.Head => HeadFields, ProcedureEdit.Whole => WholeFields, _ => [] })
                again[name] = form[name];
            again.Faults = faults;
            return Pages.Again<ProcedurePage>(new ProcedurePage.Content(procedure, again));
        });

        app.MapGet("/instruments/{id:guid}/procedure/step", async (Guid id, string? key, string? after, ViewProcedure view, CancellationToken cancel) =>
        {
            if (await view.Handle(id, null, cancel) is not { Procedure: { } written } procedure)
                return Pages.Missing(NoSuchProcedure);
            var step = written.Steps.FirstOrDefault(s => s.Key == key);
            if (key is { Length: > 0 } && step is null)
                return Pages.Missing("This step is not in the procedure.");
            return Pages.Show<ProcedureStepPage>(new ProcedureStepPage.Content(procedure, ProcedureStepPage.Filled(procedure, step, after ?? "")));
        });

        app.MapPost("/instruments/{id:guid}/procedure/step", async (Guid id, IFormCollection posted, HttpContext context, ChangeProcedure change, ViewProcedure view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var faults = await Change(change, id, form, new ProcedureEdit.Step
            {
                Key = form["Key"],
                After = form["After"],
                When = form.Word<ProcedureWhen>("When"),
                Kind = form.Word<ProcedureStepKind>("Kind"),
                Cue = form["Cue"],
                Act = form["Act"],
                Done = form["Done"],
                Minutes = form["Minutes"],
                TakesReadingTime = form.Ticked("TakesReadingTime"),
                Signal = form.Ticked("Signal"),
                Why = form["Why"],
                Caution = form["Caution"],
            }, context, cancel);
            if (faults is null)
                return Pages.GoTo($"/instruments/{id}/procedure{(form["Key"].Length > 0 ? "#" + form["Key"] : "")}");
            if (await view.Handle(id, null, cancel) is not { Procedure: not null } procedure)
                return Pages.Missing(NoSuchProcedure);
            form.Faults = faults;
            return Pages.Again<ProcedureStepPage>(new ProcedureStepPage.Content(procedure, form));
        });
    }

    private static async Task<IReadOnlyList<FieldFault>?> Change(ChangeProcedure change, Guid id, FormState form, ProcedureEdit edit, HttpContext context, CancellationToken cancel) =>
        await change.Handle(new ChangeProcedure.Command { Instrument = id, From = Number(form["From"]) ?? -1, Edit = edit, Who = Pages.Who(context), RequestId = form.RequestId }, cancel) is ChangeProcedure.Outcome.Refused refused ? refused.Faults : null;

    private static int? Number(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}
