using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Instruments;

public sealed class ChangeProcedureTests(PostgresCluster cluster)
{
    private static Task<ChangeProcedure.Outcome> Change(TestBench bench, Guid instrument, int from, ProcedureEdit edit, Guid? request = null) =>
        bench.Do<ChangeProcedure, ChangeProcedure.Outcome>(u => u.Handle(new ChangeProcedure.Command { Instrument = instrument, From = from, Edit = edit, Who = "MJ", RequestId = request }, TestContext.Current.CancellationToken));

    private static async Task<int> Changed(TestBench bench, Guid instrument, int from, ProcedureEdit edit) => Assert.IsType<ChangeProcedure.Outcome.Changed>(await Change(bench, instrument, from, edit)).Version;

    private static async Task<FieldFault> Refused(TestBench bench, Guid instrument, int from, ProcedureEdit edit) =>
        Assert.Single(Assert.IsType<ChangeProcedure.Outcome.Refused>(await Change(bench, instrument, from, edit)).Faults);

    private static Task<ProcedureView?> View(TestBench bench, Guid instrument, int? version = null) => bench.Do<ViewProcedure, ProcedureView?>(u => u.Handle(instrument, version, TestContext.Current.CancellationToken));

    private static Task<RunPlan?> Plan(TestBench bench, Guid check, int? version = null) => bench.Do<ReadRunPlan, RunPlan?>(u => u.Handle(check, TestContext.Current.CancellationToken, version));

    private static ProcedureEdit.Head Head(string residual = "0.5 mL", string rinse = "10 mL") => new("By hand, our way", "Ours.", residual, rinse);

    private static ProcedureEdit.Step Wait { get; } = new() { When = ProcedureWhen.EachReplicate, Kind = ProcedureStepKind.Wait, Act = "Wait for the valve to click.", Done = "It clicked", After = "start-method", Minutes = "0.5", Signal = true };

    private static string Plain(string text) => text.Replace('\u00a0', ' ').Replace('\u202f', ' ');

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_change_is_a_new_version_and_the_former_stays(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var water = await bench.Water();
        var check = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = water }] })).Check;
        Assert.Equal(0, (await View(bench, instrument))!.Version);
        Assert.Equal(1, await Changed(bench, instrument, 0, Head(rinse: "12 mL")));
        Assert.Equal(2, await Changed(bench, instrument, 1, Wait));

        var plan = (await Plan(bench, check))!;
        Assert.Equal(("By hand, our way", 2), (plan.ProcedureName, plan.ProcedureVersion));
        var clicked = plan.Steps.First(s => s.Key == "level-1/replicate-1/wait-for-the-valve-to-cl");
        Assert.Equal((RunStepKind.Wait, 30, true), (clicked.Kind, clicked.Seconds!.Value, clicked.Signal));
        Assert.Equal("level-1/replicate-1/start-method", plan.Steps[clicked.Index - 1].Key);
        Assert.StartsWith("Pour about 12 mL", Plain(plan.Steps.First(s => s.Key == "level-1/replicate-1/fill-1").Act), StringComparison.Ordinal);
        // a run that began with an older one goes on by it
        Assert.StartsWith("Pour about 10 mL", Plain((await Plan(bench, check, 0))!.Steps.First(s => s.Key == "level-1/replicate-1/fill-1").Act), StringComparison.Ordinal);
        Assert.DoesNotContain((await Plan(bench, check, 1))!.Steps, s => s.Key == clicked.Key);

        var view = (await View(bench, instrument))!;
        Assert.Equal([(2, true), (1, false), (0, false)], view.Versions.Select(v => (v.Number, v.IsStanding)));
        Assert.Contains("MJ", view.Versions[0].Words, StringComparison.Ordinal);
        Assert.Contains("“Wait for the valve to click” added", view.Versions[0].Words, StringComparison.Ordinal);
        Assert.False((await View(bench, instrument, 1))!.IsStanding);
        Assert.Null(await View(bench, instrument, 7));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_version_is_undone_from_the_history_and_its_number_is_not_given_again(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var check = await bench.Alkalinity(method: method);
        await Changed(bench, instrument, 0, Head(rinse: "12 mL"));
        var entry = (await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query { Subject = instrument }, default))).Items[0];
        Assert.Equal("the harbour analyser, procedure, version 1: name and volumes changed.", entry.Sentence);
        Assert.IsType<Undo.Outcome.Undone>(await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = entry.Id }, default)));
        Assert.Equal(0, (await View(bench, instrument))!.Version);
        // the run that had begun with it still has its steps
        Assert.Equal(1, (await Plan(bench, check, 1))!.ProcedureVersion);
        Assert.Equal(2, await Changed(bench, instrument, 0, Head(rinse: "8 mL")));
        Assert.Equal(3, await Changed(bench, instrument, 2, new ProcedureEdit.Again(0)));
        Assert.Equal(ProcedureDocument.Write(Procedure.Shipped(InstrumentKind.Analyser)!), (await View(bench, instrument))!.Document);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Steps_are_moved_changed_and_left_out(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, _) = await bench.Analyser();
        await Changed(bench, instrument, 0, new ProcedureEdit.Move("needle", true));
        await Changed(bench, instrument, 1, new ProcedureEdit.LeaveOut("drain-2"));
        await Changed(bench, instrument, 2, new ProcedureEdit.Step { Key = "close", When = ProcedureWhen.EachReplicate, Kind = ProcedureStepKind.Act, Act = "Close the lid.", Done = "It is shut", Why = "Light reads low." });
        var steps = (await View(bench, instrument))!.Procedure!.Steps;
        Assert.Equal(["fill-2", "needle", "no-fill", "sample", "close"], steps.SkipWhile(s => s.Key != "fill-2").Take(5).Select(s => s.Key));
        Assert.Equal(("Close the lid.", "It is shut", "Light reads low."), steps.Where(s => s.Key == "close").Select(s => (s.Act, s.Done, s.Why)).Single());
        Assert.Contains("first step already", (await Refused(bench, instrument, 3, new ProcedureEdit.Move("dosing-paused", true))).Sentence, StringComparison.Ordinal);
        Assert.Contains("exactly one step", (await Refused(bench, instrument, 3, new ProcedureEdit.LeaveOut("reading"))).Sentence, StringComparison.Ordinal);
        Assert.Contains("not in the procedure any more", (await Refused(bench, instrument, 3, new ProcedureEdit.LeaveOut("drain-2"))).Sentence, StringComparison.Ordinal);
        Assert.Equal("Act", (await Refused(bench, instrument, 3, Wait with { Act = "" })).Field);
        Assert.Equal("Done", (await Refused(bench, instrument, 3, Wait with { Done = " " })).Field);
        Assert.Equal("Minutes", (await Refused(bench, instrument, 3, Wait with { Minutes = "121" })).Field);
        Assert.Equal("Why", (await Refused(bench, instrument, 3, Wait with { Why = "Of {tank}." })).Field);
        Assert.Equal("When", (await Refused(bench, instrument, 3, Wait with { Kind = ProcedureStepKind.Pour, When = ProcedureWhen.End })).Field);
        Assert.Contains("version 3 stands now", (await Refused(bench, instrument, 2, Wait)).Sentence, StringComparison.Ordinal);
        Assert.Equal(3, (await View(bench, instrument))!.Version);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Volumes_are_typed_with_or_without_their_unit(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, _) = await bench.Analyser();
        await Changed(bench, instrument, 0, Head("300 µL", "12"));
        var view = (await View(bench, instrument))!;
        Assert.Equal((0.3, 12), (view.Procedure!.ResidualMillilitres, view.Procedure.RinseMillilitres));
        Assert.Equal(("0.3 mL", "12 mL"), (view.ResidualField, view.RinseField));
        await Changed(bench, instrument, 1, Head("0", "12"));
        Assert.Empty((await View(bench, instrument))!.Tables);
        Assert.Contains("above 0", (await Refused(bench, instrument, 2, Head(rinse: "0"))).Sentence, StringComparison.Ordinal);
        Assert.Equal("Residual", (await Refused(bench, instrument, 2, Head("a drop"))).Field);
        Assert.Equal("Rinse", (await Refused(bench, instrument, 2, Head(rinse: "5 g"))).Field);
        Assert.Contains("1000 mL", (await Refused(bench, instrument, 2, Head(rinse: "2 L"))).Sentence, StringComparison.Ordinal);
        Assert.Contains("Weigh the chamber", (await Refused(bench, instrument, 2, Head(""))).Sentence, StringComparison.Ordinal);
        Assert.Contains("Nothing is different", (await Refused(bench, instrument, 2, Head("0", "12"))).Sentence, StringComparison.Ordinal);
    }

    // By hand, r 0.5 mL and v = V = 4 mL, the row of the bench sheet for a small chamber: before the fill (0.5/4.5)^n is 100, 11.1, 1.23 %; after it
    // (0.5/4.5)^(n+1) is 11.1, 1.23, 0.137 %. A former sample ten times as strong is off by nine times that: 100, 11.1, 1.23 %.
    [Theory, ClassData(typeof(BothStores))]
    public async Task What_is_left_of_former_water_is_reckoned_before_and_after_the_fill(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, _) = await bench.Analyser();
        await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(instrument) with { Matrix = Quantities.Matrix.FreshWater, SalinityLow = "", SalinityHigh = "", SampleVolume = "4" }, default));
        await Changed(bench, instrument, 0, Head(rinse: "4 mL"));
        var view = (await View(bench, instrument))!;
        Assert.Equal(["4 mL", "5 mL"], view.Tables.Select(t => Plain(t.Fill)));
        Assert.Equal(
            [(0, "100 %", "11 %", "100 % high"), (1, "11 %", "1.2 %", "11 % high"), (2, "1.2 %", "0.14 %", "1.2 % high")],
            view.Tables[0].Lines.Select(l => (l.Rinses, Plain(l.BeforeFill), Plain(l.AfterFill), Plain(l.AfterStronger))));
        Assert.Equal([false, false, true], view.Tables[0].Lines.Select(l => l is { WhereWaterChanges: true, BetweenReadings: true }));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_document_goes_from_one_instrument_to_another_and_a_bad_one_names_its_step(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (one, _) = await bench.Analyser();
        var (other, _) = await bench.Analyser("the spare analyser");
        await Changed(bench, one, 0, Wait);
        var document = (await View(bench, one))!.Document;
        await Changed(bench, other, 0, new ProcedureEdit.Whole(document));
        Assert.Equal(document, (await View(bench, other))!.Document);

        async Task<string> Said(string text)
        {
            var fault = await Refused(bench, other, 1, new ProcedureEdit.Whole(text));
            Assert.Equal("Document", fault.Field);
            return fault.Sentence;
        }
        Assert.Contains("line 1", await Said("{ no"), StringComparison.Ordinal);
        Assert.Contains("line 1", await Said(""), StringComparison.Ordinal);
        Assert.Equal("Step 1 (dosing-paused), done: done is missing.", await Said(document.Replace("\"done\": \"It is paused\",", "", StringComparison.Ordinal)));
        Assert.StartsWith("Step 5 (wait-for-the-valve-to-cl), timer: “a while” is no timer.", await Said(document.Replace("\"timer\": \"30 s\"", "\"timer\": \"a while\"", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.StartsWith("Step 2: A step is an object", await Said("""{"name":"A","residual":"0.5 mL","rinse":"1 mL","steps":[{"key":"r","when":"each replicate","kind":"read","act":"Type it.","done":"Keep"},3]}"""), StringComparison.Ordinal);
        Assert.StartsWith("Residual: ", await Said(document.Replace("\"residual\": \"0.5 mL\"", "\"residual\": \"0.5 kg\"", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.EndsWith("And two more.", await Said("""{"name":"A","residual":"0.5 mL","rinse":"1 mL","steps":[1,2,3,4,5,6]}"""), StringComparison.Ordinal);
        Assert.Contains("100001", await Said(new string(' ', 100_001)), StringComparison.Ordinal);
        Assert.Equal(1, (await View(bench, other))!.Version);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_same_request_twice_makes_one_version_and_a_laboratory_has_none(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, _) = await bench.Analyser();
        var request = Guid.NewGuid();
        Assert.Equal(await Change(bench, instrument, 0, Head(rinse: "8 mL"), request), await Change(bench, instrument, 0, Head(rinse: "8 mL"), request));
        Assert.Equal(1, (await View(bench, instrument))!.Version);
        var added = await bench.Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = "the mail-in laboratory", Kind = InstrumentKind.Laboratory }, default));
        var laboratory = Assert.IsType<AddInstrument.Outcome.Added>(added).Instrument;
        Assert.Null((await View(bench, laboratory))!.Procedure);
        Assert.Contains("laboratory has no procedure", (await Refused(bench, laboratory, 0, Head())).Sentence, StringComparison.Ordinal);
        Assert.IsType<ChangeProcedure.Outcome.Refused>(await Change(bench, Guid.NewGuid(), 0, Head()));
    }
}
