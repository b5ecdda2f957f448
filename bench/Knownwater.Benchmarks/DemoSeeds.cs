using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Figures;
using Knownwater.Records.Demo;
using Knownwater.Records.Drift;
using Knownwater.Records.Storage;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Benchmarks;

/// <summary>Whether the faults planted in the demo are found when its readings are drawn anew: the whole demo through its use cases, then the pages' own courses.</summary>
internal static class DemoSeeds
{
    private static readonly CultureInfo Plain = CultureInfo.InvariantCulture;

    /// <summary>What one drawing showed.</summary>
    private sealed record Found
    {
        public required bool LotSignalled { get; init; }
        public required int LotChecks { get; init; }
        public required bool LotNamed { get; init; }
        public required bool OtherLotBlamed { get; init; }
        public required bool LotOnset { get; init; }
        public required bool Drift { get; init; }
        public required bool DriftOnset { get; init; }
        public required bool Slip { get; init; }
        public required bool Ammonia { get; init; }
        public required bool AmmoniaOnset { get; init; }
        public required int FalseAlarms { get; init; }
        public required int FalseChanges { get; init; }
    }

    public static int Run(string[] args)
    {
        var (trials, folder) = (200, "docs/reference");
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--trials")
                trials = int.Parse(args[i + 1], Plain);
            else if (args[i] == "--out")
                folder = args[i + 1];
        }
        var clock = Stopwatch.StartNew();
        var found = new ConcurrentBag<Found>();
        Parallel.For(0, trials, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, i => found.Add(One(Scenario.Seed + 1000 * (i + 1)).GetAwaiter().GetResult()));
        var text = new StringBuilder();
        text.AppendLine("# The demo's planted faults, drawn anew").AppendLine();
        text.AppendLine(Plain, $"Written by `bench/Knownwater.Benchmarks demo-seeds --trials {trials}`. The whole demo is loaded through its use cases with {trials} other seeds; the courses are those of the drift pages. What is planted is told in [the demo](demo.md). One standard error follows ±.").AppendLine();
        text.AppendLine("| planted | found when | drawings |");
        text.AppendLine("| --- | --- | --- |");
        void Row(string planted, string when, Func<Found, bool> holds) => text.AppendLine(Plain, $"| {planted} | {when} | {Percent(found.Count(holds), trials)} |");
        Row("nitrate lot N-13, a quarter low from day 212 to 330", "the alarm went while it was in use, downwards", f => f.LotSignalled);
        Row("", "the page names this lot and says that it read lower", f => f.LotNamed);
        Row("", "the page blames another lot, which is wrong", f => f.OtherLotBlamed);
        Row("", "the onset's interval holds day 212, or the step at its opening is called one", f => f.LotOnset);
        Row("alkalinity rises by 0.9 dKH in 546 days", "the page says that it drifts up", f => f.Drift);
        Row("", "the onset's interval reaches back to the first check", f => f.DriftOnset);
        Row("one phosphate check entered as P", "the alarm went at that check, downwards", f => f.Slip);
        Row("the ammonia stock loses from day 340 on", "the page says that it has moved down", f => f.Ammonia);
        Row("", "the onset's interval holds day 340", f => f.AmmoniaOnset);
        text.AppendLine();
        var days = Scenario.Days;
        var alarms = found.Select(f => (double)f.FalseAlarms).ToArray();
        var mean = alarms.Average();
        var error = Math.Sqrt(alarms.Sum(a => (a - mean) * (a - mean)) / Math.Max(1, trials - 1) / trials);
        text.AppendLine(Plain, $"In the seven methods without a fault the alarm went {mean:0.00} ± {error:0.00} times in the {days} days of a bench (budget over all eleven methods: {days / 365.0:0.00}); {Percent(found.Count(f => f.FalseChanges > 0), trials)} of the drawings called one of them changed. Each method is tested at 5 %, so that one of seven may be called so in up to {100 * (1 - Math.Pow(0.95, 7)):0} % of them. With lot N-13 the alarm went at check {found.Average(f => (double)f.LotChecks):0.0} on average, the first one with it counted as 1.");
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "demo-seeds.md"), text.ToString());
        Console.WriteLine(FormattableString.Invariant($"{trials} drawings in {clock.Elapsed.TotalSeconds:0} s"));
        return 0;
    }

    private static async Task<Found> One(int seed)
    {
        var folder = Directory.CreateTempSubdirectory("knownwater-demo-").FullName;
        try
        {
            var store = await RecordsStore.Open(Path.Combine(folder, "records.db"));
            if (await new LoadDemo(store) { Seed = seed }.Handle(null, CancellationToken.None) is not LoadDemo.Outcome.Loaded)
                throw new InvalidOperationException("The demo was not loaded.");
            await using var records = store.NewContext();
            List<DriftView> courses = [];
            foreach (var method in await records.Methods.AsNoTracking().Select(m => m.Id).ToListAsync())
                courses.Add((await new ViewDrift(records, store.Clock).Handle(method, null, null, CancellationToken.None))!);
            DriftView Course(string title) => courses.Single(c => c.Title.StartsWith(title, StringComparison.Ordinal));
            // day 0 of the scenario, from a check whose day is known
            var alkalinity = Course("Alkalinity on Harbour analyser");
            var start = Math.Floor(alkalinity.Figure!.Points[0].Day) - 14;
            bool Holds((double From, double To)? onset, double day) => onset is var (from, to) && from <= start + day + 1 && to >= start + day - 1;
            var nitrate = Course("Nitrate in seawater");
            var phosphate = Course("Phosphate in seawater");
            var ammonia = Course("Total ammonia");
            string[] planted = ["Alkalinity on Harbour analyser", "Nitrate in seawater", "Phosphate in seawater", "Total ammonia"];
            var faultless = courses.Where(c => !planted.Any(p => c.Title.StartsWith(p, StringComparison.Ordinal))).ToList();
            var withLot = nitrate.Figure!.Points.Where(p => p.Lot == "N-13").ToList();
            var first = withLot.FindIndex(p => p.Signal == FigureTone.Low);
            return new Found
            {
                LotSignalled = first >= 0,
                LotChecks = first >= 0 ? first + 1 : withLot.Count + 1,
                LotNamed = nitrate.Sentence.StartsWith("Lot N-13 read", StringComparison.Ordinal) && nitrate.Sentence.Contains("lower", StringComparison.Ordinal),
                OtherLotBlamed = nitrate.Lots.Any(l => l.Name != "N-13" && (l.Within == false || nitrate.Sentence.StartsWith($"Lot {l.Name} read", StringComparison.Ordinal))),
                LotOnset = Holds(Interval(nitrate), Scenario.NitrateLotFrom) || nitrate.Events.Any(e => e.Words.Contains("N-13", StringComparison.Ordinal) && e.Says != "may be chance"),
                Drift = alkalinity.Sentence.StartsWith("Drifts up", StringComparison.Ordinal),
                DriftOnset = Interval(alkalinity) is var (from, _) && from <= alkalinity.Figure.Points[0].Day + 1,
                Slip = phosphate.Figure!.Points.Any(p => p.Signal == FigureTone.Low && Math.Floor(p.Day) == start + Scenario.PhosphateSlip),
                Ammonia = ammonia.Tone == FigureTone.Low,
                AmmoniaOnset = Holds(Interval(ammonia), Scenario.AmmoniaStockFrom),
                FalseAlarms = faultless.Sum(c => c.Figure!.Points.Count(p => p.Signal != FigureTone.Plain)),
                FalseChanges = faultless.Count(c => c.Tone != FigureTone.Plain),
            };
        }
        finally
        {
            SqliteConnection.ClearAllPools();
            Directory.Delete(folder, recursive: true);
        }
    }

    private static (double, double)? Interval(DriftView view) => view.Figure?.Onset is { } onset ? (onset.From, onset.To) : null;

    private static string Percent(int count, int of)
    {
        var p = (double)count / of;
        return string.Create(Plain, $"{100 * p:0.0} ± {100 * Math.Sqrt(Math.Max(p * (1 - p), 0.25 / of) / of):0.0} %");
    }
}
