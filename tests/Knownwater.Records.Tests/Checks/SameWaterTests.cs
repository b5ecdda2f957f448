using Knownwater.Checks;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;
using Knownwater.Records.Tests.Storage;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tests.Checks;

public sealed class SameWaterTests(PostgresCluster cluster)
{
    private static StartCheck.Command Line(Guid method) => Plans.Alkalinity with { Kind = CheckKind.Line, Method = method, Replicates = "4", Levels = [new LevelEntry { Known = "7.90", Doubt = "0.8" }] };

    private static async Task<Guid> Start(TestBench bench, StartCheck.Command command) => Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(command)).Check;

    private static async Task Keep(TestBench bench, Guid check, int level, params string[] readings)
    {
        foreach (var reading in readings)
            Assert.IsNotType<KeepReading.Outcome.Refused>(await bench.Keep(check, reading, level, confirmed: true));
    }

    // By hand: means 7.9 and 7.3; the doubt of ± 0.8 dKH would hide both, their difference holds none of it.
    [Theory, ClassData(typeof(BothStores))]
    public async Task A_line_check_says_what_the_line_does_whatever_the_water_holds(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var check = await Start(bench, Line(method));
        Assert.Equal(["by hand", "through the line"], (await bench.View(check))!.Levels.Select(l => l.Series));
        await Keep(bench, check, 1, "7.9", "8.0", "7.8", "7.9");
        await Keep(bench, check, 2, "7.3", "7.4", "7.2", "7.3");
        var view = (await bench.View(check))!;

        var difference = view.Difference!;
        Assert.Equal(-0.6, difference.Judgement.Difference!.Value.Value, 1e-12);
        Assert.Equal(Verdict.ReadsLow, difference.Judgement.Verdict);
        Assert.StartsWith("Through the line it reads 0.60", difference.Words.Sentence, StringComparison.Ordinal);
        Assert.Null(view.Together);
        Assert.Null(view.OverLevels);
        // as the method reads from then on: the second series against the known value, which its doubt leaves open
        Assert.Equal(Verdict.CannotTell, view.Verdict);
        var listed = (await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query(), default))).Items[0];
        Assert.StartsWith(difference.Words.Sentence, listed.Sentence, StringComparison.Ordinal);
        Assert.Equal("at 7.9\u00A0dKH, by hand and through the line", listed.LevelWords);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_changeover_keeps_its_bottles_apart_and_its_step_with_the_interval(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        async Task<Guid> Open(string name) => Assert.IsType<OpenLot.Outcome.Opened>(await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = name, Reagent = "acid", ReplacesFormer = false }, default))).Lot;
        var (old, fresh) = (await Open("A-19"), await Open("A-20"));
        var command = Line(method) with { Kind = CheckKind.Changeover, OldLot = old, NewLot = fresh };
        Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(await bench.Start(command with { NewLot = old })).Faults, "NewLot");
        Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(await bench.Start(command with { OldLot = Guid.NewGuid() })).Faults, "OldLot");
        var check = await Start(bench, command);
        await Keep(bench, check, 1, "7.9", "8.0", "7.8", "7.9");
        await Keep(bench, check, 2, "7.9", "8.0", "7.8", "7.9");
        var view = (await bench.View(check))!;

        Assert.Equal([("A-19", 1), ("A-20", 2)], view.Lots.Select(l => (l.Name, l.OnlyLevel!.Value)));
        Assert.Contains("A-19", view.Levels[0].Statement!, StringComparison.Ordinal);
        Assert.DoesNotContain("A-20", view.Levels[0].Statement!, StringComparison.Ordinal);
        Assert.Equal("The new bottle changes nothing that matters.", view.Difference!.Words.Sentence);
        var stored = await bench.Do<RecordsContext, Check>(r => r.Checks.SingleAsync(c => c.Id == check));
        Assert.Equal((view.Difference.Judgement.Difference!.Value.Value, view.Difference.Judgement.Low, view.Difference.Judgement.High, Verdict.ReadsRight), (stored.Difference!.Value, stored.DifferenceLow, stored.DifferenceHigh, stored.DifferenceVerdict!.Value));

        var again = Assert.IsType<RepeatCheck.Outcome.Started>(await bench.Do<RepeatCheck, RepeatCheck.Outcome>(u => u.Handle(new RepeatCheck.Command { Check = check }, default))).Check;
        var repeated = (await bench.View(again))!;
        Assert.Equal((CheckKind.Changeover, 2), (repeated.Kind, repeated.Levels.Count));
        Assert.Equal([1, 2], repeated.Lots.Select(l => l.OnlyLevel!.Value));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Conditioning_runs_are_kept_and_shown_and_never_judged(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var water = await bench.Water();
        var check = await Start(bench, Line(method) with { ConditioningRuns = "2", Replicates = "3", Levels = [new LevelEntry { ReferenceWater = water }] });
        Assert.Equal(2, (await bench.View(check))!.Levels[0].ConditioningToGo);
        await Keep(bench, check, 1, "5.0", "6.5");
        Assert.Equal("Conditioning run 2 of 2 of level 1 kept: 6.5. It does not count.", (await bench.View(check))!.LastAct);
        Assert.IsType<Undo.Outcome.Undone>(await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { LastActOfCheck = check }, default)));
        Assert.Equal(1, (await bench.View(check))!.Levels[0].ConditioningToGo);
        await Keep(bench, check, 1, "6.6", "7.9", "7.9", "8.0");
        await Keep(bench, check, 2, "5.2", "6.1", "7.9", "8.0", "7.9");
        var view = (await bench.View(check))!;

        Assert.Equal(CheckState.Closed, view.State);
        Assert.Equal(["5.0", "6.6"], view.Levels[0].Conditioning.Select(r => r.Words));
        Assert.Equal(["5.2", "6.1"], view.Levels[1].Conditioning.Select(r => r.Words));
        Assert.Equal(["7.9", "7.9", "8.0"], view.Levels[0].Readings.Select(r => r.Words));
        Assert.Equal(3, view.Levels[1].Judgement!.N);
        Assert.Equal(Verdict.ReadsRight, view.Difference!.Judgement.Verdict);
        // 2 · (2 + 3) samples of 5 mL were drawn
        Assert.Equal([25.0, 25.0], await bench.Do<RecordsContext, List<double>>(r => r.Draws.Select(d => d.Millilitres).ToListAsync()));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_a_line_check_cannot_be_is_said_beside_its_field(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        async Task<FieldFault> Refused(StartCheck.Command command, string field) => Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(await bench.Start(command)).Faults, field);

        Assert.Contains("on a method", (await Refused(Line(method) with { Method = null }, "Method")).Sentence, StringComparison.Ordinal);
        Assert.Contains("reads one water twice", (await Refused(Line(method) with { Levels = [new LevelEntry { Known = "7.9", Doubt = "0.1" }, new LevelEntry { Known = "5", Doubt = "0.1" }] }, "Levels")).Sentence, StringComparison.Ordinal);
        Assert.Contains("takes no extension", (await Refused(Line(method) with { ExtensionDeclared = true }, "ExtensionDeclared")).Sentence, StringComparison.Ordinal);
        await Refused(Line(method) with { ConditioningRuns = "11" }, "ConditioningRuns");
        await Refused(Line(method) with { ConditioningRuns = "two" }, "ConditioningRuns");
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Both_series_go_on_the_shelf_as_one_water(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var check = await Start(bench, Line(method) with { Replicates = "3" });
        await Keep(bench, check, 1, "7.9", "8.0", "7.8");
        await Keep(bench, check, 2, "7.9", "8.0", "7.8");
        var described = await bench.Do<DescribeCheck, DescribeCheck.Outcome>(u => u.Handle(new DescribeCheck.Command
        {
            Check = check, Method = method, Matrix = Quantities.Matrix.Seawater, Salinity = "35",
            Origins = [new LevelOrigin { Level = 1, Origin = Origin.MakersClaim, Label = "KW-7" }, new LevelOrigin { Level = 2, Origin = Origin.MakersClaim, Label = "KW-7" }],
        }, default));
        Assert.IsType<DescribeCheck.Outcome.Described>(described);
        Assert.Single(await bench.Do<ListReferenceWaters, IReadOnlyList<ReferenceWaterView>>(u => u.Handle(new ListReferenceWaters.Query(), default)));
        Assert.Single((await bench.View(check))!.Levels.Select(l => l.Water!.Id).Distinct());
    }

    // Difference −0.6 without a display step; s² of each series is 0.02/3, so u² = 2·(0.02/3)/4 and U = t(6)·u = 2.447·0.0577 = 0.141.
    [Theory, ClassData(typeof(BothStores))]
    public async Task Water_that_is_only_steady_gives_a_difference_and_no_verdict_of_its_own(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var check = await Start(bench, Line(method) with { SteadyWater = true, Resolution = "0", Levels = [new LevelEntry { Known = "8" }] });
        await Keep(bench, check, 1, "7.9", "8.0", "7.8", "7.9");
        await Keep(bench, check, 2, "7.3", "7.4", "7.2", "7.3");
        var view = (await bench.View(check))!;

        Assert.True(view.SteadyWater);
        Assert.Null(view.Verdict);
        Assert.All(view.Levels, l => Assert.Null(l.Judgement));
        Assert.All(view.Levels, l => Assert.Equal("steady water of about 8\u00A0dKH", l.WaterWords));
        Assert.Equal(Verdict.ReadsLow, view.Difference!.Judgement.Verdict);
        Assert.Equal(0.141, view.Difference.Judgement.Expanded!.Value, 0.001);
        Assert.Contains(view.Difference.Numbers, n => n.Term == "The water’s value");
        Assert.DoesNotContain(view.Difference.Numbers, n => n.Term == "The known water’s doubt");

        // it is no check that the method passed or failed, and its water is not known water
        var line = Assert.Single((await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query(), default))).Items);
        Assert.Null(line.Verdict);
        Assert.StartsWith("Through the line it reads 0.60", line.Sentence, StringComparison.Ordinal);
        var shelved = await bench.Do<DescribeCheck, DescribeCheck.Outcome>(u => u.Handle(new DescribeCheck.Command { Check = check, Method = method, Origins = [new LevelOrigin { Level = 1, Origin = Origin.MakersClaim, Label = "bucket" }] }, default));
        Assert.Contains(Assert.IsType<DescribeCheck.Outcome.Refused>(shelved).Faults, f => f.Field == "Origins[0].Origin");

        var again = Assert.IsType<RepeatCheck.Outcome.Started>(await bench.Do<RepeatCheck, RepeatCheck.Outcome>(u => u.Handle(new RepeatCheck.Command { Check = check }, default)));
        Assert.True((await bench.View(again.Check))!.SteadyWater);
        Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(await bench.Start(Line(method) with { Kind = CheckKind.Usual, SteadyWater = true })).Faults, "SteadyWater");
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_stopped_line_check_judges_no_difference(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var check = await Start(bench, Line(method) with { Replicates = "3" });
        await Keep(bench, check, 1, "7.9", "8.0", "7.8");
        await bench.Do<StopCheck, StopCheck.Outcome>(u => u.Handle(new StopCheck.Command { Check = check }, default));
        Assert.Null((await bench.View(check))!.Difference);
        var listed = (await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query(), default))).Items[0];
        Assert.EndsWith("The other series was not read to the end.", listed.Sentence, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Two_series_are_planned_by_their_difference_without_the_waters_doubt(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        async Task<ReplicateAdvice> Advice(CheckKind of) => Assert.IsType<PlanReplicates.Outcome.Planned>(await bench.Do<PlanReplicates, PlanReplicates.Outcome>(u => u.Handle(new PlanReplicates.Command
        {
            Parameter = "alkalinity", Form = "dKH", Known = "7.90", Doubt = "2", ToleranceAbsolute = "0.3", TolerancePercent = "2", MinutesPerReading = "12", Kind = of,
        }, default))).Advice;
        Assert.True((await Advice(CheckKind.Usual)).LimitedByReference);
        var line = await Advice(CheckKind.Line);
        Assert.NotNull(line.Recommended);
        Assert.Equal(24.0 * line.Choices[0].N, line.Choices[0].Minutes!.Value, 1e-9);
    }
}
