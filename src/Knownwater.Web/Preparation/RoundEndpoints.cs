using Knownwater.Records.Due;
using Knownwater.Records.Instruments;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Preparation;

/// <summary>Rounds: several methods checked together, with one sheet, one running order and one page of verdicts.</summary>
internal static class RoundEndpoints
{
    private const string NoSuchRound = "This round is not there.";

    public static void MapRounds(this IEndpointRouteBuilder app)
    {
        app.MapGet("/known-water/rounds", async (ListRounds list, CancellationToken cancel) => Pages.Show<RoundsPage>(await list.Handle(cancel)));

        app.MapGet("/known-water/rounds/new", async (HttpContext context, ListInstruments instruments, ListReferenceWaters waters, ListPreparations preparations, ListDue due, CancellationToken cancel) =>
        {
            var content = await Content(new FormState { ["Who"] = Pages.Who(context) }, instruments, waters, preparations, cancel);
            var wanted = (await due.Handle(cancel)).Items.Where(i => i.Act == DueAct.PlanCheck).Select(i => i.Method).ToHashSet();
            foreach (var (line, i) in content.Lines.Select((l, i) => (l, i)))
            {
                if (line.Waters.Count > 0 && wanted.Contains(line.Method.Id))
                    content.Form[RoundFormPage.Take(i)] = line.Method.Id.ToString();
                // the lowest and the highest of what is there: two levels tell offset and gain
                content.Form[RoundFormPage.Bottle(i, 0)] = line.Waters.Count > 0 ? line.Waters[0].Value : "";
                content.Form[RoundFormPage.Bottle(i, 1)] = line.Waters.Count > 1 ? line.Waters[^1].Value : "";
            }
            return Pages.Show<RoundFormPage>(content);
        });

        app.MapPost("/known-water/rounds", async (IFormCollection posted, HttpContext context, PlanRound plan, ListInstruments instruments, ListReferenceWaters waters, ListPreparations preparations, CancellationToken cancel) =>
        {
            var content = await Content(new FormState(posted), instruments, waters, preparations, cancel);
            var form = content.Form;
            var taken = Enumerable.Range(0, content.Lines.Count).Where(i => form.Key(RoundFormPage.Take(i)) is not null).ToList();
            var outcome = await plan.Handle(new PlanRound.Command
            {
                Label = form["Label"],
                Methods = [.. taken.Select(i => new PlanRound.MethodEntry(form.Key(RoundFormPage.Take(i))!.Value, [.. Enumerable.Range(0, RoundFormPage.MostBottles).Select(b => form.Key(RoundFormPage.Bottle(i, b)))]))],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is PlanRound.Outcome.Planned planned)
                return Pages.GoTo($"/known-water/rounds/{planned.Round}");
            // the plan counts the methods that were taken, the page counts all of them
            form.Faults = [.. ((PlanRound.Outcome.Refused)outcome).Faults.Select(f => taken.Select((line, place) => (line, Prefix: $"Methods[{place}].")).FirstOrDefault(t => f.Field.StartsWith(t.Prefix, StringComparison.Ordinal)) is { Prefix: { } prefix } at
                ? f with { Field = $"Methods[{at.line}].{f.Field[prefix.Length..]}" } : f)];
            return Pages.Again<RoundFormPage>(content);
        });

        app.MapGet("/known-water/rounds/{id:guid}", async (Guid id, ViewRound view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } round ? Pages.Show<RoundPage>(new RoundPage.Content(round, new FormState())) : Pages.Missing(NoSuchRound));

        app.MapGet("/known-water/rounds/{id:guid}/sheet", async (Guid id, ViewRound view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } round ? Pages.Show<RoundSheetPage>(round) : Pages.Missing(NoSuchRound));

        app.MapGet("/known-water/rounds/{id:guid}/verdicts", async (Guid id, ViewRound view, CancellationToken cancel) =>
            await view.Handle(id, cancel) is { } round ? Pages.Show<RoundVerdictsPage>(round) : Pages.Missing(NoSuchRound));

        app.MapPost("/known-water/rounds/{id:guid}/remove", async (Guid id, IFormCollection posted, HttpContext context, RemoveRound remove, ViewRound view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await remove.Handle(new RemoveRound.Command { Round = id, Reason = form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is RemoveRound.Outcome.Removed removed)
                return Pages.GoTo($"/history?done={removed.HistoryEntry}");
            form.Faults = ((RemoveRound.Outcome.Refused)outcome).Faults;
            return await view.Handle(id, cancel) is { } round ? Pages.Again<RoundPage>(new RoundPage.Content(round, form)) : Pages.Missing(NoSuchRound);
        });
    }

    private static async Task<RoundFormPage.Content> Content(FormState form, ListInstruments instruments, ListReferenceWaters waters, ListPreparations preparations, CancellationToken cancel)
    {
        var (there, planned) = (await waters.Handle(new ListReferenceWaters.Query(), cancel), await preparations.Handle(cancel));
        var lines = (await instruments.Handle(cancel)).SelectMany(i => i.Methods.Select(m => new RoundFormPage.Line(i.Name, m,
        [
            .. there.Where(w => w.ParameterName == m.ParameterName && (w.Matrix ?? m.Matrix) == m.Matrix && !w.PastUseBy).OrderBy(w => w.Known.Value)
                .Select(w => new Choice(w.Id.ToString(), $"{(w.Code.Length > 0 && w.Code != w.Label ? w.Code + " " : "")}{w.Label}: {(w.TodayWords.Length > 0 ? w.TodayWords : w.KnownWords)}", "On the shelf")),
            .. planned.Where(p => p.FurtherNames.Prepend(p.ParameterName).Contains(m.ParameterName) && p.Matrix == m.Matrix)
                .Select(p => new Choice(p.Id.ToString(), $"{p.Label}: {(p.ParameterName == m.ParameterName ? p.ValueWords : "of several analytes")}", "Still to be made")),
        ]))).ToList();
        return new RoundFormPage.Content(form, lines);
    }
}
