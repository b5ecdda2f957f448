using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Checks;

public sealed class RunPlanTests(PostgresCluster cluster)
{
    private static Task<RunPlan?> Plan(TestBench bench, Guid check, int? version = null) => bench.Do<ReadRunPlan, RunPlan?>(u => u.Handle(check, TestContext.Current.CancellationToken, version));

    private static async Task<Guid> TwoLevels(TestBench bench, Guid method, string low = "2", string high = "10")
    {
        var a = await bench.Water(Plans.AlkalinityWater with { Label = "KW-41", Known = low, Doubt = "0.08" });
        var b = await bench.Water(Plans.AlkalinityWater with { Label = "KW-42", Known = high, Doubt = "0.08" });
        var started = await bench.Start(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = a }, new LevelEntry { ReferenceWater = b }], Replicates = "3" });
        return Assert.IsType<StartCheck.Outcome.Started>(started).Check;
    }

    private static string Plain(string? text) => (text ?? "").Replace('\u00a0', ' ').Replace('\u202f', ' ');

    [Theory, ClassData(typeof(BothStores))]
    public async Task An_analyser_is_fed_twice_then_not_then_the_exact_volume(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var water = await bench.Water();
        var started = await bench.Start(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = water }], Replicates = "2" });
        var plan = (await Plan(bench, Assert.IsType<StartCheck.Outcome.Started>(started).Check))!;
        Assert.Null(plan.Hindrance);
        Assert.Equal(("Automatic analyser, fed by hand", 0), (plan.ProcedureName, plan.ProcedureVersion));
        Assert.Equal(Enumerable.Range(0, plan.Steps.Count), plan.Steps.Select(s => s.Index));
        Assert.Equal(
            ["start/dosing-paused", "level-1/replicate-1/bottle", "level-1/replicate-1/line-off", "level-1/replicate-1/start-method", "level-1/replicate-1/fill-1", "level-1/replicate-1/drain-1", "level-1/replicate-1/fill-2",
             "level-1/replicate-1/drain-2", "level-1/replicate-1/no-fill", "level-1/replicate-1/needle", "level-1/replicate-1/sample", "level-1/replicate-1/close", "level-1/replicate-1/finish", "level-1/replicate-1/reading"],
            plan.Steps.Take(14).Select(s => s.Key));
        // the second replicate takes the bottle that stands open already
        Assert.Equal("level-1/replicate-2/line-off", plan.Steps[14].Key);
        Assert.Equal(["end/rinse-out", "end/tank-reading", "end/tank-looked-at", "end/dosing-resumed"], plan.Steps.TakeLast(4).Select(s => s.Key));
        Assert.Equal(2, plan.Steps.Count(s => s.Kind == RunStepKind.Read));
        RunStep At(string key) => plan.Steps.Single(s => s.Key == "level-1/replicate-1/" + key);
        var known = (await bench.Do<ViewReferenceWater, ReferenceWaterView?>(u => u.Handle(water, default)))!;
        Assert.Contains("KW-36", At("fill-1").Act, StringComparison.Ordinal);
        Assert.StartsWith("Pour about 10 mL of KW-36", Plain(At("fill-1").Act), StringComparison.Ordinal);
        Assert.Equal($"Take KW-36 ({known.Code}): 7.900 ± 0.091 dKH.", Plain(At("bottle").Act));
        Assert.Equal("Start the method for alkalinity in seawater.", At("start-method").Act);
        Assert.StartsWith("Dispense exactly 5 mL of KW-36", Plain(At("sample").Act), StringComparison.Ordinal);
        Assert.Equal((720, true), (At("finish").Seconds, At("finish").Signal));
        Assert.Equal("Type reading 1 of 2 as the analyser shows it.", At("reading").Act);
        Assert.All(plan.Steps, s => Assert.DoesNotContain('{', s.Act + s.Cue + s.Done + s.Why + s.Caution));
        Assert.Contains(plan.Steps, s => s.Caution == "Known water never goes into a tank.");
    }

    // By hand, r 0.5 mL, rinse 10 mL, fill 5 mL: before the fill 0.5/10.5 = 4.76 % and its square 0.227 %; after the fill
    // (0.5/10.5)² · 0.5/5.5 = 0.02061 %, and with one rinse fewer 0.433 %. A twentieth of 5 mL is 1 %.
    [Theory, ClassData(typeof(BothStores))]
    public async Task The_reason_of_a_rinse_is_computed_and_says_when_it_holds(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var plan = (await Plan(bench, await TwoLevels(bench, method)))!;
        string Why(string key) => Plain(plan.Steps.Single(s => s.Key == key).Why);
        Assert.Contains("Before the fill, after this rinse (1 of 2), 4.8 % of that is former water.", Why("level-1/replicate-1/fill-1"), StringComparison.Ordinal);
        Assert.Contains("(2 of 2), 0.23 %", Why("level-1/replicate-1/fill-2"), StringComparison.Ordinal);
        Assert.Contains("After the fill, 0.021 % of what is measured is former water; with one rinse fewer it is 0.43 %.", Why("level-1/replicate-1/fill-2"), StringComparison.Ordinal);
        Assert.Contains("the last replicate with its reagents", Why("level-1/replicate-2/fill-1"), StringComparison.Ordinal);
        Assert.Contains("0.05 mL too little reads 1 % low in a titration", Why("level-1/replicate-1/sample"), StringComparison.Ordinal);
        // From 2 to 10 dKH: (2 − 10) · 0.00020614 = −0.0016 dKH; with one rinse fewer −8 · 0.0043290 = −0.035 dKH.
        Assert.Contains("From 2 dKH before, that reads 0.0016 dKH low; with one rinse fewer, 0.035 dKH.", Why("level-2/replicate-1/fill-1"), StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_second_series_of_a_line_check_comes_through_the_line(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var started = await bench.Start(Plans.Alkalinity with { Kind = CheckKind.Line, Method = method, Replicates = "2", Levels = [new LevelEntry { Known = "7.90", Doubt = "0.8" }] });
        var plan = (await Plan(bench, Assert.IsType<StartCheck.Outcome.Started>(started).Check))!;
        // by hand the analyser is fed; through the line nothing is poured or dispensed
        Assert.Equal(2 * 12 + 1, plan.Steps.Count(s => s.Level == 1));
        Assert.Equal(
            ["level-2/replicate-1/inlet-in", "level-2/replicate-1/line-flushed", "level-2/replicate-1/line-start", "level-2/replicate-1/line-finish", "level-2/replicate-1/reading",
             "level-2/replicate-2/line-start", "level-2/replicate-2/line-finish", "level-2/replicate-2/reading"],
            plan.Steps.Where(s => s.Level == 2).Select(s => s.Key));
        Assert.Equal(["end/inlet-back", "end/rinse-out", "end/tank-reading", "end/tank-looked-at", "end/dosing-resumed"], plan.Steps.Where(s => s.Key.StartsWith("end/", StringComparison.Ordinal)).Select(s => s.Key));
        var finish = plan.Steps.Single(s => s.Key == "level-2/replicate-2/line-finish");
        Assert.Equal((RunStepKind.Wait, 720, true), (finish.Kind, finish.Seconds, finish.Signal));
        Assert.Equal("Start the method for alkalinity in seawater. It draws the water by itself.", plan.Steps.First(s => s.Key.EndsWith("/line-start", StringComparison.Ordinal)).Act);
        Assert.Equal(Enumerable.Range(0, plan.Steps.Count), plan.Steps.Select(s => s.Index));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Between_the_series_of_a_changeover_the_bottle_is_changed_and_the_same_water_goes_on(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var started = await bench.Start(Plans.Alkalinity with { Kind = CheckKind.Changeover, Method = method, Replicates = "2", Levels = [new LevelEntry { Known = "7.90", Doubt = "0.8" }] });
        var plan = (await Plan(bench, Assert.IsType<StartCheck.Outcome.Started>(started).Check))!;
        Assert.Equal("level-1/replicate-1/old-bottle", plan.Steps[1].Key);
        var second = plan.Steps.Where(s => s.Level == 2).ToList();
        Assert.Equal(["level-2/replicate-1/new-bottle", "level-2/replicate-1/primed", "level-2/replicate-1/bottle"], second.Take(3).Select(s => s.Key));
        Assert.Equal(plan.Steps.Count(s => s.Level == 1) + 1, second.Count);
        // the water is the same: what stays behind is the last replicate, not former water
        Assert.Contains("the last replicate with its reagents", Plain(second.Single(s => s.Key == "level-2/replicate-1/fill-2").Why), StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_hand_kit_rinses_twice_for_a_new_water_and_once_between_replicates(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var added = await bench.Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = "the drop kit", Kind = InstrumentKind.HandKit }, default));
        var instrument = Assert.IsType<AddInstrument.Outcome.Added>(added).Instrument;
        var method = Assert.IsType<AddMethod.Outcome.Added>(await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(instrument) with { SampleVolume = "", MinutesPerReading = "" }, default))).Method;
        var plan = (await Plan(bench, await TwoLevels(bench, method)))!;
        int Rinses(int level, int replicate) => plan.Steps.Count(s => s.Level == level && s.Replicate == replicate && s.Key.Contains("rinse", StringComparison.Ordinal));
        Assert.Equal([2, 1, 1, 2, 1, 1], new[] { Rinses(1, 1), Rinses(1, 2), Rinses(1, 3), Rinses(2, 1), Rinses(2, 2), Rinses(2, 3) });
        Assert.Equal("Measure exactly the method’s sample volume of KW-41", Plain(plan.Steps.First(s => s.Key.EndsWith("/sample", StringComparison.Ordinal)).Act).Split(" (")[0]);
        Assert.DoesNotContain("After the fill", plan.Steps.First(s => s.Key.EndsWith("/rinse", StringComparison.Ordinal)).Why, StringComparison.Ordinal);
        Assert.DoesNotContain(plan.Steps, s => s.Act.Contains("dosing", StringComparison.Ordinal));
        Assert.Equal("end/tank-looked-at", plan.Steps[^1].Key);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Without_a_method_or_on_a_laboratory_it_says_why_there_are_no_steps(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var quick = (await Plan(bench, await bench.Alkalinity()))!;
        Assert.Empty(quick.Steps);
        Assert.Contains("names no method", quick.Hindrance, StringComparison.Ordinal);
        var added = await bench.Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = "the mail-in laboratory", Kind = InstrumentKind.Laboratory }, default));
        var laboratory = Assert.IsType<AddInstrument.Outcome.Added>(added).Instrument;
        var method = Assert.IsType<AddMethod.Outcome.Added>(await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(laboratory), default))).Method;
        var posted = (await Plan(bench, await bench.Alkalinity(method: method)))!;
        Assert.Contains("The mail-in laboratory is a laboratory", posted.Hindrance, StringComparison.Ordinal);
        Assert.Null(await Plan(bench, Guid.NewGuid()));
    }
}
