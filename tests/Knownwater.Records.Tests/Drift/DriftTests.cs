using Knownwater.Figures;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;
using NodaTime;

namespace Knownwater.Records.Tests.Drift;

public sealed class DriftTests(PostgresCluster cluster)
{
    private static readonly string[][] Near =
    [
        ["7.9", "7.8", "8.0", "7.9", "7.9"], ["8.0", "7.9", "7.9", "8.0", "7.9"], ["7.8", "7.9", "7.9", "7.8", "7.9"], ["7.9", "8.0", "7.9", "7.9", "8.0"],
        ["7.9", "7.9", "7.8", "7.9", "7.9"], ["8.0", "7.9", "8.0", "7.9", "7.9"], ["7.9", "7.8", "7.8", "7.9", "7.9"], ["7.9", "7.9", "8.0", "7.9", "7.8"],
    ];

    private static readonly string[][] Low = [["7.0", "6.9", "7.1", "7.0", "7.0"], ["7.1", "7.0", "7.0", "7.1", "7.0"], ["7.0", "7.0", "6.9", "7.0", "7.0"], ["7.0", "7.1", "7.0", "7.0", "7.1"]];

    private static Task<DriftView?> View(TestBench bench, Guid method, LocalDate? from = null, LocalDate? to = null) => bench.Do<ViewDrift, DriftView?>(u => u.Handle(method, from, to, default));

    private static async Task Fortnights(TestBench bench, Guid method, Guid water, IEnumerable<string[]> checks)
    {
        foreach (var readings in checks)
        {
            var started = Assert.IsType<StartCheck.Outcome.Started>(await bench.Do<StartCheck, StartCheck.Outcome>(u => u.Handle(Plans.Alkalinity with { Method = method, Levels = [new LevelEntry { ReferenceWater = water }], UseTypicalScatter = true }, default)));
            foreach (var reading in readings)
                await bench.Keep(started.Check, reading);
            bench.Time.Advance(TimeSpan.FromDays(14));
        }
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_lot_that_reads_low_is_named_with_its_day_and_its_step(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var water = await bench.Water();
        var old = Assert.IsType<OpenLot.Outcome.Opened>(await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-19" }, default))).Lot;
        await Fortnights(bench, method, water, Near);
        await bench.Do<EmptyLot, EmptyLot.Outcome>(u => u.Handle(new EmptyLot.Command { Lot = old }, default));
        await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = "A-20" }, default));
        // 0.9 dKH lower, each
        await Fortnights(bench, method, water, Low);

        var course = (await View(bench, method))!;
        // opened 16 weeks after 3 September 2026
        Assert.Equal("Reads lower since lot A-20 was opened on 24\u00a0December 2026.", course.Sentence.Replace("24\u00a0December.", "24\u00a0December 2026.", StringComparison.Ordinal));
        Assert.Equal(FigureTone.Low, course.Tone);
        Assert.StartsWith("By 0.", course.Detail, StringComparison.Ordinal);
        Assert.Contains("dKH at 7.9\u00a0dKH", course.Detail, StringComparison.Ordinal);
        Assert.Equal(12, course.Figure!.Points.Count);
        Assert.Equal(["A-20", "A-19"], course.Lots.Select(l => l.Name));
        Assert.Equal((true, "eight checks"), (course.Lots[1].Within, course.Lots[1].ChecksWords));
        Assert.Equal("a step", Assert.Single(course.Events).Says);
        Assert.Contains(course.Figure.Points, p => p.Signal == FigureTone.Low);
        Assert.DoesNotContain(course.Figure.Points.Take(8), p => p.Signal != FigureTone.Plain);
        Assert.NotEmpty(course.WhatToDo);

        var line = Assert.Single(await bench.Do<ListDrift, IReadOnlyList<DriftLine>>(u => u.Handle(default)));
        Assert.Equal((course.Sentence, FigureTone.Low), (line.Sentence, line.Tone));

        // half of it
        var span = (await View(bench, method, new LocalDate(2026, 9, 1), new LocalDate(2026, 10, 31)))!;
        Assert.Equal(5, span.Figure!.Draw().Elements.OfType<FigureLink>().Count());
        Assert.Contains(span.Spans, s => s.Words == "Later");
        Assert.Contains(("Wider", (LocalDate?)new LocalDate(2026, 8, 2), (LocalDate?)new LocalDate(2026, 11, 30)), span.Spans);
        Assert.Equal(course.Sentence, span.Sentence);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_lot_that_read_low_and_is_gone_is_told_as_such(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var water = await bench.Water();
        async Task Open(string name) => await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = name }, default));
        await Open("A-19");
        await Fortnights(bench, method, water, Near[..5]);
        await Open("A-20");
        await Fortnights(bench, method, water, Low);
        await Open("A-21");
        await Fortnights(bench, method, water, Near[..5]);
        var course = (await View(bench, method))!;
        // 0.9 dKH lower, each; the day of the last check of A-20 is not yet that of A-21
        Assert.Matches("^Lot A-20 read 0\\.(8[0-9]|9|9[0-9])\u00a0dKH lower; the lot after it does not\\.$", course.Sentence);
        Assert.Equal((FigureTone.Plain, FigureTone.Low), (course.Tone, course.Figure!.Onset!.Tone));
        Assert.Equal(["a step", "a step"], course.Events.Select(e => e.Says));
        Assert.StartsWith("Put away what is left of lot A-20.", Assert.Single(course.WhatToDo), StringComparison.Ordinal);
        Assert.DoesNotContain("foretold", course.Detail, StringComparison.Ordinal);

        // when the next lot reads low again it is that one which is wrong, and not the one before it which read higher
        await Open("A-22");
        await Fortnights(bench, method, water, Low);
        var again = (await View(bench, method))!;
        Assert.StartsWith("Reads lower since lot A-22 was opened on", again.Sentence, StringComparison.Ordinal);
        Assert.Equal(FigureTone.Low, again.Tone);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_changeover_gives_the_new_lot_its_bias_before_its_first_check(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var water = await bench.Water();
        async Task<Guid> Open(string name, bool replaces = true) =>
            Assert.IsType<OpenLot.Outcome.Opened>(await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = name, ReplacesFormer = replaces }, default))).Lot;
        var old = await Open("A-19");
        await Fortnights(bench, method, water, Near[..5]);
        var before = (await View(bench, method))!;
        var fresh = await Open("A-20", replaces: false);
        Assert.StartsWith("Check now: lot A-20 was opened on", (await View(bench, method))!.Next, StringComparison.Ordinal);
        var changeover = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(Plans.Alkalinity with { Method = method, Kind = CheckKind.Changeover, OldLot = old, NewLot = fresh, SteadyWater = true, Replicates = "4" })).Check;
        foreach (var (level, reading) in ((int, string)[])[(1, "8.1"), (1, "8.2"), (1, "8.2"), (1, "8.1"), (2, "8.3"), (2, "8.4"), (2, "8.4"), (2, "8.3")])
            await bench.Keep(changeover, reading, level);
        var course = (await View(bench, method))!;
        // 0.2 dKH higher than the old one; the mean of whose checks is 7.904
        Assert.Equal(["A-20", "A-19"], course.Lots.Select(l => l.Name));
        Assert.Equal(["a changeover alone", "five checks and a changeover"], course.Lots.Select(l => l.ChecksWords));
        Assert.StartsWith("+0.20", course.Lots[0].OffWords, StringComparison.Ordinal);
        // the step is known: the new lot is not waited for, and the chance has the step in it
        Assert.StartsWith("Check by ", course.Next, StringComparison.Ordinal);
        Assert.True(course.NextOn <= before.NextOn);
        Assert.Equal(5, course.Figure!.Points.Count);

        // its checks, and the difference to the former lot, go together
        await bench.Do<EmptyLot, EmptyLot.Outcome>(u => u.Handle(new EmptyLot.Command { Lot = old }, default));
        bench.Time.Advance(TimeSpan.FromDays(1));
        await Fortnights(bench, method, water, [["8.1", "8.1", "8.0", "8.1", "8.1"]]);
        Assert.Equal("one check and a changeover", (await View(bench, method))!.Lots[0].ChecksWords);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task What_holds_still_is_called_steady_and_two_checks_are_no_course(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var water = await bench.Water();
        var none = (await View(bench, method))!;
        Assert.Equal("No check counts yet.", none.Sentence);
        Assert.Null(none.Figure);
        Assert.Null(none.NextOn);

        await Fortnights(bench, method, water, Near[..2]);
        var two = (await View(bench, method))!;
        Assert.Equal("Two checks so far; a course shows from three on.", two.Sentence);
        Assert.Equal(2, two.Figure!.Points.Count);

        await Fortnights(bench, method, water, Near[2..]);
        var steady = (await View(bench, method))!;
        Assert.Equal("Holds steady.", steady.Sentence);
        Assert.Equal(FigureTone.Plain, steady.Tone);
        Assert.Contains("within your tolerance", steady.Detail, StringComparison.Ordinal);
        Assert.All(steady.Figure!.Points, p => Assert.Equal(FigureTone.Plain, p.Signal));
        var today = LocalDate.FromDateTime(bench.Time.GetUtcNow().UtcDateTime);
        // the last check was 14 days ago; none comes later than 60 days after it
        Assert.True(steady.NextOn > today.PlusDays(-14) && steady.NextOn <= today.PlusDays(46));
        Assert.StartsWith("Check by ", steady.Next, StringComparison.Ordinal);

        Assert.Null(await View(bench, Guid.CreateVersion7()));
    }
}
