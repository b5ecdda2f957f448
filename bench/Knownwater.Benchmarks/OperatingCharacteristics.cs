using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Knownwater.Benchmarks;

/// <summary>
/// How often a check says what, when the truth is known. Everything is in units of the repeatability standard deviation of one
/// undisplayed reading. The interval and the rule are the library's own (<see cref="BiasInterval"/>); a part of the trials goes
/// through <see cref="LevelCheck.Judge"/> itself and must agree.
/// </summary>
internal static class OperatingCharacteristics
{
    private static readonly double[] Tolerances = [0.3, 1, 2, 4];
    private static readonly double[] BiasesInT = [0, 0.9, 1, 2];
    private static readonly double[] References = [0.2, 0.5, 1, 2];
    private static readonly double[] Steps = [0, 0.5, 1, 2, 3];
    private static readonly int[] Sizes = [2, 3, 4, 5, 6, 7, 8, 9, 10];
    private const int WorstPhases = 8;

    private enum Errors { Normal, Rectangular }
    private enum ReferenceError { Drawn, HeldUp, HeldDown }

    public static int Run(string[] args)
    {
        var trials = 62_500;
        var folder = "docs/reference";
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--trials")
                trials = int.Parse(args[i + 1], CultureInfo.InvariantCulture);
            else if (args[i] == "--out")
                folder = args[i + 1];
        }

        var clock = Stopwatch.StartNew();
        var cells = Cells(trials);
        var planned = Planned(trials);
        var priors = PriorMisfit(trials);
        var disagreements = CrossCheck(Math.Min(trials, 2_000), out var compared);
        Console.WriteLine($"{compared} trials went through LevelCheck.Judge itself, {disagreements} disagreed with the simulation's use of the rule");
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "operating-characteristics.md"), Report(cells, planned, priors, trials, compared));
        File.WriteAllText(Path.Combine(folder, "operating-characteristics-exceptions.csv"), Exceptions(cells, trials));
        Console.WriteLine(FormattableString.Invariant($"{cells.Count} cells of {trials} trials, {planned.Count} planned checks, {clock.Elapsed.TotalSeconds:0} s"));
        return disagreements == 0 ? 0 : 1;
    }

    /// <summary>One cell: what happened at one combination, rates from 0 to 1. With the worst phase, each rate is that of its own worst phase.</summary>
    private sealed record Cell(Errors Errors, bool WorstPhase, ReferenceError Reference, int Looks, double T, double U, double Q, int N, double BiasInT, double Right, double Wrong, double WrongSide, double Coverage)
    {
        public Cell WorseOf(Cell other) => this with
        {
            Right = BiasInT >= 1 ? Math.Max(Right, other.Right) : Math.Min(Right, other.Right),
            Wrong = BiasInT == 0 ? Math.Max(Wrong, other.Wrong) : Math.Min(Wrong, other.Wrong),
            WrongSide = Math.Max(WrongSide, other.WrongSide),
            Coverage = Math.Min(Coverage, other.Coverage),
        };
    }

    private static List<Cell> Cells(int trials)
    {
        var jobs = (from errors in Enum.GetValues<Errors>()
                    from n in Sizes
                    from q in Steps
                    from worst in q > 0 ? new[] { false, true } : [false]
                    select (errors, n, q, worst)).ToArray();
        var results = new List<Cell>[jobs.Length];
        Parallel.For(0, jobs.Length, j =>
        {
            var (errors, n, q, worst) = jobs[j];
            Dictionary<(ReferenceError, int, double, double, double), Cell> merged = [];
            for (var phase = 0; phase < (worst ? WorstPhases : 1); phase++)
            {
                var fixedPhase = worst ? (phase + 0.5) / WorstPhases : (double?)null;
                foreach (var cell in Simulate(errors, n, q, fixedPhase, trials, 1_000 * j + phase))
                {
                    var key = (cell.Reference, cell.Looks, cell.T, cell.U, cell.BiasInT);
                    merged[key] = merged.TryGetValue(key, out var known) ? known.WorseOf(cell) : cell;
                }
            }
            results[j] = [.. merged.Values];
        });
        return [.. results.SelectMany(r => r)];
    }

    /// <summary>Means and variances of n replicates as displayed, and of those with as many more.</summary>
    private sealed class Draws
    {
        public readonly double[] Mean, Variance, Mean2, Variance2, Reference;

        public Draws(Errors errors, int n, double q, double? phase, int trials, int seed)
        {
            var random = new Xoshiro256StarStar(seed + 17);
            Mean = new double[trials];
            Variance = new double[trials];
            Mean2 = new double[trials];
            Variance2 = new double[trials];
            Reference = new double[trials];
            Normal.Samples(random, Reference, 0, 1);
            var noise = new double[2 * n];
            for (var i = 0; i < trials; i++)
            {
                if (errors == Errors.Normal)
                    Normal.Samples(random, noise, 0, 1);
                else
                    ContinuousUniform.Samples(random, noise, -Math.Sqrt(3), Math.Sqrt(3));
                var offset = q * (phase ?? random.NextDouble());
                if (q > 0)
                {
                    for (var k = 0; k < noise.Length; k++)
                        noise[k] = q * Math.Round((noise[k] + offset) / q) - offset;
                }
                (Mean[i], Variance[i]) = Moments(noise.AsSpan(0, n));
                (Mean2[i], Variance2[i]) = Moments(noise);
            }
        }

        private static (double Mean, double Variance) Moments(ReadOnlySpan<double> x)
        {
            double sum = 0, squares = 0;
            foreach (var value in x)
                sum += value;
            var mean = sum / x.Length;
            foreach (var value in x)
                squares += (value - mean) * (value - mean);
            return (mean, squares / (x.Length - 1));
        }
    }

    private static IEnumerable<Cell> Simulate(Errors errors, int n, double q, double? phase, int trials, int seed)
    {
        var draws = new Draws(errors, n, q, phase, trials, seed);
        var half = new double[trials];
        var half2 = new double[trials];
        foreach (var u in References)
        {
            foreach (var looks in new[] { 1, 2 })
            {
                HalfWidths(draws, n, q, u, looks, half, half2);
                foreach (var reference in Enum.GetValues<ReferenceError>())
                {
                    foreach (var t in Tolerances)
                    {
                        foreach (var inT in BiasesInT)
                            yield return Count(draws, half, half2, new Cell(errors, phase is not null, reference, looks, t, u, q, n, inT, 0, 0, 0, 0));
                    }
                }
            }
        }
    }

    private static void HalfWidths(Draws draws, int n, double q, double u, int looks, double[] half, double[] half2)
    {
        var coverage = looks == 2 ? 0.975 : 0.95;
        var first = new BiasInterval(n - 1, coverage, q, u);
        var second = new BiasInterval(2 * n - 1, coverage, q, u);
        for (var i = 0; i < half.Length; i++)
            half[i] = first.HalfWidth(draws.Variance[i], n);
        if (looks == 2)
        {
            for (var i = 0; i < half.Length; i++)
                half2[i] = second.HalfWidth(draws.Variance2[i], 2 * n);
        }
    }

    private static Cell Count(Draws draws, double[] half, double[] half2, Cell cell)
    {
        var bias = cell.BiasInT * cell.T;
        int right = 0, high = 0, low = 0, covered = 0;
        for (var i = 0; i < half.Length; i++)
        {
            var known = cell.Reference switch { ReferenceError.Drawn => draws.Reference[i] * cell.U, ReferenceError.HeldUp => cell.U, _ => -cell.U };
            var estimate = bias + known + draws.Mean[i];
            var width = half[i];
            var verdict = BiasInterval.Decide(estimate - width, estimate + width, estimate, estimate, cell.T);
            if (cell.Looks == 2 && verdict == Verdict.CannotTell)
            {
                estimate = bias + known + draws.Mean2[i];
                width = half2[i];
                verdict = BiasInterval.Decide(estimate - width, estimate + width, estimate, estimate, cell.T);
            }
            if (verdict == Verdict.ReadsRight)
                right++;
            else if (verdict == Verdict.ReadsHigh)
                high++;
            else if (verdict == Verdict.ReadsLow)
                low++;
            if (Math.Abs(estimate - bias) <= width)
                covered++;
        }
        double all = half.Length;
        return cell with { Right = right / all, Wrong = (cell.BiasInT == 0 ? high + low : high) / all, WrongSide = low / all, Coverage = covered / all };
    }

    private sealed record PlannedCell(Errors Errors, bool WorstPhase, int Looks, double T, double U, double Q, ReplicatePlan Plan, double Right, double Wrong);

    private static List<PlannedCell> Planned(int trials)
    {
        var jobs = (from t in Tolerances
                    from u in References
                    from looks in new[] { 1, 2 }
                    where (looks == 2 ? 2.2414 : 1.96) * u <= t / 2
                    from q in Steps
                    from errors in Enum.GetValues<Errors>()
                    from worst in q > 0 ? new[] { false, true } : [false]
                    select (t, u, looks, q, errors, worst)).ToArray();
        var results = new PlannedCell[jobs.Length];
        Parallel.For(0, jobs.Length, j =>
        {
            var (t, u, looks, q, errors, worst) = jobs[j];
            var plan = ReplicatePlanning.Plan(t, 1, u, q, looks: looks);
            double right = double.NaN, wrong = double.NaN;
            if (plan.N is { } n)
            {
                (right, wrong) = (1, 1);
                for (var phase = 0; phase < (worst ? WorstPhases : 1); phase++)
                {
                    var draws = new Draws(errors, n, q, worst ? (phase + 0.5) / WorstPhases : null, trials, 1_000_000 + 1_000 * j + phase);
                    double[] half = new double[trials], half2 = new double[trials];
                    HalfWidths(draws, n, q, u, looks, half, half2);
                    var empty = new Cell(errors, worst, ReferenceError.Drawn, looks, t, u, q, n, 0, 0, 0, 0, 0);
                    right = Math.Min(right, Count(draws, half, half2, empty).Right);
                    wrong = Math.Min(wrong, Count(draws, half, half2, empty with { BiasInT = 2 }).Wrong);
                }
            }
            results[j] = new PlannedCell(errors, worst, looks, t, u, q, plan, right, wrong);
        });
        return [.. results];
    }

    private sealed record PriorCell(double TrueOverPrior, int N, double Coverage, double Own);

    /// <summary>Coverage when the typical scatter (six degrees of freedom) is taken as prior and the method's own is another.</summary>
    private static List<PriorCell> PriorMisfit(int trials)
    {
        var jobs = (from ratio in new[] { 0.5, 1, 1.5, 2, 3 } from n in Sizes select (ratio, n)).ToArray();
        var results = new PriorCell[jobs.Length];
        Parallel.For(0, jobs.Length, j =>
        {
            var (ratio, n) = jobs[j];
            var used = Math.Min(trials, 20_000);
            var draws = new Draws(Errors.Normal, n, 0, null, used, 2_000_000 + j);
            int pooled = 0, own = 0;
            var plan = new LevelPlan { Reference = Estimate.Exact(100), Form = ReportingForm.Parse("mg/L NO3"), Tolerance = new Tolerance(1, 0), Prior = new PriorSd(1 / ratio, 6, isTypical: true) };
            var alone = plan with { PoolPrior = false };
            for (var i = 0; i < used; i++)
            {
                // only mean and variance count, so that readings with the drawn mean and variance stand for the draw
                var readings = WithMoments(n, draws.Mean[i], Math.Sqrt(draws.Variance[i]));
                if (Covers(LevelCheck.Read(plan, readings)))
                    pooled++;
                if (Covers(LevelCheck.Read(alone, readings)))
                    own++;
            }
            results[j] = new PriorCell(ratio, n, (double)pooled / used, (double)own / used);
        });
        return [.. results];
    }

    private static bool Covers(LevelCheck.Reading reading) => Math.Abs(reading.Mean) <= reading.HalfWidth;

    private static double[] WithMoments(int n, double mean, double sd)
    {
        var pattern = Enumerable.Range(0, n).Select(i => i - (n - 1) / 2.0).ToArray();
        var scale = sd / Math.Sqrt(pattern.Sum(p => p * p) / (n - 1));
        return [.. pattern.Select(p => mean + p * scale)];
    }

    private static int CrossCheck(int trials, out int compared)
    {
        var random = new Xoshiro256StarStar(7);
        var wrong = 0;
        compared = 0;
        foreach (var n in Sizes)
        {
            foreach (var q in Steps)
            {
                foreach (var u in References)
                {
                    foreach (var t in Tolerances)
                    {
                        for (var i = 0; i < trials / 100; i++)
                        {
                            var noise = new double[n];
                            Normal.Samples(random, noise, 100 + 2 * t * random.NextDouble(), 1);
                            var shown = q > 0 ? [.. noise.Select(x => q * Math.Round(x / q))] : noise;
                            var plan = new LevelPlan
                            {
                                Reference = Estimate.From(100, ErrorSource.Normal("known water", u)),
                                Form = ReportingForm.Parse("mg/L NO3"),
                                Tolerance = new Tolerance(t, 0),
                                Resolution = q,
                            };
                            var judged = LevelCheck.Judge(plan, [.. shown.Select(x => new Indication(x))]).Verdict;
                            var mean = shown.Average();
                            var width = new BiasInterval(n - 1, 0.95, q, u).HalfWidth(shown.Sum(x => (x - mean) * (x - mean)) / (n - 1), n);
                            var direct = BiasInterval.Decide(mean - 100 - width, mean - 100 + width, mean - 100, mean - 100, t);
                            compared++;
                            if (judged != direct)
                                wrong++;
                        }
                    }
                }
            }
        }
        return wrong;
    }

    // ---- the page ----

    private sealed record Promise(string Name, string Says, Func<Cell, bool> Applies, Func<Cell, double> Rate, bool AtMost, double Limit)
    {
        /// <summary>Kept, or beyond by no more than two standard errors of the simulation.</summary>
        public bool Kept(Cell cell, int trials)
        {
            var slack = 2 * Math.Sqrt(Limit * (1 - Limit) / trials);
            return AtMost ? Rate(cell) <= Limit + slack : Rate(cell) >= Limit - slack;
        }
    }

    private static readonly Promise[] Promises =
    [
        new("false alarm", "no bias: reads high or low, at most 5 %", c => c.BiasInT == 0, c => c.Wrong, true, 0.05),
        new("false pass", "bias of one tolerance: reads right, at most 2.5 %", c => c.BiasInT == 1, c => c.Right, true, 0.025),
        new("coverage", "the interval holds the bias, at least 94 %", c => c.Reference == ReferenceError.Drawn, c => c.Coverage, false, 0.94),
    ];

    private static string Report(List<Cell> cells, List<PlannedCell> planned, List<PriorCell> priors, int trials, int compared)
    {
        var page = new StringBuilder();
        page.AppendLine("# How often a check says what").AppendLine();
        page.AppendLine("Written by `./test.sh --long` (`bench/Knownwater.Benchmarks operating-characteristics`); do not edit by hand.").AppendLine();
        page.AppendLine(CultureInfo.InvariantCulture, $"Simulated with {trials:N0} trials a cell: the simulation's standard error is at most {100 * Math.Sqrt(0.25 / trials):0.00} % of all trials, {100 * Math.Sqrt(0.05 * 0.95 / trials):0.00} % near 5 % and {100 * Math.Sqrt(0.025 * 0.975 / trials):0.00} % near 2.5 %. The interval and the rule are the library's own; {compared:N0} trials more went through `LevelCheck.Judge` itself and none disagreed. A cell counts as kept where its rate is beyond the limit by no more than two standard errors.").AppendLine();
        page.AppendLine("Everything is in units of the standard deviation of one reading (sd): tolerance T 0.3, 1, 2, 4; bias 0, 0.9 T, T, 2 T; readings n 2 to 10; standard uncertainty of the known water 0.2, 0.5, 1, 2; step of the display 0, 0.5, 1, 2, 3, with the true value anywhere on the step (*uniform*) or where it does most harm (*worst*, the worst of eight places for each rate apart); the known water's error drawn anew for each check or held at one standard uncertainty up or down; errors of the readings normal or rectangular; one look, or two where an extension of as many readings is declared.").AppendLine();

        page.AppendLine("## The promises over all cells").AppendLine();
        page.AppendLine("| promise | errors | known water | looks | cells | kept | worst rate | where |").AppendLine("| --- | --- | --- | --- | ---: | ---: | ---: | --- |");
        foreach (var promise in Promises)
        {
            foreach (var group in cells.Where(promise.Applies).GroupBy(c => (c.Errors, Held: c.Reference != ReferenceError.Drawn, c.Looks)).OrderBy(g => g.Key.Errors).ThenBy(g => g.Key.Held).ThenBy(g => g.Key.Looks))
            {
                var all = group.ToList();
                var worst = promise.AtMost ? all.MaxBy(promise.Rate)! : all.MinBy(promise.Rate)!;
                page.AppendLine(CultureInfo.InvariantCulture, $"| {promise.Says} | {Text(group.Key.Errors)} | {(group.Key.Held ? "held at one u" : "drawn")} | {group.Key.Looks} | {all.Count} | {all.Count(c => promise.Kept(c, trials))} | {100 * promise.Rate(worst):0.00} % | {Where(worst)} |");
            }
        }

        page.AppendLine().AppendLine("## Cells beyond a promise").AppendLine();
        foreach (var promise in Promises)
        {
            var beyond = cells.Where(c => promise.Applies(c) && !promise.Kept(c, trials)).ToList();
            page.AppendLine(CultureInfo.InvariantCulture, $"**{promise.Name}** ({promise.Says}): {beyond.Count} of {cells.Count(promise.Applies)} cells.").AppendLine();
            if (beyond.Count == 0)
                continue;
            page.AppendLine("| errors | n | cells | worst rate | where |").AppendLine("| --- | ---: | ---: | ---: | --- |");
            foreach (var group in beyond.GroupBy(c => (c.Errors, c.N)).OrderBy(g => g.Key.Errors).ThenBy(g => g.Key.N))
            {
                var worst = promise.AtMost ? group.MaxBy(promise.Rate)! : group.MinBy(promise.Rate)!;
                page.AppendLine(CultureInfo.InvariantCulture, $"| {Text(group.Key.Errors)} | {group.Key.N} | {group.Count()} | {100 * promise.Rate(worst):0.00} % | {Where(worst)} |");
            }
            page.AppendLine();
        }
        page.AppendLine("Every such cell is in `operating-characteristics-exceptions.csv`. What stands behind them and what the program says there is in the [explanation of checks](../explanation/checks.md#where-the-promises-end).").AppendLine();

        page.AppendLine("## With the planned number of readings").AppendLine();
        page.AppendLine("Where z · u of the known water is at most half the tolerance; the plan comes from the library (`ReplicatePlanning`) and promises P(reads right, no bias) and P(reads high, bias 2 T) of at least 90 %.").AppendLine();
        page.AppendLine("| T | u | step | looks | planned n | errors | place on the step | right, no bias | high, bias 2 T |").AppendLine("| ---: | ---: | ---: | ---: | --- | --- | --- | ---: | ---: |");
        foreach (var c in planned)
        {
            var n = c.Plan.N is { } known ? known.ToString(CultureInfo.InvariantCulture) : c.Plan.LimitedByResolution ? "none: the display is the limit" : c.Plan.LimitedByReference ? "none: the known water is the limit" : "none";
            page.AppendLine(CultureInfo.InvariantCulture, $"| {c.T} | {c.U} | {c.Q} | {c.Looks} | {n} | {Text(c.Errors)} | {(c.Q == 0 ? "–" : c.WorstPhase ? "worst" : "uniform")} | {Rate(c.Right)} | {Rate(c.Wrong)} |");
        }
        var short90 = planned.Where(c => c.Plan.N is not null && (Math.Min(c.Right, c.Wrong) < 0.9 - 2 * Math.Sqrt(0.09 / trials))).ToList();
        page.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"{planned.Count(c => c.Plan.N is not null)} checks could be planned, {short90.Count} of them stay below 90 % by more than two standard errors ({(short90.Count == 0 ? "none" : $"the least {100 * short90.Min(c => Math.Min(c.Right, c.Wrong)):0.0} %")}); {planned.Count(c => c.Plan.N is null)} cannot be planned, and the program says which limit stands in the way.").AppendLine();

        page.AppendLine("## When the typical scatter is not yours").AppendLine();
        page.AppendLine("Coverage of the 95 % interval when the typical scatter (six degrees of freedom) is pooled, by the ratio of the true scatter to it; beside it, in brackets, without pooling. The standard error is at most 0.35 % here. A scatter that is significantly worse than usual drops the typical figure.").AppendLine();
        var ratios = priors.Select(p => p.TrueOverPrior).Distinct().ToList();
        page.AppendLine("| n | " + string.Join(" | ", ratios.Select(r => FormattableString.Invariant($"true/typical {r}"))) + " |").AppendLine("| ---: |" + string.Concat(ratios.Select(_ => " ---: |")));
        foreach (var n in Sizes)
            page.AppendLine(CultureInfo.InvariantCulture, $"| {n} | {string.Join(" | ", ratios.Select(r => priors.Single(p => p.N == n && p.TrueOverPrior == r)).Select(p => FormattableString.Invariant($"{100 * p.Coverage:0.0} ({100 * p.Own:0.0})")))} |");
        return page.ToString();

        static string Rate(double rate) => double.IsNaN(rate) ? "–" : FormattableString.Invariant($"{100 * rate:0.0} %");
    }

    private static string Text(Errors errors) => errors == Errors.Normal ? "normal" : "rectangular";

    private static string Where(Cell c) => FormattableString.Invariant($"n {c.N}, T {c.T}, u {c.U}, step {c.Q}{(c.WorstPhase ? " worst" : "")}, {c.Looks} look{(c.Looks == 1 ? "" : "s")}");

    private static string Exceptions(List<Cell> cells, int trials)
    {
        var text = new StringBuilder("promise,errors,phase,reference,looks,tolerance,u,step,n,bias_in_t,rate\n");
        foreach (var promise in Promises)
        {
            foreach (var c in cells.Where(c => promise.Applies(c) && !promise.Kept(c, trials)))
                text.Append(CultureInfo.InvariantCulture, $"{promise.Name},{Text(c.Errors)},{(c.WorstPhase ? "worst" : "uniform")},{c.Reference},{c.Looks},{c.T},{c.U},{c.Q},{c.N},{c.BiasInT},{promise.Rate(c):0.00000}\n");
        }
        return text.ToString();
    }
}
