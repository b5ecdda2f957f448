using Knownwater.Checks;
using Knownwater.Records.Checks;
using Knownwater.Records.Due;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Due;

public sealed class DueTests(PostgresCluster cluster)
{
    private static Task<DueList> List(TestBench bench) => bench.Do<ListDue, DueList>(u => u.Handle(default));

    [Theory, ClassData(typeof(BothStores))]
    public async Task Nothing_is_due_on_an_empty_bench(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var due = await List(bench);
        Assert.Empty(due.Items);
        Assert.StartsWith("Nothing is due.", due.Summary, StringComparison.Ordinal);
        Assert.StartsWith("Thursday 3", due.TodayWords, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Each_thing_stands_with_its_reason_and_goes_when_it_is_done(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        Assert.Equal(DueKind.NeverChecked, Assert.Single((await List(bench)).Items).Kind);

        // An unfinished check says how far it has come, and the method no longer counts as never checked.
        var check = await bench.Alkalinity(5, method: method);
        await bench.Keep(check, "7.9");
        await bench.Keep(check, "8.0");
        var unfinished = Assert.Single((await List(bench)).Items);
        Assert.Equal((DueKind.UnfinishedCheck, DueWhen.Now, DueAct.GoOn), (unfinished.Kind, unfinished.When, unfinished.Act));
        Assert.Equal("Alkalinity on the harbour analyser: 2 of 5 readings.", unfinished.Sentence);
        foreach (var reading in new[] { "7.8", "7.9", "7.9" })
            await bench.Keep(check, reading);
        var none = await List(bench);
        Assert.Empty(none.Items);
        Assert.Equal("Nothing is due. The next check is alkalinity, on 2\u00a0November.", none.Summary);

        // A lot opened after the check, and one near its date.
        bench.Time.Advance(TimeSpan.FromDays(1));
        await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-20", ExpiresOn = "2026-09-10" }, default));
        Assert.Equal([DueKind.NewLot, DueKind.LotExpires], (await List(bench)).Items.Select(i => i.Kind));
        Assert.Equal("Two things are due, one of them now.", (await List(bench)).Summary);

        // It reads high: that is what is due then.
        await bench.Alkalinity(Plans.High, method: method);
        var high = (await List(bench)).Items[0];
        Assert.Equal((DueKind.ReadsWrong, Verdict.ReadsHigh), (high.Kind, high.Verdict));
        Assert.Contains("Reads high by 10.6", high.Sentence, StringComparison.Ordinal);

        // Weeks later the check is old and the lot past its date.
        bench.Time.Advance(TimeSpan.FromDays(60));
        var later = (await List(bench)).Items;
        Assert.Contains(later, i => i.Kind == DueKind.CheckIsOld);
        Assert.Contains(later, i => i.Kind == DueKind.LotExpires && i.When == DueWhen.Now && i.Sentence.Contains("past its date", StringComparison.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_quick_verdict_wants_to_be_kept_and_old_water_to_be_made_fresh(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var check = await bench.Alkalinity(Plans.Right);
        var keep = Assert.Single((await List(bench)).Items);
        Assert.Equal((DueKind.NotKept, DueAct.Keep, check), (keep.Kind, keep.Act, keep.Check));
        await bench.Do<DescribeCheck, DescribeCheck.Outcome>(u => u.Handle(new DescribeCheck.Command { Check = check }, default));
        Assert.Empty((await List(bench)).Items);
        var water = await bench.Water();
        bench.Time.Advance(TimeSpan.FromDays(14));
        var old = Assert.Single((await List(bench)).Items);
        Assert.Equal((DueKind.WaterPastUse, water), (old.Kind, old.Water));
    }
}
