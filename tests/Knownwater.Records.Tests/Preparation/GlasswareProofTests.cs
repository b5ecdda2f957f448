using Knownwater.Preparation;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Tests.Preparation;

public sealed class GlasswareProofTests(PostgresCluster cluster)
{
    private static readonly string[] TenMillilitresByTens = ["0.992", "0.995", "0,991", "0.994", "0.996", "0.992", "0.994", "0.993", "0.995", "0.991"];

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static async Task<Guid> Add(TestBench bench, AddGlassware.Command command) =>
        Assert.IsType<AddGlassware.Outcome.Added>(await bench.Do<AddGlassware, AddGlassware.Outcome>(u => u.Handle(command, Cancel))).Piece;

    private static Task<Guid> Pipette(TestBench bench) => Add(bench, new AddGlassware.Command { Name = "P1", Kind = GlasswareKind.PistonPipette, Nominal = "1", Least = "0.1", Tolerance = "0.008", Repeatability = "0.003" });

    private static Task<Guid> Balance(TestBench bench, string step, string limit) => Add(bench, new AddGlassware.Command { Name = "balance " + step, Kind = GlasswareKind.Balance, Tolerance = limit, Readability = step });

    private static StartProof.Command OneMillilitre(Guid piece, Guid balance) => new() { Piece = piece, Balance = balance, Setting = "1", Temperature = "22", Pressure = "1013", Tip = "the blue ones", Who = "MJ" };

    private static Task<StartProof.Outcome> Begin(TestBench bench, StartProof.Command command) => bench.Do<StartProof, StartProof.Outcome>(u => u.Handle(command, Cancel));

    private static async Task<Guid> Start(TestBench bench, StartProof.Command command) => Assert.IsType<StartProof.Outcome.Started>(await Begin(bench, command)).Proof;

    private static Task<KeepWeighing.Outcome> Keep(TestBench bench, Guid proof, int ordinal, string typed, bool confirmed = false, Guid? request = null) =>
        bench.Do<KeepWeighing, KeepWeighing.Outcome>(u => u.Handle(new KeepWeighing.Command { Proof = proof, Ordinal = ordinal, Typed = typed, Confirmed = confirmed, Who = "MJ", RequestId = request }, Cancel));

    private static Task<FinishProof.Outcome> Finish(TestBench bench, Guid proof) => bench.Do<FinishProof, FinishProof.Outcome>(u => u.Handle(new FinishProof.Command { Proof = proof, Who = "MJ" }, Cancel));

    private static async Task<ProofView> View(TestBench bench, Guid proof) => (await bench.Do<ViewProof, ProofView?>(u => u.Handle(proof, Cancel)))!;

    private static async Task<GlasswareView> Piece(TestBench bench, Guid piece) => (await bench.Do<ViewGlassware, GlasswareView?>(u => u.Handle(piece, Cancel)))!;

    // the worked pipette: mean 0.99656 mL, bias -0.34 %, sd 0.0018 mL, u 0.0013 mL (by hand and by python3, see the library's tests)
    [Theory, ClassData(typeof(BothStores))]
    public async Task Ten_weighings_one_by_one_prove_a_pipette_and_replace_its_limits(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (pipette, balance) = (await Pipette(bench), await Balance(bench, "0.001", "0.002"));
        var proof = await Start(bench, OneMillilitre(pipette, balance));
        for (var i = 0; i < TenMillilitresByTens.Length; i++)
        {
            bench.Time.Advance(TimeSpan.FromMinutes(1));
            Assert.Equal(i + 1, Assert.IsType<KeepWeighing.Outcome.Kept>(await Keep(bench, proof, i + 1, TenMillilitresByTens[i])).Weighings);
        }
        // left and come back: everything is there, as typed
        var open = await View(bench, proof);
        Assert.Equal("0,991", open.Weighings[2].Typed);
        Assert.StartsWith("So far: 0.9966\u00a0mL on average", open.SoFar, StringComparison.Ordinal);
        Assert.Equal("", open.Result);
        Assert.True(Assert.IsType<FinishProof.Outcome.Finished>(await Finish(bench, proof)).Proves);

        var view = await View(bench, proof);
        Assert.StartsWith("Delivers 0.9966\u00a0mL where 1\u00a0mL is set: 0.34\u202f% low", view.Result, StringComparison.Ordinal);
        Assert.Contains("within its limit of 0.8\u202f%", view.Follows, StringComparison.Ordinal);
        var piece = await Piece(bench, pipette);
        var measured = piece.Piece.Measure(1, Guid.NewGuid());
        Assert.Equal(0.996558, measured.Value, 1e-6);
        Assert.Equal(Math.Sqrt(0.0012938 * 0.0012938 + 0.0017728 * 0.0017728), measured.StandardUncertainty, 1e-6);
        // its source is the proof's, the same in every unit of work
        Assert.Contains(measured.Contributions, c => c.Source.Id == SourceIdentity.Of(proof, "bias"));
        // far from the proven setting the limits stand
        Assert.Equal(0.5, piece.Piece.Measure(0.5, Guid.NewGuid()).Value);
        Assert.True(Assert.Single(piece.Proofs).Proves);
        Assert.False(piece.Proofs[0].IsOld);

        // nothing is added to a finished proof
        Assert.Contains("finished", Assert.IsType<KeepWeighing.Outcome.Refused>(await Keep(bench, proof, 11, "0.99")).Faults[0].Sentence, StringComparison.Ordinal);
        // a year later it is old, and says so
        bench.Time.Advance(TimeSpan.FromDays(366));
        Assert.True((await Piece(bench, pipette)).Proofs[0].IsOld);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task All_weighings_at_once_are_kept_once(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var proof = await Start(bench, OneMillilitre(await Pipette(bench), await Balance(bench, "0.001", "0.002")));
        var request = Guid.NewGuid();
        await Keep(bench, proof, 1, string.Join('\n', TenMillilitresByTens), request: request);
        await Keep(bench, proof, 1, string.Join('\n', TenMillilitresByTens), request: request);
        // another device that still stands at the first
        await Keep(bench, proof, 1, "0.99");
        Assert.Equal(10, (await View(bench, proof)).Weighings.Count);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_new_proof_is_a_new_source_and_what_was_made_before_keeps_its_value(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (pipette, balance) = (await Pipette(bench), await Balance(bench, "0.001", "0.002"));
        var flask = await Add(bench, new AddGlassware.Command { Name = "F500", Kind = GlasswareKind.Flask, Nominal = "500", Tolerance = "0.25" });
        var stock = Assert.IsType<AddStock.Outcome.Added>(await bench.Do<AddStock, AddStock.Outcome>(u => u.Handle(new AddStock.Command { Label = "N-1000", Parameter = "nitrate", Form = "mg/L NO3", Known = "1000", Doubt = "0.5 %", DoubtKind = DoubtMeaning.HalfWidth, Amount = "100" }, Cancel))).Stock;
        var sea = Assert.IsType<AddNutrientFree.Outcome.Added>(await bench.Do<AddNutrientFree, AddNutrientFree.Outcome>(u => u.Handle(new AddNutrientFree.Command { Label = "sea", Kind = NutrientFreeKind.BoughtSeawater, Salinity = "35", Amount = "5 L" }, Cancel))).Water;
        async Task<(Guid Preparation, ReferenceWaterView Water)> Make(string label)
        {
            var planned = Assert.IsType<PlanPreparation.Outcome.Planned>(await bench.Do<PlanPreparation, PlanPreparation.Outcome>(u => u.Handle(new PlanPreparation.Command
            {
                Label = label, Stock = stock, Water = sea, Steps = [new PlanPreparation.StepEntry { Aliquot = "1", With = pipette, Made = "500", IsTotal = true, In = flask }],
            }, Cancel))).Preparation;
            for (var i = 1; i <= 3; i++)
                await bench.Do<RecordAct, RecordAct.Outcome>(u => u.Handle(new RecordAct.Command { Preparation = planned, Ordinal = i }, Cancel));
            var water = Assert.IsType<FinishPreparation.Outcome.Finished>(await bench.Do<FinishPreparation, FinishPreparation.Outcome>(u => u.Handle(new FinishPreparation.Command { Preparation = planned }, Cancel))).Water;
            return (planned, (await bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(water, Cancel)))!);
        }

        var before = await Make("before");
        Assert.Equal(2, before.Water.Known.Value, 1e-9);
        bench.Time.Advance(TimeSpan.FromHours(1));
        var proof = await Start(bench, OneMillilitre(pipette, balance));
        await Keep(bench, proof, 1, string.Join(';', TenMillilitresByTens));
        await Finish(bench, proof);
        bench.Time.Advance(TimeSpan.FromHours(1));

        // 0.99656 mL of 1000 mg/L in 500 mL
        var after = await Make("after");
        Assert.Equal(1.993115, after.Water.Known.Value, 1e-6);
        Assert.Contains(after.Water.Known.Contributions, c => c.Source.Id == SourceIdentity.Of(proof, "bias"));
        var again = (await bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(before.Water.Id, Cancel)))!;
        Assert.Equal(before.Water.Known.Value, again.Known.Value);
        Assert.Equal(before.Water.Known.StandardUncertainty, again.Known.StandardUncertainty, 1e-12);
        // the finished preparation reads as it did, too
        Assert.StartsWith("2.00", (await bench.Do<ViewPreparation, PreparationView?>(u => u.Handle(before.Preparation, Cancel)))!.ValueWords, StringComparison.Ordinal);
        // stock and flask are shared still, the pipette is not: covariance by hand from 0.005/√3 and 0.25/500/√3, relative
        var shared = 2 * 1.993115 * (0.005 * 0.005 + 0.0005 * 0.0005) / 3;
        Assert.Equal(shared, Estimate.Covariance(again.Known, after.Water.Known), 1e-3 * shared);
    }

    [Theory]
    [InlineData("0.01", "0.02", "", "too coarse")]
    [InlineData("0.01", "0.02", "10", "")]
    [InlineData("0.1", "0.2", "10", "too coarse")]
    public async Task A_balance_too_coarse_is_refused_and_a_sum_may_do(string step, string limit, string deliveries, string says)
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var outcome = await Begin(bench, OneMillilitre(await Pipette(bench), await Balance(bench, step, limit)) with { DeliveriesEach = deliveries });
        if (says.Length == 0)
        {
            Assert.IsType<StartProof.Outcome.Started>(outcome);
            return;
        }
        var fault = Plans.Only(Assert.IsType<StartProof.Outcome.Refused>(outcome).Faults, "Balance");
        Assert.Contains(says, fault.Sentence, StringComparison.Ordinal);
        Assert.EndsWith(".", fault.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Setting", "5", "22", "", "0.1 to 1")]
    [InlineData("Setting", "", "22", "", "missing")]
    [InlineData("Temperature", "1", "", "", "missing")]
    [InlineData("Temperature", "1", "50", "", "40")]
    [InlineData("Pressure", "1", "22", "29.9", "500")]
    public async Task What_is_missing_or_wrong_stands_beside_its_field(string field, string setting, string temperature, string pressure, string says)
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var outcome = await Begin(bench, OneMillilitre(await Pipette(bench), await Balance(bench, "0.001", "0.002")) with { Setting = setting, Temperature = temperature, Pressure = pressure });
        Assert.Contains(says, Plans.Only(Assert.IsType<StartProof.Outcome.Refused>(outcome).Faults, field).Sentence.Replace('\u00a0', ' '), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_slip_is_asked_about_changed_or_taken_out_with_a_reason()
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var proof = await Start(bench, OneMillilitre(await Pipette(bench), await Balance(bench, "0.001", "0.002")));
        await Keep(bench, proof, 1, "0.992");
        Assert.Contains("9.95 g is far", Assert.IsType<KeepWeighing.Outcome.Doubtful>(await Keep(bench, proof, 2, "9.95")).Sentence, StringComparison.Ordinal);
        Assert.IsType<KeepWeighing.Outcome.Kept>(await Keep(bench, proof, 2, "0.700", confirmed: true));
        Assert.IsType<KeepWeighing.Outcome.Refused>(await Keep(bench, proof, 3, "a drop"));
        Task<ChangeWeighing.Outcome> Change(int ordinal, string typed, string reason = "") => bench.Do<ChangeWeighing, ChangeWeighing.Outcome>(u => u.Handle(new ChangeWeighing.Command { Proof = proof, Ordinal = ordinal, Typed = typed, Reason = reason }, Cancel));
        Assert.IsType<ChangeWeighing.Outcome.Changed>(await Change(1, "0.993"));
        Assert.IsType<ChangeWeighing.Outcome.Refused>(await Change(2, ""));
        Assert.IsType<ChangeWeighing.Outcome.Changed>(await Change(2, "", "a drop fell beside it"));
        var view = await View(bench, proof);
        Assert.Equal("0.993", Assert.Single(view.Weighings).Typed);
        Assert.Equal(3, view.Next);
        // one of ten is not enough
        Assert.Contains("it takes four", Assert.IsType<FinishProof.Outcome.Refused>(await Finish(bench, proof)).Faults[0].Sentence, StringComparison.Ordinal);
        // and what was taken out comes back by the history
        var last = (await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query(), Cancel))).Items[0];
        Assert.Contains("taken out", last.Sentence, StringComparison.Ordinal);
        await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = last.Id }, Cancel));
        Assert.Equal(2, (await View(bench, proof)).Weighings.Count);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_check_weight_proves_a_balance_and_the_balance_then_proves_more(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var balance = await Balance(bench, "0.01", "0.02");
        var flask = await Add(bench, new AddGlassware.Command { Name = "F10", Kind = GlasswareKind.Flask, Nominal = "10", Tolerance = "0.025" });
        var fill = new StartProof.Command { Piece = flask, Balance = balance, Temperature = "20" };
        // 10 mL ± 0.025 mL against 2·√(0.0116² + 0.0041²) mL: gross faults only
        Assert.Contains("gross faults only", (await View(bench, await Start(bench, fill))).Cautions[0], StringComparison.Ordinal);

        var proof = await Start(bench, new StartProof.Command { Piece = balance, Weight = "M1|10" });
        await Keep(bench, proof, 1, "10.01\n10.02\n10.01\n10.02\n10.02");
        Assert.True(Assert.IsType<FinishProof.Outcome.Finished>(await Finish(bench, proof)).Proves);
        Assert.StartsWith("Shows 10.016", (await View(bench, proof)).Result, StringComparison.Ordinal);
        Assert.Contains("high", (await View(bench, proof)).Result, StringComparison.Ordinal);
        // 10 g on its display are 9.984 g
        Assert.Equal(9.984, (await Piece(bench, balance)).Piece.Measure(10, Guid.NewGuid()).Value, 1e-12);

        var filled = await Start(bench, fill);
        await Keep(bench, filled, 1, "9.98");
        Assert.IsType<FinishProof.Outcome.Finished>(await Finish(bench, filled));
        // 9.98 − 0.016 g at 20 °C: 9.964·1.00285 = 9.9924 mL
        Assert.StartsWith("Holds 9.99", (await View(bench, filled)).Result, StringComparison.Ordinal);

        // a coin is no weight
        var coin = await Begin(bench, new StartProof.Command { Piece = balance, Setting = "7.5" });
        Plans.Only(Assert.IsType<StartProof.Outcome.Refused>(coin).Faults, "WeightLimit");
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_dropped_proof_counts_no_more_and_a_changed_piece_keeps_its_proofs(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var pipette = await Pipette(bench);
        var proof = await Start(bench, OneMillilitre(pipette, await Balance(bench, "0.001", "0.002")));
        await Keep(bench, proof, 1, string.Join('\n', TenMillilitresByTens));
        await Finish(bench, proof);
        var change = new ChangeGlassware.Command { Piece = pipette, Name = "P1 blue", Kind = GlasswareKind.PistonPipette, Nominal = "1", Least = "0.1", Tolerance = "0.8 %", Repeatability = "0.003" };
        Assert.IsType<ChangeGlassware.Outcome.Changed>(await bench.Do<ChangeGlassware, ChangeGlassware.Outcome>(u => u.Handle(change, Cancel)));
        var changed = await Piece(bench, pipette);
        Assert.Equal("P1 blue", changed.Name);
        Assert.Equal(0.996558, changed.Piece.Measure(1, Guid.NewGuid()).Value, 1e-6);
        Plans.Only(Assert.IsType<ChangeGlassware.Outcome.Refused>(await bench.Do<ChangeGlassware, ChangeGlassware.Outcome>(u => u.Handle(change with { Kind = GlasswareKind.Burette }, Cancel))).Faults, "Kind");

        Task<RemoveProof.Outcome> Remove(string reason) => bench.Do<RemoveProof, RemoveProof.Outcome>(u => u.Handle(new RemoveProof.Command { Proof = proof, Reason = reason }, Cancel));
        Plans.Only(Assert.IsType<RemoveProof.Outcome.Refused>(await Remove("")).Faults, "Reason");
        Assert.IsType<RemoveProof.Outcome.Removed>(await Remove("it fell"));
        var piece = await Piece(bench, pipette);
        Assert.Empty(piece.Proofs);
        Assert.Equal(1, piece.Piece.Measure(1, Guid.NewGuid()).Value);
    }
}
