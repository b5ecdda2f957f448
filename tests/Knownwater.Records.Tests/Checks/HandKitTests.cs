using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Checks;

public sealed class HandKitTests(PostgresCluster cluster)
{
    private static async Task<(Guid Instrument, AddMethod.Outcome Outcome)> Add(TestBench bench, Func<Guid, AddMethod.Command> command)
    {
        var added = await bench.Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = $"the kit {Guid.NewGuid()}", Kind = InstrumentKind.HandKit }, default));
        var instrument = Assert.IsType<AddInstrument.Outcome.Added>(added).Instrument;
        return (instrument, await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(command(instrument), default)));
    }

    private static AddMethod.Command Colours(Guid instrument) => new()
    {
        Instrument = instrument, Parameter = "nitrate", Form = "mg/L NO3", Matrix = Matrix.Seawater, Scale = ReadingScale.ColourSteps, Steps = "0 2 5 10 25", ToleranceAbsolute = "5", TolerancePercent = "10",
    };

    private static AddMethod.Command Drops(Guid instrument) => new()
    {
        Instrument = instrument, Parameter = "alkalinity", Form = "dKH", Matrix = Matrix.Seawater, Scale = ReadingScale.Drops, ValuePerDrop = "0.5", SampleVolume = "5", ToleranceAbsolute = "1", TolerancePercent = "0",
    };

    private static async Task<Guid> Start(TestBench bench, Func<Guid, AddMethod.Command> method, string known, string readings = "3")
    {
        var (_, outcome) = await Add(bench, method);
        var id = Assert.IsType<AddMethod.Outcome.Added>(outcome).Method;
        var of = method(default);
        var started = await bench.Start(new StartCheck.Command { Parameter = of.Parameter, Form = of.Form, Method = id, Levels = [new LevelEntry { Known = known, Doubt = "0" }], Replicates = readings });
        return Assert.IsType<StartCheck.Outcome.Started>(started).Check;
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Colours_are_typed_as_seen_and_judged_with_the_widest_step_where_they_fell(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await Start(bench, Colours, "8", "4");
        foreach (var typed in (string[])["10", "5-10", "between 5 and 10", "like 5"])
            Assert.IsNotType<KeepReading.Outcome.Refused>(await bench.Keep(check, typed));
        var level = (await bench.View(check))!.Levels[0];

        Assert.Equal([10, 7.5, 7.5, 5], level.Readings.Select(r => r.Value));
        Assert.Equal(["like 10", "between 5 and 10", "between 5 and 10", "like 5"], level.Readings.Select(r => r.Seen));
        // like 10 is open 2.5 down and 7.5 up: the wider side counts for both
        Assert.Equal(15, level.Plan.Resolution);
        Assert.Equal(-0.5, level.Judgement!.Bias.Value, 1e-12);
        Assert.Contains(level.Numbers, n => n is { Term: "What limits this check", Value: "step of the colour card" });
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_step_that_is_not_on_the_card_is_refused_with_its_neighbours_offered(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await Start(bench, Colours, "8");
        async Task<FieldFault> Refused(string typed) => Plans.Only(Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(check, typed)).Faults, "Typed");

        var fault = await Refused("7");
        Assert.StartsWith("7 is not on the card; its steps are 0, 2, 5, 10 and 25. Is it like 5, like 10, or between the two?", fault.Sentence, StringComparison.Ordinal);
        Assert.Equal(["5", "5-10", "10"], fault.Offers.Select(o => o.Value));
        Assert.Equal(["25", ">"], (await Refused("30")).Offers.Select(o => o.Value));
        Assert.Equal(["10", "10-25", "25"], (await Refused("2-25")).Offers.Select(o => o.Value));
        Assert.Equal("0", Assert.Single((await Refused("<")).Offers).Value);
        Assert.Contains("leaves open more", (await Refused("<10")).Sentence, StringComparison.Ordinal);
        Assert.Contains("Steps of the card", (await Refused(" ")).Sentence, StringComparison.Ordinal);
        foreach (var offer in (await Refused("7")).Offers)
            Assert.IsNotType<KeepReading.Outcome.Refused>(await bench.Keep(check, offer.Value));
        Assert.Equal(Censoring.None, (await bench.View(check))!.Levels[0].Readings[0].Censoring);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Darker_than_the_card_and_paler_than_its_first_step_are_limits(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var dark = await Start(bench, Colours, "24");
        foreach (var typed in (string[])[">", ">25", "darker"])
            await bench.Keep(dark, typed);
        var high = (await bench.View(dark))!.Levels[0];
        Assert.All(high.Readings, r => Assert.Equal((25, Censoring.Above, "darker than 25"), (r.Value, r.Censoring, r.Seen)));
        Assert.Equal(3, high.Judgement!.Censored);

        var pale = await Start(bench, i => Colours(i) with { Steps = "2; 5; 10" }, "3");
        foreach (var typed in (string[])["<", "no colour", "<2"])
            await bench.Keep(pale, typed);
        Assert.All((await bench.View(pale))!.Levels[0].Readings, r => Assert.Equal((2, Censoring.Below, "paler than 2"), (r.Value, r.Censoring, r.Seen)));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Drops_are_counted_and_half_a_drop_is_taken_off(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await Start(bench, Drops, "7.75");
        foreach (var typed in (string[])["16 drops", "16", "17 drops"])
            Assert.IsNotType<KeepReading.Outcome.Refused>(await bench.Keep(check, typed));
        var view = (await bench.View(check))!;
        var level = view.Levels[0];

        // n − ½ drops of 0.5 dKH: 7.75, 7.75, 8.25
        Assert.Equal([7.75, 7.75, 8.25], level.Readings.Select(r => r.Value));
        Assert.Equal(["16 drops", "16 drops", "17 drops"], level.Readings.Select(r => r.Seen));
        Assert.Equal(0.5, level.Plan.Resolution);
        Assert.Equal("by drops of 0.5\u00A0dKH; half a drop is taken off, since the last one overshoots", view.ScaleWords);

        var table = await Start(bench, i => Drops(i) with { TableAllowsForLastDrop = true }, "8");
        await bench.Keep(table, "16");
        Assert.Equal(8, (await bench.View(table))!.Levels[0].Readings[0].Value);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_value_written_in_place_of_a_count_is_asked_about(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await Start(bench, i => Drops(i) with { ToleranceAbsolute = "0.5" }, "8");
        var doubt = Assert.IsType<KeepReading.Outcome.Doubtful>(await bench.Keep(check, "8"));
        Assert.Contains("8 drops are 3.75\u00A0dKH", doubt.Sentence, StringComparison.Ordinal);
        Assert.IsType<KeepReading.Outcome.Kept>(await bench.Keep(check, Assert.Single(doubt.Offers).Value));
        Assert.Equal("17 drops", (await bench.View(check))!.Levels[0].Readings[0].Seen);

        var part = Plans.Only(Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(check, "7.75")).Faults, "Typed");
        Assert.Equal("16 drops", Assert.Single(part.Offers).Value);
        Assert.IsType<KeepReading.Outcome.Kept>(await bench.Keep(check, "<"));
        Assert.Equal((0.5, Censoring.Below), ((await bench.View(check))!.Levels[0].Readings[1].Value, (await bench.View(check))!.Levels[0].Readings[1].Censoring));
        Assert.IsType<KeepReading.Outcome.CheckClosed>(await bench.Keep(check, ">30"));
        Assert.Equal("not turned after 30 drops", (await bench.View(check))!.Levels[0].Readings[2].Seen);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Steps_are_read_with_the_owners_comma_and_faults_offer_what_was_meant(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        await bench.Do<ChangeBench, ChangeBench.Outcome>(async u => await u.Handle(new ChangeBench.Command { Name = "My bench", DecimalSign = DecimalSign.Comma, TimeZone = "Europe/Berlin" }, default));
        var (instrument, added) = await Add(bench, i => Colours(i) with { Steps = "0 0,02 0,05; 0,1" });
        Assert.IsType<AddMethod.Outcome.Added>(added);
        var view = (await bench.Do<ViewInstrument, InstrumentView?>(u => u.Handle(instrument, default)))!.Methods[0];
        Assert.Equal("0 0,02 0,05; 0,1", view.Steps);
        Assert.Equal("by colour, steps 0; 0,02; 0,05; 0,1\u00A0mg/L", view.ScaleWords);

        async Task<FieldFault> Refused(string steps) => Plans.Only(Assert.IsType<AddMethod.Outcome.Refused>((await Add(bench, i => Colours(i) with { Steps = steps })).Outcome).Faults, "Steps");
        Assert.Equal("0 5 10 25", Assert.Single((await Refused("0,5,10,25")).Offers).Value);
        Assert.Equal("0 5 10", Assert.Single((await Refused("0 10 5")).Offers).Value);
        Assert.Contains("is one step", (await Refused("5")).Sentence, StringComparison.Ordinal);
        Assert.Contains("not said", (await Refused("")).Sentence, StringComparison.Ordinal);
        Assert.NotEmpty((await Refused("0 five")).Sentence);
        Plans.Only(Assert.IsType<AddMethod.Outcome.Refused>((await Add(bench, i => Drops(i) with { ValuePerDrop = "" })).Outcome).Faults, "ValuePerDrop");
        Plans.Only(Assert.IsType<AddMethod.Outcome.Refused>((await Add(bench, i => Drops(i) with { ValuePerDrop = "0" })).Outcome).Faults, "ValuePerDrop");
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_check_keeps_the_scale_that_it_began_with_and_a_changed_method_can_be_put_back(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, added) = await Add(bench, Colours);
        var method = Assert.IsType<AddMethod.Outcome.Added>(added).Method;
        var check = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(new StartCheck.Command { Parameter = "nitrate", Form = "mg/L NO3", Method = method, Levels = [new LevelEntry { Known = "8", Doubt = "0.1" }], Replicates = "3" })).Check;
        var changed = await bench.Do<ChangeMethod, ChangeMethod.Outcome>(u => u.Handle(new ChangeMethod.Command { Method = method, Parameter = "nitrate", Form = "mg/L NO3", Matrix = Matrix.Seawater, Scale = ReadingScale.Display, Steps = "1 2" }, default));
        Assert.IsType<ChangeMethod.Outcome.Changed>(changed);
        async Task<MethodView> Shown() => (await bench.Do<ViewInstrument, InstrumentView?>(u => u.Handle(instrument, default)))!.Methods[0];
        Assert.Equal((ReadingScale.Display, "", ""), ((await Shown()).Scale, (await Shown()).Steps, (await Shown()).ScaleWords));

        Assert.IsType<KeepReading.Outcome.Refused>(await bench.Keep(check, "7"));
        Assert.IsType<KeepReading.Outcome.Kept>(await bench.Keep(check, "5-10"));
        var again = await bench.Do<RepeatCheck, RepeatCheck.Outcome>(u => u.Handle(new RepeatCheck.Command { Check = check }, default));
        Assert.NotEmpty((await bench.View(Assert.IsType<RepeatCheck.Outcome.Started>(again).Check))!.ScaleWords);

        var entry = (await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query { Subject = method }, default))).Items[0];
        Assert.IsType<Undo.Outcome.Undone>(await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = entry.Id }, default)));
        Assert.Equal((ReadingScale.ColourSteps, "0 2 5 10 25"), ((await Shown()).Scale, (await Shown()).Steps));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_plan_of_a_kit_reckons_with_its_step(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, added) = await Add(bench, Colours);
        var outcome = await bench.Do<PlanReplicates, PlanReplicates.Outcome>(u => u.Handle(new PlanReplicates.Command
        {
            Parameter = "nitrate", Form = "mg/L NO3", Method = Assert.IsType<AddMethod.Outcome.Added>(added).Method, Known = "20", Doubt = "0", ToleranceAbsolute = "2", TolerancePercent = "0",
        }, default));
        var advice = Assert.IsType<PlanReplicates.Outcome.Planned>(outcome).Advice;
        Assert.True(advice.LimitedByResolution);
        Assert.StartsWith("The step of the colour card is the limit", advice.Reason, StringComparison.Ordinal);
    }
}
