using Knownwater.Preparation;
using Knownwater.Records.Checks;
using Knownwater.Records.Due;
using Knownwater.Records.History;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Records.Tests.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tests.Shelf;

/// <summary>Codes, what is left in a bottle, and what ends today.</summary>
public sealed class AmountTests(PostgresCluster cluster)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static async Task<string> Left(TestBench bench, Guid water) => (await View(bench, water)).LeftWords.Replace('\u00a0', ' ');

    private static async Task<ReferenceWaterView> View(TestBench bench, Guid water) => (await bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(water, Cancel)))!;

    private static Task<ShelfView> Shelf(TestBench bench) => bench.Do<ViewShelf, ShelfView>(u => u.Handle(Cancel));

    private static Task<DrawFromShelf.Outcome> Use(TestBench bench, Guid bottle, string amount, Guid? request = null) =>
        bench.Do<DrawFromShelf, DrawFromShelf.Outcome>(u => u.Handle(new DrawFromShelf.Command { Bottle = bottle, Amount = amount, Who = "MJ", RequestId = request }, Cancel));

    private static Task<Undo.Outcome> TakeBack(TestBench bench, Guid entry) => bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = entry }, Cancel));

    private static async Task<Guid> Stock(TestBench bench, string known = "1000", string parameter = "nitrate", string form = "mg/L NO3", string useBy = "", string openedOn = "") =>
        Assert.IsType<AddStock.Outcome.Added>(await bench.Do<AddStock, AddStock.Outcome>(u => u.Handle(new AddStock.Command
        {
            Label = $"stock {known}", Parameter = parameter, Form = form, Known = known, Doubt = "0.5 %", DoubtKind = DoubtMeaning.HalfWidth, Origin = Origin.Certificate, OriginDetail = "26-0501", Amount = "100", UseBy = useBy, OpenedOn = openedOn,
        }, Cancel))).Stock;

    /// <summary>A water made of one millilitre of a stock in a flask of 500 mL.</summary>
    private static async Task<Guid> Make(TestBench bench, Guid stock, string label)
    {
        var sea = Assert.IsType<AddNutrientFree.Outcome.Added>(await bench.Do<AddNutrientFree, AddNutrientFree.Outcome>(u => u.Handle(new AddNutrientFree.Command { Label = "sea 26-A", Kind = NutrientFreeKind.BoughtSeawater, Salinity = "35", Amount = "5 L" }, Cancel))).Water;
        async Task<Guid> Piece(AddGlassware.Command command) => Assert.IsType<AddGlassware.Outcome.Added>(await bench.Do<AddGlassware, AddGlassware.Outcome>(u => u.Handle(command, Cancel))).Piece;
        var pipette = await Piece(new AddGlassware.Command { Name = "P1", Kind = GlasswareKind.PistonPipette, Nominal = "1", Least = "0.1", Tolerance = "0.008", Repeatability = "0.003" });
        var flask = await Piece(new AddGlassware.Command { Name = "F500", Kind = GlasswareKind.Flask, Nominal = "500", Tolerance = "0.25" });
        var plan = Assert.IsType<PlanPreparation.Outcome.Planned>(await bench.Do<PlanPreparation, PlanPreparation.Outcome>(u => u.Handle(new PlanPreparation.Command
        {
            Label = label, Stock = stock, Water = sea, Mixing = "0.2", Temperature = "22", Steps = [new PlanPreparation.StepEntry { Aliquot = "1", With = pipette, Made = "500", IsTotal = true, In = flask }],
        }, Cancel))).Preparation;
        for (var i = 1; i <= 3; i++)
            Assert.IsType<RecordAct.Outcome.Recorded>(await bench.Do<RecordAct, RecordAct.Outcome>(u => u.Handle(new RecordAct.Command { Preparation = plan, Ordinal = i }, Cancel)));
        return Assert.IsType<FinishPreparation.Outcome.Finished>(await bench.Do<FinishPreparation, FinishPreparation.Outcome>(u => u.Handle(new FinishPreparation.Command { Preparation = plan }, Cancel))).Water;
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_code_counts_up_is_found_again_and_never_given_twice(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var first = await bench.Water();
        var second = await bench.Water();
        var stock = await Stock(bench);
        Assert.Equal(("KW-1", "KW-2"), ((await View(bench, first)).Code, (await View(bench, second)).Code));
        Task<FindByCode.Found?> Find(string code) => bench.Do<FindByCode, FindByCode.Found?>(u => u.Handle(code, Cancel));
        Assert.Equal(second, (await Find(" kw-2 "))!.Water);
        // what the square code holds finds it as well
        Assert.Equal(second, (await Find((await View(bench, second)).LabelText))!.Water);
        Assert.Equal(stock, (await Find("S-1"))!.Stock);
        Assert.Null(await Find("KW-3"));
        Assert.Null(await Find(""));
        await bench.Do<RemoveReferenceWater, RemoveReferenceWater.Outcome>(u => u.Handle(new RemoveReferenceWater.Command { Water = second, Reason = "empty" }, Cancel));
        Assert.Null(await Find("KW-2"));
        Assert.Equal("KW-3", (await View(bench, await bench.Water())).Code);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Waters_from_before_there_were_codes_get_theirs_when_the_store_is_opened(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var first = await bench.Water();
        bench.Time.Advance(TimeSpan.FromMinutes(1));
        var second = await bench.Water();
        bench.Time.Advance(TimeSpan.FromMinutes(1));
        var third = await bench.Water();
        await using (var records = bench.Store.NewContext())
            await records.Database.ExecuteSqlRawAsync("UPDATE \"ReferenceWaters\" SET \"Code\" = '' WHERE \"Code\" <> 'KW-1'", Cancel);
        await Task.WhenAll(Enumerable.Range(0, 3).Select(_ => RecordsStore.Open(bench.Where, bench.Time, Cancel)));
        Assert.Equal(["KW-1", "KW-2", "KW-3"], [(await View(bench, first)).Code, (await View(bench, second)).Code, (await View(bench, third)).Code]);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_check_draws_its_samples_and_gives_back_what_it_did_not_read(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var water = await bench.Water(Plans.AlkalinityWater with { Amount = "0.1 L" });
        Assert.Equal("about 100 mL left", await Left(bench, water));
        async Task<Guid> Start(int readings) => Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = water }], Replicates = $"{readings}" })).Check;

        // 5 mL a reading
        var check = await Start(6);
        Assert.Equal("about 70 mL left", await Left(bench, water));
        await bench.Do<ChangePlannedReplicates, ChangePlannedReplicates.Outcome>(u => u.Handle(new ChangePlannedReplicates.Command { Check = check, Replicates = "4" }, Cancel));
        Assert.Equal("about 80 mL left", await Left(bench, water));
        await bench.Keep(check, "7.9");
        await bench.Do<StopCheck, StopCheck.Outcome>(u => u.Handle(new StopCheck.Command { Check = check }, Cancel));
        Assert.Equal("about 95 mL left", await Left(bench, water));
        await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { LastActOfCheck = check }, Cancel));
        Assert.Equal("about 80 mL left", await Left(bench, water));

        var other = await Start(3);
        Assert.Equal("about 65 mL left", await Left(bench, water));
        Assert.Equal(2, (await View(bench, water)).Amount.Checks);
        // a start that is undone drew nothing
        await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { LastActOfCheck = other }, Cancel));
        Assert.Equal("about 80 mL left", await Left(bench, water));
        var third = await Start(3);
        await bench.Do<DiscardCheck, DiscardCheck.Outcome>(u => u.Handle(new DiscardCheck.Command { Check = third, Reason = "wrong bottle" }, Cancel));
        Assert.Equal("about 80 mL left", await Left(bench, water));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_was_used_by_hand_is_drawn_once_and_can_be_undone(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var water = await bench.Water(Plans.AlkalinityWater with { Amount = "250" });
        var request = Guid.NewGuid();
        var entry = Assert.IsType<DrawFromShelf.Outcome.Drawn>(await Use(bench, water, "0,02 L", request)).HistoryEntry;
        Assert.IsType<DrawFromShelf.Outcome.Drawn>(await Use(bench, water, "0,02 L", request));
        Assert.Equal("about 230 mL left", await Left(bench, water));
        await TakeBack(bench, entry);
        Assert.Equal("about 250 mL left", await Left(bench, water));
        await Use(bench, water, "230");
        Assert.Contains((await Shelf(bench)).Notes, n => n.Water == water && n.Sentence.Replace('\u00a0', ' ') == "KW-1 KW-36 runs low: about 20 mL left.");
        await Use(bench, water, "20");
        Assert.Equal("empty by the records", await Left(bench, water));
        Assert.Contains((await Shelf(bench)).Notes, n => n.Water == water && n.Sentence == "KW-1 KW-36 is empty by the records.");

        // where nobody said how much there was, nothing is left and nothing is refused
        var unknown = await bench.Water();
        Assert.Equal("", await Left(bench, unknown));
        Assert.IsType<DrawFromShelf.Outcome.Drawn>(await Use(bench, unknown, "5000"));
        Assert.Equal("about 5000 mL used", await Left(bench, unknown));
    }

    [Theory]
    [InlineData("", "How much was used is not said")]
    [InlineData("0", "0")]
    [InlineData("-3", "-3")]
    [InlineData("a drop", "a drop")]
    [InlineData("5 g", "5 g")]
    [InlineData("300", "300 mL is more than the 250 mL that are left by the records")]
    public async Task An_amount_that_cannot_be_is_refused_beside_its_field(string amount, string says)
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var water = await bench.Water(Plans.AlkalinityWater with { Amount = "250" });
        var fault = Plans.Only(Assert.IsType<DrawFromShelf.Outcome.Refused>(await Use(bench, water, amount)).Faults, "Used");
        Assert.Contains(says, fault.Sentence.Replace('\u00a0', ' '), StringComparison.Ordinal);
        Assert.Equal("about 250 mL left", await Left(bench, water));
        Assert.Equal("Bottle", Assert.Single(Assert.IsType<DrawFromShelf.Outcome.Refused>(await Use(bench, Guid.NewGuid(), "1")).Faults).Field);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_preparation_draws_on_its_bottles_and_is_undone_whole(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var stock = await Stock(bench);
        var water = await Make(bench, stock, "nitrate 2");
        Assert.Equal("about 500 mL left", await Left(bench, water));
        var shelf = await Shelf(bench);
        Assert.Equal(99, shelf.Stocks[0].Amount.Left!.Value, 1e-9);
        Assert.Equal(4501, shelf.NutrientFree[0].Amount.Left!.Value, 1e-9);

        // some of the stock is used by hand; then the preparation is undone all the same: each draw stands for itself
        await Use(bench, stock, "10");
        var history = await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query(), Cancel));
        await TakeBack(bench, history.Items.Single(l => l.Sentence.StartsWith("nitrate 2 made", StringComparison.Ordinal)).Id);
        shelf = await Shelf(bench);
        Assert.Empty(shelf.Waters);
        Assert.Equal(90, shelf.Stocks[0].Amount.Left!.Value, 1e-9);
        Assert.Equal(5000, shelf.NutrientFree[0].Amount.Left!.Value, 1e-9);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_stock_that_is_used_as_it_is_is_drawn_down_as_the_stock(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var stock = await Stock(bench, "10");
        var water = Assert.IsType<PourAsItIs.Outcome.Poured>(await bench.Do<PourAsItIs, PourAsItIs.Outcome>(u => u.Handle(new PourAsItIs.Command { Stock = stock, Matrix = Quantities.Matrix.FreshWater }, Cancel))).Water;
        await Use(bench, water, "30");
        await Use(bench, stock, "5");
        Assert.Equal("about 65 mL left", await Left(bench, water));
        Assert.Equal(65, (await Shelf(bench)).Stocks[0].Amount.Left!.Value, 1e-9);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Weak_phosphate_is_to_be_made_again_after_its_hours(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        // 1 mL of 20 mg/L in 500 mL: 0.04 mg/L PO4; weak phosphate water keeps a quarter of a day and loses 5 to 20 % a day (ageing.csv, common practice)
        var water = await Make(bench, await Stock(bench, "20", "phosphate", "mg/L PO4"), "phosphate 0.04");
        var until = bench.Time.GetUtcNow().AddHours(6).UtcDateTime.ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture);
        var view = await View(bench, water);
        Assert.False(view.PastUseBy);
        Assert.Contains($"use by 2026-09-03 {until}", view.LabelText, StringComparison.Ordinal);
        async Task<DueItem> Due() => Assert.Single((await bench.Do<ListDue, DueList>(u => u.Handle(Cancel))).Items, i => i.Kind == DueKind.WaterPastUse);
        var before = await Due();
        Assert.Equal(DueWhen.Soon, before.When);
        Assert.Contains($", {until}.", before.Sentence, StringComparison.Ordinal);

        bench.Time.Advance(TimeSpan.FromHours(6.1));
        Assert.True((await View(bench, water)).PastUseBy);
        var after = await Due();
        Assert.Equal(DueWhen.Now, after.When);
        Assert.StartsWith("Remake KW-1 phosphate 0.04 now: it kept until", after.Sentence, StringComparison.Ordinal);
        Assert.Contains("another 20\u202f% weaker", after.Reason, StringComparison.Ordinal);
        var shelf = await Shelf(bench);
        Assert.Equal(after.Sentence, shelf.Notes[0].Sentence);
        Assert.Equal(view.Preparation, shelf.Notes[0].Again);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_check_that_is_repeated_takes_the_value_of_its_own_day(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var water = await Make(bench, await Stock(bench), "nitrate 2");
        var first = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(new StartCheck.Command { Parameter = "nitrate", Form = "mg/L NO3", Levels = [new LevelEntry { ReferenceWater = water }], ToleranceAbsolute = "0.5", TolerancePercent = "10", Replicates = "3" })).Check;
        bench.Time.Advance(TimeSpan.FromDays(4));
        var second = Assert.IsType<RepeatCheck.Outcome.Started>(await bench.Do<RepeatCheck, RepeatCheck.Outcome>(u => u.Handle(new RepeatCheck.Command { Check = first }, Cancel))).Check;
        var (then, now) = ((await bench.View(first))!.Levels[0].Plan.Reference, (await bench.View(second))!.Levels[0].Plan.Reference);
        // nitrate water: 0 to 0.5 % a day down; a bottle opened daily: 0.01 to 0.05 % a day up (ageing.csv). After four days the middles are −1 % and +0.12 %
        Assert.Equal(then.Value * (1 - 0.01) * (1 + 0.0012), now.Value, 1e-9);
        Assert.Contains(now.Contributions, c => c.Source.Name == "losses in nitrate 2 with age");
        Assert.DoesNotContain(then.Contributions, c => c.Source.Name == "losses in nitrate 2 with age");
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_shelf_says_first_what_is_past_its_date(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        Assert.True((await Shelf(bench)).IsEmpty);
        var old = await bench.Water(Plans.AlkalinityWater with { UseBy = "2026-09-05" });
        var stock = await Stock(bench, useBy: "2026-09-06");
        bench.Time.Advance(TimeSpan.FromDays(4));
        var fresh = await bench.Water(Plans.AlkalinityWater with { Label = "fresh" });
        var shelf = await Shelf(bench);
        Assert.Equal([old, fresh], shelf.Waters.Select(w => w.Id));
        Assert.Equal([old, null], shelf.Notes.Select(n => n.Water));
        Assert.Equal(stock, shelf.Notes[1].Stock);
        Assert.Equal("S-1 stock 1000 is past its date. Open a fresh stock.", shelf.Notes[1].Sentence);
    }
}
