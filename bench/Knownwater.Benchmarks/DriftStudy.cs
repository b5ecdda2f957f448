using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Drift;
using Knownwater.Quantities;
using Knownwater.Uncertainty;
using MathNet.Numerics.Random;

namespace Knownwater.Benchmarks;

/// <summary>What the drift model promises, on simulated methods whose truth is known. Everything in tolerances; the middle level is 10.</summary>
internal static class DriftStudy
{
    private static readonly Tolerance Allowed = new(0.2, 8);
    private static readonly CultureInfo Plain = CultureInfo.InvariantCulture;

    /// <summary>A simulated method.</summary>
    private sealed record Method
    {
        public int Checks { get; init; } = 26;
        public double Between { get; init; } = 0.2;
        public double Within { get; init; } = 0.25;
        public double[] At { get; init; } = [10];
        public double StockU { get; init; } = 0.15;
        public double PreparationU { get; init; } = 0.08;
        public int StockLasts { get; init; } = 10;
        public bool HeavyTails { get; init; }
        public bool Single { get; init; }

        /// <summary>Step of the display, in the unit of the readings.</summary>
        public double Step { get; init; }

        /// <summary>Typical scatter that is told, over the true one.</summary>
        public double TypicalFactor { get; init; } = 1;

        /// <summary>Bias on a day, in tolerances.</summary>
        public Func<double, double> Bias { get; init; } = _ => 0;

        public IReadOnlyList<DriftEvent> Events { get; init; } = [];

        public Func<double, string>? Lot { get; init; }
    }

    private enum Fault
    {
        Step,
        Drift,
        CameAndWent,
    }

    public static int Run(string[] args)
    {
        var trials = 1000;
        var folder = "docs/reference";
        string? only = null;
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--trials")
                trials = int.Parse(args[i + 1], Plain);
            else if (args[i] == "--out")
                folder = args[i + 1];
            else if (args[i] == "--only")
                only = args[i + 1];
        }
        Action<StringBuilder, int>[] parts = [Intervals, Readings, FalseAlarms, Delays, Onsets, NextChecks];
        if (only is not null)
            return Again(Path.Combine(folder, "drift-study.md"), parts.Single(p => p.Method.Name.Equals(only, StringComparison.OrdinalIgnoreCase)), trials);
        var text = new StringBuilder();
        text.AppendLine("# Drift: what the model promises, on methods whose truth is known").AppendLine();
        text.AppendLine(Plain, $"Written by `bench/Knownwater.Benchmarks drift-study --trials {trials}`. Everything is in tolerances: 1 is “wrong by the tolerance”. The model, its priors and its words are explained in [drift](../explanation/drift.md). Simulation errors (one standard error) follow ±.").AppendLine();
        text.AppendLine("Simulated methods, where nothing else is said: a check a fortnight, give or take three days; three to five readings; scatter within a check 0.25 at the middle level, between checks 0.2; a stock lasts ten checks, each with an error of its own (0.15), a preparation two (0.08); the typical scatter that is told is the true one.").AppendLine();
        foreach (var part in parts)
        {
            var clock = Stopwatch.StartNew();
            part(text, trials);
            Console.WriteLine(FormattableString.Invariant($"{part.Method.Name}: {clock.Elapsed.TotalSeconds:0} s"));
        }
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "drift-study.md"), text.ToString());
        return 0;
    }

    /// <summary>Writes one part anew and leaves the others as they are.</summary>
    private static int Again(string file, Action<StringBuilder, int> part, int trials)
    {
        var text = new StringBuilder();
        part(text, trials);
        var heading = text.ToString().Split('\n')[0].TrimEnd();
        var before = File.ReadAllText(file);
        var from = before.IndexOf(heading, StringComparison.Ordinal);
        if (from < 0)
        {
            // a part that is new stands where its place is among the parts
            from = before.IndexOf("## False alarms", StringComparison.Ordinal);
            File.WriteAllText(file, before[..from] + text + before[from..]);
            return 0;
        }
        var to = before.IndexOf("\n## ", from, StringComparison.Ordinal) + 1;
        File.WriteAllText(file, before[..from] + text + (to > 0 ? before[to..] : ""));
        return 0;
    }

    private static void Intervals(StringBuilder text, int trials)
    {
        text.AppendLine("## Intervals of the parts").AppendLine();
        trials = Math.Max(1, trials / 2);
        text.AppendLine(Plain, $"Share of {trials} methods (two levels: a quarter of them) whose 95 % interval holds the truth, and the mean of the estimate. The level is that of the middle; the combined bias holds its truth, 0.3, when its interval does. Readings on a display scatter by its rounding too, which counts as part of the truth within.").AppendLine();
        text.AppendLine("| truth | checks | between: holds | its mean median | within: holds | combined bias: holds |");
        text.AppendLine("| --- | --- | --- | --- | --- | --- |");
        foreach (var (name, method) in ((string, Method)[])[
            ("between 0", new Method { Between = 0 }), ("between 0.1", new Method { Between = 0.1 }), ("between 0.2", new Method()), ("between 0.4", new Method { Between = 0.4 }), ("between 0.8", new Method { Between = 0.8 }),
            ("within 0.5", new Method { Within = 0.5 }), ("two levels", new Method { At = [2, 18] }), ("a display in steps of 0.3", new Method { Step = 0.3 }), ("between drawn from its prior", new Method { Between = double.NaN }), ("typical twice too low", new Method { TypicalFactor = 0.5 }), ("heavy tails (t with 3 dof) between and within", new Method { HeavyTails = true })])
        {
            foreach (var checks in (int[])[3, 6, 12, 26])
            {
                var some = method.At.Length > 1 ? Math.Max(1, trials / 4) : trials;
                var found = Each(some, 1000 + checks, random =>
                {
                    var made = method with { Checks = checks, Bias = _ => 0.3, Between = double.IsNaN(method.Between) ? 0.25 * Math.Abs(StudentThree(random)) : method.Between };
                    var model = DriftModel.Fit(Draw(made, random));
                    var parts = model.Components;
                    return (parts.Between.Interval.Contains(made.Between), parts.Between.Value, parts.WithinAt(10).Interval.Contains(double.Hypot(made.Within * Curve(10), made.Step / Math.Sqrt(12))), model.CombinedBias.Interval.Contains(0.3));
                });
                text.AppendLine(Plain, $"| {name} | {checks} | {Percent(found.Count(f => f.Item1), some)} | {found.Average(f => f.Item2):0.00} | {Percent(found.Count(f => f.Item3), some)} | {Percent(found.Count(f => f.Item4), some)} |");
            }
        }
        text.AppendLine();
    }

    private static void Readings(StringBuilder text, int trials)
    {
        text.AppendLine("## The doubt of a reading").AppendLine();
        trials = Math.Max(1, trials / 2);
        text.AppendLine(Plain, $"Share of {trials} methods of which one reading of another day, freed of what the method is off by, lies within the doubt that is shown with it (1.96 standard deviations), and the mean of that doubt in tolerances, beside the one with both standard deviations known. What the page finds moved is allowed for, as the page does; a drift or a step that it does not find, or not yet, counts as scatter from day to day.").AppendLine();
        text.AppendLine("| truth | checks | holds | mean doubt | known |");
        text.AppendLine("| --- | --- | --- | --- | --- |");
        foreach (var (name, method) in ((string, Method)[])[
            ("between 0", new Method { Between = 0 }), ("between 0.2", new Method()), ("between 0.4", new Method { Between = 0.4 }), ("a display in steps of 0.3", new Method { Step = 0.3 }), ("typical twice too low", new Method { TypicalFactor = 0.5 }), ("heavy tails (t with 3 dof) between and within", new Method { HeavyTails = true }),
            ("a drift of 0.3 in thirty days", new Method { Bias = day => 0.01 * day }), ("a step of 1.2 on day 90, at no event", new Method { Bias = day => day < 90 ? 0 : 1.2 })])
        {
            var known = 1.959964 * double.Hypot(method.Between, double.Hypot(method.Within * Curve(10), method.Step / Math.Sqrt(12)) / Allowed.At(10));
            foreach (var checks in (int[])[3, 6, 12, 26])
            {
                var found = Each(trials, 2000 + checks, random =>
                {
                    var history = Draw(method with { Checks = checks }, random);
                    var half = 1.959964 * DriftModel.Fit(history).Beside(ChangePoint.Find(history)).Components.ReadingSd(10, method.Step);
                    double Noise() => method.HeavyTails ? StudentThree(random) / Math.Sqrt(3) : Gaussian(random);
                    var off = method.Between * Noise() * Allowed.At(10) + method.Within * Curve(10) * Noise();
                    var shown = method.Step > 0 ? method.Step * Math.Round((10.17 + off) / method.Step) - 10.17 : off;
                    return (Held: Math.Abs(shown) <= half, Half: half / Allowed.At(10));
                });
                text.AppendLine(Plain, $"| {name} | {checks} | {Percent(found.Count(f => f.Held), trials)} | {found.Average(f => f.Half):0.00} | {known:0.00} |");
            }
        }
        text.AppendLine();
    }

    private static void FalseAlarms(StringBuilder text, int trials)
    {
        text.AppendLine("## False alarms").AppendLine();
        text.AppendLine("A bench of eight methods, each checked once a fortnight, without any fault: budget one false alarm a year over all of them. Between checks 0.05 to 0.4, within 0.1 to 0.4, evenly drawn; seven of the methods have one level, the eighth two; the typical scatter that is told is wrong by a factor between ½ and 2. One year each, from the first check on, so that every method is new.").AppendLine();
        var perBench = Each(trials, 5, random =>
        {
            var alarms = 0;
            var scored = 0;
            for (var m = 0; m < 8; m++)
            {
                var model = DriftModel.Fit(Draw(Faultless(random, m, 26), random));
                var points = AlarmOf(model.Forecasts).Read(model.Forecasts);
                alarms += points.Count(p => p.Alarm);
                scored += points.Count;
            }
            return (alarms, scored);
        });
        var (mean, error) = Mean(perBench.Select(p => (double)p.alarms));
        text.AppendLine("| years | false alarms a year | per scored check × checks a year |");
        text.AppendLine("| --- | --- | --- |");
        text.AppendLine(Plain, $"| {trials} first years | {mean:0.00} ± {error:0.00} | {208.0 * perBench.Sum(p => p.alarms) / perBench.Sum(p => p.scored):0.00} |");
        var few = Math.Max(1, trials / 10);
        var years = Each(few, 6, random =>
        {
            var counts = new double[4];
            for (var m = 0; m < 8; m++)
            {
                var model = DriftModel.Fit(Draw(Faultless(random, 0, 104), random));
                foreach (var point in AlarmOf(model.Forecasts).Read(model.Forecasts))
                    counts[point.Check / 26] += point.Alarm ? 1 : 0;
            }
            return counts;
        });
        for (var year = 0; year < 4; year++)
        {
            (mean, error) = Mean(years.Select(y => y[year]));
            text.AppendLine(Plain, $"| year {year + 1} of {few} benches, one level each | {mean:0.00} ± {error:0.00} | |");
        }
        var heavy = Each(Math.Max(1, trials / 4), 7, random =>
        {
            var alarms = 0;
            for (var m = 0; m < 8; m++)
            {
                var model = DriftModel.Fit(Draw(Faultless(random, 0, 26) with { HeavyTails = true }, random));
                alarms += AlarmOf(model.Forecasts).Read(model.Forecasts).Count(p => p.Alarm);
            }
            return (double)alarms;
        });
        (mean, error) = Mean(heavy);
        text.AppendLine(Plain, $"| {heavy.Length} first years with heavy tails (t with 3 degrees of freedom), one level each | {mean:0.00} ± {error:0.00} | |");
        text.AppendLine();
    }

    private static void Delays(StringBuilder text, int trials)
    {
        text.AppendLine("## How soon a shift is found").AppendLine();
        text.AppendLine("Limits for one false alarm in 208 checks. The shift comes after so many checks without a fault. Checks from the shift to the alarm, the first shifted one counted; where there was none in 40 checks, 40 is taken. The last column is the computed run length in steady state with every standard deviation and the level as known: what the chart comes to as checks gather.").AppendLine();
        text.AppendLine("| shift | found within 12 checks after 5 | after 10 | after 20 | mean checks after 5 | after 10 | after 20 | known |");
        text.AppendLine("| --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (var shift in (double[])[0.5, 1, 1.5, 2])
        {
            var row = new StringBuilder();
            List<string> delays = [];
            foreach (var after in (int[])[5, 10, 20])
            {
                var some = Math.Max(1, trials / 2);
                var found = Each(some, 40 + after, random =>
                {
                    // without stocks that change, so that the computed column speaks of the same thing
                    var model = DriftModel.Fit(Draw(new Method { Checks = after + 40, Bias = day => day > 14 * after - 7 ? shift : 0, StockLasts = 1000, PreparationU = 0 }, random));
                    return AlarmChart.For(1, 208, Known).Read(model.Forecasts).Where(p => p.Check >= after && p.Alarm).Select(p => p.Check - after + 1).FirstOrDefault(40);
                });
                row.Append(Plain, $" {Percent(found.Count(f => f <= 12), some)} |");
                var (mean, error) = Mean(found.Select(f => (double)f));
                delays.Add(string.Create(Plain, $"{mean:0.0} ± {error:0.0}"));
            }
            text.AppendLine(Plain, $"| {shift} |{row} {string.Join(" | ", delays)} | {AlarmChart.For(1, 208, Known).Chart.SteadyStateAverageRunLength(shift / Known):0.0} |");
        }
        text.AppendLine();
    }

    private static void Onsets(StringBuilder text, int _)
    {
        const int seeds = 200;
        text.AppendLine("## When it began").AppendLine();
        text.AppendLine(Plain, $"{seeds} fresh methods each, 39 checks in eighteen months, one planted fault between day 120 and day 420: a step of 0.8 to 2, up or down, at a new lot, or a drift of 0.2 to 0.5 in thirty days that goes on. Three lots are opened in that time at other days. “Lot not entered”: the step is there, its lot is not in the records. “Came and went”: a lot opened between day 120 and day 330 reads so much off, the one after it, 50 to 150 days later, does not.").AppendLine();
        text.AppendLine("What is said is what the page says: the change found beside the clear events, if there is one; else the step at the clearest event, if one is clear, between the checks before and after it; of a fault that came and went the steps at both its events.").AppendLine();
        text.AppendLine("| case | onset inside its interval | median width, days | size inside its interval | named for what it is | called steady | the planted event clear, corrected p < 0.05 (both, where it went) | another event clear |");
        text.AppendLine("| --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (var (name, fault, entered, change) in ((string, Fault, bool, Func<Method, Method>)[])[
            ("step at a new lot", Fault.Step, true, m => m),
            ("step, lot not entered", Fault.Step, false, m => m),
            ("drift", Fault.Drift, true, m => m),
            ("came and went", Fault.CameAndWent, true, m => m),
            ("step, heavy tails", Fault.Step, true, m => m with { HeavyTails = true }),
            ("drift, heavy tails", Fault.Drift, true, m => m with { HeavyTails = true }),
            ("came and went, heavy tails", Fault.CameAndWent, true, m => m with { HeavyTails = true }),
            ("step, typical scatter told four times too low, one reading a check", Fault.Step, true, m => m with { Single = true, TypicalFactor = 0.25 }),
            ("drift, typical scatter told four times too low, one reading a check", Fault.Drift, true, m => m with { Single = true, TypicalFactor = 0.25 })])
        {
            var found = Each(seeds, 300, random =>
            {
                var onset = 120 + (fault == Fault.CameAndWent ? 210 : 300) * random.NextDouble();
                var size = (fault != Fault.Drift ? 0.8 + 1.2 * random.NextDouble() : 0.2 + 0.3 * random.NextDouble()) * (random.NextDouble() < 0.5 ? -1 : 1);
                var openings = Enumerable.Range(0, 3).Select(i => new DriftEvent(30 + 480 * random.NextDouble(), DriftEventKind.LotOpened, $"lot {i}")).ToList();
                List<DriftEvent> planted = [];
                if (fault != Fault.Drift && entered)
                    planted.Add(new DriftEvent(onset, DriftEventKind.LotOpened, "planted"));
                var went = fault == Fault.CameAndWent ? onset + 50 + 100 * random.NextDouble() : double.PositiveInfinity;
                if (fault == Fault.CameAndWent)
                    planted.Add(new DriftEvent(went, DriftEventKind.LotOpened, "after it"));
                openings.AddRange(planted);
                var point = ChangePoint.Find(Draw(change(new Method { Checks = 39, Events = openings, Bias = day => day < onset || day >= went ? 0.1 : fault == Fault.Drift ? 0.1 + size * (day - onset) / 30 : 0.1 + size }), random));
                var clear = point.Events.Where(e => e.IsClear).OrderBy(e => e.Event.Day).ToList();
                bool Holds(DriftEvent one) => clear.Exists(e => e.Event == one || e.Together.Contains(one));
                var all = planted.Count > 0 && planted.TrueForAll(Holds);
                var last = fault == Fault.CameAndWent ? clear.Find(e => e.Event == planted[0] || e.Together.Contains(planted[0])) : clear.MinBy(e => e.P);
                var (kind, interval, range) = point.Kind == CourseKind.Steady && last is not null ? (CourseKind.Step, last.Between, last.Interval) : (point.KindOfChange, point.Onset!.Value, point.SizeInterval!.Value);
                var named = fault == Fault.CameAndWent ? point.Kind == CourseKind.Steady && all : kind == (fault == Fault.Step ? CourseKind.Step : CourseKind.Drift) && (point.Kind != CourseKind.Steady || last is not null);
                return (Inside: interval.Contains(onset), Width: interval.High - interval.Low, Size: range.Contains(size) && kind == (fault == Fault.Drift ? CourseKind.Drift : CourseKind.Step), Named: named, Steady: point.Kind == CourseKind.Steady && clear.Count == 0,
                    Event: all, Other: clear.Exists(e => !planted.Contains(e.Event) && !e.Together.Any(planted.Contains)));
            });
            text.AppendLine(Plain, $"| {name} | {Percent(found.Count(f => f.Inside), seeds)} | {Median(found.Select(f => f.Width)):0} | {Percent(found.Count(f => f.Size), seeds)} | {Percent(found.Count(f => f.Named), seeds)} | {Percent(found.Count(f => f.Steady), seeds)} | {(fault != Fault.Drift && entered ? Percent(found.Count(f => f.Event), seeds) : "")} | {Percent(found.Count(f => f.Other), seeds)} |");
        }
        foreach (var (name, heavy) in ((string, bool)[])[("no fault", false), ("no fault, heavy tails", true)])
        {
            var found = Each(seeds, 301, random =>
            {
                var openings = Enumerable.Range(0, 4).Select(i => new DriftEvent(30 + 480 * random.NextDouble(), DriftEventKind.LotOpened, $"lot {i}")).ToArray();
                var point = ChangePoint.Find(Draw(new Method { Checks = 39, Events = openings, HeavyTails = heavy, Bias = _ => 0.1 }, random));
                return (Steady: point.Kind == CourseKind.Steady && !point.Events.Any(e => e.IsClear), Any: point.Events.Any(e => e.IsClear));
            });
            text.AppendLine(Plain, $"| {name} | | | | | {Percent(found.Count(f => f.Steady), seeds)} | | {Percent(found.Count(f => f.Any), seeds)} |");
        }
        text.AppendLine();
    }

    private static void NextChecks(StringBuilder text, int trials)
    {
        text.AppendLine("## Next check").AppendLine();
        text.AppendLine(Plain, $"Predicted probability that a method reads wrong by more than its tolerance so many days after its last check, against how often it did; {2 * trials} methods a row, gathered by what was predicted. “As the model has it”: level N(0, 0.6²), walk and scatter between checks drawn from their priors, steps with a hazard of one in a year at any time. The other rows hold the walk still or make it brisk.").AppendLine();
        text.AppendLine("| course | checks before | days after | predicted | found | methods |");
        text.AppendLine("| --- | --- | --- | --- | --- | --- |");
        double[] edges = [0, 0.02, 0.05, 0.1, 0.2, 0.4, 1.0001];
        foreach (var (name, walk) in ((string, double?)[])[("as the model has it", null), ("no walk, no steps", 0), ("brisk walk (0.08 a day), no steps", 0.08)])
        {
            foreach (var checks in (int[])[3, 12])
            {
                var cases = Each(2 * trials, 700 + checks, random =>
                {
                    var course = Course(random, walk ?? 0.04 * Math.Abs(Gaussian(random)), walk is null ? 1.0 / 365 : 0, 0.6 * Gaussian(random), 14 * checks + 70);
                    var between = Math.Min(2, 0.25 * Math.Abs(StudentThree(random)));
                    var history = Draw(new Method { Checks = checks, Between = between, Bias = day => course[(int)Math.Max(0, day)] }, random);
                    var next = NextCheck.After(history);
                    var last = history.Checks[^1].Day;
                    return ((int[])[0, 30, 60]).Select(days => (Predicted: next.ProbabilityWrong(last + days), Found: Math.Abs(course[(int)last + days]) > 1)).ToArray();
                });
                for (var at = 0; at < 3; at++)
                {
                    for (var e = 0; e + 1 < edges.Length; e++)
                    {
                        var bin = cases.Select(c => c[at]).Where(c => c.Predicted >= edges[e] && c.Predicted < edges[e + 1]).ToArray();
                        if (bin.Length >= 20)
                            text.AppendLine(Plain, $"| {name} | {checks} | {30 * at} | {100 * bin.Average(b => b.Predicted):0.0} % | {Percent(bin.Count(b => b.Found), bin.Length)} | {bin.Length} |");
                    }
                }
            }
        }
        text.AppendLine();
    }

    /// <summary>Bias of each day: level, walk, and steps that come by chance.</summary>
    private static double[] Course(Xoshiro256StarStar random, double walk, double hazard, double level, int days)
    {
        var course = new double[days];
        for (var day = 0; day < days; day++)
        {
            level += day == 0 ? 0 : walk * Gaussian(random);
            if (hazard > 0 && random.NextDouble() < hazard)
                level += Gaussian(random);
            course[day] = level;
        }
        return course;
    }

    /// <summary>Forecast standard deviation of the method of <see cref="Delays"/> with a level well known: between, and within over four readings.</summary>
    private static double Known => Math.Sqrt(0.2 * 0.2 + 0.25 * 0.25 * Curve(10) * Curve(10) / 4);

    private static readonly Dictionary<int, AlarmChart> Charts = [];

    /// <summary>The chart for the median forecast of a method, on a grid of standard deviations so that it is designed once.</summary>
    private static AlarmChart AlarmOf(IReadOnlyList<ForecastError> forecasts)
    {
        var at = (int)Math.Clamp(Math.Round(20 * Median(forecasts.Where(f => f.Score is not null).Select(f => f.Sd))), 2, 40);
        lock (Charts)
        {
            if (!Charts.TryGetValue(at, out var chart))
                Charts[at] = chart = AlarmChart.For(1, 208, at / 20.0);
            return chart;
        }
    }

    private static Method Faultless(Xoshiro256StarStar random, int place, int checks)
    {
        var level = 0.4 * Gaussian(random);
        return new Method
        {
            Checks = checks,
            Between = 0.05 + 0.35 * random.NextDouble(),
            Within = 0.1 + 0.3 * random.NextDouble(),
            At = place == 7 ? [4, 16] : [10],
            TypicalFactor = Math.Pow(2, 2 * random.NextDouble() - 1),
            Bias = _ => level,
        };
    }

    /// <summary>Scatter within a check at a level over <see cref="Method.Within"/>.</summary>
    private static double Curve(double level) => Math.Sqrt(0.2 * 0.2 + 0.09 * level * (0.09 * level));

    private static DriftHistory Draw(Method method, Xoshiro256StarStar random)
    {
        List<DriftCheck> checks = [];
        double stock = 0, preparation = 0;
        ErrorSource? ofStock = null, ofPreparation = null;
        double Noise() => method.HeavyTails ? StudentThree(random) / Math.Sqrt(3) : Gaussian(random);
        for (var i = 0; i < method.Checks; i++)
        {
            var day = Math.Max(0, 14 * i + 6 * random.NextDouble() - 3);
            if (i % method.StockLasts == 0)
                (stock, ofStock) = (Gaussian(random), ErrorSource.Normal($"stock {i}", 1));
            if (i % 2 == 0 || i % method.StockLasts == 0)
                (preparation, ofPreparation) = (Gaussian(random), ErrorSource.Normal($"preparation {i}", 1));
            var between = method.Between * Noise();
            List<DriftLevel> levels = [];
            foreach (var level in method.At)
            {
                var t = Allowed.At(level);
                double us = method.StockU * level / 10, up = method.PreparationU * level / 10;
                var n = method.Single ? 1 : 3 + (int)(3 * random.NextDouble());
                double sum = 0, square = 0;
                var wrong = (method.Bias(day) + between) * t - us * stock - up * preparation;
                for (var k = 0; k < n; k++)
                {
                    var reading = wrong + method.Within * Curve(level) * Noise();
                    if (method.Step > 0)
                        reading = method.Step * Math.Round((level + reading) / method.Step) - level;
                    sum += reading;
                    square += reading * reading;
                }
                List<(ErrorSource, double)> sources = [];
                if (us > 0)
                    sources.Add((ofStock!, -us));
                if (up > 0)
                    sources.Add((ofPreparation!, -up));
                levels.Add(new DriftLevel
                {
                    Known = level,
                    Bias = Estimate.FromRows(sum / n, sources),
                    Replicates = n,
                    Resolution = method.Step,
                    Sd = n > 1 ? Math.Sqrt(Math.Max(0, square - sum * sum / n) / (n - 1)) : null,
                });
            }
            checks.Add(new DriftCheck { Day = day, Levels = levels, Stock = ofStock!.Name, Preparation = ofPreparation!.Name });
        }
        var told = method.Within * method.TypicalFactor;
        return new DriftHistory(Allowed, checks, method.Events, new TypicalSd(0.2 * told, 0.09 * told, "simulated"));
    }

    private static T[] Each<T>(int count, int seed, Func<Xoshiro256StarStar, T> one)
    {
        var found = new T[count];
        Parallel.For(0, count, i => found[i] = one(new Xoshiro256StarStar(unchecked(seed * 1_000_003 + i))));
        return found;
    }

    private static double Gaussian(Xoshiro256StarStar random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static double StudentThree(Xoshiro256StarStar random)
    {
        double a = Gaussian(random), b = Gaussian(random), c = Gaussian(random);
        return Gaussian(random) / Math.Sqrt((a * a + b * b + c * c) / 3);
    }

    private static string Percent(int count, int of)
    {
        var p = (double)count / of;
        return string.Create(Plain, $"{100 * p:0.0} ± {100 * Math.Sqrt(Math.Max(p * (1 - p), 0.25 / of) / of):0.0} %");
    }

    private static (double Mean, double Error) Mean(IEnumerable<double> values)
    {
        var all = values.ToArray();
        var mean = all.Average();
        return (mean, Math.Sqrt(all.Sum(v => (v - mean) * (v - mean)) / Math.Max(1, all.Length - 1) / all.Length));
    }

    private static double Median(IEnumerable<double> values)
    {
        var all = values.Order().ToArray();
        return all.Length == 0 ? double.NaN : all[all.Length / 2];
    }
}
