using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Checks;

public sealed class CheckLifeTests(PostgresCluster cluster)
{
    // Phosphate at 0.100 ± 0.006 mg/L, tolerance 0.03 mg/L + 10 %: three readings of sd 0.01 leave a half-width of about 0.04.
    private static readonly StartCheck.Command Phosphate = new()
    {
        Parameter = "phosphate",
        Form = "mg/L PO4",
        Levels = [new LevelEntry { Known = "0.100", Doubt = "0.006" }],
        ToleranceAbsolute = "0.03",
        TolerancePercent = "10",
        Replicates = "3",
        ExtensionDeclared = true,
        MinutesPerReading = "12",
    };

    private static async Task<Guid> CannotTell(TestBench bench, bool extension)
    {
        var check = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(Phosphate with { ExtensionDeclared = extension })).Check;
        await bench.Keep(check, "0.12");
        await bench.Keep(check, "0.10");
        Assert.Equal(extension, Assert.IsType<KeepReading.Outcome.CheckClosed>(await bench.Keep(check, "0.11")).CanExtend);
        return check;
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_declared_extension_is_taken_once_where_it_cannot_tell(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        Task<ExtendCheck.Outcome> Extend(Guid id) => bench.Do<ExtendCheck, ExtendCheck.Outcome>(u => u.Handle(new ExtendCheck.Command { Check = id }, default));
        var check = await CannotTell(bench, extension: true);
        var before = (await bench.View(check))!;
        Assert.Equal(Verdict.CannotTell, before.Verdict);
        Assert.True(before.CanExtend);
        Assert.Equal(0.975, before.Levels[0].Judgement!.Bias.Coverage);
        var extended = Assert.IsType<ExtendCheck.Outcome.Extended>(await Extend(check));
        Assert.Equal(before.Levels[0].Judgement!.Remedy!.Readings, extended.More);
        var open = (await bench.View(check))!;
        Assert.Equal(CheckState.Open, open.State);
        Assert.Null(open.Levels[0].Judgement);
        Assert.Equal(3 + extended.More, open.Levels[0].Planned);
        for (var i = 0; i < extended.More; i++)
            await bench.Keep(check, i % 2 == 0 ? "0.11" : "0.12");
        var after = (await bench.View(check))!;
        Assert.Equal(CheckState.Closed, after.State);
        Assert.False(after.CanExtend);
        Assert.Equal(0.975, after.Levels[0].Judgement!.Bias.Coverage);
        Assert.Contains("taken already", Plans.Only(Assert.IsType<ExtendCheck.Outcome.Refused>(await Extend(check)).Faults, "").Sentence, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Without_declaration_there_is_no_extension(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await CannotTell(bench, extension: false);
        var outcome = await bench.Do<ExtendCheck, ExtendCheck.Outcome>(u => u.Handle(new ExtendCheck.Command { Check = check }, default));
        Assert.Contains("new check that stands alone", Plans.Only(Assert.IsType<ExtendCheck.Outcome.Refused>(outcome).Faults, "").Sentence, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Stopping_here_renounces_the_extension_and_stopping_early_leaves_no_verdict(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        Task<StopCheck.Outcome> Stop(Guid id) => bench.Do<StopCheck, StopCheck.Outcome>(u => u.Handle(new StopCheck.Command { Check = id, Reason = "out of reagent" }, default));
        var check = await CannotTell(bench, extension: true);
        Assert.IsType<StopCheck.Outcome.Stopped>(await Stop(check));
        Assert.False((await bench.View(check))!.CanExtend);
        Assert.Equal(Verdict.CannotTell, (await bench.View(check))!.Verdict);

        var early = await bench.Alkalinity();
        await bench.Keep(early, "8.6");
        Assert.Equal("Check stopped after 1 of five readings: out of reagent.", Assert.IsType<StopCheck.Outcome.Stopped>(await Stop(early)).Sentence);
        var view = (await bench.View(early))!;
        Assert.Equal(CheckState.Stopped, view.State);
        Assert.Null(view.Verdict);
        Assert.Null(view.Levels[0].Judgement);
        Assert.Null(view.CurrentLevel);
        Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(early, "8.7"));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Describing_keeps_the_check_and_traces_it_down_to_the_certificate(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var lot = Assert.IsType<OpenLot.Outcome.Opened>(await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-19" }, default))).Lot;
        await bench.Do<RecordSetting, RecordSetting.Outcome>(u => u.Handle(new RecordSetting.Command { Instrument = instrument, What = "factor", Old = "1.00", New = "1.04", Why = "after service" }, default));
        var check = await bench.Alkalinity(Plans.High);
        Assert.False((await bench.View(check))!.Kept);
        var command = new DescribeCheck.Command
        {
            Check = check,
            Method = method,
            Lots = [lot],
            Salinity = "35",
            Temperature = "24",
            Who = "MJ",
            Notes = "hand-fed",
            Origins = [new LevelOrigin { Level = 1, Origin = Origin.Certificate, OriginDetail = "26-0417", Label = "KW-36", MadeOn = "2026-09-02" }],
        };
        Assert.IsType<DescribeCheck.Outcome.Described>(await bench.Do<DescribeCheck, DescribeCheck.Outcome>(u => u.Handle(command, default)));
        var view = (await bench.View(check))!;
        Assert.True(view.Kept);
        Assert.Equal("Alkalinity on the harbour analyser", view.Title);
        Assert.Equal(Matrix.Seawater, view.Matrix);
        Assert.Equal("KW-36", view.Levels[0].Water!.Label);
        Assert.Contains(new NumberLine("Traceable to", "certificate 26-0417"), view.Levels[0].Trace);
        Assert.Contains(new NumberLine("Reagent lot", "A-19"), view.Trace);
        Assert.Contains(view.Trace, t => t.Term == "Factor" && t.Value.StartsWith("1.04", StringComparison.Ordinal));
        Assert.Contains("salinity 35", view.Levels[0].Statement!, StringComparison.Ordinal);
        Assert.Contains("A-19", view.Levels[0].Statement!, StringComparison.Ordinal);

        // The water stands on the shelf and shares the source of the level.
        var water = (await bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(view.Levels[0].Water!.Id, default)))!;
        Assert.Equal(view.Levels[0].Plan.Reference.Contributions[0].Source.Id, water.Known.Contributions[0].Source.Id);
        Assert.Equal(check, Assert.Single(water.Checks).Id);

        // Said again, it changes the same bottle.
        await bench.Do<DescribeCheck, DescribeCheck.Outcome>(u => u.Handle(command with { Lots = [], Origins = [command.Origins[0] with { Label = "KW-37" }] }, default));
        var again = (await bench.View(check))!;
        Assert.Empty(again.Lots);
        Assert.Equal("KW-37", Assert.Single(await bench.Do<ListReferenceWaters, IReadOnlyList<ReferenceWaterView>>(u => u.Handle(new ListReferenceWaters.Query(), default))).Label);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Describing_with_the_other_matrix_than_the_methods_is_refused(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var check = await bench.Alkalinity(Plans.High);
        var outcome = await bench.Do<DescribeCheck, DescribeCheck.Outcome>(u => u.Handle(new DescribeCheck.Command { Check = check, Method = method, Matrix = Matrix.FreshWater }, default));
        Assert.Equal("This water is fresh, the method is for seawater. Choose another water, or another method.", Plans.Only(Assert.IsType<DescribeCheck.Outcome.Refused>(outcome).Faults, "Matrix").Sentence);
        Assert.False((await bench.View(check))!.Kept);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Discarding_needs_a_reason_and_can_be_undone(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(Plans.High);
        Task<DiscardCheck.Outcome> Discard(string reason) => bench.Do<DiscardCheck, DiscardCheck.Outcome>(u => u.Handle(new DiscardCheck.Command { Check = check, Reason = reason }, default));
        Plans.Only(Assert.IsType<DiscardCheck.Outcome.Refused>(await Discard("")).Faults, "Reason");
        var entry = Assert.IsType<DiscardCheck.Outcome.Discarded>(await Discard("wrong bottle")).HistoryEntry;
        Assert.Null(await bench.View(check));
        Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(check, "8.6"));
        Assert.IsType<Undo.Outcome.Undone>(await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = entry }, default)));
        Assert.Equal(Verdict.ReadsHigh, (await bench.View(check))!.Verdict);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Repeating_starts_a_new_check_by_the_same_plan(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(Plans.High, extension: true);
        bench.Time.Advance(TimeSpan.FromDays(1));
        var again = Assert.IsType<RepeatCheck.Outcome.Started>(await bench.Do<RepeatCheck, RepeatCheck.Outcome>(u => u.Handle(new RepeatCheck.Command { Check = check }, default))).Check;
        Assert.NotEqual(check, again);
        var (first, second) = ((await bench.View(check))!, (await bench.View(again))!);
        Assert.Equal(CheckState.Open, second.State);
        Assert.Empty(second.Levels[0].Readings);
        Assert.Equal(first.Levels[0].Planned, second.Levels[0].Planned);
        Assert.Equal(first.Tolerance, second.Tolerance);
        Assert.True(second.ExtensionDeclared);
        // The same known value, the same source.
        Assert.Equal(first.Levels[0].Plan.Reference.Contributions[0].Source.Id, second.Levels[0].Plan.Reference.Contributions[0].Source.Id);
        var list = await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query { PageSize = 1 }, default));
        Assert.Equal((again, 2, 2), (list.Items[0].Id, list.Total, list.Pages));
    }
}
