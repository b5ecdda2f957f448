using Knownwater.Preparation;
using Knownwater.Records.Checks;
using Knownwater.Records.Due;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Tests.Preparation;

public sealed class RoundTests(PostgresCluster cluster)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private sealed record Furnished(Guid NitrateStock, Guid PhosphateStock, Guid Sea, Guid P1, Guid P5, Guid F100, Guid F500, Guid Nitrate, Guid Phosphate, Guid Alkalinity);

    private static async Task<Furnished> Furnish(TestBench bench)
    {
        async Task<Guid> Stock(string label, string parameter, string form, string companions) => Assert.IsType<AddStock.Outcome.Added>(await bench.Do<AddStock, AddStock.Outcome>(u => u.Handle(new AddStock.Command
        {
            Label = label, Parameter = parameter, Form = form, Known = "1000", Doubt = "0.5 %", Origin = Origin.Certificate, OriginDetail = "26-0501", Companions = companions, Amount = "100",
        }, Cancel))).Stock;
        async Task<Guid> Piece(AddGlassware.Command command) => Assert.IsType<AddGlassware.Outcome.Added>(await bench.Do<AddGlassware, AddGlassware.Outcome>(u => u.Handle(command, Cancel))).Piece;
        var (instrument, alkalinity) = await bench.Analyser();
        async Task<Guid> Method(string parameter, string form, string tolerance) => Assert.IsType<AddMethod.Outcome.Added>(await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(
            Plans.AlkalinityMethod(instrument) with { Parameter = parameter, Form = form, RangeLow = "", RangeHigh = "", Resolution = "", ToleranceAbsolute = tolerance, TolerancePercent = "10", MinutesPerReading = "10" }, Cancel))).Method;
        return new Furnished(
            await Stock("N-1000", "nitrate", "mg/L NO3", ""),
            await Stock("P-1000", "phosphate", "mg/L PO4", "nitrate 19000 mg/L NO3"),
            Assert.IsType<AddNutrientFree.Outcome.Added>(await bench.Do<AddNutrientFree, AddNutrientFree.Outcome>(u => u.Handle(new AddNutrientFree.Command { Label = "sea 26-A", Kind = NutrientFreeKind.BoughtSeawater, Salinity = "35", Amount = "5 L" }, Cancel))).Water,
            await Piece(new AddGlassware.Command { Name = "P1", Kind = GlasswareKind.PistonPipette, Nominal = "1", Least = "0.1", Tolerance = "0.008", Repeatability = "0.003" }),
            await Piece(new AddGlassware.Command { Name = "P5", Kind = GlasswareKind.PistonPipette, Nominal = "5", Least = "0.5", Tolerance = "0.04", Repeatability = "0.015" }),
            await Piece(new AddGlassware.Command { Name = "F100", Kind = GlasswareKind.Flask, Nominal = "100", Tolerance = "0.1" }),
            await Piece(new AddGlassware.Command { Name = "F500", Kind = GlasswareKind.Flask, Nominal = "500", Tolerance = "0.25" }),
            await Method("nitrate", "mg/L NO3", "0.01"), await Method("phosphate", "mg/L PO4", "0.01"), alkalinity);
    }

    /// <summary>One millilitre to 100, then so much of that to 500.</summary>
    private static async Task<Guid> TwoSteps(TestBench bench, Furnished shelf, Guid stock, string label, string second, string first = "1") =>
        Assert.IsType<PlanPreparation.Outcome.Planned>(await bench.Do<PlanPreparation, PlanPreparation.Outcome>(u => u.Handle(new PlanPreparation.Command
        {
            Label = label, Stock = stock, Water = shelf.Sea, Mixing = "0.2",
            Steps =
            [
                new PlanPreparation.StepEntry { Aliquot = first, With = shelf.P1, Made = "100", IsTotal = true, In = shelf.F100 },
                new PlanPreparation.StepEntry { Aliquot = second, With = shelf.P5, Made = "500", IsTotal = true, In = shelf.F500 },
            ],
        }, Cancel))).Preparation;

    private static Task<PlanRound.Outcome> Plan(TestBench bench, params (Guid Method, Guid?[] Bottles)[] methods) =>
        bench.Do<PlanRound, PlanRound.Outcome>(u => u.Handle(new PlanRound.Command { Methods = [.. methods.Select(m => new PlanRound.MethodEntry(m.Method, m.Bottles))], Who = "MJ" }, Cancel));

    private static async Task<RoundView> View(TestBench bench, Guid round) => (await bench.Do<ViewRound, RoundView?>(u => u.Handle(round, Cancel)))!;

    private static Task<RecordAct.Outcome> Act(TestBench bench, Guid preparation, int ordinal, string amount = "", bool back = false) =>
        bench.Do<RecordAct, RecordAct.Outcome>(u => u.Handle(new RecordAct.Command { Preparation = preparation, Ordinal = ordinal, Amount = amount, Back = back }, Cancel));

    private static async Task<Guid> Make(TestBench bench, Guid preparation, int acts)
    {
        for (var i = 1; i <= acts; i++)
            Assert.IsType<RecordAct.Outcome.Recorded>(await Act(bench, preparation, i));
        return Assert.IsType<FinishPreparation.Outcome.Finished>(await bench.Do<FinishPreparation, FinishPreparation.Outcome>(u => u.Handle(new FinishPreparation.Command { Preparation = preparation, UseBy = "2026-09-20" }, Cancel))).Water;
    }

    private static async Task<Estimate> Known(TestBench bench, Guid water) => (await bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(water, Cancel)))!.Known;

    private static async Task<Guid> Check(TestBench bench, Guid round, Guid method, string parameter, string form, Guid water, params string[] readings)
    {
        var started = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(new StartCheck.Command
        {
            Parameter = parameter, Form = form, Method = method, Levels = [new LevelEntry { ReferenceWater = water }], Replicates = $"{readings.Length}", Round = round,
        }));
        foreach (var reading in readings)
            await bench.Keep(started.Check, reading);
        return started.Check;
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_same_first_dilution_is_made_once_and_both_waters_share_its_errors(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var (low, high) = (await TwoSteps(bench, shelf, shelf.NitrateStock, "low", "1"), await TwoSteps(bench, shelf, shelf.NitrateStock, "high", "5"));
        var phosphate = await TwoSteps(bench, shelf, shelf.PhosphateStock, "phosphate", "1");
        var planned = Assert.IsType<PlanRound.Outcome.Planned>(await Plan(bench, (shelf.Nitrate, [high, low]), (shelf.Phosphate, [phosphate])));
        Assert.Equal(1, planned.SharedDilutions);

        var round = await View(bench, planned.Round);
        // three preparations of six acts, of which one has a dilution less to make; it comes after the one that carries it out
        Assert.Equal(15, round.Preparations.Sum(p => p.Acts.Count));
        // while the flask still holds it
        Assert.Equal(["low", "high", "phosphate"], round.Preparations.Select(p => p.Label));
        Assert.Contains("the first dilution of low", round.Preparations[1].Acts[0].Act, StringComparison.Ordinal);
        Assert.Equal("Keep what is left: high is made from it too.", round.Preparations[0].Acts[2].Caution);
        Assert.Equal(["low", "high"], round.Checks.Single(c => c.Method == shelf.Nitrate).Waters.Select(w => w.Label));

        // it cannot be begun before the dilution is there, and no step back takes that away afterwards
        Assert.Contains("low", Assert.IsType<RecordAct.Outcome.Refused>(await Act(bench, high, 1)).Faults[0].Sentence, StringComparison.Ordinal);
        Assert.IsType<RecordAct.Outcome.Recorded>(await Act(bench, low, 1, "0.99"));
        await Act(bench, low, 2);
        await Act(bench, low, 3);
        Assert.IsType<RecordAct.Outcome.Recorded>(await Act(bench, high, 1));
        Assert.Contains("high", Assert.IsType<RecordAct.Outcome.Refused>(await Act(bench, low, 2, back: true)).Faults[0].Sentence, StringComparison.Ordinal);

        await Act(bench, high, 2);
        await Act(bench, high, 3);
        for (var i = 4; i <= 6; i++)
            await Act(bench, low, i);
        Guid Finished(FinishPreparation.Outcome o) => Assert.IsType<FinishPreparation.Outcome.Finished>(o).Water;
        var a = await Known(bench, Finished(await bench.Do<FinishPreparation, FinishPreparation.Outcome>(u => u.Handle(new FinishPreparation.Command { Preparation = low }, Cancel))));
        var b = await Known(bench, Finished(await bench.Do<FinishPreparation, FinishPreparation.Outcome>(u => u.Handle(new FinishPreparation.Command { Preparation = high }, Cancel))));
        // what was really dispensed counts in both: 0.99 mL of 1000 mg/L to 100 mL are 9.9 mg/L; 1 and 5 mL of that to 500 mL
        Assert.Equal(9.9 / 500, a.Value, 1e-9);
        Assert.Equal(9.9 / 100, b.Value, 1e-9);
        // by hand, relative: the certificate 0.005/√3; P1 at 0.99 mL, 0.008/√3 mL and 0.003 mL between deliveries; F100 0.1/√3/100; mixing 0.002; P5's gain 0.04/√3/5; F500 0.25/√3/500
        double s3 = Math.Sqrt(3), r = Math.Pow(0.005 / s3, 2) + (Math.Pow(0.008 / s3, 2) + 0.003 * 0.003) / (0.99 * 0.99) + Math.Pow(0.001 / s3, 2) + 0.002 * 0.002 + Math.Pow(0.04 / s3 / 5, 2) + Math.Pow(0.0005 / s3, 2);
        Assert.Equal(a.Value * b.Value * r, Estimate.Covariance(a, b), 1e-6 * a.Value * b.Value * r);
        // and the stock was drawn once for both: 99 mL of 100 are left, to what the pipette gave
        Assert.Equal("about 99\u00a0mL left", (await bench.Do<ViewStock, StockView?>(u => u.Handle(shelf.NitrateStock, Cancel)))!.LeftWords);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_dilution_that_does_not_hold_enough_is_made_for_each(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var bottles = new List<Guid?>();
        var small = Assert.IsType<AddGlassware.Outcome.Added>(await bench.Do<AddGlassware, AddGlassware.Outcome>(u => u.Handle(new AddGlassware.Command { Name = "F8", Kind = GlasswareKind.Flask, Nominal = "8", Tolerance = "0.02" }, Cancel))).Piece;
        foreach (var second in (string[])["5", "3", "2"])
        {
            bottles.Add(Assert.IsType<PlanPreparation.Outcome.Planned>(await bench.Do<PlanPreparation, PlanPreparation.Outcome>(u => u.Handle(new PlanPreparation.Command
            {
                Label = "from " + second, Stock = shelf.NitrateStock, Water = shelf.Sea,
                Steps =
                [
                    new PlanPreparation.StepEntry { Aliquot = "1", With = shelf.P1, Made = "8", IsTotal = true, In = small },
                    new PlanPreparation.StepEntry { Aliquot = second, With = shelf.P5, Made = "500", IsTotal = true, In = shelf.F500 },
                ],
            }, Cancel))).Preparation);
        }
        // 5 and 3 mL are the whole 8 mL; the third one makes its own
        var planned = Assert.IsType<PlanRound.Outcome.Planned>(await Plan(bench, (shelf.Nitrate, [.. bottles]), (shelf.Alkalinity, [await bench.Water()])));
        Assert.Equal(1, planned.SharedDilutions);
        Assert.Equal(15, (await View(bench, planned.Round)).Preparations.Sum(p => p.Acts.Count));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_round_runs_in_order_rests_overnight_and_says_what_its_verdicts_share(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        // both leave the one pipette P1 and the flasks
        var nitrate = await Make(bench, await TwoSteps(bench, shelf, shelf.NitrateStock, "nitrate", "5"), 6);
        var planned = await TwoSteps(bench, shelf, shelf.PhosphateStock, "phosphate", "5");
        var round = Assert.IsType<PlanRound.Outcome.Planned>(await Plan(bench, (shelf.Phosphate, [planned]), (shelf.Nitrate, [nitrate]), (shelf.Alkalinity, [await bench.Water()]))).Round;

        var view = await View(bench, round);
        Assert.Equal("phosphate", Assert.Single(view.Preparations).Label);
        // the phosphate stock brings nitrate, so nitrate runs before it
        Assert.True(view.Checks.Single(c => c.Method == shelf.Nitrate).Ordinal < view.Checks.Single(c => c.Method == shelf.Phosphate).Ordinal);
        Assert.StartsWith("One water to make and three checks to run: about ", view.Summary, StringComparison.Ordinal);
        Assert.EndsWith("The matrix does not change.", view.Summary, StringComparison.Ordinal);
        Assert.False(view.Checks.Single(c => c.Method == shelf.Phosphate).IsReady);
        Assert.Empty(view.Shared);
        Assert.Contains((await bench.Do<ListDue, DueList>(u => u.Handle(Cancel))).Items, i => i.Kind == DueKind.UnfinishedRound && i.Round == round);

        // known: 0.1 mg/L of each; both read half as much again
        await Check(bench, round, shelf.Nitrate, "nitrate", "mg/L NO3", nitrate, "0.15", "0.151", "0.149", "0.15");
        bench.Time.Advance(TimeSpan.FromDays(1));
        view = await View(bench, round);
        Assert.NotNull(view.Checks.Single(c => c.Method == shelf.Nitrate).Verdict);
        Assert.Equal("phosphate", view.NextPreparation!.Label);
        var phosphate = await Make(bench, planned, 6);
        var check = await Check(bench, round, shelf.Phosphate, "phosphate", "mg/L PO4", phosphate, "0.15", "0.151", "0.149", "0.15");
        Assert.Equal(round, (await bench.View(check))!.Round!.Id);
        var open = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(Plans.Alkalinity with { Method = shelf.Alkalinity, Round = round, Levels = [new LevelEntry { ReferenceWater = (await View(bench, round)).Checks.Single(c => c.Method == shelf.Alkalinity).Waters[0].Water }] }));
        await bench.Keep(open.Check, "7.9");

        view = await View(bench, round);
        Assert.Equal(open.Check, view.NextCheck!.Check);
        Assert.False(view.IsDone);
        var gain = Assert.Single(view.Shared, s => s.Contains("P1, gain", StringComparison.Ordinal));
        Assert.StartsWith("Nitrate and phosphate lean on one source", gain, StringComparison.Ordinal);
        // P1 at 1 mL of 1 mL: 0.8 %/√3 = 0.46 % of each value
        Assert.Contains("+0.46\u202f% and +0.46\u202f%", gain, StringComparison.Ordinal);
        Assert.Contains("to explain why both read wrong, far beyond what it was taken to be off by", gain, StringComparison.Ordinal);
        Assert.Contains("correlation 0.", Assert.Single(view.Correlations).Value, StringComparison.Ordinal);

        foreach (var reading in (string[])["7.9", "7.9", "8.0", "7.9"])
            await bench.Keep(open.Check, reading);
        view = await View(bench, round);
        Assert.True(view.IsDone);
        Assert.Equal("All three checks are run.", view.Summary);
        Assert.DoesNotContain((await bench.Do<ListDue, DueList>(u => u.Handle(Cancel))).Items, i => i.Kind == DueKind.UnfinishedRound);
        Assert.Equal((3, 3), (await bench.Do<ListRounds, IReadOnlyList<RoundLine>>(u => u.Handle(Cancel))) is [var line] ? (line.Done, line.Of) : default);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_cannot_be_a_round_is_said_beside_its_field(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var water = await bench.Water();
        IReadOnlyList<FieldFault> Refused(PlanRound.Outcome o) => Assert.IsType<PlanRound.Outcome.Refused>(o).Faults;
        Assert.Contains("No method", Plans.Only(Refused(await Plan(bench)), "Methods").Sentence, StringComparison.Ordinal);
        Assert.Contains("needs no round", Plans.Only(Refused(await Plan(bench, (shelf.Alkalinity, [water]))), "Methods").Sentence, StringComparison.Ordinal);
        var faults = Refused(await Plan(bench, (shelf.Alkalinity, [water, water]), (shelf.Nitrate, [water]), (shelf.Phosphate, [null])));
        Assert.Equal(["Methods[0].Bottles[1]", "Methods[1].Bottles[0]", "Methods[2].Bottles[0]"], faults.Select(f => f.Field).Order(StringComparer.Ordinal));
        var fresh = await bench.Water(Plans.AlkalinityWater with { Label = "fresh", Matrix = Quantities.Matrix.FreshWater, Salinity = "" });
        var beyond = await bench.Water(Plans.AlkalinityWater with { Label = "strong", Known = "20" });
        faults = Refused(await Plan(bench, (shelf.Alkalinity, [fresh, beyond]), (Guid.NewGuid(), [water])));
        Assert.Contains("fresh", faults[0].Sentence, StringComparison.Ordinal);
        Assert.Contains("15", faults[1].Sentence, StringComparison.Ordinal);
        Assert.Contains("not there any more", faults[2].Sentence, StringComparison.Ordinal);
        Assert.Empty(await bench.Do<ListRounds, IReadOnlyList<RoundLine>>(u => u.Handle(Cancel)));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_round_is_given_up_with_a_reason_and_undone_only_while_nothing_was_poured(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var (low, high) = (await TwoSteps(bench, shelf, shelf.NitrateStock, "low", "1"), await TwoSteps(bench, shelf, shelf.NitrateStock, "high", "5"));
        var round = Assert.IsType<PlanRound.Outcome.Planned>(await Plan(bench, (shelf.Nitrate, [low, high]), (shelf.Alkalinity, [await bench.Water()]))).Round;
        var entry = (await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query { Subject = round }, Cancel))).Items[0];
        Task<Undo.Outcome> Undone(Guid id) => bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = id }, Cancel));

        for (var i = 1; i <= 3; i++)
            await Act(bench, low, i);
        Assert.IsType<RecordAct.Outcome.Recorded>(await Act(bench, high, 1));
        Assert.IsType<Undo.Outcome.Refused>(await Undone(entry.Id));
        await Act(bench, high, 1, back: true);
        Assert.IsType<Undo.Outcome.Undone>(await Undone(entry.Id));
        Assert.Null(await bench.Do<ViewRound, RoundView?>(u => u.Handle(round, Cancel)));
        // with the round the common dilution is gone: each makes its own again
        await Act(bench, low, 1, back: true);
        Assert.Equal(6, (await bench.Do<ViewPreparation, PreparationView?>(u => u.Handle(high, Cancel)))!.Acts.Count);

        var again = Assert.IsType<PlanRound.Outcome.Planned>(await Plan(bench, (shelf.Nitrate, [low, high]), (shelf.Alkalinity, [await bench.Water(Plans.AlkalinityWater with { Label = "KW-37" })]))).Round;
        Task<RemoveRound.Outcome> Remove(string reason) => bench.Do<RemoveRound, RemoveRound.Outcome>(u => u.Handle(new RemoveRound.Command { Round = again, Reason = reason }, Cancel));
        Assert.Equal("Reason", Assert.Single(Assert.IsType<RemoveRound.Outcome.Refused>(await Remove("")).Faults).Field);
        var removed = Assert.IsType<RemoveRound.Outcome.Removed>(await Remove("no time"));
        Assert.Empty(await bench.Do<ListRounds, IReadOnlyList<RoundLine>>(u => u.Handle(Cancel)));
        Assert.IsType<Undo.Outcome.Undone>(await Undone(removed.HistoryEntry));
        Assert.Single(await bench.Do<ListRounds, IReadOnlyList<RoundLine>>(u => u.Handle(Cancel)));
    }
}
