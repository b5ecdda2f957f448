using Knownwater.Quantities;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Shelf;

public sealed class ShelfTests(PostgresCluster cluster)
{
    private static Task<AddReferenceWater.Outcome> Add(TestBench bench, AddReferenceWater.Command command) => bench.Do<AddReferenceWater, AddReferenceWater.Outcome>(u => u.Handle(command, default));

    private static Task<ReferenceWaterView?> View(TestBench bench, Guid water) => bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(water, default));

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_water_keeps_what_was_typed_and_says_what_it_means(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var view = (await View(bench, await bench.Water()))!;
        Assert.Equal(("7.90", "0.08"), (view.KnownTyped, view.DoubtTyped));
        // Limit to both sides: u = 0.08/√3 (JCGM 100, 4.3.7), at 95 % 1.96 u = 0.0905.
        Assert.Equal("7.900\u00a0±\u00a00.091\u00a0dKH", view.KnownWords);
        Assert.Equal("Seawater, salinity 35", view.MatrixWords);
        Assert.Equal("certificate 26-0417", view.OriginWords);
        Assert.Equal("Made or opened 2\u00a0September, use by 16\u00a0September", view.DaysWords);
        Assert.False(view.PastUseBy);
        Assert.Equal(1, Assert.Single(view.Doubts).Share);
        bench.Time.Advance(TimeSpan.FromDays(14));
        Assert.True((await View(bench, view.Id))!.PastUseBy);
    }

    [Theory]
    [InlineData(DoubtMeaning.HalfWidth, "0.6", 0.34641016151377546)]
    [InlineData(DoubtMeaning.Expanded, "0,6", 0.3)]
    [InlineData(DoubtMeaning.Standard, "0.6", 0.6)]
    [InlineData(DoubtMeaning.Expanded, "5 %", 0.25)]
    [InlineData(DoubtMeaning.Standard, "0", 0)]
    public async Task The_doubt_is_taken_as_it_was_meant(DoubtMeaning meaning, string doubt, double u)
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        var water = await bench.Water(Plans.AlkalinityWater with { Known = "10", Doubt = doubt, DoubtKind = meaning });
        Assert.Equal(u, (await View(bench, water))!.Known.StandardUncertainty, 1e-15);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Faults_stand_beside_their_fields(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var outcome = await Add(bench, Plans.AlkalinityWater with { Label = "", Known = "<0.02", Doubt = "-1", UseBy = "2026-09-01", Salinity = "salty" });
        var faults = Assert.IsType<AddReferenceWater.Outcome.Refused>(outcome).Faults;
        Assert.Equal(["Doubt", "Known", "Label", "Salinity", "UseBy"], faults.Select(f => f.Field).Order(StringComparer.Ordinal));
        Plans.Only(Assert.IsType<AddReferenceWater.Outcome.Refused>(await Add(bench, Plans.AlkalinityWater with { Doubt = "12" })).Faults, "Doubt");
        Plans.Only(Assert.IsType<AddReferenceWater.Outcome.Refused>(await Add(bench, Plans.AlkalinityWater with { Form = "mg/L NO3" })).Faults, "Form");
        Plans.Only(Assert.IsType<AddReferenceWater.Outcome.Refused>(await Add(bench, Plans.AlkalinityWater with { Matrix = Matrix.FreshWater })).Faults, "Salinity");
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_changed_value_is_a_new_source_and_checks_keep_the_former(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var water = await bench.Water();
        var started = Assert.IsType<Records.Checks.StartCheck.Outcome.Started>(await bench.Start(Plans.Alkalinity with { Levels = [new Records.Checks.LevelEntry { ReferenceWater = water }] }));
        var before = (await View(bench, water))!;
        Task<ChangeReferenceWater.Outcome> Change(string label, string known) => bench.Do<ChangeReferenceWater, ChangeReferenceWater.Outcome>(u => u.Handle(new ChangeReferenceWater.Command
        {
            Water = water, Label = label, Parameter = "alkalinity", Form = "dKH", Matrix = Matrix.Seawater, Salinity = "35", Known = known, Doubt = "0.08", Origin = Origin.MakersClaim, OriginDetail = "8 dKH",
        }, default));
        Assert.IsType<ChangeReferenceWater.Outcome.Changed>(await Change("KW-36 b", "7.90"));
        var renamed = (await View(bench, water))!;
        Assert.Equal(before.Known.Contributions[0].Source.Id, renamed.Known.Contributions[0].Source.Id);
        Assert.Equal("the maker’s claim: 8 dKH", renamed.OriginWords);
        await Change("KW-36 b", "8.00");
        var changed = (await View(bench, water))!;
        Assert.Equal(8, changed.Known.Value);
        Assert.NotEqual(before.Known.Contributions[0].Source.Id, changed.Known.Contributions[0].Source.Id);
        Assert.Equal(7.9, (await bench.View(started.Check))!.Levels[0].Plan.Reference.Value);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_water_known_in_another_form_is_converted_with_its_doubt(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var water = await bench.Water(new AddReferenceWater.Command { Label = "N-1", Parameter = "nitrate", Form = "mg/L NO3-N", Matrix = Matrix.Seawater, Known = "2.26", Doubt = "0.02", DoubtKind = DoubtMeaning.Expanded });
        var started = await bench.Start(new Records.Checks.StartCheck.Command { Parameter = "nitrate", Form = "mg/L NO3", Levels = [new Records.Checks.LevelEntry { ReferenceWater = water }], Replicates = "3" });
        var known = (await bench.View(Assert.IsType<Records.Checks.StartCheck.Outcome.Started>(started).Check))!.Levels[0].Plan.Reference;
        // NO3 = 4.42664 × NO3-N, IUPAC 2021 abridged weights (conversion_factors.csv).
        Assert.Equal(2.26 * 4.42664, known.Value, 1e-4);
        Assert.Equal(0.01 * 4.42664, known.StandardUncertainty, 1e-5);
        Assert.Equal((await View(bench, water))!.Known.Contributions[0].Source.Id, known.Contributions[0].Source.Id);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_shelf_lists_by_parameter_and_a_removed_water_is_gone_from_it(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var water = await bench.Water();
        await bench.Water(new AddReferenceWater.Command { Label = "N-1", Parameter = "nitrate", Matrix = Matrix.Seawater, Known = "10", Doubt = "0.1" });
        Task<IReadOnlyList<ReferenceWaterView>> List(string? parameter) => bench.Do<ListReferenceWaters, IReadOnlyList<ReferenceWaterView>>(u => u.Handle(new ListReferenceWaters.Query(parameter), default));
        Assert.Equal(2, (await List(null)).Count);
        Assert.Equal("KW-36", Assert.Single(await List("alkalinity")).Label);
        Assert.IsType<RemoveReferenceWater.Outcome.Removed>(await bench.Do<RemoveReferenceWater, RemoveReferenceWater.Outcome>(u => u.Handle(new RemoveReferenceWater.Command { Water = water, Reason = "used up" }, default)));
        Assert.Equal("N-1", Assert.Single(await List(null)).Label);
        Assert.Null(await View(bench, water));
    }
}
