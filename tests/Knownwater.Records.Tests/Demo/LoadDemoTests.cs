using System.Globalization;
using Knownwater.Checks;
using Knownwater.Records.Checks;
using Knownwater.Records.Demo;
using Knownwater.Records.Due;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Demo;

public class LoadDemoTests(PostgresCluster cluster)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static async Task<IReadOnlyDictionary<string, int>> Load(TestBench bench) =>
        Assert.IsType<LoadDemo.Outcome.Loaded>(await new LoadDemo(bench.Store).Handle(null, Cancel)).Counts;

    private static async Task<IReadOnlyList<CheckLine>> Lines(TestBench bench, string parameter) =>
        (await bench.Do<ListChecks, CheckList>(u => u.Handle(new ListChecks.Query { Parameter = parameter, PageSize = 200 }, Cancel))).Items;

    /// <summary>Days of the scenario on which a line was started.</summary>
    private static double DayOf(TestBench bench, CheckLine line) =>
        (line.StartedAt.ToDateTimeUtc() - bench.Time.GetUtcNow().UtcDateTime.Date.AddDays(-Scenario.Days)).TotalDays;

    [Fact]
    public async Task The_truth_is_told_in_full()
    {
        var told = await File.ReadAllLinesAsync(Path.Combine(AppContext.BaseDirectory, "demo.md"), Cancel);
        var c = CultureInfo.InvariantCulture;
        static string Days(IReadOnlyList<int> days) =>
            days.Zip(days.Skip(1), (a, b) => b - a).Distinct().ToList() is [var every] && days.Count > 3 ? $"every {every} days from day {days[0]}" : $"on the days {string.Join(", ", days)}";
        foreach (var m in Scenario.Methods)
        {
            Assert.Contains(string.Create(c, $"| {m.Key} | {string.Join(", ", m.Levels.Select(l => string.Create(c, $"{l.Known} ± {l.Doubt}")))} | {m.Scatter.A} | {m.Scatter.B} | {m.Step} | {m.CheckDays.Count} × {m.Replicates}, {Days(m.CheckDays)} | {string.Join(", ", m.Lots.Select(l => $"{l.Name} from {l.Day}"))} |"), told);
        }
        foreach (var r in Scenario.TankReadings)
            Assert.Contains($"| {r.Tank} | {r.Method} | {r.Days.Count}, {Days(r.Days)} | {r.Level} |", told);
        foreach (var d in Scenario.Doses)
            Assert.Contains($"| {d.Tank} | {d.What} | {d.Amount} | {string.Join(", ", d.Days)} |", told);
        var whole = string.Join('\n', told);
        foreach (var words in new[]
        {
            $"N-13, in use from day {Scenario.NitrateLotFrom} to day {Scenario.NitrateLotTo}, reads {100 * (1 - Scenario.NitrateLotFactor)} % low", string.Create(c, $"alkalinity rises by {Scenario.AlkalinityRise} dKH over the {Scenario.Days} days"),
            $"the phosphate check on day {Scenario.PhosphateSlip} was entered as P", $"from day {Scenario.AmmoniaStockFrom} the ammonia stock loses up to {100 * Scenario.AmmoniaLoss} %", $"begin {Scenario.Days} days before the load", $"seed {Scenario.Seed}",
            $"{Scenario.Methods.Sum(m => m.CheckDays.Count)} checks with {Scenario.Methods.Sum(m => m.CheckDays.Count * m.Levels.Count * m.Replicates)} readings", $"{Scenario.TankReadings.Sum(r => r.Days.Count)} readings and {Scenario.Doses.Sum(d => d.Days.Count)} doses of the tanks", $"cleared on day {Scenario.NitrateCleared}",
        })
        {
            Assert.Contains(words, whole, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Load_that_was_cut_off_is_completed_and_its_planted_faults_are_found_by_the_verdicts()
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        using var cut = new CancellationTokenSource();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => new LoadDemo(bench.Store).Handle(new Cut(cut, 0.15), cut.Token));
        var counts = await Load(bench);
        Assert.Equal(Scenario.Methods.Sum(m => m.CheckDays.Count), counts["checks"]);
        Assert.Equal(Scenario.Methods.Sum(m => m.CheckDays.Count * m.Levels.Count * m.Replicates), counts["readings"]);
        Assert.InRange(counts["checks"], 60, 200);
        Assert.Equal(11, counts["methods"]);

        // what the drift puts in doubt is due; what the weak lot had put in doubt was cleared
        Assert.Equal((3, Scenario.TankReadings.Sum(r => r.Days.Count), Scenario.Doses.Sum(d => d.Days.Count)), (counts["tanks"], counts["tank_readings"], counts["doses"]));
        var doubt = (await bench.Do<ListDue, DueList>(u => u.Handle(Cancel))).Items.Where(i => i.Kind == DueKind.InDoubt).ToList();
        Assert.Contains(doubt, d => d.Sentence.StartsWith("60 readings of alkalinity in Kelp and Lagoon and two doses are in doubt", StringComparison.Ordinal));
        Assert.DoesNotContain(doubt, d => d.Sentence.Contains("nitrate", StringComparison.Ordinal));

        // the nitrate lot reads low by a quarter; its checks at 10 mg/L say so, and no other does
        var nitrate = (await Lines(bench, "nitrate")).Where(l => l.Title.Contains("analyser", StringComparison.OrdinalIgnoreCase) && l.LevelWords.Contains("10", StringComparison.Ordinal)).ToList();
        var inLot = nitrate.Where(l => DayOf(bench, l) is >= Scenario.NitrateLotFrom and < Scenario.NitrateLotTo).ToList();
        Assert.NotEmpty(inLot);
        foreach (var line in inLot)
            Assert.Equal(Verdict.ReadsLow, (await bench.View(line.Id))!.Levels[1].Judgement!.Verdict);
        foreach (var line in nitrate.Except(inLot))
            Assert.NotEqual(Verdict.ReadsLow, (await bench.View(line.Id))!.Levels[1].Judgement!.Verdict);

        // the slow drift of alkalinity: no bias in the beginning, high in the end
        var alkalinity = (await Lines(bench, "alkalinity")).Where(l => l.Title.Contains("analyser", StringComparison.OrdinalIgnoreCase)).OrderBy(l => l.StartedAt).ToList();
        Assert.Equal(Verdict.ReadsRight, alkalinity[0].Verdict);
        Assert.Equal(Verdict.ReadsHigh, alkalinity[^1].Verdict);

        // phosphate entered as phosphorus: low by a factor near 3.07
        var slip = (await Lines(bench, "phosphate")).Single(l => (int)DayOf(bench, l) == Scenario.PhosphateSlip);
        var judged = (await bench.View(slip.Id))!.Levels[0].Judgement!;
        Assert.Equal(Verdict.ReadsLow, judged.Verdict);
        Assert.InRange(0.10 / judged.Mean, 2.4, 4.2);

        // the stock past its best: the last ammonia check reads low
        Assert.Equal(Verdict.ReadsLow, (await Lines(bench, "ammonia")).MaxBy(l => l.StartedAt)!.Verdict);
    }

    private sealed class Cut(CancellationTokenSource source, double at) : IProgress<double>
    {
        public void Report(double value)
        {
            if (value >= at)
                source.Cancel();
        }
    }

    [Fact]
    public async Task Records_of_somebody_are_not_mixed_with_invented_ones()
    {
        await using var bench = await TestBench.New(StoreKind.Sqlite, cluster);
        await bench.Analyser();

        var refused = Assert.IsType<LoadDemo.Outcome.Refused>(await new LoadDemo(bench.Store).Handle(null, Cancel));
        Assert.Contains("file of its own", refused.Sentence, StringComparison.Ordinal);
    }
}
