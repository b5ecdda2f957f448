using Knownwater.Records;
using Knownwater.Records.Preparation;
using Knownwater.Web.Sheet;

namespace Knownwater.Web.Preparation;

/// <summary>Proving a piece by weighing.</summary>
internal static class ProofEndpoints
{
    private const string NoSuchPiece = "This piece is not among the glassware.", NoSuchProof = "This proof is not there, or it was dropped.";

    public static void MapProofs(this IEndpointRouteBuilder app)
    {
        const string Prove = "/known-water/glassware/{id:guid}/prove", Proof = Prove + "/{proof:guid}";

        app.MapGet(Prove, async (Guid id, HttpContext context, ViewGlassware view, ListGlassware list, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } piece)
                return Pages.Missing(NoSuchPiece);
            return Pages.Show<ProvePage>(new ProvePage.Content(piece, await list.Handle(cancel), new FormState
            {
                ["Setting"] = piece.Piece.HasOneMark ? piece.Typed.Nominal : "", ["Pressure"] = "", ["Who"] = Pages.Who(context),
            }));
        });

        app.MapPost(Prove, async (Guid id, IFormCollection posted, HttpContext context, StartProof start, ViewGlassware view, ListGlassware list, CancellationToken cancel) =>
        {
            if (await view.Handle(id, cancel) is not { } piece)
                return Pages.Missing(NoSuchPiece);
            var form = new FormState(posted);
            var outcome = await start.Handle(new StartProof.Command
            {
                Piece = id,
                Balance = form.Key("Balance"),
                Setting = form["Setting"],
                DeliveriesEach = form["DeliveriesEach"],
                Weighings = form["Weighings"],
                Temperature = form["Temperature"],
                Pressure = form["Pressure"],
                Humidity = form["Humidity"],
                Evaporation = form["Evaporation"],
                Tip = form["Tip"],
                Weight = form["Weight"],
                WeightLimit = form["WeightLimit"],
                Who = Pages.Who(context, form),
                RequestId = form.RequestId,
            }, cancel);
            if (outcome is StartProof.Outcome.Started started)
                return Pages.GoTo($"/known-water/glassware/{id}/prove/{started.Proof}");
            form.Faults = ((StartProof.Outcome.Refused)outcome).Faults;
            return Pages.Again<ProvePage>(new ProvePage.Content(piece, await list.Handle(cancel), form));
        });

        app.MapGet(Proof, async (Guid id, Guid proof, ViewProof view, CancellationToken cancel) =>
            await Find(view, id, proof, cancel) is { } found ? Pages.Show<ProofPage>(new ProofPage.Content(found, new FormState())) : Pages.Missing(NoSuchProof));

        app.MapPost(Proof + "/keep", async (Guid id, Guid proof, IFormCollection posted, HttpContext context, KeepWeighing keep, ViewProof view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await keep.Handle(new KeepWeighing.Command
            {
                Proof = proof,
                Ordinal = int.TryParse(form["Ordinal"], out var ordinal) ? ordinal : 0,
                Typed = form["Typed"],
                Confirmed = form["act"] == "confirm",
                Who = Pages.Who(context),
                RequestId = form.RequestId,
            }, cancel);
            switch (outcome)
            {
                case KeepWeighing.Outcome.Doubtful doubtful:
                    form["Doubtful"] = "yes";
                    form.Faults = [new FieldFault("Typed", doubtful.Sentence)];
                    break;
                case KeepWeighing.Outcome.Refused refused:
                    form.Faults = refused.Faults;
                    break;
                default:
                    return Pages.GoTo($"/known-water/glassware/{id}/prove/{proof}");
            }

            return await Find(view, id, proof, cancel) is { } found ? Pages.Again<ProofPage>(new ProofPage.Content(found, form)) : Pages.Missing(NoSuchProof);
        });

        app.MapGet(Proof + "/weighings/{ordinal:int}", async (Guid id, Guid proof, int ordinal, ViewProof view, CancellationToken cancel) =>
            await Find(view, id, proof, cancel) is { IsDone: false } found && found.Weighings.FirstOrDefault(w => w.Ordinal == ordinal) is { } weighing
                ? Pages.Show<WeighingPage>(new WeighingPage.Content(found, weighing, new FormState { ["Typed"] = weighing.Typed }))
                : Pages.Missing(NoSuchProof));

        app.MapPost(Proof + "/weighings/{ordinal:int}", async (Guid id, Guid proof, int ordinal, IFormCollection posted, HttpContext context, ChangeWeighing change, ViewProof view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await change.Handle(new ChangeWeighing.Command { Proof = proof, Ordinal = ordinal, Typed = form["act"] == "out" ? "" : form["Typed"], Reason = form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is ChangeWeighing.Outcome.Changed)
                return Pages.GoTo($"/known-water/glassware/{id}/prove/{proof}");
            form.Faults = ((ChangeWeighing.Outcome.Refused)outcome).Faults;
            return await Find(view, id, proof, cancel) is { } found && found.Weighings.FirstOrDefault(w => w.Ordinal == ordinal) is { } weighing
                ? Pages.Again<WeighingPage>(new WeighingPage.Content(found, weighing, form))
                : Pages.Missing(NoSuchProof);
        });

        app.MapPost(Proof + "/finish", async (Guid id, Guid proof, IFormCollection posted, HttpContext context, FinishProof finish, ViewProof view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await finish.Handle(new FinishProof.Command { Proof = proof, Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is FinishProof.Outcome.Finished)
                return Pages.GoTo($"/known-water/glassware/{id}/prove/{proof}");
            form.Faults = ((FinishProof.Outcome.Refused)outcome).Faults;
            return await Find(view, id, proof, cancel) is { } found ? Pages.Again<ProofPage>(new ProofPage.Content(found, form)) : Pages.Missing(NoSuchProof);
        });

        app.MapPost(Proof + "/remove", async (Guid id, Guid proof, IFormCollection posted, HttpContext context, RemoveProof remove, ViewProof view, CancellationToken cancel) =>
        {
            var form = new FormState(posted);
            var outcome = await remove.Handle(new RemoveProof.Command { Proof = proof, Reason = form["Reason"], Who = Pages.Who(context), RequestId = form.RequestId }, cancel);
            if (outcome is RemoveProof.Outcome.Removed removed)
                return Pages.GoTo($"/history?done={removed.HistoryEntry}");
            form.Faults = ((RemoveProof.Outcome.Refused)outcome).Faults;
            return await Find(view, id, proof, cancel) is { } found ? Pages.Again<ProofPage>(new ProofPage.Content(found, form)) : Pages.Missing(NoSuchProof);
        });
    }

    private static async Task<ProofView?> Find(ViewProof view, Guid piece, Guid proof, CancellationToken cancel) =>
        await view.Handle(proof, cancel) is { } found && found.Piece == piece ? found : null;
}
