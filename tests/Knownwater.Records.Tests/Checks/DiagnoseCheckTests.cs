using Knownwater.Checks;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;
using Knownwater.Records.Tests.Tanks;
using NodaTime;

namespace Knownwater.Records.Tests.Checks;

public sealed class DiagnoseCheckTests(PostgresCluster cluster)
{
    private static Task<CheckDiagnosis?> Diagnose(TestBench bench, Guid check) => bench.Do<DiagnoseCheck, CheckDiagnosis?>(u => u.Handle(check, TestContext.Current.CancellationToken));

    private static async Task<CheckEvidence> Evidence(TestBench bench, Guid check)
    {
        await using var records = bench.Store.NewContext();
        var setting = await BenchSetting.Read(records, Instant.FromDateTimeOffset(bench.Time.GetUtcNow()), TestContext.Current.CancellationToken);
        return (await new EvidenceReading(records, setting).Of((await CheckRows.Read(records, check, TestContext.Current.CancellationToken))!, TestContext.Current.CancellationToken))!;
    }

    private static async Task<Guid> Run(TestBench bench, StartCheck.Command command, params string[][] levels)
    {
        var check = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(command)).Check;
        for (var level = 0; level < levels.Length; level++)
        {
            foreach (var reading in levels[level])
                await bench.Keep(check, reading, level: level + 1);
        }
        return check;
    }

    private static async Task<Guid> Lot(TestBench bench, Guid method, string name) =>
        Assert.IsType<OpenLot.Outcome.Opened>(await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = name }, default))).Lot;

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_number_in_another_form_is_named_with_its_ratio(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        // 2 and 10 mg/L NO3 are 0.452 and 2.26 mg/L NO3-N
        var check = await Run(bench, new StartCheck.Command
        {
            Parameter = "nitrate",
            Form = "mg/L NO3",
            Levels = [new LevelEntry { Known = "2.00", Doubt = "0.02" }, new LevelEntry { Known = "10.0", Doubt = "0.1" }],
            ToleranceAbsolute = "0.2",
            TolerancePercent = "10",
            Replicates = "3",
            UseTypicalScatter = true,
        }, ["0.45", "0.46", "0.45"], ["2.26", "2.25", "2.27"]);
        var found = (await Diagnose(bench, check))!;

        Assert.Equal(Fault.WrongForm, found.Causes[0].Leading);
        Assert.True(found.Causes[0].Probability > 0.9);
        Assert.Contains("NO3-N", found.Causes[0].Sentence.Replace("₃", "3", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Equal(0, found.Earlier);
        Assert.Equal(1, found.Causes.Sum(c => c.Probability), 0.05);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_new_lot_is_suspected_where_the_same_water_read_right_with_the_old_one(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var old = await Lot(bench, method, "A-19");
        var water = await bench.Water();
        var command = Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = water }], UseTypicalScatter = true };
        for (var day = 0; day < 3; day++)
        {
            await Run(bench, command, Plans.Right);
            bench.Time.Advance(TimeSpan.FromDays(2));
        }
        await bench.Do<EmptyLot, EmptyLot.Outcome>(u => u.Handle(new EmptyLot.Command { Lot = old }, default));
        await Lot(bench, method, "A-20");
        bench.Time.Advance(TimeSpan.FromHours(2));
        var check = await Run(bench, command, ["7.0", "7.1", "6.9", "7.0", "7.0"]);
        var found = (await Diagnose(bench, check))!;

        Assert.Equal(3, found.Earlier);
        Assert.Equal((method, instrument, water), (found.Method, found.Instrument, found.Water));
        // the water and its stock were the same in the checks that read right: the lot, or something of today alone, which only another check on this lot can part
        var carried = found.Causes.Single(c => c.Faults.Any(f => f.Fault == Fault.LotStrength));
        Assert.True(carried.Probability > 3 * found.Causes.Where(c => c.Leading is Fault.StockOff or Fault.DeliveryOff or Fault.MatrixContaminated).Sum(c => c.Probability));
        Assert.NotEmpty(found.Tests);
        Assert.Equal(2, found.Tests[0].Outcomes.Count);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_every_check_of_a_water_shares_is_suspected_where_only_its_checks_read_wrong(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        await Lot(bench, method, "A-19");
        var (good, bad) = (await bench.Water(), await bench.Water(Plans.AlkalinityWater with { Label = "KW-37", OriginDetail = "26-0555" }));
        var command = Plans.Alkalinity with { Method = method, UseTypicalScatter = true };
        Guid check = default;
        foreach (var (water, readings) in new[] { (good, Plans.Right), (bad, Plans.High), (good, Plans.Right), (bad, Plans.High) })
        {
            check = await Run(bench, command with { Levels = [new LevelEntry { ReferenceWater = water }] }, readings);
            bench.Time.Advance(TimeSpan.FromDays(1));
        }
        var found = (await Diagnose(bench, check))!;

        Assert.Contains(found.Causes[0].Leading, (Fault[])[Fault.StockOff, Fault.DeliveryOff, Fault.MatrixContaminated]);
        Assert.True(found.Causes[0].Probability > 0.5);
        Assert.Contains(found.Causes[0].For, line => line.Contains("earlier checks fit", StringComparison.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_was_in_the_chamber_is_the_tank_water_that_it_read_last(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var tank = await bench.Tank();
        async Task<double?> Former(Guid check) => (await Evidence(bench, check)).FormerValue;
        Task<Guid> Check() => bench.Alkalinity(Plans.Right, method: method);
        Assert.Null(await Former(await Check()));

        bench.Time.Advance(TimeSpan.FromHours(1));
        await bench.Read(tank, method, "9.4");
        bench.Time.Advance(TimeSpan.FromHours(1));
        var check = await Check();
        Assert.Equal(9.4, await Former(check));
        // known water was in it before the next check, and a limit is no value
        bench.Time.Advance(TimeSpan.FromHours(1));
        Assert.Null(await Former(await Check()));
        bench.Time.Advance(TimeSpan.FromHours(1));
        await bench.Read(tank, method, "<0.5");
        bench.Time.Advance(TimeSpan.FromHours(1));
        Assert.Null(await Former(await Check()));
        // what came after does not change what was before
        Assert.Equal(9.4, await Former(check));

        // another instrument’s reading was never in this chamber
        bench.Time.Advance(TimeSpan.FromHours(1));
        var (_, other) = await bench.Analyser("the other analyser");
        await bench.Read(tank, other, "9.9");
        bench.Time.Advance(TimeSpan.FromHours(1));
        Assert.Null(await Former(await Check()));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Rinses_and_what_stays_behind_are_those_of_the_instrument_itself(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var check = await bench.Alkalinity(Plans.Right, method: method);
        var shipped = Procedure.Shipped(InstrumentKind.Analyser)!;
        Assert.Equal((shipped.ResidualMillilitres, shipped.Rinses), await Method());

        Task<ChangeProcedure.Outcome> Change(int from, ProcedureEdit edit) =>
            bench.Do<ChangeProcedure, ChangeProcedure.Outcome>(u => u.Handle(new ChangeProcedure.Command { Instrument = instrument, From = from, Edit = edit }, TestContext.Current.CancellationToken));
        Assert.IsType<ChangeProcedure.Outcome.Changed>(await Change(0, new ProcedureEdit.Head("By hand, our way", "Ours.", "1.3 mL", "10 mL")));
        Assert.IsType<ChangeProcedure.Outcome.Changed>(await Change(1, new ProcedureEdit.LeaveOut("fill-2")));
        Assert.Equal((1.3, shipped.Rinses - 1), await Method());

        async Task<(double?, int)> Method() => (await Evidence(bench, check)).Method is var of ? (of.ResidualMillilitres, of.Rinses) : default;
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Without_a_finished_check_there_is_nothing_to_look_into(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var open = await bench.Alkalinity();
        await bench.Keep(open, "7.9");

        Assert.Null(await Diagnose(bench, open));
        Assert.Null(await Diagnose(bench, Guid.NewGuid()));
    }
}
