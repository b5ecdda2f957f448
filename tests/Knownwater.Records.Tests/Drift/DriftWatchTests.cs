using Knownwater.Records.Drift;
using Knownwater.Records.History;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Drift;

public sealed class DriftWatchTests(PostgresCluster cluster)
{
    private static Task<ChangeDriftWatch.Outcome> Change(TestBench bench, string alarms, string risk) =>
        bench.Do<ChangeDriftWatch, ChangeDriftWatch.Outcome>(u => u.Handle(new ChangeDriftWatch.Command { FalseAlarms = alarms, Risk = risk, Who = "MJ" }, default));

    private static Task<DriftWatchView> Read(TestBench bench) => bench.Do<ChangeDriftWatch, DriftWatchView>(u => u.Read(default));

    private static async Task<string> Alarm(TestBench bench, Guid method) =>
        (await bench.Do<ViewDrift, DriftView?>(u => u.Handle(method, null, null, default)))!.Numbers.Single(n => n.Term == "The alarm").Value;

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_the_owner_bears_holds_from_then_on_and_can_be_undone(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        Assert.Equal(new DriftWatchView("1", "10", "one false alarm a year", "10\u202f%"), await Read(bench));
        var (_, method) = await bench.Analyser();
        for (var fortnight = 0; fortnight < 5; fortnight++)
        {
            await bench.Alkalinity(Plans.Right, method: method);
            bench.Time.Advance(TimeSpan.FromDays(14));
        }
        var before = (await bench.Do<ViewDrift, DriftView?>(u => u.Handle(method, null, null, default)))!;
        Assert.Contains("one false alarm a year over all methods", await Alarm(bench, method), StringComparison.Ordinal);

        var changed = Assert.IsType<ChangeDriftWatch.Outcome.Changed>(await Change(bench, "0,5", "2.5"));
        Assert.Equal(new DriftWatchView("0.5", "2.5", "one false alarm in two years", "2.5\u202f%"), await Read(bench));
        Assert.Contains("one false alarm in two years over all methods", await Alarm(bench, method), StringComparison.Ordinal);
        // the smaller risk is reached on an earlier day, or is passed already
        var after = (await bench.Do<ViewDrift, DriftView?>(u => u.Handle(method, null, null, default)))!;
        Assert.True(after.NextOn < before.NextOn, $"{after.NextOn} {before.NextOn}");
        Assert.IsType<ChangeDriftWatch.Outcome.AsItWas>(await Change(bench, "0.5", "2.5"));
        Assert.Equal("Drift: one false alarm in two years over all methods, and a check is due at a chance of 2.5\u202f%.", (await bench.Do<ListHistory, HistoryList>(u => u.Handle(new ListHistory.Query(), default))).Items[0].Sentence);

        Assert.IsType<Undo.Outcome.Undone>(await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = changed.HistoryEntry }, default)));
        Assert.Equal("10", (await Read(bench)).Risk);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_makes_no_sense_is_refused_with_the_reason(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        foreach (var (alarms, risk, says) in ((string, string, string[])[])[
            ("0.05", "0.5", ["0.05 is below 0.1, one in ten years.", "0.5 is below 1\u202f%."]), ("13", "51", ["13 is above 12, one a month.", "51 is above 50\u202f%."]),
            ("", "", ["Write how many false alarms", "Write at which chance"]), ("often", "1,2,3", ["often", "1,2,3"])])
        {
            var faults = Assert.IsType<ChangeDriftWatch.Outcome.Refused>(await Change(bench, alarms, risk)).Faults;
            Assert.Equal(["FalseAlarms", "Risk"], faults.Select(f => f.Field));
            Assert.All(faults.Zip(says), f => Assert.Contains(f.Second, f.First.Sentence, StringComparison.Ordinal));
        }
        Assert.Equal("1", (await Read(bench)).FalseAlarms);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Few_checks_bear_no_more_than_one_false_alarm_in_five(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        await bench.Alkalinity(Plans.Right, method: method);
        Assert.IsType<ChangeDriftWatch.Outcome.Changed>(await Change(bench, "12", "10"));
        // one check in sixty days at least: 365 / 60 a year, and a fifth of them is 1.22
        Assert.Contains("once in about 5 checks of this method: 1.22 false alarms a year", await Alarm(bench, method), StringComparison.Ordinal);
    }
}
