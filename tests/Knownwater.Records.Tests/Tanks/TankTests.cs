using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tanks;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Tanks;

public sealed class TankTests(PostgresCluster cluster)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static Task<Undo.Outcome> UndoLast(TestBench bench, Guid? entry) => bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = entry }, Cancel));

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_tank_is_added_changed_removed_and_brought_back(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var tank = await bench.Tank();
        Assert.Equal("Reef, 280\u00a0L, salinity 35", (await bench.Look(tank))!.Words);
        Task<ChangeTank.Outcome> Change(ChangeTank.Command command) => bench.Do<ChangeTank, ChangeTank.Outcome>(u => u.Handle(command, Cancel));
        await Change(new() { Tank = tank, Name = "Lagoon", Kind = TankKind.Reef, Volume = "74", Unit = TankVolumeUnit.UsGallons, Salinity = "34,5" });
        var view = (await bench.Look(tank))!;
        Assert.Equal("Reef, 74\u00a0US gallons, salinity 34,5", view.Words);
        await using (var records = bench.Store.NewContext())
        {
            // 231 cubic inches of 25.4 mm: 3.785411784 L, exact; 74 of them 280.120472016 L
            Assert.Equal(280.120472016, records.Tanks.Single().VolumeLitres!.Value, 1e-9);
            Assert.Equal(34.5, records.Tanks.Single().Salinity!.Value, 1e-12);
        }

        var removed = Assert.IsType<RemoveTank.Outcome.Removed>(await bench.Do<RemoveTank, RemoveTank.Outcome>(u => u.Handle(new RemoveTank.Command { Tank = tank, Reason = "sold" }, Cancel)));
        Assert.Null(await bench.Look(tank));
        Assert.Empty(await bench.Do<ListTanks, IReadOnlyList<TankLine>>(u => u.Handle(Cancel)));
        await UndoLast(bench, removed.HistoryEntry);
        Assert.Equal("Lagoon", Assert.Single(await bench.Do<ListTanks, IReadOnlyList<TankLine>>(u => u.Handle(Cancel))).Name);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_tank_that_cannot_be_is_refused_with_every_fault(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        await bench.Tank();
        async Task<IReadOnlyList<FieldFault>> Refused(AddTank.Command command) =>
            Assert.IsType<AddTank.Outcome.Refused>(await bench.Do<AddTank, AddTank.Outcome>(u => u.Handle(command, Cancel))).Faults;
        Assert.Equal(["Name", "Volume", "Salinity"], (await Refused(new() { Name = " ", Kind = TankKind.PlantedFresh, Volume = "much", Salinity = "35" })).Select(f => f.Field));
        Assert.Contains("a “Lagoon” already", Plans.Only(await Refused(new() { Name = "Lagoon" }), "Name").Sentence, StringComparison.Ordinal);
        Plans.Only(await Refused(new() { Name = "Kelp", Volume = "0" }), "Volume");
        Assert.Equal(2, Plans.Only(await Refused(new() { Name = "Kelp", Volume = "1,234" }), "Volume").Offers.Count);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Several_readings_go_in_at_once_as_typed_and_empty_lines_are_left_out(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var tank = await bench.Tank();
        var request = Guid.NewGuid();
        Task<EnterReadings.Outcome> Enter() => bench.Enter(tank, "2026-09-03T06:10", false, request,
            new ReadingEntry { Method = method, Typed = "8,2" }, new ReadingEntry { Parameter = "nitrate", Form = "mg/L NO3", Typed = " " },
            new ReadingEntry { Parameter = "phosphate", Form = "mg/L PO4", Instrument = "a neighbour’s kit", Typed = "<0.02" });
        var entered = Assert.IsType<EnterReadings.Outcome.Entered>(await Enter());
        Assert.Equal(2, entered.Count);
        Assert.Equal(entered, await Enter());                            // the same form sent twice
        var view = (await bench.Look(tank))!;
        Assert.Equal(2, view.ReadingCount);
        Assert.Equal("Lagoon: alkalinity 8.2\u00a0dKH and phosphate <0.02\u00a0mg/L PO₄ entered.", view.LastAct);
        var kh = view.Latest.Single(r => r.Parameter == "Alkalinity");
        Assert.Equal(("8,2", "8.2\u00a0dKH", "the harbour analyser", "3\u00a0September, 06:10", "MJ"), (kh.Typed, kh.Words, kh.Instrument, kh.WhenWords, kh.Who));
        var po4 = view.Latest.Single(r => r.Parameter == "Phosphate");
        Assert.Equal((null, "<0.02\u00a0mg/L PO₄", "a neighbour’s kit"), (po4.Method, po4.Words, po4.Instrument));
        await using (var records = bench.Store.NewContext())
            Assert.Equal(Censoring.Below, records.TankReadings.Single(r => r.MethodId == null).Censoring);
        await UndoLast(bench, view.LastActEntry);
        Assert.Equal(0, (await bench.Look(tank))!.ReadingCount);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Readings_that_cannot_be_are_refused_together_and_nothing_is_written(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var tank = await bench.Tank();
        var refused = Assert.IsType<EnterReadings.Outcome.Refused>(await bench.Enter(tank, "2026-09-03T23:10", false, null,
            new ReadingEntry { Method = method, Typed = "1,234" }, new ReadingEntry { Parameter = "nitrate", Typed = "-4" }, new ReadingEntry { Parameter = "nonsense", Typed = "4" },
            new ReadingEntry { Method = method, Typed = "8.0" }));
        Assert.Equal(["At", "Lines[0].Typed", "Lines[1].Typed", "Lines[2].Parameter"], refused.Faults.Select(f => f.Field));
        Assert.Equal(["1.234", "1234"], refused.Faults[1].Offers.Select(o => o.Value).Order(StringComparer.Ordinal));
        Assert.Contains("has not come yet", refused.Faults[0].Sentence, StringComparison.Ordinal);
        Assert.Equal(0, (await bench.Look(tank))!.ReadingCount);
        Plans.Only(Assert.IsType<EnterReadings.Outcome.Refused>(await bench.Enter(tank, "", false, null, new ReadingEntry { Method = method, Typed = "" })).Faults, "");
        // a method for seawater does not read a fresh-water tank
        var brook = await bench.Tank("Brook", TankKind.PlantedFresh);
        Assert.Contains("This method is for seawater, and Brook holds fresh water.", Plans.Only(Assert.IsType<EnterReadings.Outcome.Refused>(
            await bench.Enter(brook, "", false, null, new ReadingEntry { Method = method, Typed = "8" })).Faults, "Lines[0].Typed").Sentence, StringComparison.Ordinal);
        Assert.Empty(await bench.Do<OfferEntryLines, IReadOnlyList<EntryLine>>(u => u.Handle(brook, Cancel)));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_number_ten_times_the_last_one_is_asked_about_and_kept_when_confirmed(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var tank = await bench.Tank();
        await bench.Read(tank, method, "8.2");
        bench.Time.Advance(TimeSpan.FromHours(1));
        var line = new ReadingEntry { Method = method, Typed = "81" };
        var question = Assert.Single(Assert.IsType<EnterReadings.Outcome.Doubtful>(await bench.Enter(tank, "", false, null, line)).Questions);
        Assert.StartsWith("81 dKH is ten times the last reading here, 8.2.", question.Sentence, StringComparison.Ordinal);
        Assert.Equal("8.1", Assert.Single(question.Offers).Value);
        Assert.IsType<EnterReadings.Outcome.Entered>(await bench.Enter(tank, "", true, null, line));
        Assert.Equal("81\u00a0dKH", Assert.Single((await bench.Look(tank))!.Latest).Words);
        var offered = Assert.Single(await bench.Do<OfferEntryLines, IReadOnlyList<EntryLine>>(u => u.Handle(tank, Cancel)));
        Assert.Equal((method, "last 81\u00a0dKH, 3\u00a0September, 08:40"), (offered.Method, offered.LastWords));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_kit_is_read_by_its_own_scale_and_a_value_in_place_of_a_count_is_asked_about(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, _) = await bench.Analyser("the kits");
        async Task<Guid> Method(AddMethod.Command command) => Assert.IsType<AddMethod.Outcome.Added>(await bench.Do<AddMethod, AddMethod.Outcome>(u => u.Handle(command, Cancel))).Method;
        var colours = await Method(new() { Instrument = instrument, Parameter = "nitrate", Form = "mg/L NO3", Matrix = Matrix.Seawater, Scale = ReadingScale.ColourSteps, Steps = "0 5 10 25" });
        var drops = await Method(new() { Instrument = instrument, Parameter = "alkalinity", Form = "dKH", Matrix = Matrix.Seawater, Scale = ReadingScale.Drops, ValuePerDrop = "0.5" });
        var tank = await bench.Tank();
        Assert.Contains("Steps of the card: 0, 5, 10 and 25.", (await bench.Do<OfferEntryLines, IReadOnlyList<EntryLine>>(u => u.Handle(tank, Cancel))).Single(l => l.Method == colours).ScaleHint, StringComparison.Ordinal);
        var refused = Plans.Only(Assert.IsType<EnterReadings.Outcome.Refused>(await bench.Enter(tank, "", false, null, new ReadingEntry { Method = colours, Typed = "7" })).Faults, "Lines[0].Typed");
        Assert.Equal(["5", "5-10", "10"], refused.Offers.Select(o => o.Value));
        var reading = await bench.Read(tank, colours, "5-10");
        Assert.Equal("7.5\u00a0mg/L NO₃", Assert.Single((await bench.Look(tank))!.Latest).Words);
        await bench.Do<ChangeTankReading, ChangeTankReading.Outcome>(u => u.Handle(new ChangeTankReading.Command { Reading = reading, Typed = ">" }, Cancel));
        Assert.Equal(">25\u00a0mg/L NO₃", Assert.Single((await bench.Look(tank))!.Latest).Words);
        // 17 drops of 0.5 dKH each, half of the last one taken off: 16.5 * 0.5 = 8.25
        bench.Time.Advance(TimeSpan.FromHours(1));
        await bench.Read(tank, drops, "17");
        Assert.Equal("8.25\u00a0dKH", (await bench.Look(tank))!.Latest[0].Words);
        Assert.Equal("17 drops", Assert.Single(Assert.Single(Assert.IsType<EnterReadings.Outcome.Doubtful>(await bench.Enter(tank, "", false, null, new ReadingEntry { Method = drops, Typed = "8" })).Questions).Offers).Value);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Hours_are_those_of_the_bench_and_stay_when_left_alone(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        await bench.Do<ChangeBench, ChangeBench.Outcome>(u => u.Handle(new ChangeBench.Command { Name = "Harbour", TimeZone = "Europe/Berlin" }, Cancel));
        var (_, method) = await bench.Analyser();
        var tank = await bench.Tank();
        bench.Time.Advance(TimeSpan.FromSeconds(37));
        Assert.Equal("2026-09-03T09:40", (await bench.Look(tank))!.NowTyped);
        // the minute that stood in the field is this very moment
        var reading = await bench.Read(tank, method, "8.2", "2026-09-03T09:40");
        Assert.Equal(TestBench.Morning.AddSeconds(37), (await bench.Look(tank))!.Latest[0].At.ToDateTimeOffset());
        Task<ChangeTankReading.Outcome> Change(string typed, string at) => bench.Do<ChangeTankReading, ChangeTankReading.Outcome>(u => u.Handle(new ChangeTankReading.Command { Reading = reading, Typed = typed, At = at, Note = "misread" }, Cancel));
        Assert.IsType<ChangeTankReading.Outcome.Changed>(await Change("8.4", "2026-09-03T09:40"));
        Assert.Equal(TestBench.Morning.AddSeconds(37), (await bench.Look(tank))!.Latest[0].At.ToDateTimeOffset());
        Assert.Equal("Lagoon: alkalinity 8.2\u00a0dKH changed to 8.4\u00a0dKH.", (await bench.Look(tank))!.LastAct);
        Assert.IsType<ChangeTankReading.Outcome.Changed>(await Change("8.4", "2026-09-03 08:15"));
        Assert.Equal(new DateTimeOffset(2026, 9, 3, 6, 15, 0, TimeSpan.Zero), (await bench.Look(tank))!.Latest[0].At.ToDateTimeOffset());
        Plans.Only(Assert.IsType<ChangeTankReading.Outcome.Refused>(await Change("8.4", "yesterday")).Faults, "At");
        Plans.Only(Assert.IsType<ChangeTankReading.Outcome.Refused>(await Change("", "")).Faults, "Typed");
        Assert.IsType<RemoveTankReading.Outcome.Removed>(await bench.Do<RemoveTankReading, RemoveTankReading.Outcome>(u => u.Handle(new RemoveTankReading.Command { Reading = reading, Reason = "another tank’s" }, Cancel)));
        Assert.Empty((await bench.Look(tank))!.Latest);
        await UndoLast(bench, (await bench.Look(tank))!.LastActEntry);
        Assert.Equal("8.4", Assert.Single((await bench.Look(tank))!.Latest).Typed);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_dose_is_recorded_with_its_unit_changed_and_removed(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var tank = await bench.Tank();
        async Task<FieldFault> Refused(string amount) => Plans.Only(Assert.IsType<RecordDose.Outcome.Refused>(await bench.Do<RecordDose, RecordDose.Outcome>(u => u.Handle(
            new RecordDose.Command { Tank = tank, What = "bicarbonate", Amount = amount }, Cancel))).Faults, "Amount");
        Assert.Equal(["38 mL", "38 g"], (await Refused("38")).Offers.Select(o => o.Value));
        Assert.Equal(["1.234 mL", "1234 mL"], (await Refused("1,234 mL")).Offers.Select(o => o.Value).Order(StringComparer.Ordinal));
        await Refused("");
        await Refused("a spoon");
        await Refused("0 mL");
        var dose = await bench.Dosed(tank);
        var view = (await bench.Look(tank))!;
        Assert.Equal("Lagoon: 38 mL of bicarbonate solution dosed.", view.LastAct);
        Assert.Equal(("38 mL", "Alkalinity", DoseKind.Maintenance, false, "MJ"), (view.Doses[0].Amount, view.Doses[0].Parameter, view.Doses[0].Kind, view.Doses[0].IsAutomatic, view.Doses[0].Who));
        await bench.Do<ChangeDose, ChangeDose.Outcome>(u => u.Handle(new ChangeDose.Command { Dose = dose, What = "bicarbonate solution", Amount = "40,5 mL a day", Kind = DoseKind.Correction, IsAutomatic = true, Who = "TO" }, Cancel));
        var changed = Assert.Single((await bench.Look(tank))!.Doses);
        Assert.Equal(("40,5 mL a day", "", "correction", true, "MJ"), (changed.Amount, changed.Parameter, changed.KindWords, changed.IsAutomatic, changed.Who));
        await using (var records = bench.Store.NewContext())
            Assert.Equal((40.5, "mL a day"), (records.Doses.Single().Amount, records.Doses.Single().Unit));
        await bench.Do<RemoveDose, RemoveDose.Outcome>(u => u.Handle(new RemoveDose.Command { Dose = dose, Reason = "never given" }, Cancel));
        Assert.Equal(0, (await bench.Look(tank))!.DoseCount);
        await UndoLast(bench, (await bench.Look(tank))!.LastActEntry);
        Assert.Equal(1, (await bench.Look(tank))!.DoseCount);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_long_list_goes_page_by_page_with_the_newest_first(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var tank = await bench.Tank();
        for (var i = 0; i < 6; i++)
        {
            bench.Time.Advance(TimeSpan.FromMinutes(10));
            await bench.Enter(tank, "", true, null, [.. Enumerable.Range(0, 10).Select(n => new ReadingEntry { Method = method, Typed = $"{i + 3}.{n}" })]);
        }
        Task<TankPage<TankReadingView>> Page(int page) => bench.Do<ListTankReadings, TankPage<TankReadingView>>(u => u.Handle(tank, page, Cancel));
        var first = await Page(1);
        Assert.Equal((50, 1, 2), (first.Items.Count, first.Page, first.Pages));
        Assert.All(first.Items.Take(10), r => Assert.StartsWith("8.", r.Typed, StringComparison.Ordinal));
        Assert.Equal((10, 2), ((await Page(9)).Items.Count, (await Page(9)).Page));
        Assert.Single((await bench.Look(tank))!.Latest);
        // what later happens to the method does not change what was typed
        await bench.Do<RemoveInstrument, RemoveInstrument.Outcome>(u => u.Handle(new RemoveInstrument.Command { Instrument = instrument, Reason = "broken" }, Cancel));
        Assert.Equal("the harbour analyser", (await Page(1)).Items[0].Instrument);
    }
}
