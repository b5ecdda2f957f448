using System.Security.Cryptography;
using System.Text;
using Knownwater.Checks;
using Knownwater.Records.Checks;
using Knownwater.Records.Due;
using Knownwater.Records.History;
using Knownwater.Records.Tanks;
using Knownwater.Records.Tests.Storage;
using NodaTime;

namespace Knownwater.Records.Tests.Tanks;

public sealed class LookBackTests(PostgresCluster cluster)
{
    private static readonly string[] Right = ["7.9", "7.8", "8.0", "7.9", "7.9"], High = ["8.6", "8.8", "8.7", "8.9", "8.7"];

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static async Task<LookBackView> LookBack(TestBench bench, Guid check) => (await bench.Do<LookBack, LookBackView?>(u => u.Handle(check, Cancel)))!;

    private static Task<ClearDoubt.Outcome> Clear(TestBench bench, ClearDoubt.Command command) => bench.Do<ClearDoubt, ClearDoubt.Outcome>(u => u.Handle(command, Cancel));

    private static async Task<IReadOnlyList<DueItem>> InDoubt(TestBench bench) => [.. (await bench.Do<ListDue, DueList>(u => u.Handle(Cancel))).Items.Where(i => i.Kind == DueKind.InDoubt)];

    private static void Pass(TestBench bench, int hours = 1) => bench.Time.Advance(TimeSpan.FromHours(hours));

    /// <summary>A tank read before a good check, after it, and after a check that reads high; with a dose in each time.</summary>
    private static async Task<(Guid Tank, Guid Method, Guid Failed, Guid Doubted)> Story(TestBench bench)
    {
        var (_, method) = await bench.Analyser();
        var tank = await bench.Tank();
        await bench.Read(tank, method, "8.0");
        await bench.Dosed(tank);
        Pass(bench);
        await bench.Alkalinity(Right, method: method);
        Pass(bench);
        var doubted = await bench.Read(tank, method, "8.4");
        await bench.Dosed(tank, kind: DoseKind.Correction);
        Pass(bench);
        var failed = await bench.Alkalinity(High, method: method);
        Pass(bench);
        await bench.Read(tank, method, "8.6");
        return (tank, method, failed, doubted);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task In_doubt_is_all_between_the_last_good_check_and_the_next_one(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (tank, method, failed, doubted) = await Story(bench);
        // another method, another tank and another parameter are not concerned
        var (_, other) = await bench.Analyser("the second analyser");
        await bench.Read(tank, other, "7.9");
        var brook = await bench.Tank("Brook", TankKind.PlantedFresh);
        await bench.Dosed(brook);
        await bench.Dosed(tank, "nitrate");

        var view = await LookBack(bench, failed);
        Assert.Equal(["8.6", "8.4"], view.Readings.Select(r => r.Typed));
        Assert.Equal("correction", Assert.Single(view.Doses).KindWords);
        Assert.Equal("two readings and one dose", view.CountWords);
        Assert.Equal("since 3\u00a0September, when it last read right", view.SinceWords);
        Assert.Equal("", view.UntilWords);
        var marked = (await bench.Look(tank))!;
        Assert.True(marked.Latest.Single(r => r.Typed == "8.6").Doubt!.InDoubt);
        Assert.Null(marked.Latest.Single(r => r.Typed == "7.9").Doubt);
        Assert.Equal([null, "in doubt by the check of 3\u00a0September", null], marked.Doses.Select(d => d.Doubt?.Words));

        // a check that reads right ends the time, and takes nothing back
        Pass(bench);
        await bench.Alkalinity(Right, method: method);
        Pass(bench);
        await bench.Read(tank, method, "8.1");
        view = await LookBack(bench, failed);
        Assert.Equal(["8.6", "8.4"], view.Readings.Select(r => r.Typed));
        Assert.Equal("It read right again on 3\u00a0September.", view.UntilWords);

        // discarded, it puts nothing in doubt; brought back, it does
        var discarded = Assert.IsType<DiscardCheck.Outcome.Discarded>(await bench.Do<DiscardCheck, DiscardCheck.Outcome>(u => u.Handle(new DiscardCheck.Command { Check = failed, Reason = "the wrong bottle" }, Cancel)));
        Assert.Null((await bench.Do<ListTankReadings, TankReadingView?>(u => u.Find(doubted, Cancel)))!.Doubt);
        Assert.Empty(await InDoubt(bench));
        await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = discarded.HistoryEntry }, Cancel));
        Assert.Equal(2, (await LookBack(bench, failed)).ReadingCount);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Cleared_in_bulk_with_one_reason_is_one_entry_with_its_digest_and_is_undone_as_one(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (tank, _, failed, _) = await Story(bench);
        var due = Assert.Single(await InDoubt(bench));
        Assert.Equal("Two readings of alkalinity in Lagoon and one dose are in doubt, since 3\u00a0September, when it last read right.", due.Sentence);
        Assert.Equal((DueAct.LookBack, failed, DueWhen.Now), (due.Act, due.Check, due.When));

        Plans.Only(Assert.IsType<ClearDoubt.Outcome.Refused>(await Clear(bench, new() { Check = failed, Everything = true, Reason = " " })).Faults, "Reason");
        Plans.Only(Assert.IsType<ClearDoubt.Outcome.Refused>(await Clear(bench, new() { Check = failed, Reason = "a second method agreed" })).Faults, "");
        var request = Guid.NewGuid();
        Task<ClearDoubt.Outcome> All() => Clear(bench, new() { Check = failed, Everything = true, Reason = "the stock was past its best.", Who = "MJ", RequestId = request });
        var cleared = Assert.IsType<ClearDoubt.Outcome.Cleared>(await All());
        Assert.Equal((2, 1), (cleared.Readings, cleared.Doses));
        Assert.Equal(cleared, await All());                              // the same form sent twice

        var view = await LookBack(bench, failed);
        Assert.Equal("", view.CountWords);
        Assert.Equal(3, view.Cleared.Count);
        Assert.All(view.Cleared, c => Assert.Equal("the stock was past its best (MJ), 3\u00a0September", c.Why));
        Assert.Empty(await InDoubt(bench));
        Assert.Equal("cleared: the stock was past its best (MJ)", (await bench.Look(tank))!.Latest[0].Doubt!.Words);

        // the digest made up by hand, as docs/reference/records.md tells it
        await using (var records = bench.Store.NewContext())
        {
            static string At(Instant at) => at.ToDateTimeUtc().ToString("yyyy-MM-ddTHH:mm:ss.FFFFFFF", System.Globalization.CultureInfo.InvariantCulture) + "Z";
            var lines = records.TankReadings.Where(r => r.Typed == "8.4" || r.Typed == "8.6").ToList().Select(r => (r.Id, $"reading {r.Id} {At(r.At)} {r.Typed}\n"))
                .Concat(records.Doses.Where(d => d.Kind == DoseKind.Correction).ToList().Select(d => (d.Id, $"dose {d.Id} {At(d.At)} 38 mL\n"))).OrderBy(l => l.Id.ToString(), StringComparer.Ordinal).Select(l => l.Item2);
            var digest = Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(string.Concat(lines))))[..12].ToLowerInvariant();
            Assert.Equal($"Two readings and one dose of alkalinity cleared of doubt: the stock was past its best. Digest {digest}.", view.LastAct);
            Assert.Equal(1, records.History.Count(h => h.Sentence.Contains("cleared of doubt")));
        }

        await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = view.LastActEntry }, Cancel));
        Assert.Equal("two readings and one dose", (await LookBack(bench, failed)).CountWords);
        Assert.Single(await InDoubt(bench));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task One_is_cleared_alone_and_a_check_that_fails_later_raises_the_doubt_anew(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (tank, method, failed, doubted) = await Story(bench);
        Assert.IsType<ClearDoubt.Outcome.Cleared>(await Clear(bench, new() { Check = failed, Readings = [doubted], Reason = "the laboratory found the same" }));
        Assert.Equal(["8.6"], (await LookBack(bench, failed)).Readings.Select(r => r.Typed));
        Plans.Only(Assert.IsType<ClearDoubt.Outcome.Refused>(await Clear(bench, new() { Check = failed, Readings = [doubted], Reason = "again" })).Faults, "");
        Pass(bench);
        var second = await bench.Alkalinity(High, method: method);
        Assert.Equal(["8.6", "8.4"], (await LookBack(bench, second)).Readings.Select(r => r.Typed));
        Assert.Equal(2, (await LookBack(bench, failed)).ReadingCount);       // one doubt, whichever of its checks one looks back from
        Assert.Equal(second, Assert.Single(await InDoubt(bench)).Check);
        // a removed tank takes its readings along
        await bench.Do<RemoveTank, RemoveTank.Outcome>(u => u.Handle(new RemoveTank.Command { Tank = tank, Reason = "sold" }, Cancel));
        Assert.Empty(await InDoubt(bench));
        Assert.Equal("", (await LookBack(bench, second)).CountWords);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_check_that_reads_right_or_has_no_method_puts_nothing_in_doubt(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var tank = await bench.Tank();
        await bench.Read(tank, method, "8.0");
        Pass(bench);
        var loose = await bench.Alkalinity(High);
        Assert.Equal((false, false), ((await LookBack(bench, loose)).HasMethod, (await LookBack(bench, loose)).RaisesDoubt));
        Plans.Only(Assert.IsType<ClearDoubt.Outcome.Refused>(await Clear(bench, new() { Check = loose, Everything = true, Reason = "why not" })).Faults, "");
        Assert.False((await LookBack(bench, await bench.Alkalinity(Right, method: method))).RaisesDoubt);
        // without a good check before, all from the first one on
        var (_, second) = await bench.Analyser("the second analyser");
        await bench.Read(tank, second, "8.3");
        Pass(bench);
        var first = await LookBack(bench, await bench.Alkalinity(High, method: second));
        Assert.Equal("from the first one on, since no check before read right", first.SinceWords);
        Assert.Equal(1, first.ReadingCount);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task After_a_failure_the_rate_before_the_last_good_check_is_held_and_the_search_has_its_order(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (tank, method, failed, _) = await Story(bench);
        Pass(bench);
        await bench.Dosed(tank, kind: DoseKind.Maintenance);
        var after = (await bench.View(failed))!.After!;
        var rate = Assert.Single(after.Rates);
        Assert.Equal((tank, "38 mL of bicarbonate solution", true), (rate.Tank, rate.DoseWords, rate.IsProven));
        Assert.Equal("Two readings and two doses are in doubt, since 3\u00a0September, when it last read right.", after.InDoubt);
        Assert.Equal(10, after.Steps.Count);
        Assert.StartsWith("Read the labels again.", after.Steps[0], StringComparison.Ordinal);
        Assert.Equal(3, after.Holds.Count);

        var right = await bench.Alkalinity(Right, method: method);
        Assert.Null((await bench.View(right))!.After);
        // readings that scatter widely cannot tell: hold, but nothing is in doubt
        var open = await bench.Alkalinity(["7.2", "8.9", "7.5", "8.4", "7.9"], method: method);
        var unsure = (await bench.View(open))!;
        Assert.Equal(Verdict.CannotTell, unsure.Verdict);
        Assert.Equal((0, "", false), (unsure.After!.Steps.Count, unsure.After.InDoubt, unsure.After.CanLookBack));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_latest_reading_on_an_instrument_before_a_time_is_found(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (instrument, method) = await bench.Analyser();
        var (elsewhere, other) = await bench.Analyser("the second analyser");
        var tank = await bench.Tank();
        await bench.Read(tank, method, "8.0");
        Pass(bench);
        var when = Instant.FromDateTimeOffset(bench.Time.GetUtcNow());
        await bench.Read(tank, method, "8.4");
        await bench.Read(tank, other, "7.7");
        Task<LatestTankReading.Found?> Find(Guid on, Instant before, string parameter = "alkalinity") => bench.Do<LatestTankReading, LatestTankReading.Found?>(u => u.Handle(on, parameter, before, Cancel));
        Assert.Equal(8.0, (await Find(instrument, when))!.Value);            // of this very moment is not before it
        Assert.Equal(8.4, (await Find(instrument, when + Duration.FromMinutes(1)))!.Value);
        Assert.Equal(7.7, (await Find(elsewhere, when + Duration.FromMinutes(1)))!.Value);
        Assert.Null(await Find(instrument, when, "nitrate"));
        Assert.Null(await Find(elsewhere, when));
    }
}
