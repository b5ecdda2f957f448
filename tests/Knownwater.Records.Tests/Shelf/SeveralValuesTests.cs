using Knownwater.Preparation;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Tests.Shelf;

/// <summary>Bottles known for several analytes, stocks changed in place, waters reckoned anew, and backgrounds read on the analyser under check.</summary>
public sealed class SeveralValuesTests(PostgresCluster cluster)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static async Task<Guid> Stock(TestBench bench, string companions = "") => Assert.IsType<AddStock.Outcome.Added>(await bench.Do<AddStock, AddStock.Outcome>(u => u.Handle(new AddStock.Command
    {
        Label = "mix 3", Parameter = "nitrate", Form = "mg/L NO3", Known = "1000", Doubt = "0.5 %", Origin = Origin.Certificate, OriginDetail = "26-0501", Companions = companions, Amount = "100",
    }, Cancel))).Stock;

    private static Task<AddStockValue.Outcome> Value(TestBench bench, Guid stock, string parameter = "phosphate", string form = "mg/L PO4", string known = "50", string doubt = "1 %") =>
        bench.Do<AddStockValue, AddStockValue.Outcome>(u => u.Handle(new AddStockValue.Command { Stock = stock, Parameter = parameter, Form = form, Known = known, Doubt = doubt }, Cancel));

    private static async Task<(Guid Sea, Guid Pipette, Guid Flask, Guid Balance)> Bench(TestBench bench, Guid? method = null)
    {
        async Task<Guid> Piece(AddGlassware.Command command) => Assert.IsType<AddGlassware.Outcome.Added>(await bench.Do<AddGlassware, AddGlassware.Outcome>(u => u.Handle(command, Cancel))).Piece;
        var sea = Assert.IsType<AddNutrientFree.Outcome.Added>(await bench.Do<AddNutrientFree, AddNutrientFree.Outcome>(u => u.Handle(new AddNutrientFree.Command
        {
            Label = "sea 26-A", Kind = NutrientFreeKind.BoughtSeawater, Salinity = "35", Amount = "5 L", Parameter = "nitrate", Form = "mg/L NO3", Background = method is null ? "" : "0.1", BackgroundDoubt = "0.05",
            BackgroundOrigin = BackgroundOrigin.AnalyserUnderCheck, BackgroundMethod = method,
        }, Cancel))).Water;
        return (sea,
            await Piece(new AddGlassware.Command { Name = "P1", Kind = GlasswareKind.PistonPipette, Nominal = "1", Least = "0.1", Tolerance = "0.008", Repeatability = "0.003" }),
            await Piece(new AddGlassware.Command { Name = "F500", Kind = GlasswareKind.Flask, Nominal = "500", Tolerance = "0.25" }),
            await Piece(new AddGlassware.Command { Name = "balance", Kind = GlasswareKind.Balance, Tolerance = "0.002", Readability = "0.001" }));
    }

    private static async Task<ReferenceWaterView> Make(TestBench bench, Guid stock, (Guid Sea, Guid Pipette, Guid Flask, Guid Balance) with, string aliquot = "1")
    {
        var id = Assert.IsType<PlanPreparation.Outcome.Planned>(await bench.Do<PlanPreparation, PlanPreparation.Outcome>(u => u.Handle(new PlanPreparation.Command
        {
            Label = "mixed " + aliquot, Stock = stock, Water = with.Sea, Steps = [new PlanPreparation.StepEntry { Aliquot = aliquot, With = with.Pipette, Made = "500", IsTotal = true, In = with.Flask }],
        }, Cancel))).Preparation;
        for (var i = 1; i <= 3; i++)
            await bench.Do<RecordAct, RecordAct.Outcome>(u => u.Handle(new RecordAct.Command { Preparation = id, Ordinal = i }, Cancel));
        return await Water(bench, Assert.IsType<FinishPreparation.Outcome.Finished>(await bench.Do<FinishPreparation, FinishPreparation.Outcome>(u => u.Handle(new FinishPreparation.Command { Preparation = id }, Cancel))).Water);
    }

    private static async Task<ReferenceWaterView> Water(TestBench bench, Guid id) => (await bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(id, Cancel)))!;

    [Theory, ClassData(typeof(BothStores))]
    public async Task Water_from_a_bottle_of_two_analytes_is_known_for_both_and_stands_once_on_the_shelf(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var stock = await Stock(bench);
        Assert.IsType<AddStockValue.Outcome.Added>(await Value(bench, stock));
        var with = await Bench(bench);
        var nitrate = await Make(bench, stock, with);
        var further = Assert.Single(nitrate.Further);
        var phosphate = await Water(bench, further.Id);

        Assert.Equal(2, nitrate.Known.Value, 1e-9);
        Assert.Equal(0.1, phosphate.Known.Value, 1e-9);
        Assert.Equal("Phosphate", phosphate.ParameterName);
        Assert.Equal((nitrate.Code, nitrate.Id), (phosphate.Code, phosphate.Bottle));
        // by hand: certificates of their own; pipette, its delivery and the flask in common
        double s3 = Math.Sqrt(3), common = Math.Pow(0.008 / s3, 2) + 0.003 * 0.003 + Math.Pow(0.25 / 500 / s3, 2);
        Assert.Equal(2 * 0.1 * common, Estimate.Covariance(nitrate.Known, phosphate.Known), 1e-9);
        Assert.Equal(0.01 / s3 * 0.1, Math.Abs(phosphate.Known.Contributions.Single(c => c.Source.Name == "mix 3 phosphate, certificate 26-0501").Value), 1e-9);
        // phosphate loses more in a day than nitrate and keeps three days, nitrate seven (domain table, common practice)
        Assert.Equal((new NodaTime.LocalDate(2026, 9, 10), new NodaTime.LocalDate(2026, 9, 6)), (nitrate.UseBy!.Value, phosphate.UseBy!.Value));
        Assert.Contains("phosphate 0.1000 +/- 0.00", nitrate.LabelText, StringComparison.Ordinal);

        // what is drawn of one value is drawn of the bottle; off the shelf they go together and come back together
        await bench.Do<DrawFromShelf, DrawFromShelf.Outcome>(u => u.Handle(new DrawFromShelf.Command { Bottle = phosphate.Id, Amount = "100" }, Cancel));
        Assert.Equal("about 400\u00a0mL left", (await Water(bench, nitrate.Id)).LeftWords);
        Assert.Single(await bench.Do<ListStocks, IReadOnlyList<StockView>>(u => u.Handle(Cancel)));
        var removed = Assert.IsType<RemoveReferenceWater.Outcome.Removed>(await bench.Do<RemoveReferenceWater, RemoveReferenceWater.Outcome>(u => u.Handle(new RemoveReferenceWater.Command { Water = phosphate.Id, Reason = "spilt" }, Cancel)));
        Assert.Empty(await bench.Do<ListReferenceWaters, IReadOnlyList<ReferenceWaterView>>(u => u.Handle(new ListReferenceWaters.Query(), Cancel)));
        await bench.Do<Records.History.Undo, Records.History.Undo.Outcome>(u => u.Handle(new Records.History.Undo.Command { Entry = removed.HistoryEntry }, Cancel));
        Assert.Equal(2, (await bench.Do<ListReferenceWaters, IReadOnlyList<ReferenceWaterView>>(u => u.Handle(new ListReferenceWaters.Query(), Cancel))).Count);

        // and as it is it is known for both too
        var poured = Assert.IsType<PourAsItIs.Outcome.Poured>(await bench.Do<PourAsItIs, PourAsItIs.Outcome>(u => u.Handle(new PourAsItIs.Command { Stock = stock, Matrix = Quantities.Matrix.FreshWater }, Cancel)));
        Assert.Equal("Phosphate", Assert.Single((await Water(bench, poured.Water)).Further).ParameterName);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_further_value_that_cannot_be_one_is_refused(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var stock = await Stock(bench, companions: "ammonia 450 mg/L NH3-N");
        IReadOnlyList<FieldFault> Faults(AddStockValue.Outcome o) => Assert.IsType<AddStockValue.Outcome.Refused>(o).Faults;
        Assert.Contains("already", Plans.Only(Faults(await Value(bench, stock, "nitrate", "mg/L NO3")), "Parameter").Sentence, StringComparison.Ordinal);
        Assert.Equal("Known", Plans.Only(Faults(await Value(bench, stock, known: "")), "Known").Field);
        Assert.Equal("Doubt", Plans.Only(Faults(await Value(bench, stock, doubt: "")), "Doubt").Field);
        Assert.Equal("Known", Plans.Only(Faults(await Value(bench, stock, known: "0", doubt: "0.1")), "Known").Field);
        Assert.Equal("Form", Plans.Only(Faults(await Value(bench, stock, "ph", "")), "Form").Field);
        Assert.Equal("Stock", Plans.Only(Faults(await Value(bench, Guid.NewGuid())), "Stock").Field);
        Assert.Contains("ammonia", Plans.Only(Faults(await Value(bench, stock, "ammonia", "mg/L NH3-N")), "Parameter").Sentence, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_new_proof_of_a_pipette_offers_the_value_anew_and_old_checks_keep_theirs(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var stock = await Stock(bench);
        await Value(bench, stock);
        var with = await Bench(bench);
        var water = await Make(bench, stock, with);
        Assert.Equal("", water.AnewWords);
        var check = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(new StartCheck.Command { Parameter = "nitrate", Form = "mg/L NO3", Levels = [new LevelEntry { ReferenceWater = water.Id }], ToleranceAbsolute = "0.5", TolerancePercent = "10", Replicates = "3" })).Check;
        Assert.IsType<ReckonAnew.Outcome.Same>(await bench.Do<ReckonAnew, ReckonAnew.Outcome>(u => u.Handle(new ReckonAnew.Command { Water = water.Id }, Cancel)));

        // the worked pipette: mean 0.99656 mL where 1 mL is set, u 0.0013 mL, 0.0018 mL between deliveries (by hand and by python3, see the library's tests)
        var proof = Assert.IsType<StartProof.Outcome.Started>(await bench.Do<StartProof, StartProof.Outcome>(u => u.Handle(new StartProof.Command { Piece = with.Pipette, Balance = with.Balance, Setting = "1", Temperature = "22", Pressure = "1013" }, Cancel))).Proof;
        foreach (var (typed, i) in new[] { "0.992", "0.995", "0.991", "0.994", "0.996", "0.992", "0.994", "0.993", "0.995", "0.991" }.Select((t, i) => (t, i + 1)))
            await bench.Do<KeepWeighing, KeepWeighing.Outcome>(u => u.Handle(new KeepWeighing.Command { Proof = proof, Ordinal = i, Typed = typed }, Cancel));
        bench.Time.Advance(TimeSpan.FromMinutes(30));
        Assert.True(Assert.IsType<FinishProof.Outcome.Finished>(await bench.Do<FinishProof, FinishProof.Outcome>(u => u.Handle(new FinishProof.Command { Proof = proof }, Cancel))).Proves);

        Assert.Equal(2, (await Water(bench, water.Id)).Known.Value, 1e-9);
        Assert.Contains("instead of 2.000", (await Water(bench, water.Id)).AnewWords, StringComparison.Ordinal);
        // both values of the bottle are offered where the pipette is shown
        Assert.Equal(2, (await bench.Do<ViewGlassware, GlasswareView?>(u => u.Handle(with.Pipette, Cancel)))!.Anew.Count);
        var anew = Assert.IsType<ReckonAnew.Outcome.Reckoned>(await bench.Do<ReckonAnew, ReckonAnew.Outcome>(u => u.Handle(new ReckonAnew.Command { Water = water.Id }, Cancel)));
        var after = await Water(bench, water.Id);
        Assert.Equal(2 * 0.996558, after.Known.Value, 1e-5);
        Assert.Equal(0.1 * 0.996558, (await Water(bench, after.Further[0].Id)).Known.Value, 1e-6);
        Assert.True(after.Known.StandardUncertainty < water.Known.StandardUncertainty);
        Assert.Contains(after.Known.Contributions, c => c.Source.Id == SourceIdentity.Of(proof, "bias"));
        Assert.Equal("", after.AnewWords);
        Assert.Empty((await bench.Do<ViewGlassware, GlasswareView?>(u => u.Handle(with.Pipette, Cancel)))!.Anew);
        Assert.Equal(2, (await bench.View(check))!.Levels[0].Plan.Reference.Value, 1e-9);
        // and it can be undone
        await bench.Do<Records.History.Undo, Records.History.Undo.Outcome>(u => u.Handle(new Records.History.Undo.Command { Entry = anew.HistoryEntry }, Cancel));
        Assert.Equal(2, (await Water(bench, water.Id)).Known.Value, 1e-9);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_stock_is_changed_in_place_and_its_waters_follow_only_when_asked(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var stock = await Stock(bench);
        await Value(bench, stock);
        var water = await Make(bench, stock, await Bench(bench));
        var change = new ChangeStock.Command { Stock = stock, Label = "mix 3b", Known = "1010", Doubt = "0.5 %", Origin = Origin.Certificate, OriginDetail = "26-0502", Amount = "250", OpenedOn = "2026-09-02", UseBy = "2026-12-01" };
        Task<ChangeStock.Outcome> Change(ChangeStock.Command command) => bench.Do<ChangeStock, ChangeStock.Outcome>(u => u.Handle(command, Cancel));
        Assert.Equal("Known", Plans.Only(Assert.IsType<ChangeStock.Outcome.Refused>(await Change(change with { Known = "" })).Faults, "Known").Field);
        Assert.Equal("UseBy", Plans.Only(Assert.IsType<ChangeStock.Outcome.Refused>(await Change(change with { UseBy = "2026-09-01" })).Faults, "UseBy").Field);
        Assert.True(Assert.IsType<ChangeStock.Outcome.Changed>(await Change(change)).HasNewValue);
        var view = (await bench.Do<ViewStock, StockView?>(u => u.Handle(stock, Cancel)))!;
        Assert.Equal(("mix 3b", 1010), (view.Label, view.Known.Value));
        Assert.Equal("about 249\u00a0mL left", view.LeftWords);
        Assert.Equal(2, (await Water(bench, water.Id)).Known.Value, 1e-9);
        Assert.StartsWith("2.02", (await Water(bench, water.Id)).AnewWords, StringComparison.Ordinal);
        Assert.False(Assert.IsType<ChangeStock.Outcome.Changed>(await Change(change with { Amount = "200" })).HasNewValue);
        // the further value by its own key
        Assert.True(Assert.IsType<ChangeStock.Outcome.Changed>(await Change(new ChangeStock.Command { Stock = view.Further[0].Id, Known = "49", Doubt = "1 %" })).HasNewValue);
        Assert.StartsWith("49.0", Assert.Single((await bench.Do<ViewStock, StockView?>(u => u.Handle(stock, Cancel)))!.Further).KnownWords, StringComparison.Ordinal);

        var closed = await Stock(bench);
        Assert.IsType<OpenStock.Outcome.Opened>(await bench.Do<OpenStock, OpenStock.Outcome>(u => u.Handle(new OpenStock.Command { Stock = closed }, Cancel)));
        Assert.Contains("Opened 3", (await bench.Do<ViewStock, StockView?>(u => u.Handle(closed, Cancel)))!.DaysWords, StringComparison.Ordinal);
        Assert.IsType<OpenStock.Outcome.Refused>(await bench.Do<OpenStock, OpenStock.Outcome>(u => u.Handle(new OpenStock.Command { Stock = closed }, Cancel)));
        bench.Time.Advance(TimeSpan.FromDays(100));
        Assert.Contains((await bench.Do<Records.Due.ListDue, Records.Due.DueList>(u => u.Handle(Cancel))).Items, i => i.Kind == Records.Due.DueKind.StockPastUse && i.Stock == stock);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_background_read_on_the_analyser_under_check_carries_its_offset_and_the_difference_is_free_of_it(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, _) = await bench.Analyser();
        var method = Assert.IsType<AddMethod.Outcome.Added>(await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(instrument) with { Parameter = "nitrate", Form = "mg/L NO3", RangeLow = "", RangeHigh = "", Resolution = "", ToleranceAbsolute = "0.3", TolerancePercent = "5" }, Cancel))).Method;
        var stock = await Stock(bench);
        var with = await Bench(bench, method);
        var (low, high) = ((await Make(bench, stock, with, "0.5")).Known, (await Make(bench, stock, with, "1")).Known);
        // the tolerance's 0.3 mg/L are the limits of what is known of the offset before the check: 0.3/√3 in 499.5 and 499 of 500 mL
        double Offset(Estimate e) => Math.Abs(e.Contributions.Single(c => c.Source.Name == "offset of the harbour analyser at the background").Value);
        Assert.Equal(0.3 / Math.Sqrt(3) * 499.5 / 500, Offset(low), 1e-9);
        Assert.Equal(0.3 / Math.Sqrt(3) * 499 / 500, Offset(high), 1e-9);
        Assert.Equal(0.3 / Math.Sqrt(3) * 0.5 / 500, Offset(high - low), 1e-9);
        Assert.True((high - low).StandardUncertainty < 0.1 * high.StandardUncertainty);

        // a background that another instrument measured later replaces it, for waters made from then on or reckoned anew
        Assert.IsType<NoteBackground.Outcome.Noted>(await bench.Do<NoteBackground, NoteBackground.Outcome>(u => u.Handle(new NoteBackground.Command
        {
            Water = with.Sea, Parameter = "nitrate", Form = "mg/L NO3", Background = "<0.04", BackgroundOrigin = BackgroundOrigin.AnotherInstrument,
        }, Cancel)));
        var line = Assert.Single((await bench.Do<ListNutrientFree, IReadOnlyList<NutrientFreeView>>(u => u.Handle(Cancel)))[0].Backgrounds);
        Assert.False(line.HidesOffset);
        Assert.DoesNotContain((await Make(bench, stock, with, "0.8")).Known.Contributions, c => c.Source.Name.StartsWith("offset", StringComparison.Ordinal));
        var refused = await bench.Do<NoteBackground, NoteBackground.Outcome>(u => u.Handle(new NoteBackground.Command { Water = with.Sea, Parameter = "phosphate", Form = "mg/L PO4", Background = "0.01", BackgroundDoubt = "0.01", BackgroundOrigin = BackgroundOrigin.AnalyserUnderCheck, BackgroundMethod = method }, Cancel));
        Assert.Equal("BackgroundMethod", Plans.Only(Assert.IsType<NoteBackground.Outcome.Refused>(refused).Faults, "BackgroundMethod").Field);

        Task<ChangeNutrientFree.Outcome> Change(string label, string salinity) => bench.Do<ChangeNutrientFree, ChangeNutrientFree.Outcome>(u => u.Handle(new ChangeNutrientFree.Command { Water = with.Sea, Label = label, Salinity = salinity, Amount = "4 L" }, Cancel));
        Assert.Equal("Salinity", Plans.Only(Assert.IsType<ChangeNutrientFree.Outcome.Refused>(await Change("sea 26-B", "")).Faults, "Salinity").Field);
        Assert.IsType<ChangeNutrientFree.Outcome.Changed>(await Change("sea 26-B", "34"));
        Assert.Equal(("sea 26-B", 34), (await bench.Do<ListNutrientFree, IReadOnlyList<NutrientFreeView>>(u => u.Handle(Cancel))) is [var w] ? (w.Label, w.Salinity) : default);
    }
}
