using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Instruments;

public sealed class InstrumentTests(PostgresCluster cluster)
{
    private static Task<InstrumentView?> View(TestBench bench, Guid instrument) => bench.Do<ViewInstrument, InstrumentView?>(u => u.Handle(instrument, default));

    private static Task<OpenLot.Outcome> Open(TestBench bench, OpenLot.Command command) => bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(command, default));

    [Theory, ClassData(typeof(BothStores))]
    public async Task An_instrument_shows_its_settings_methods_and_lots(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        await Open(bench, new OpenLot.Command { Methods = [method], Name = "A-19", Reagent = "acid", OpenedOn = "2026-07-02", ExpiresOn = "2026-12-31" });
        await bench.Do<RecordSetting, RecordSetting.Outcome>(u => u.Handle(new RecordSetting.Command { Instrument = instrument, What = "factor", Old = "1", New = "1.04", On = "2026-08-01", Who = "MJ" }, default));
        await bench.Do<RecordSetting, RecordSetting.Outcome>(u => u.Handle(new RecordSetting.Command { Instrument = instrument, What = "firmware", New = "2.1" }, default));
        var view = (await View(bench, instrument))!;
        Assert.Equal("analyser", view.KindWords);
        Assert.Equal(["firmware", "factor"], view.Settings.Select(s => s.What));
        var shown = Assert.Single(view.Methods);
        Assert.Equal("Alkalinity, in dKH", shown.Name);
        Assert.Equal("never checked", shown.LastCheckWords);
        Assert.Equal("± 0.3\u00a0dKH + 2\u202f%", shown.ToleranceWords);
        var lot = Assert.Single(shown.Lots);
        Assert.Equal("opened 2\u00a0July, good until 31\u00a0December", lot.Words);
        Assert.False(lot.Expired);
        await bench.Alkalinity(Plans.High, method: method);
        var after = (await View(bench, instrument))!.Methods[0];
        Assert.Equal(Verdict.ReadsHigh, after.LastVerdict);
        Assert.Equal("Reads high, 3\u00a0September", after.LastCheckWords);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Faults_of_a_method_stand_beside_their_fields(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, _) = await bench.Analyser();
        var outcome = await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(instrument) with { Parameter = "", SalinityLow = "40", Resolution = "-0.1", RangeLow = "20", MinutesPerReading = "ten" }, default));
        var faults = Assert.IsType<AddMethod.Outcome.Refused>(outcome).Faults;
        Assert.Equal(["MinutesPerReading", "Parameter", "RangeHigh", "Resolution", "SalinityHigh"], faults.Select(f => f.Field).Order(StringComparer.Ordinal));
        var twice = await bench.Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = "the harbour analyser" }, default));
        Plans.Only(Assert.IsType<AddInstrument.Outcome.Refused>(twice).Faults, "Name");
        Plans.Only(Assert.IsType<AddInstrument.Outcome.Refused>(await bench.Do<AddInstrument, AddInstrument.Outcome>(u => u.Handle(new AddInstrument.Command { Name = "  " }, default))).Faults, "Name");
        Plans.Only(Assert.IsType<AddMethod.Outcome.Refused>(await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(Plans.AlkalinityMethod(Guid.NewGuid()), default))).Faults, "Instrument");
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_a_checked_method_measures_stands(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        await bench.Alkalinity(Plans.Right, method: method);
        Task<ChangeMethod.Outcome> Change(string form, string resolution) => bench.Do<ChangeMethod, ChangeMethod.Outcome>(u => u.Handle(new ChangeMethod.Command { Method = method, Parameter = "alkalinity", Form = form, Matrix = Matrix.Seawater, Resolution = resolution }, default));
        Plans.Only(Assert.IsType<ChangeMethod.Outcome.Refused>(await Change("meq/L", "0.01")).Faults, "Form");
        Assert.IsType<ChangeMethod.Outcome.Changed>(await Change("dKH", "0,01"));
        Assert.Equal("0,01", (await View(bench, instrument))!.Methods[0].Resolution);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_fresh_lot_takes_the_place_of_the_former_one_and_an_empty_one_goes_out_of_use(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        await Open(bench, new OpenLot.Command { Methods = [method], Name = "A-19", Reagent = "acid", OpenedOn = "2026-07-02" });
        await Open(bench, new OpenLot.Command { Methods = [method], Name = "D-1", Reagent = "dye", OpenedOn = "2026-07-02" });
        var fresh = Assert.IsType<OpenLot.Outcome.Opened>(await Open(bench, new OpenLot.Command { Methods = [method], Name = "A-20", Reagent = "acid" })).Lot;
        var lots = (await View(bench, instrument))!.Methods[0].Lots;
        Assert.Equal(["A-20", "D-1"], lots.Where(l => l.InUse).Select(l => l.Name));
        Assert.Equal("A-19", lots[^1].Name);
        Assert.IsType<EmptyLot.Outcome.Emptied>(await bench.Do<EmptyLot, EmptyLot.Outcome>(u => u.Handle(new EmptyLot.Command { Lot = fresh }, default)));
        Assert.Equal(["D-1"], (await View(bench, instrument))!.Methods[0].Lots.Where(l => l.InUse).Select(l => l.Name));
        Plans.Only(Assert.IsType<EmptyLot.Outcome.Refused>(await bench.Do<EmptyLot, EmptyLot.Outcome>(u => u.Handle(new EmptyLot.Command { Lot = fresh }, default))).Faults, "");
        Plans.Only(Assert.IsType<OpenLot.Outcome.Refused>(await Open(bench, new OpenLot.Command { Methods = [], Name = "X" })).Faults, "Methods");
        Plans.Only(Assert.IsType<OpenLot.Outcome.Refused>(await Open(bench, new OpenLot.Command { Methods = [method], Name = "X", OpenedOn = "yesterday" })).Faults, "OpenedOn");
        Plans.Only(Assert.IsType<OpenLot.Outcome.Refused>(await Open(bench, new OpenLot.Command { Methods = [method], Name = "X", OpenedOn = "2027-01-01" })).Faults, "OpenedOn");
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_removed_instrument_is_gone_from_the_list_while_its_checks_keep_its_name(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var check = await bench.Alkalinity(Plans.Right, method: method);
        Plans.Only(Assert.IsType<RemoveInstrument.Outcome.Refused>(await bench.Do<RemoveInstrument, RemoveInstrument.Outcome>(u => u.Handle(new RemoveInstrument.Command { Instrument = instrument, Reason = "" }, default))).Faults, "Reason");
        Assert.IsType<RemoveInstrument.Outcome.Removed>(await bench.Do<RemoveInstrument, RemoveInstrument.Outcome>(u => u.Handle(new RemoveInstrument.Command { Instrument = instrument, Reason = "sold" }, default)));
        Assert.Empty(await bench.Do<ListInstruments, IReadOnlyList<InstrumentView>>(u => u.Handle(default)));
        Assert.Equal("Alkalinity on the harbour analyser", (await bench.View(check))!.Title);
        Plans.Only(Assert.IsType<Records.Checks.StartCheck.Outcome.Refused>(await bench.Start(Plans.Alkalinity with { Method = method })).Faults, "Method");
    }
}
