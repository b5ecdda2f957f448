using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Records.Due;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Checks;

public sealed class GuardsTests(PostgresCluster cluster)
{
    private static readonly GuardKind[] Ticked = [GuardKind.Dosing, GuardKind.Amount, GuardKind.Lots, GuardKind.Temperature];

    private static Task<GuardsView?> Look(TestBench bench, Guid check) => bench.Do<ReadGuards, GuardsView?>(u => u.Handle(check, TestContext.Current.CancellationToken));

    private static Task<PassGuards.Outcome> Pass(TestBench bench, PassGuards.Command command) => bench.Do<PassGuards, PassGuards.Outcome>(u => u.Handle(command, TestContext.Current.CancellationToken));

    private static async Task<GuardView> Guard(TestBench bench, Guid check, GuardKind kind) => (await Look(bench, check))!.Guards.Single(g => g.Kind == kind);

    private static Task<DueList> Due(TestBench bench) => bench.Do<ListDue, DueList>(u => u.Handle(TestContext.Current.CancellationToken));

    private static string Plain(string? text) => (text ?? "").Replace('\u00a0', ' ').Replace('\u202f', ' ');

    /// <summary>A check of five readings of KW-36 on the harbour analyser.</summary>
    private static async Task<(Guid Check, Guid Method, Guid Instrument, Guid Water)> Begin(TestBench bench, AddReferenceWater.Command? water = null, int readings = 5)
    {
        var (instrument, method) = await bench.Analyser();
        var id = await bench.Water(water);
        var started = await bench.Start(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = id }], Replicates = $"{readings}" });
        return (Assert.IsType<StartCheck.Outcome.Started>(started).Check, method, instrument, id);
    }

    private static Task<ChangeMethod.Outcome> ChangeMethod(TestBench bench, Guid method, Func<ChangeMethod.Command, ChangeMethod.Command> change) =>
        bench.Do<ChangeMethod, ChangeMethod.Outcome>(async u => Assert.IsType<ChangeMethod.Outcome.Changed>(await u.Handle(change(new ChangeMethod.Command
        {
            Method = method, Parameter = "alkalinity", Form = "dKH", Matrix = Matrix.Seawater, SalinityLow = "30", SalinityHigh = "38", SampleVolume = "5", RangeLow = "1", RangeHigh = "15", Resolution = "0.1", MinutesPerReading = "12", ToleranceAbsolute = "0.3", TolerancePercent = "2",
        }), default)));

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_the_records_know_is_looked_up_and_the_rest_is_asked(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (check, _, _, _) = await Begin(bench);
        var view = (await Look(bench, check))!;
        Assert.Null(view.Hindrance);
        Assert.Equal(
            [GuardKind.Dosing, GuardKind.Matrix, GuardKind.UseBy, GuardKind.Range, GuardKind.Amount, GuardKind.Lots, GuardKind.SampleVolume, GuardKind.Temperature, GuardKind.Replicates], view.Guards.Select(g => g.Kind));
        Assert.Equal(Ticked, view.Guards.Where(g => g.State == GuardState.NeedsYou).Select(g => g.Kind));
        Assert.Equal("Four things need you.", view.Summary);
        string Said(GuardKind which) => Plain(view.Guards.Single(g => g.Kind == which).Sentence);
        Assert.Equal("KW-36 is seawater, salinity 35; the method is for seawater of salinity 30 to 38.", Said(GuardKind.Matrix));
        Assert.Equal("KW-36 is good until 16 September.", Said(GuardKind.UseBy));
        Assert.Equal("7.9 dKH lies within 1 to 15 dKH.", Said(GuardKind.Range));
        Assert.StartsWith("Five readings. The number stands", Said(GuardKind.Replicates), StringComparison.Ordinal);
        // by hand: two rinses of 10 mL and 5 mL for each of five readings are 125 mL
        Assert.Equal("This check takes about 125 mL of KW-36: 10 rinses of 10 mL and 5 samples of 5 mL; how much there is, is not noted.", Said(GuardKind.Amount));
        // by hand, Vr/(Vs + Vr): 0.5/5.5 = 0.0909, 5/10 = 0.5
        Assert.Equal("5 mL, exactly, by pipette. An error of 1 % in it is 1 % of the reading in a titration. A colour takes the share that the reagents have in the mixture: 0.091 % with 0.5 mL of them, 0.5 % with 5 mL.", Said(GuardKind.SampleVolume));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task It_begins_when_all_is_said_and_dosing_stays_due_until_it_listens_again(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (check, _, _, _) = await Begin(bench);
        var not = Assert.IsType<PassGuards.Outcome.NotYet>(await Pass(bench, new PassGuards.Command { Check = check, Confirmed = [GuardKind.Temperature], Who = "MJ" }));
        Assert.Equal(["Confirmed.Dosing", "Confirmed.Amount", "Confirmed.Lots"], not.Faults.Select(f => f.Field));
        // what was ticked is kept
        Assert.Equal((GuardState.Holds, true), ((await Guard(bench, check, GuardKind.Temperature)).State, (await Guard(bench, check, GuardKind.Temperature)).Said));
        var begun = new PassGuards.Command { Check = check, DosingPaused = true, PausedAt = "07:30", Confirmed = [GuardKind.Temperature, GuardKind.Amount, GuardKind.Lots], Who = "MJ", RequestId = Guid.NewGuid() };
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, begun));
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, begun));
        Assert.True((await Look(bench, check))!.CanBegin);
        Assert.Contains("Paused since 3 September, 07:30", Plain((await Guard(bench, check, GuardKind.Dosing)).Sentence), StringComparison.Ordinal);
        Assert.Equal("3 September, 07:30", Plain((await bench.View(check))!.DosingPausedWords));

        var due = Assert.Single((await Due(bench)).Items, i => i.Kind == DueKind.DosingPaused);
        Assert.Equal("Automatic dosing is paused since 3 September, 07:30: Alkalinity on the harbour analyser.", Plain(due.Sentence));
        Assert.Contains("It would take the known water for your tank.", due.Reason, StringComparison.Ordinal);
        foreach (var reading in Plans.High)
            await bench.Keep(check, reading);
        Assert.Contains("resume only as after a failure", Assert.Single((await Due(bench)).Items, i => i.Kind == DueKind.DosingPaused).Reason, StringComparison.Ordinal);

        Task<ResumeDosing.Outcome> Resume(string at) => bench.Do<ResumeDosing, ResumeDosing.Outcome>(u => u.Handle(new ResumeDosing.Command { Check = check, At = at, Who = "MJ" }, default));
        Assert.Contains("before it was paused", Plans.Only(Assert.IsType<ResumeDosing.Outcome.Refused>(await Resume("07:10")).Faults, "At").Sentence, StringComparison.Ordinal);
        Assert.Contains("not come yet", Plans.Only(Assert.IsType<ResumeDosing.Outcome.Refused>(await Resume("23:59")).Faults, "At").Sentence, StringComparison.Ordinal);
        Assert.Contains("not a time", Plans.Only(Assert.IsType<ResumeDosing.Outcome.Refused>(await Resume("noon")).Faults, "At").Sentence, StringComparison.Ordinal);
        Assert.IsType<ResumeDosing.Outcome.Resumed>(await Resume(""));
        Assert.DoesNotContain((await Due(bench)).Items, i => i.Kind == DueKind.DosingPaused);
        Plans.Only(Assert.IsType<ResumeDosing.Outcome.Refused>(await Resume("")).Faults, "");
        // it can be undone like any act, and is due again
        Assert.IsType<Undo.Outcome.Undone>(await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { LastActOfCheck = check }, default)));
        Assert.Single((await Due(bench)).Items, i => i.Kind == DueKind.DosingPaused);
        // a discarded check leaves the dosing paused, and the reminder stays
        await bench.Do<DiscardCheck, DiscardCheck.Outcome>(u => u.Handle(new DiscardCheck.Command { Check = check, Reason = "wrong bottle" }, default));
        Assert.Single((await Due(bench)).Items, i => i.Kind == DueKind.DosingPaused);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task One_pause_serves_all_checks_on_the_analyser(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (first, method, _, water) = await Begin(bench);
        await Pass(bench, new PassGuards.Command { Check = first, DosingPaused = true, Confirmed = [.. Ticked] });
        var second = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = water }] })).Check;
        var dosing = await Guard(bench, second, GuardKind.Dosing);
        Assert.Equal(GuardState.Holds, dosing.State);
        Assert.Contains("for the check of alkalinity", dosing.Sentence, StringComparison.Ordinal);
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, new PassGuards.Command { Check = second, Confirmed = [.. Ticked] }));
        Assert.Single((await Due(bench)).Items, i => i.Kind == DueKind.DosingPaused);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_stands_in_the_way_needs_a_reason_that_is_kept_with_the_verdict(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (check, _, _, _) = await Begin(bench);
        bench.Time.Advance(TimeSpan.FromDays(14)); // the water is past its last day, 16 September
        var guard = await Guard(bench, check, GuardKind.UseBy);
        Assert.Equal(GuardState.InTheWay, guard.State);
        Assert.StartsWith("KW-36 is past its date, 16 September.", Plain(guard.Sentence), StringComparison.Ordinal);
        var said = new PassGuards.Command { Check = check, DosingPaused = true, Confirmed = [.. Ticked], Who = "MJ" };
        Assert.Equal("Reasons.UseBy", Assert.Single(Assert.IsType<PassGuards.Outcome.NotYet>(await Pass(bench, said)).Faults).Field);
        Assert.Equal("Reasons.UseBy", Assert.Single(Assert.IsType<PassGuards.Outcome.NotYet>(await Pass(bench, said with { Reasons = new Dictionary<GuardKind, string> { [GuardKind.UseBy] = "  " } })).Faults).Field);
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, said with { Reasons = new Dictionary<GuardKind, string> { [GuardKind.UseBy] = "a new bottle comes on Friday" } }));
        Assert.Equal((GuardState.Overridden, "a new bottle comes on Friday"), ((await Guard(bench, check, GuardKind.UseBy)).State, (await Guard(bench, check, GuardKind.UseBy)).Reason));
        Assert.Equal("All is seen to; some of it only with a reason.", (await Look(bench, check))!.Summary);
        foreach (var reading in Plans.High)
            await bench.Keep(check, reading);
        var view = (await bench.View(check))!;
        var line = Assert.Single(view.BegunAllTheSame);
        Assert.StartsWith("KW-36 is past its date", line.Term, StringComparison.Ordinal);
        Assert.Equal("a new bottle comes on Friday", line.Value);
        Assert.Contains("Begun although KW-36 is past its date, 16 September: a new bottle comes on Friday.", Plain(view.Levels[0].Statement), StringComparison.Ordinal);
        Assert.Contains(view.Trace, t => t.Term == "Before the first reading" && t.Value.Contains("one thing in the way", StringComparison.Ordinal));
        Assert.IsType<PassGuards.Outcome.Refused>(await Pass(bench, said));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Another_kind_of_water_is_refused_unless_its_error_is_in_the_budget(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (check, method, _, _) = await Begin(bench);
        var before = (await bench.View(check))!.Levels[0];
        await ChangeMethod(bench, method, m => m with { SalinityLow = "5", SalinityHigh = "20" });
        var guard = await Guard(bench, check, GuardKind.Matrix);
        Assert.Equal(GuardState.InTheWay, guard.State);
        Assert.Contains("has salinity 35; the method is for seawater of salinity 5 to 20", guard.Sentence, StringComparison.Ordinal);
        var said = new PassGuards.Command { Check = check, DosingPaused = true, Confirmed = [.. Ticked], Reasons = new Dictionary<GuardKind, string> { [GuardKind.Matrix] = "no other water at hand" } };
        Assert.Contains("in the budget", Plans.Only(Assert.IsType<PassGuards.Outcome.NotYet>(await Pass(bench, said)).Faults, "MatrixEffect").Sentence, StringComparison.Ordinal);
        Plans.Only(Assert.IsType<PassGuards.Outcome.Refused>(await Pass(bench, said with { MatrixEffect = "a lot" })).Faults, "MatrixEffect");
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, said with { MatrixEffect = "3 %" }));
        Assert.Equal(GuardState.Overridden, (await Guard(bench, check, GuardKind.Matrix)).State);
        // asked again, it is not put in twice
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, said with { MatrixEffect = "3 %" }));
        var after = (await bench.View(check))!.Levels[0];
        // by hand: 3 % of 7.90 as a half-width, rectangular, is 0.237/√3 = 0.13683 dKH, beside what was there
        var was = before.Doubts.Sum(d => d.StandardUncertainty * d.StandardUncertainty);
        Assert.Equal(Math.Sqrt(was + (0.237 * 0.237 / 3)), Math.Sqrt(after.Doubts.Sum(d => d.StandardUncertainty * d.StandardUncertainty)), 1e-9);
        Assert.Contains(after.Doubts, d => d.Source.Contains("another kind", StringComparison.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_method_for_the_water_is_named_where_the_instrument_has_one(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (check, _, instrument, water) = await Begin(bench);
        var fresh = Assert.IsType<AddMethod.Outcome.Added>(await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(instrument) with { Matrix = Matrix.FreshWater, SalinityLow = "", SalinityHigh = "" }, default))).Method;
        var plan = Plans.AlkalinityWater;
        Assert.IsType<ChangeReferenceWater.Outcome.Changed>(await bench.Do<ChangeReferenceWater, ChangeReferenceWater.Outcome>(u => u.Handle(new ChangeReferenceWater.Command
        {
            Water = water, Label = plan.Label, Parameter = plan.Parameter, Form = plan.Form, Matrix = Matrix.FreshWater, Known = plan.Known, Doubt = plan.Doubt, Origin = plan.Origin, OriginDetail = plan.OriginDetail, MadeOn = plan.MadeOn, UseBy = plan.UseBy,
        }, default)));
        var guard = await Guard(bench, check, GuardKind.Matrix);
        Assert.Equal((GuardState.InTheWay, fresh), (guard.State, guard.OtherMethod!.Value));
        Assert.Contains("KW-36 is fresh water, but this method is for seawater.", guard.Sentence, StringComparison.Ordinal);
        Assert.Equal("The harbour analyser has a method for alkalinity in fresh water: start the check on that one.", guard.ToDo);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_bottle_that_holds_too_little_stands_in_the_way(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (check, _, _, water) = await Begin(bench, Plans.AlkalinityWater with { Amount = "130 mL" });
        // by hand: 130 mL, of which this check has its five samples of 5 mL booked already; it takes 125 mL in all
        var guard = await Guard(bench, check, GuardKind.Amount);
        Assert.Equal(GuardState.Holds, guard.State);
        Assert.EndsWith("10 rinses of 10 mL and 5 samples of 5 mL; by the records about 130 mL is left.", Plain(guard.Sentence), StringComparison.Ordinal);
        await bench.Do<DrawFromShelf, DrawFromShelf.Outcome>(u => u.Handle(new DrawFromShelf.Command { Bottle = water, Amount = "10 mL" }, default));
        guard = await Guard(bench, check, GuardKind.Amount);
        Assert.Equal(GuardState.InTheWay, guard.State);
        Assert.EndsWith("by the records about 120 mL is left.", Plain(guard.Sentence), StringComparison.Ordinal);
        // after two readings three are to come: six rinses and three samples, 75 mL; two samples were taken
        await bench.Keep(check, "7.9");
        await bench.Keep(check, "7.9");
        Assert.EndsWith("takes about 75 mL of KW-36: 6 rinses of 10 mL and 3 samples of 5 mL; by the records about 110 mL is left.", Plain((await Guard(bench, check, GuardKind.Amount)).Sentence), StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_reagent_past_its_date_or_with_no_open_lot_stands_in_the_way(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (check, method, _, _) = await Begin(bench);
        Task<OpenLot.Outcome> Open(string name, string reagent, string expires) => bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = name, Reagent = reagent, OpenedOn = "2026-09-01", ExpiresOn = expires }, default));
        var one = Assert.IsType<OpenLot.Outcome.Opened>(await Open("A-19", "acid", "2026-12-01")).Lot;
        var dye = Assert.IsType<OpenLot.Outcome.Opened>(await Open("D-2", "dye", "2026-09-10")).Lot;
        Assert.Equal("Lot A-19 of acid, opened 1 September, good until 1 December and lot D-2 of dye, opened 1 September, good until 10 September.", Plain((await Guard(bench, check, GuardKind.Lots)).Sentence));
        Assert.Equal(GuardState.Holds, (await Guard(bench, check, GuardKind.Lots)).State);
        bench.Time.Advance(TimeSpan.FromDays(9));
        Assert.StartsWith("Lot D-2 of dye is past its date, 10 September.", Plain((await Guard(bench, check, GuardKind.Lots)).Sentence), StringComparison.Ordinal);
        await bench.Do<EmptyLot, EmptyLot.Outcome>(u => u.Handle(new EmptyLot.Command { Lot = dye }, default));
        var guard = await Guard(bench, check, GuardKind.Lots);
        Assert.Equal((GuardState.InTheWay, "No lot of dye is open: lot D-2 was emptied on 12 September."), (guard.State, Plain(guard.Sentence)));
        await Open("D-3", "Dye", "");
        Assert.Equal(GuardState.NeedsYou, (await Guard(bench, check, GuardKind.Lots)).State);
        Assert.NotEqual(Guid.Empty, one);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Sample_volume_and_temperature_are_typed_once(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (check, method, _, _) = await Begin(bench);
        await ChangeMethod(bench, method, m => m with { SampleVolume = "" });
        Assert.Equal(GuardState.InTheWay, (await Guard(bench, check, GuardKind.SampleVolume)).State);
        var said = new PassGuards.Command { Check = check, DosingPaused = true, Confirmed = [GuardKind.Amount, GuardKind.Lots] };
        Plans.Only(Assert.IsType<PassGuards.Outcome.Refused>(await Pass(bench, said with { SampleVolume = "0" })).Faults, "SampleVolume");
        Plans.Only(Assert.IsType<PassGuards.Outcome.Refused>(await Pass(bench, said with { Temperature = "220" })).Faults, "Temperature");
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, said with { SampleVolume = "4,5", Temperature = "22.5" }));
        Assert.StartsWith("4.5 mL, exactly", Plain((await Guard(bench, check, GuardKind.SampleVolume)).Sentence), StringComparison.Ordinal);
        Assert.Equal("All stand at 22.5 °C.", Plain((await Guard(bench, check, GuardKind.Temperature)).Sentence));
        foreach (var reading in Plans.Right)
            await bench.Keep(check, reading);
        var view = (await bench.View(check))!;
        Assert.Contains("at 22.5 °C", Plain(view.Levels[0].Statement), StringComparison.Ordinal);
        Assert.Empty(view.BegunAllTheSame);
        Assert.DoesNotContain("Begun although", view.Levels[0].Statement, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_tick_is_taken_back_and_a_hand_kit_is_not_asked_for_dosing(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (check, _, _, _) = await Begin(bench);
        Assert.IsType<PassGuards.Outcome.Passed>(await Pass(bench, new PassGuards.Command { Check = check, Confirmed = [.. Ticked] }));
        // nothing listens: nothing is paused, nothing is due
        Assert.DoesNotContain((await Due(bench)).Items, i => i.Kind == DueKind.DosingPaused);
        var back = Assert.IsType<PassGuards.Outcome.NotYet>(await Pass(bench, new PassGuards.Command { Check = check, Confirmed = [GuardKind.Dosing, GuardKind.Amount, GuardKind.Lots] }));
        Plans.Only(back.Faults, "Confirmed.Temperature");
        Assert.Equal(GuardState.NeedsYou, (await Guard(bench, check, GuardKind.Temperature)).State);

        var kit = Assert.IsType<AddInstrument.Outcome.Added>(await bench.Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = "the drop kit", Kind = InstrumentKind.HandKit }, default))).Instrument;
        var method = Assert.IsType<AddMethod.Outcome.Added>(await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(kit), default))).Method;
        var byHand = await bench.Alkalinity(method: method);
        Assert.Equal(GuardState.Holds, (await Guard(bench, byHand, GuardKind.Dosing)).State);
        // by hand: the kit rinses twice where the water changes and once between readings, 5 mL each: 6 rinses and 5 samples
        Assert.StartsWith("This check takes about 55 mL of the known water: 6 rinses of 5 mL and 5 samples of 5 mL", Plain((await Guard(bench, byHand, GuardKind.Amount)).Sentence), StringComparison.Ordinal);
        Assert.NotNull((await Look(bench, await bench.Alkalinity()))!.Hindrance);
        Assert.Null(await Look(bench, Guid.NewGuid()));
    }
}
