using Knownwater.Figures;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
using Knownwater.Records.Due;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Drift;

public sealed class AlarmTests(PostgresCluster cluster)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static readonly string[][] Near =
    [
        ["7.9", "7.8", "8.0", "7.9"], ["8.0", "7.9", "7.9", "8.0"], ["7.8", "7.9", "7.9", "7.8"], ["7.9", "8.0", "7.9", "7.9"], ["7.9", "7.9", "7.8", "7.9"], ["8.0", "7.9", "8.0", "7.9"], ["7.9", "7.8", "7.8", "7.9"], ["7.9", "7.9", "8.0", "7.9"],
    ];

    private static readonly string[] Low = ["7.0", "6.9", "7.1", "7.0"];

    private static async Task Fortnights(TestBench bench, Guid method, params string[][] checks)
    {
        foreach (var readings in checks)
        {
            await bench.Alkalinity(readings, method: method, typical: true);
            bench.Time.Advance(TimeSpan.FromDays(14));
        }
    }

    private static Task<DriftView?> Course(TestBench bench, Guid method) => bench.Do<ViewDrift, DriftView?>(u => u.Handle(method, null, null, Cancel));

    private static async Task<IReadOnlyList<DueItem>> Due(TestBench bench) => [.. (await bench.Do<ListDue, DueList>(u => u.Handle(Cancel))).Items.Where(i => i.Kind == DueKind.Alarm)];

    private static Task<CloseAlarm.Outcome> Close(TestBench bench, Guid alarm, string reason) =>
        bench.Do<CloseAlarm, CloseAlarm.Outcome>(u => u.Handle(new CloseAlarm.Command { Alarm = alarm, Reason = reason, Who = "MJ" }, Cancel));

    [Theory, ClassData(typeof(BothStores))]
    public async Task An_alarm_stands_until_it_is_closed_with_what_it_was(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        await Fortnights(bench, method, Near);
        Assert.Empty(await Due(bench));
        Assert.Empty((await Course(bench, method))!.Alarms);

        await Fortnights(bench, method, Low);
        var due = Assert.Single(await Due(bench));
        Assert.Equal((DueWhen.Now, DueAct.OpenCourse, method), (due.When, due.Act, due.Method!.Value));
        Assert.Equal("Alkalinity on the harbour analyser: the check of 24\u00a0December 2026 fell far below what was foretold.", due.Sentence.Replace("24\u00a0December fell", "24\u00a0December 2026 fell", StringComparison.Ordinal));
        var alarm = Assert.Single((await Course(bench, method))!.Alarms);
        Assert.Equal((false, true), (alarm.IsHigh, alarm.IsOpen));
        Assert.Equal(alarm.Check, (await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query(), Cancel))).Items[0].Id);

        // neither later checks nor limits that would not have raised it take it back, nor the mark in the picture
        await bench.Do<ChangeDriftWatch, ChangeDriftWatch.Outcome>(u => u.Handle(new ChangeDriftWatch.Command { FalseAlarms = "0.1", Risk = "10" }, Cancel));
        await Fortnights(bench, method, Near);
        var later = (await Course(bench, method))!;
        Assert.Equal(alarm with { DayWords = "", StateWords = "" }, Assert.Single(later.Alarms, a => a.Check == alarm.Check) with { DayWords = "", StateWords = "" });
        Assert.Equal(FigureTone.Low, later.Figure!.Points.Single(p => p.Address == $"/checks/{alarm.Check}").Signal);
        Assert.Contains(await Due(bench), d => d.Sentence.Contains("24\u00a0December", StringComparison.Ordinal));

        Plans.Only(Assert.IsType<CloseAlarm.Outcome.Refused>(await Close(bench, alarm.Id, " ")).Faults, "Reason");
        var closed = Assert.IsType<CloseAlarm.Outcome.Closed>(await Close(bench, alarm.Id, "the titrant had stood open"));
        Assert.Equal(method, closed.Method);
        Assert.DoesNotContain(await Due(bench), d => d.Sentence.Contains("24\u00a0December", StringComparison.Ordinal));
        var shown = (await Course(bench, method))!.Alarms.Single(a => a.Id == alarm.Id);
        Assert.False(shown.IsOpen);
        Assert.EndsWith("by MJ: the titrant had stood open", shown.StateWords, StringComparison.Ordinal);
        Assert.Contains("already", Assert.Single(Assert.IsType<CloseAlarm.Outcome.Refused>(await Close(bench, alarm.Id, "again")).Faults).Sentence, StringComparison.Ordinal);

        Assert.IsType<Undo.Outcome.Undone>(await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = closed.HistoryEntry }, Cancel)));
        Assert.True((await Course(bench, method))!.Alarms.Single(a => a.Id == alarm.Id).IsOpen);

        // several that were the same go together, and come back together
        await Fortnights(bench, method, ["8.8", "8.9", "8.8", "8.9"]);
        Assert.True((await Course(bench, method))!.Alarms.Count(a => a.IsOpen) > 1);
        var all = Assert.IsType<CloseAlarm.Outcome.Closed>(await bench.Do<CloseAlarm, CloseAlarm.Outcome>(u => u.Handle(new CloseAlarm.Command { Alarm = alarm.Id, Reason = "the burette", Others = true }, Cancel)));
        Assert.Empty(await Due(bench));
        Assert.IsType<Undo.Outcome.Undone>(await bench.Do<Undo, Undo.Outcome>(u => u.Handle(new Undo.Command { Entry = all.HistoryEntry }, Cancel)));
        Assert.True((await Course(bench, method))!.Alarms.Count(a => a.IsOpen) > 1);
        Assert.Single(Assert.IsType<CloseAlarm.Outcome.Refused>(await Close(bench, Guid.NewGuid(), "none")).Faults);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task An_alarm_is_explained_by_the_clear_event_that_went_the_same_way(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        async Task Open(string name) => await bench.Do<OpenLot, OpenLot.Outcome>(u => u.Handle(new OpenLot.Command { Methods = [method], Name = name }, Cancel));
        await Open("A-19");
        await Fortnights(bench, method, Near);
        await Open("A-20");
        await Fortnights(bench, method, Low, ["7.1", "7.0", "7.0", "7.1"], ["7.0", "7.0", "6.9", "7.0"], ["7.0", "7.1", "7.0", "7.0"]);
        var alarms = (await Course(bench, method))!.Alarms;
        Assert.NotEmpty(alarms);
        Assert.All(alarms, a => Assert.Equal((false, "explained by lot A-20 on 24\u00a0December 2026"), (a.IsOpen, a.StateWords)));
        Assert.Empty(await Due(bench));
    }
}
