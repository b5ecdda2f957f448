using Knownwater.Preparation;
using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Records.Preparation;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Tests.Shelf;

public sealed class BottleTests(PostgresCluster cluster)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static AddStock.Command Stock(string parameter, string form, string known, string salt = "", string medium = "") => new()
    {
        Label = $"{parameter} stock", Parameter = parameter, Form = form, Known = known, Doubt = "0.5 %", DoubtKind = DoubtMeaning.HalfWidth, Origin = Origin.Certificate, OriginDetail = "26-0501", Salt = salt, MediumKind = medium,
    };

    private static async Task<StockView> Add(TestBench bench, AddStock.Command command)
    {
        var id = Assert.IsType<AddStock.Outcome.Added>(await bench.Do<AddStock, AddStock.Outcome>(u => u.Handle(command, Cancel))).Stock;
        return (await bench.Do<ViewStock, StockView?>(u => u.Handle(id, Cancel)))!;
    }

    private static async Task<IReadOnlyList<FieldFault>> Refused(TestBench bench, AddStock.Command command) =>
        Assert.IsType<AddStock.Outcome.Refused>(await bench.Do<AddStock, AddStock.Outcome>(u => u.Handle(command, Cancel))).Faults;

    private static async Task<Guid> Piece(TestBench bench, AddGlassware.Command command) =>
        Assert.IsType<AddGlassware.Outcome.Added>(await bench.Do<AddGlassware, AddGlassware.Outcome>(u => u.Handle(command, Cancel))).Piece;

    private static async Task<WeighStock.Command> Weighing(TestBench bench) => new()
    {
        Label = "KNO3-1", Parameter = "nitrate", Form = "mg/L NO3", Salt = "KNO3", Mass = "1,6306", Purity = "99.5", PurityDoubt = "0.5", Volume = "1 L",
        Balance = await Piece(bench, new AddGlassware.Command { Name = "balance", Kind = GlasswareKind.Balance, Tolerance = "0.001", Readability = "0.0001" }),
        Flask = await Piece(bench, new AddGlassware.Command { Name = "F1000", Kind = GlasswareKind.Flask, Nominal = "1000", Tolerance = "0.4" }),
    };

    // commercial_standard_media.csv: potassium nitrate in nitric acid 2 % v/v, 1000 mg/L K: 20.72 mg/L NO3 and -0.3086 meq/L from 1 mL in 1 L
    [Theory, ClassData(typeof(BothStores))]
    public async Task What_salt_and_medium_bring_is_reckoned_and_kept(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var stock = await Add(bench, Stock("potassium", "mg/L K", "1000", "KNO3", "nitric-2"));
        Assert.Equal(20720, stock.Companions.Single(c => c.Form.Text == "mg/L NO3").PerLitreOfStock, 10.0);
        Assert.Equal(-308.6, stock.Companions.Single(c => c.Form.Text == "meq/L").PerLitreOfStock, 0.1);
        Assert.Equal(["nitrate", "alkalinity", "pH"], stock.Spoils);
        Assert.Equal("KNO₃ in nitric acid 2 % v/v", stock.Medium);
        // what is typed outranks what is reckoned
        var typed = await Add(bench, Stock("potassium", "mg/L K", "1000", "KNO3", "nitric-2") with { Companions = "nitrate 19000 mg/L NO3" });
        Assert.Equal(19000, typed.Companions.Single(c => c.Form.Text == "mg/L NO3").PerLitreOfStock);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_medium_of_one_s_own_is_typed_in_moles(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var stock = await Add(bench, Stock("calcium", "mg/L Ca", "1000", "CaCl2", "other") with { MediumFormula = "HCl", MediumStrength = "0,1" });
        // the same row as calcium carbonate in 0.1 mol/L of free hydrochloric acid: 5.314 mg/L Cl from 1 mL in 1 L
        Assert.Equal(5314, stock.Companions.Single(c => c.Form.Text == "mg/L Cl").PerLitreOfStock, 3.0);
        Assert.Equal(["alkalinity", "pH"], stock.Spoils);
        Assert.Contains(await Refused(bench, Stock("calcium", "mg/L Ca", "1000", "CaCl2", "other")), f => f.Field == "MediumStrength");
        Assert.Contains(await Refused(bench, Stock("calcium", "mg/L Ca", "1000", "CaCl2", "other") with { MediumStrength = "0.1" }), f => f.Field == "MediumFormula");
        Assert.Contains(await Refused(bench, Stock("calcium", "mg/L Ca", "1000", "KNO3", "water")), f => f.Field == "Salt" && f.Sentence.Contains("holds no Ca", StringComparison.Ordinal));
        Assert.Contains(await Refused(bench, Stock("calcium", "mg/L Ca", "1000", "Xq", "water")), f => f.Field == "Salt");
        Assert.Contains(await Refused(bench, Stock("calcium", "mg/L Ca", "20000") with { Companions = "sulfate 48000 mg/L SO4" }), f => f.Field == "Companions" && f.Sentence.Contains("gypsum", StringComparison.Ordinal));
    }

    // 1.6306 g of KNO3 in 1 L is 1000 mg/L (stocks.csv); at 99.5 % it is 995.0
    [Theory, ClassData(typeof(BothStores))]
    public async Task A_weighed_salt_becomes_a_stock_with_its_balance_and_flask(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var command = await Weighing(bench);
        var id = Assert.IsType<WeighStock.Outcome.Made>(await bench.Do<WeighStock, WeighStock.Outcome>(u => u.Handle(command, Cancel))).Stock;
        var stock = (await bench.Do<ViewStock, StockView?>(u => u.Handle(id, Cancel)))!;
        Assert.Equal(995.0, stock.Known.Value, 0.05);
        // by hand, relative: purity 0.005/0.995/√3, balance 0.001/1.6306/√3 and two readings of 0.1 mg, flask 0.0004/√3
        var u = Math.Sqrt((Math.Pow(0.005 / 0.995, 2) + Math.Pow(0.001 / 1.6306, 2) + Math.Pow(0.0004, 2)) / 3 + Math.Pow(0.0001 / 1.6306, 2) / 6);
        Assert.Equal(u, stock.Known.StandardUncertainty / stock.Known.Value, 1e-9);
        Assert.Contains(stock.Known.Contributions, c => c.Source.Name.StartsWith("F1000", StringComparison.Ordinal));
        Assert.Contains(stock.Companions, c => c.Form.Text == "mg/L K");
        Assert.Equal("about 1000\u00a0mL left", stock.LeftWords);
        // 180 days from the third of September
        Assert.Contains("2\u00a0March", stock.DaysWords, StringComparison.Ordinal);
        // a second stock from the same balance and flask shares them, and its purity is its own
        var other = Assert.IsType<WeighStock.Outcome.Made>(await bench.Do<WeighStock, WeighStock.Outcome>(x => x.Handle(command with { Label = "KNO3-2" }, Cancel))).Stock;
        var second = (await bench.Do<ViewStock, StockView?>(x => x.Handle(other, Cancel)))!;
        var shared = (Math.Pow(0.001 / 1.6306, 2) + Math.Pow(0.0004, 2)) / 3 * stock.Known.Value * second.Known.Value;
        Assert.Equal(shared, Estimate.Covariance(stock.Known, second.Known), 1e-6 * shared);
    }

    [Theory]
    [InlineData("NaNO2", "nitrite", "mg/L NO2", "1.5", "not weighed at home")]
    [InlineData("KNO3", "nitrate", "mg/L NO3", "400", "does not dissolve to 400 g/L")]
    [InlineData("KCl", "nitrate", "mg/L NO3", "1", "holds no N")]
    [InlineData("Kn", "nitrate", "mg/L NO3", "1", "not a formula")]
    [InlineData("", "nitrate", "mg/L NO3", "1", "Which salt")]
    public async Task A_salt_that_does_not_do_is_refused_beside_its_field(string salt, string parameter, string form, string mass, string says)
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var command = await Weighing(bench) with { Salt = salt, Parameter = parameter, Form = form, Mass = mass };
        var refused = Assert.IsType<WeighStock.Outcome.Refused>(await bench.Do<WeighStock, WeighStock.Outcome>(u => u.Handle(command, Cancel)));
        Assert.Contains(refused.Faults, f => f.Field == "Salt" && f.Sentence.Contains(says, StringComparison.Ordinal));
        Assert.Empty(await bench.Do<ListStocks, IReadOnlyList<StockView>>(u => u.Handle(Cancel)));
    }

    [Fact]
    public async Task What_is_missing_in_a_weighing_is_said_beside_its_field()
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var command = await Weighing(bench);
        async Task<IReadOnlyList<FieldFault>> Faults(WeighStock.Command c) => Assert.IsType<WeighStock.Outcome.Refused>(await bench.Do<WeighStock, WeighStock.Outcome>(u => u.Handle(c, Cancel))).Faults;
        Assert.Contains(await Faults(command with { Mass = "" }), f => f.Field == "Mass");
        Assert.Contains(await Faults(command with { Volume = "0" }), f => f.Field == "Volume");
        Assert.Contains(await Faults(command with { Balance = command.Flask }), f => f.Field == "Balance" && f.Sentence.Contains("F1000 is no balance", StringComparison.Ordinal));
        Assert.Contains(await Faults(command with { Flask = null }), f => f.Field == "Flask");
        Assert.Contains(await Faults(command with { Purity = "99.8" }), f => f.Field == "PurityDoubt");
        Assert.Contains(await Faults(command with { MadeOn = "2027-01-01" }), f => f.Field == "MadeOn");
        Assert.Contains(await Faults(command with { Volume = "500" }), f => f.Field == "Salt" && f.Sentence.Contains("1000 mL", StringComparison.Ordinal));
    }

    // ready-to-use phosphate 1 mg/L, opened ten days ago: 0.5 to 3 % a day below 100 mg/L in pure water, so 5 to 30 % are gone; what a check takes is the middle, and the loss is the stock's own
    [Theory, ClassData(typeof(BothStores))]
    public async Task A_bottle_used_as_it_is_ages_since_it_was_opened(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var stock = await Add(bench, Stock("phosphate", "mg/L PO4", "1") with { OpenedOn = "2026-08-24" });
        Assert.Contains("loses 0.5 to 3\u202f% a day", stock.AgeWords, StringComparison.Ordinal);
        var water = Assert.IsType<PourAsItIs.Outcome.Poured>(await bench.Do<PourAsItIs, PourAsItIs.Outcome>(u => u.Handle(new PourAsItIs.Command { Stock = stock.Id, Matrix = Matrix.FreshWater }, Cancel))).Water;
        var view = (await bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(water, Cancel)))!;
        Assert.Equal(1, view.Known.Value);
        Assert.StartsWith("0.83", view.TodayWords, StringComparison.Ordinal);
        var check = Assert.IsType<StartCheck.Outcome.Started>(await bench.Do<StartCheck, StartCheck.Outcome>(u => u.Handle(new StartCheck.Command
        {
            Parameter = "phosphate", Form = "mg/L PO4", ToleranceAbsolute = "0.05", TolerancePercent = "30", Replicates = "3", AutomationPaused = true, Levels = [new LevelEntry { ReferenceWater = water }],
        }, Cancel))).Check;
        var known = (await bench.Do<ViewCheck, CheckView?>(u => u.Handle(check, Cancel)))!.Levels[0].Plan.Reference;
        Assert.Equal((1 - 0.175) * (1 + 0.00055), known.Value, 1e-9);
        Assert.Equal(SourceIdentity.Of(stock.Id, "losses"), known.LargestSource!.Value.Source.Id);
    }

    // a nitrate stock opened 100 days ago: up to 0.5 % weaker, up to 1 % stronger by evaporation (0.001 to 0.01 % a day): middle −0.25 + 0.55 %
    [Fact]
    public async Task A_stock_that_stood_open_for_long_gives_what_is_left_in_it()
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var stock = await Add(bench, Stock("nitrate", "mg/L NO3", "1000", "KNO3", "water") with { OpenedOn = "2026-05-26" });
        Assert.Equal(1000, stock.Known.Value);
        var sea = Assert.IsType<AddNutrientFree.Outcome.Added>(await bench.Do<AddNutrientFree, AddNutrientFree.Outcome>(u => u.Handle(new AddNutrientFree.Command { Label = "sea", Salinity = "35" }, Cancel))).Water;
        var pipette = await Piece(bench, new AddGlassware.Command { Name = "P1", Kind = GlasswareKind.PistonPipette, Nominal = "1", Tolerance = "0.008" });
        var flask = await Piece(bench, new AddGlassware.Command { Name = "F1000", Kind = GlasswareKind.Flask, Nominal = "1000", Tolerance = "0.4" });
        var (view, _) = await bench.Do<PlanPreparation, (PreparationView?, IReadOnlyList<FieldFault>)>(u => u.Look(new PlanPreparation.Command
        {
            Stock = stock.Id, Water = sea, Steps = [new PlanPreparation.StepEntry { Aliquot = "1", With = pipette, Made = "1000", IsTotal = true, In = flask }],
        }, Cancel));
        Assert.StartsWith("1.003", view!.ValueWords, StringComparison.Ordinal);
        Assert.Contains(view.Doubts, d => d.Source.Contains("losses in nitrate stock", StringComparison.Ordinal));
    }

    // seawater_recipe.csv, rounded recipe: 24.0 g of NaCl in a kilogram of 35.099 g of salts without their water, salinity 35.099/1.004715 = 34.934; 2 · 24.0 · 34.9/34.934 = 47.95
    [Fact]
    public async Task Seawater_is_weighed_out_in_order()
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        Task<(SeawaterMixView?, IReadOnlyList<FieldFault>)> Mix(MixSeawater.Query query) => bench.Do<MixSeawater, (SeawaterMixView?, IReadOnlyList<FieldFault>)>(u => u.Handle(query, Cancel));
        var (view, faults) = await Mix(new MixSeawater.Query { Recipe = "simplified", Amount = "2", IsKilograms = true, Salinity = "34.9" });
        Assert.Empty(faults);
        Assert.Equal("47.95\u00a0g", view!.Acts.Single(a => a.Act.StartsWith("Sodium chloride", StringComparison.Ordinal)).MassWords);
        Assert.StartsWith("Sodium hydrogen carbonate", view.Acts.Last(a => a.MassWords.Length > 0).Act, StringComparison.Ordinal);
        (view, _) = await Mix(new MixSeawater.Query { Recipe = "kester-1967", Amount = "5", Salinity = "35", MatchedFor = MatchedFor.Alkalinity });
        Assert.DoesNotContain(view!.Acts, a => a.Act.StartsWith("Sodium hydrogen carbonate", StringComparison.Ordinal));
        Assert.NotEmpty(view.LeftOut);
        Assert.Contains((await Mix(new MixSeawater.Query { Recipe = "none", Amount = "5", Salinity = "35" })).Item2, f => f.Field == "recipe");
        Assert.Contains((await Mix(new MixSeawater.Query { Recipe = "simplified", Amount = "0", Salinity = "35" })).Item2, f => f.Field == "amount");
        Assert.Contains((await Mix(new MixSeawater.Query { Recipe = "simplified", Amount = "5000", Salinity = "35" })).Item2, f => f.Field == "amount" && f.Sentence.Contains("1000 kg", StringComparison.Ordinal));
        Assert.Contains((await Mix(new MixSeawater.Query { Recipe = "simplified", Amount = "5", Salinity = "60" })).Item2, f => f.Field == "salinity");
    }
}
