using Knownwater.Preparation;
using Knownwater.Records.Checks;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Tests.Preparation;

public sealed class PreparationTests(PostgresCluster cluster)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private sealed record Shelf(Guid Stock, Guid Sea, Guid P1, Guid P5, Guid Scale, Guid F500);

    private static async Task<Shelf> Furnish(TestBench bench, string background = "", BackgroundOrigin origin = BackgroundOrigin.AnotherInstrument)
    {
        var stock = Assert.IsType<AddStock.Outcome.Added>(await bench.Do<AddStock, AddStock.Outcome>(u => u.Handle(new AddStock.Command
        {
            Label = "N-1000", Parameter = "nitrate", Form = "mg/L NO3", Known = "1000", Doubt = "0.5 %", DoubtKind = DoubtMeaning.HalfWidth, Origin = Origin.Certificate, OriginDetail = "26-0501",
            Medium = "potassium nitrate in water", Companions = "potassium 630.6 mg/L K", Amount = "100",
        }, Cancel))).Stock;
        var sea = Assert.IsType<AddNutrientFree.Outcome.Added>(await bench.Do<AddNutrientFree, AddNutrientFree.Outcome>(u => u.Handle(new AddNutrientFree.Command
        {
            Label = "sea 26-A", Kind = NutrientFreeKind.BoughtSeawater, Salinity = "35", Amount = "5 L", Parameter = "nitrate", Form = "mg/L NO3", Background = background, BackgroundDoubt = "0.02", BackgroundOrigin = origin,
        }, Cancel))).Water;
        async Task<Guid> Piece(AddGlassware.Command command) => Assert.IsType<AddGlassware.Outcome.Added>(await bench.Do<AddGlassware, AddGlassware.Outcome>(u => u.Handle(command, Cancel))).Piece;
        return new Shelf(stock, sea,
            await Piece(new AddGlassware.Command { Name = "P1", Kind = GlasswareKind.PistonPipette, Nominal = "1", Least = "0.1", Tolerance = "0.008", Repeatability = "0.003", Basis = "ISO 8655-2" }),
            await Piece(new AddGlassware.Command { Name = "P5", Kind = GlasswareKind.PistonPipette, Nominal = "5 mL", Least = "0,5", Tolerance = "40 uL", Repeatability = "15 uL" }),
            await Piece(new AddGlassware.Command { Name = "kitchen balance", Kind = GlasswareKind.Balance, Tolerance = "2", Readability = "1" }),
            await Piece(new AddGlassware.Command { Name = "F500", Kind = GlasswareKind.Flask, Nominal = "500", Tolerance = "0.25" }));
    }

    private static PlanPreparation.Command Weighed(Shelf shelf) => new()
    {
        Label = "nitrate 2", Stock = shelf.Stock, Water = shelf.Sea, Mixing = "0.2", Temperature = "22",
        Steps = [new PlanPreparation.StepEntry { Aliquot = "1", With = shelf.P1, Made = "500", IsTotal = false, In = shelf.Scale }],
    };

    private static PlanPreparation.Command InFlask(Shelf shelf, string millilitres) => new()
    {
        Label = $"nitrate from {millilitres}", Stock = shelf.Stock, Water = shelf.Sea,
        Steps = [new PlanPreparation.StepEntry { Aliquot = millilitres, With = shelf.P5, Made = "500", IsTotal = true, In = shelf.F500 }],
    };

    private static async Task<Guid> Plan(TestBench bench, PlanPreparation.Command command) =>
        Assert.IsType<PlanPreparation.Outcome.Planned>(await bench.Do<PlanPreparation, PlanPreparation.Outcome>(u => u.Handle(command, Cancel))).Preparation;

    private static Task<RecordAct.Outcome> Act(TestBench bench, Guid preparation, int ordinal, string amount = "", bool back = false, Guid? request = null) =>
        bench.Do<RecordAct, RecordAct.Outcome>(u => u.Handle(new RecordAct.Command { Preparation = preparation, Ordinal = ordinal, Amount = amount, Back = back, RequestId = request }, Cancel));

    private static async Task<PreparationView> View(TestBench bench, Guid id) => (await bench.Do<ViewPreparation, PreparationView?>(u => u.Handle(id, Cancel)))!;

    private static async Task<ReferenceWaterView> Water(TestBench bench, Guid id) => (await bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(id, Cancel)))!;

    private static async Task<ReferenceWaterView> Make(TestBench bench, PlanPreparation.Command command, params string[] amounts)
    {
        var id = await Plan(bench, command);
        for (var i = 0; i < 3 * command.Steps.Count; i++)
            Assert.IsType<RecordAct.Outcome.Recorded>(await Act(bench, id, i + 1, i < amounts.Length ? amounts[i] : ""));
        var finished = await bench.Do<FinishPreparation, FinishPreparation.Outcome>(u => u.Handle(new FinishPreparation.Command { Preparation = id, UseBy = "2026-09-10" }, Cancel));
        return await Water(bench, Assert.IsType<FinishPreparation.Outcome.Finished>(finished).Water);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_bottle_on_the_kitchen_balance_becomes_known_water_with_its_whole_ancestry(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var water = await Make(bench, Weighed(shelf));

        // 500 g read in air are 500·(1 − 1.2/8000)/(1.02417 − 0.0012) = 488.7 mL of seawater (TEOS-10, S 35, 22 °C); 1000/(488.7 + 1) = 2.0421 mg/L
        Assert.Equal(2.0421, water.Known.Value, 0.0005);
        var names = water.Known.Contributions.Select(c => c.Source.Name).ToList();
        Assert.Contains("N-1000, certificate 26-0501", names);
        Assert.Contains("P1, gain", names);
        Assert.Contains(names, n => n.StartsWith("kitchen balance", StringComparison.Ordinal));
        Assert.Contains("mixing, step 1", names);
        // the stock's half-width of 0.5 % is rectangular: u = 0.2887 % of the value
        var stock = water.Known.Contributions.Single(c => c.Source.Name.StartsWith("N-1000", StringComparison.Ordinal));
        Assert.Equal(0.005 / Math.Sqrt(3) * water.Known.Value, Math.Abs(stock.Value), 1e-5);
        Assert.Equal(Origin.OwnPreparation, water.Origin);
        Assert.Contains("N-1000", water.OriginWords, StringComparison.Ordinal);
        Assert.Contains("certificate 26-0501", water.OriginWords, StringComparison.Ordinal);
        // the stock is drawn down by what was used
        Assert.Equal("about 99\u00a0mL left", (await bench.Do<ViewStock, StockView?>(u => u.Handle(shelf.Stock, Cancel)))!.LeftWords);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Two_levels_of_one_stock_and_one_pipette_share_their_errors_in_the_store(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var low = (await Make(bench, InFlask(shelf, "1"))).Known;
        var high = (await Make(bench, InFlask(shelf, "5"))).Known;

        Assert.Equal(2, low.Value, 1e-9);
        Assert.Equal(10, high.Value, 1e-9);
        // by hand: shared are the certificate (0.005/√3, relative), the pipette's gain (0.04/√3 in 5 mL at 5 mL, a fifth of it at 1 mL) and the flask (0.25/500/√3)
        double certificate = 0.005 / Math.Sqrt(3), pipette = 0.04 / Math.Sqrt(3), flask = 0.25 / 500 / Math.Sqrt(3);
        var covariance = 2 * 10 * (certificate * certificate + flask * flask) + 2 * (pipette / 5) * 2 * pipette;
        Assert.Equal(covariance, Estimate.Covariance(low, high), 1e-6 * covariance);
        // and alone: repeatability (0.015 mL) and offset; u = 0.0554 and 0.0621 mg/L by hand, so the correlation is 0.17
        Assert.Equal(0.17, Estimate.Correlation(low, high), 0.005);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_slip_is_rescued_and_the_value_follows_what_was_dispensed(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var id = await Plan(bench, InFlask(shelf, "5"));
        Assert.Equal("", Assert.IsType<RecordAct.Outcome.Recorded>(await Act(bench, id, 1)).Rescue);
        var rescue = Assert.IsType<RecordAct.Outcome.Recorded>(await Act(bench, id, 2, "502 mL")).Rescue;

        // 5/502 of 1000 mg/L
        Assert.StartsWith("You are at 502\u00a0mL instead of 500: carry on, the value is now 9.9", rescue, StringComparison.Ordinal);
        var view = await View(bench, id);
        Assert.NotEqual(view.PlannedWords, view.ValueWords);
        Assert.Equal(2, view.ActsDone);

        // the same request and the same act twice change nothing
        await Act(bench, id, 2, "510");
        Assert.Equal(view.ValueWords, (await View(bench, id)).ValueWords);
        // one step back takes the amount back
        await Act(bench, id, 2, back: true);
        Assert.Equal((await View(bench, id)).PlannedWords, (await View(bench, id)).ValueWords);
        Assert.Equal(1, (await View(bench, id)).ActsDone);
        // nothing goes on the shelf before it is made
        var early = await bench.Do<FinishPreparation, FinishPreparation.Outcome>(u => u.Handle(new FinishPreparation.Command { Preparation = id }, Cancel));
        Assert.Contains("1 of 3", Assert.IsType<FinishPreparation.Outcome.Refused>(early).Faults[0].Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0", "500", "above 0")]
    [InlineData("-1", "500", "")]
    [InlineData("0.05", "500", "0.1 mL")]
    [InlineData("3", "500", "1 mL")]
    [InlineData("", "500", "missing")]
    [InlineData("1", "", "missing")]
    [InlineData("1", "400", "500 mL")]
    [InlineData("one", "500", "")]
    public async Task What_cannot_be_made_is_refused_beside_its_field(string aliquot, string made, string says)
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var shelf = await Furnish(bench);
        var outcome = await bench.Do<PlanPreparation, PlanPreparation.Outcome>(u => u.Handle(new PlanPreparation.Command
        {
            Stock = shelf.Stock, Water = shelf.Sea, Steps = [new PlanPreparation.StepEntry { Aliquot = aliquot, With = shelf.P1, Made = made, IsTotal = true, In = shelf.F500 }],
        }, Cancel));
        var fault = Assert.Single(Assert.IsType<PlanPreparation.Outcome.Refused>(outcome).Faults);
        Assert.StartsWith("Steps[0].", fault.Field, StringComparison.Ordinal);
        Assert.Contains(says, fault.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_stock_weaker_than_what_is_wanted_is_refused()
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var shelf = await Furnish(bench);
        var (view, faults) = await bench.Do<PlanPreparation, (PreparationView?, IReadOnlyList<FieldFault>)>(u => u.Look(InFlask(shelf, "5") with { Target = "2000" }, Cancel));
        Assert.Null(view);
        Assert.Contains("stronger stock", Assert.Single(faults).Sentence, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_background_of_another_instrument_counts_and_one_of_the_same_analyser_is_said(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench, background: "<0.04");
        var (view, _) = await bench.Do<PlanPreparation, (PreparationView?, IReadOnlyList<FieldFault>)>(u => u.Look(InFlask(shelf, "1"), Cancel));
        // 0 to 0.04 mg/L, all equally likely: 0.02 mg/L in 499 of 500 mL
        Assert.Contains(view!.Doubts, d => d.Source.StartsWith("background of sea 26-A", StringComparison.Ordinal) && Math.Abs(d.StandardUncertainty - 0.02 / Math.Sqrt(3) * 499 / 500) < 1e-6);
        Assert.DoesNotContain(view.Cautions, c => c.StartsWith("An offset", StringComparison.Ordinal));

        await using var other = await TestBench.New(kind, cluster);
        var hidden = await Furnish(other, background: "0.03", origin: BackgroundOrigin.AnalyserUnderCheck);
        (view, _) = await other.Do<PlanPreparation, (PreparationView?, IReadOnlyList<FieldFault>)>(u => u.Look(InFlask(hidden, "1"), Cancel));
        Assert.Contains(view!.Cautions, c => c.StartsWith("An offset of the analyser would hide", StringComparison.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_check_takes_its_known_value_from_the_water_made(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var water = await Make(bench, Weighed(shelf));
        var started = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(new StartCheck.Command
        {
            Parameter = "nitrate", Form = "mg/L NO3", Levels = [new LevelEntry { ReferenceWater = water.Id }], ToleranceAbsolute = "0.5", TolerancePercent = "10", Replicates = "3",
        }));
        var level = (await bench.View(started.Check))!.Levels[0];
        Assert.Equal(water.Known, level.Plan.Reference);
        Assert.Contains(level.Doubts, d => d.Source == "P1, gain");
        Assert.Contains(level.Trace, l => l.Value.Contains("certificate 26-0501", StringComparison.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Glassware_and_stocks_go_with_a_reason_and_come_back(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var refused = await bench.Do<RemoveGlassware, RemoveGlassware.Outcome>(u => u.Handle(new RemoveGlassware.Command { Piece = shelf.P1, Reason = "" }, Cancel));
        Assert.Equal("Reason", Assert.Single(Assert.IsType<RemoveGlassware.Outcome.Refused>(refused).Faults).Field);
        var removed = Assert.IsType<RemoveGlassware.Outcome.Removed>(await bench.Do<RemoveGlassware, RemoveGlassware.Outcome>(u => u.Handle(new RemoveGlassware.Command { Piece = shelf.P1, Reason = "dropped" }, Cancel)));
        Assert.Null(await bench.Do<ViewGlassware, GlasswareView?>(u => u.Handle(shelf.P1, Cancel)));
        await bench.Do<Records.History.Undo, Records.History.Undo.Outcome>(u => u.Handle(new Records.History.Undo.Command { Entry = removed.HistoryEntry }, Cancel));
        Assert.NotNull(await bench.Do<ViewGlassware, GlasswareView?>(u => u.Handle(shelf.P1, Cancel)));
        Assert.IsType<RemoveStock.Outcome.Removed>(await bench.Do<RemoveStock, RemoveStock.Outcome>(u => u.Handle(new RemoveStock.Command { Stock = shelf.Stock, Reason = "used up" }, Cancel)));
        Assert.Empty(await bench.Do<ListStocks, IReadOnlyList<StockView>>(u => u.Handle(Cancel)));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_bottle_as_it_is_shares_its_certificate_with_what_is_made_from_it(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        Task<PourAsItIs.Outcome> Pour(string salinity) => bench.Do<PourAsItIs, PourAsItIs.Outcome>(u => u.Handle(new PourAsItIs.Command { Stock = shelf.Stock, Matrix = Quantities.Matrix.Seawater, Salinity = salinity }, Cancel));
        Assert.Equal("Salinity", Assert.Single(Assert.IsType<PourAsItIs.Outcome.Refused>(await Pour("")).Faults).Field);
        var bottle = (await Water(bench, Assert.IsType<PourAsItIs.Outcome.Poured>(await Pour("35")).Water)).Known;
        var made = (await Make(bench, Weighed(shelf))).Known;
        // both hold the one certificate: 0.5 %/√3 of each value
        Assert.Equal(1000 * made.Value * Math.Pow(0.005 / Math.Sqrt(3), 2), Estimate.Covariance(bottle, made), 1e-5);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Age_moves_the_value_to_one_side_and_a_check_takes_that_of_its_day(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var shelf = await Furnish(bench);
        var id = await Plan(bench, Weighed(shelf));
        for (var i = 1; i <= 3; i++)
            await Act(bench, id, i);
        var finished = await bench.Do<FinishPreparation, FinishPreparation.Outcome>(u => u.Handle(new FinishPreparation.Command { Preparation = id }, Cancel));
        var water = await Water(bench, Assert.IsType<FinishPreparation.Outcome.Finished>(finished).Water);
        // working water of nitrate keeps seven days (domain table, common practice)
        Assert.Equal(new NodaTime.LocalDate(2026, 9, 10), water.UseBy);
        Assert.Equal("", water.TodayWords);

        bench.Time.Advance(TimeSpan.FromDays(4));
        Assert.NotEqual("", (await Water(bench, water.Id)).TodayWords);
        var started = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(new StartCheck.Command
        {
            Parameter = "nitrate", Form = "mg/L NO3", Levels = [new LevelEntry { ReferenceWater = water.Id }], ToleranceAbsolute = "0.5", TolerancePercent = "10", Replicates = "3",
        }));
        var known = (await bench.View(started.Check))!.Levels[0].Plan.Reference;
        // losses of 0 to 0.5 % a day and evaporation of 0.01 to 0.05 % a day, four days: −1 % ± 1 % and +0.12 % ± 0.08 %
        Assert.Equal(water.Known.Value * 0.99 * 1.0012, known.Value, 1e-9);
        Assert.Equal(0.01 / Math.Sqrt(3) * water.Known.Value * 1.0012, Math.Abs(known.Contributions.Single(c => c.Source.Name.StartsWith("losses", StringComparison.Ordinal)).Value), 1e-6);

        bench.Time.Advance(TimeSpan.FromDays(4));
        var due = await bench.Do<Records.Due.ListDue, Records.Due.DueList>(u => u.Handle(Cancel));
        Assert.Contains(due.Items, i => i.Sentence.StartsWith("Remake KW-1 nitrate 2 today", StringComparison.Ordinal) && i.Reason.Contains("weaker", StringComparison.Ordinal));
    }
}
