using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.History;

public sealed class UndoTests(PostgresCluster cluster)
{
    private static Task<Undo.Outcome> Undo(TestBench bench, Guid check, Guid? request = null) =>
        bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { LastActOfCheck = check, RequestId = request, Who = "MJ" }, default));

    private static Task<Undo.Outcome> UndoEntry(TestBench bench, Guid entry) =>
        bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = entry }, default));

    private static async Task<IReadOnlyList<HistoryLine>> History(TestBench bench, Guid? subject = null) =>
        (await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query { Subject = subject }, default))).Items;

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_last_reading_is_taken_back_and_the_check_is_open_again(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(Plans.High);
        var undone = Assert.IsType<Undo.Outcome.Undone>(await Undo(bench, check));
        Assert.Equal("Undone: reading 5 kept: 8.7 dKH.", undone.Sentence);
        Assert.Equal(check, undone.Check);
        var view = (await bench.View(check))!;
        Assert.Equal(CheckState.Open, view.State);
        Assert.Equal(4, view.Levels[0].Taken);
        Assert.Null(view.Levels[0].Judgement);
        Assert.Null(view.ClosedAt);
        Assert.IsType<KeepReading.Outcome.CheckClosed>(await bench.Keep(check, "8.5"));
        Assert.Equal(["8.6", "8.8", "8.7", "8.9", "8.5"], (await bench.View(check))!.Levels[0].Readings.Select(r => r.Typed));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Undoing_again_and_again_goes_back_step_by_step_to_nothing(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(3);
        await bench.Keep(check, "8.6");
        await bench.Keep(check, "8.7");
        await bench.Do<ChangeReading, ChangeReading.Outcome>(u => u.Handle(new ChangeReading.Command { Check = check, Level = 1, Reading = 1, Typed = "8.5" }, default));
        Assert.IsType<Undo.Outcome.Undone>(await Undo(bench, check));
        Assert.Equal("8.6", (await bench.View(check))!.Levels[0].Readings[0].Typed);
        Assert.Equal("Reading 2 kept: 8.7 dKH.", (await bench.View(check))!.LastAct);
        Assert.IsType<Undo.Outcome.Undone>(await Undo(bench, check));
        Assert.IsType<Undo.Outcome.Undone>(await Undo(bench, check));
        Assert.Empty((await bench.View(check))!.Levels[0].Readings);
        Assert.IsType<Undo.Outcome.Undone>(await Undo(bench, check));
        Assert.Null(await bench.View(check));
        Plans.Only(Assert.IsType<Undo.Outcome.Refused>(await Undo(bench, check)).Faults, "");
        // Nothing left the history.
        Assert.Equal(8, (await History(bench)).Count);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task An_undone_act_can_be_done_again(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(Plans.High);
        await Undo(bench, check);
        var undoing = (await History(bench, check))[0];
        Assert.Equal("Done again: reading 5 kept: 8.7 dKH.", Assert.IsType<Undo.Outcome.Undone>(await UndoEntry(bench, undoing.Id)).Sentence);
        Assert.Equal(Verdict.ReadsHigh, (await bench.View(check))!.Verdict);
        Assert.Equal("Reading 5 kept: 8.7 dKH.", (await bench.View(check))!.LastAct);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task An_older_act_is_not_undone_under_a_newer_one(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(3);
        await bench.Keep(check, "8.6");
        var first = (await History(bench, check))[0];
        await bench.Keep(check, "8.7");
        Assert.Contains("Undo that first", Plans.Only(Assert.IsType<Undo.Outcome.Refused>(await UndoEntry(bench, first.Id)).Faults, "").Sentence, StringComparison.Ordinal);
        // An instrument on which a method stands is not undone either.
        var (instrument, _) = await bench.Analyser();
        var added = (await History(bench, instrument)).Single();
        Assert.Contains("built on it since", Plans.Only(Assert.IsType<Undo.Outcome.Refused>(await UndoEntry(bench, added.Id)).Faults, "").Sentence, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Every_kind_of_act_can_be_undone(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var lot = Assert.IsType<OpenLot.Outcome.Opened>(await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-19", ExpiresOn = "2027-01-01" }, default))).Lot;
        var water = await bench.Water();
        var check = await bench.Alkalinity(["7.9", "8.0", "7.9", "9.6", "7.9"], extension: true, method: method);
        var acts = new (string Name, Func<Task> Act)[]
        {
            ("bench", () => bench.Do<ChangeBench, ChangeBench.Outcome>(u => u.Handle(new ChangeBench.Command { Name = "Fish room", DecimalSign = DecimalSign.Comma, TimeZone = "Europe/Berlin", MainUse = MainUse.FreshWater }, default))),
            ("instrument", () => bench.Do<ChangeInstrument, ChangeInstrument.Outcome>(u => u.Handle(new ChangeInstrument.Command { Instrument = instrument, Name = "other", Kind = InstrumentKind.HandKit }, default))),
            ("setting", () => bench.Do<RecordSetting, RecordSetting.Outcome>(u => u.Handle(new RecordSetting.Command { Instrument = instrument, What = "factor", New = "1.1" }, default))),
            ("method", () => bench.Do<ChangeMethod, ChangeMethod.Outcome>(u => u.Handle(Changed(method), default))),
            ("lot changed", () => bench.Do<ChangeLot, ChangeLot.Outcome>(u => u.Handle(new ChangeLot.Command { Lot = lot, Name = "A-20", OpenedOn = "2026-08-01" }, default))),
            ("lot emptied", () => bench.Do<EmptyLot, EmptyLot.Outcome>(u => u.Handle(new EmptyLot.Command { Lot = lot }, default))),
            ("lot opened", () => bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "B-1" }, default))),
            ("water changed", () => bench.Do<ChangeReferenceWater, ChangeReferenceWater.Outcome>(u => u.Handle(Changed(water, Plans.AlkalinityWater), default))),
            ("water removed", () => bench.Do<RemoveReferenceWater, RemoveReferenceWater.Outcome>(u => u.Handle(new RemoveReferenceWater.Command { Water = water, Reason = "empty" }, default))),
            ("excluded", () => bench.Do<ExcludeReading, ExcludeReading.Outcome>(u => u.Handle(new ExcludeReading.Command { Check = check, Level = 1, Reading = 4, Reason = "bubble" }, default))),
            ("described", () => bench.Do<DescribeCheck, DescribeCheck.Outcome>(u => u.Handle(new DescribeCheck.Command { Check = check, Method = method, Salinity = "34", Origins = [new LevelOrigin { Level = 1, Origin = Origin.MakersClaim }] }, default))),
            ("method removed", () => bench.Do<RemoveMethod, RemoveMethod.Outcome>(u => u.Handle(new RemoveMethod.Command { Method = method, Reason = "gone" }, default))),
            ("instrument removed", () => bench.Do<RemoveInstrument, RemoveInstrument.Outcome>(u => u.Handle(new RemoveInstrument.Command { Instrument = instrument, Reason = "sold" }, default))),
        };
        foreach (var (name, act) in acts)
        {
            var before = await Everything(bench, check, instrument);
            var entries = (await History(bench)).Count;
            await act();
            var after = await History(bench);
            Assert.True(after.Count == entries + 1, $"{name} left {after.Count - entries} entries.");
            Assert.NotEqual(before, await Everything(bench, check, instrument));
            Assert.True(await UndoEntry(bench, after[0].Id) is Undo.Outcome.Undone, $"{name} was not undone.");
            Assert.Equal(before, await Everything(bench, check, instrument));
        }
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_repeated_undo_undoes_once(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(Plans.High);
        var request = Guid.NewGuid();
        var first = await Undo(bench, check, request);
        Assert.Equal(first, await Undo(bench, check, request));
        Assert.Equal(4, (await bench.View(check))!.Levels[0].Taken);
    }

    private static ChangeMethod.Command Changed(Guid method) => new()
    {
        Method = method,
        Parameter = "alkalinity",
        Form = "dKH",
        Matrix = Matrix.Seawater,
        Resolution = "0.01",
        RangeHigh = "20",
    };

    private static ChangeReferenceWater.Command Changed(Guid water, AddReferenceWater.Command was) => new()
    {
        Water = water,
        Label = "KW-36b",
        Parameter = was.Parameter,
        Form = was.Form,
        Matrix = was.Matrix,
        Known = "8,00",
        Doubt = "0,1",
    };

    /// <summary>All that pages show, as one text to compare.</summary>
    private static async Task<string> Everything(TestBench bench, Guid check, Guid instrument)
    {
        var b = await bench.Do<ViewBench, BenchView>(u => u.Handle(default));
        var i = await bench.Do<ViewInstrument, InstrumentView?>(u => u.Handle(instrument, default));
        var w = await bench.Do<ListReferenceWaters, IReadOnlyList<ReferenceWaterView>>(u => u.Handle(new ListReferenceWaters.Query(), default));
        var c = (await bench.View(check))!;
        return string.Join('\n',
        [
            b.ToString(),
            i?.ToString() ?? "no instrument",
            string.Join(' ', i?.Settings ?? []),
            string.Join(' ', i?.Methods.Select(m => m.ToString() + string.Join(' ', m.Lots)) ?? []),
            string.Join(' ', w.Select(x => $"{x.Label} {x.KnownTyped} {x.Known.Value} {x.Known.StandardUncertainty} {x.OriginWords} {x.DaysWords}")),
            $"{c.Title} {c.Kept} {c.Method} {c.SalinityTyped} {c.Verdict} {c.Levels[0].Water} {string.Join(' ', c.Levels[0].Readings)} {c.Levels[0].Judgement?.N}",
        ]);
    }
}
