using Knownwater.Figures;
using Knownwater.Records.Demo;
using Knownwater.Records.Drift;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Drift;

public class DemoCourseTests(PostgresCluster cluster)
{
    /// <summary>The truth is that of <see cref="Scenario"/>: docs/reference/demo.md.</summary>
    [Fact]
    public async Task What_was_planted_in_the_demo_shows_in_the_courses()
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        Assert.IsType<LoadDemo.Outcome.Loaded>(await new LoadDemo(bench.Store).Handle(null, TestContext.Current.CancellationToken));
        var lines = await bench.Do<ListDrift, IReadOnlyList<DriftLine>>(u => u.Handle(TestContext.Current.CancellationToken));
        async Task<DriftView> Course(string title) =>
            (await bench.Do<ViewDrift, DriftView?>(u => u.Handle(lines.Single(l => l.Title.StartsWith(title, StringComparison.Ordinal)).Method, null, null, TestContext.Current.CancellationToken)))!;

        // alkalinity rises by 0.9 dKH over 546 days, from the first day on: 0.049 in thirty
        var alkalinity = await Course("Alkalinity on Harbour analyser");
        Assert.StartsWith("Drifts up since about", alkalinity.Sentence, StringComparison.Ordinal);
        Assert.Contains("By 0.05", alkalinity.Detail, StringComparison.Ordinal);
        Assert.InRange(alkalinity.Figure!.Onset!.From, alkalinity.Figure.Points[0].Day - 1, alkalinity.Figure.Points[0].Day + 1);

        // the nitrate lot reads 25 % low at 10 mg/L, from day 212 to day 330
        var nitrate = await Course("Nitrate in seawater");
        var lot = nitrate.Lots.Single(l => l.Name == "N-13");
        Assert.StartsWith("\u22121.", lot.OffWords, StringComparison.Ordinal);
        // a quarter of 6 mg/L, the middle of its levels
        Assert.Matches("^Lot N-13 read 1\\.[345]\u00a0mg/L lower; the lot after it does not\\.$", nitrate.Sentence);
        Assert.Equal([("Lot N-12", "may be chance"), ("Lot N-13", "a step"), ("Lot N-14", "a step")], nitrate.Events.Select(e => (e.Words, e.Says)));
        Assert.All(nitrate.Lots.Where(l => l.Name != "N-13"), l => Assert.True(l.Within));
        var signalled = nitrate.Figure!.Points.Where(p => p.Signal != FigureTone.Plain).ToList();
        Assert.NotEmpty(signalled);
        Assert.All(signalled, p => Assert.Equal(("N-13", FigureTone.Low), (p.Lot, p.Signal)));

        // phosphate entered as phosphorus, once
        var phosphate = await Course("Phosphate in seawater");
        Assert.Equal(FigureTone.Low, Assert.Single(phosphate.Figure!.Points, p => p.Signal != FigureTone.Plain).Signal);

        // the ammonia stock loses from day 340 on
        var ammonia = await Course("Total ammonia");
        Assert.Equal(FigureTone.Low, ammonia.Tone);
        Assert.True(ammonia.Figure!.Onset!.To > ammonia.Figure.Points[0].Day + 200);

        // what an event explains is not asked about, what none explains is
        Assert.All(nitrate.Alarms, a => Assert.Equal((false, true), (a.IsOpen, a.StateWords.StartsWith("explained by lot N-13 on", StringComparison.Ordinal))));
        Assert.True(Assert.Single(phosphate.Alarms).IsOpen);
        Assert.Contains(alkalinity.Alarms, a => a is { IsOpen: true, IsHigh: true });
        Assert.Contains(ammonia.Alarms, a => a is { IsOpen: true, IsHigh: false });

        // on the other charts too: the lot and the slip lie beyond their limits
        async Task<ChartsView> Charts(DriftView course) => (await bench.Do<ViewCharts, ChartsView?>(u => u.Handle(course.Method, TestContext.Current.CancellationToken)))!;
        var charts = await Charts(nitrate);
        Assert.Equal(["single", "ranges", "means", "scatter", "sums", "rules"], charts.Charts.Select(c => c.Key));
        Assert.Contains(charts.Charts.Single(c => c.Key == "sums").Figure.SecondPoints, p => p.Signal == FigureTone.Low);
        Assert.Contains(charts.Charts.Single(c => c.Key == "rules").Figure.Points, p => p.Note.Length > 0);
        var slip = (await Charts(phosphate)).Charts.Single(c => c.Key == "single").Figure;
        Assert.Equal("beyond the lower limit", Assert.Single(slip.Points, p => p.Signal == FigureTone.Low).Note);

        // nothing else has moved
        Assert.Equal(2, lines.Count(l => l.Tone != FigureTone.Plain));
    }
}
