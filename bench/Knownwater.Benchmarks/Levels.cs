using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Knownwater.Benchmarks;

/// <summary>How often the intervals of offset, gain and difference hold the truth, when the truth is known. Values in mg/L; the highest level is 10.</summary>
internal static class Levels
{
    private const double TrueOffset = 0.05, TrueGain = 1.03;
    private static readonly ReportingForm Form = ReportingForm.Parse("mg/L NO3");

    private enum Waters { OneStock, TwoStocks, Background }

    /// <summary>What is known of the scatter: each level by itself, its shape over the levels, or a shape that is wrong.</summary>
    private enum Scatters { EachLevel, Shape, WrongShape }

    /// <summary>One combination.</summary>
    private sealed record Cell(Waters Waters, Scatters Scatter, double StockPercent, double[] At, int N, double SdPercent, bool Proportional, double Step = 0)
    {
        public double Sd(double level) => SdPercent / 100 * (Proportional ? level : 10);
    }

    /// <summary>Rates in per cent.</summary>
    private sealed record Rates(double Offset, double Gain, double Step, double Apart, double ApartOffset, double LeftOut);

    public static int Run(string[] args)
    {
        var trials = 20_000;
        var folder = "docs/reference";
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--trials")
                trials = int.Parse(args[i + 1], CultureInfo.InvariantCulture);
            else if (args[i] == "--out")
                folder = args[i + 1];
        }

        var clock = Stopwatch.StartNew();
        var cells = Cells().ToArray();
        var rates = new Rates[cells.Length];
        Parallel.For(0, cells.Length, i => rates[i] = Simulate(cells[i], trials, 71 + i));
        var (compared, disagreements) = CrossCheck(200);
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "levels.md"), Report(cells, rates, trials, compared));
        Console.WriteLine(FormattableString.Invariant($"{cells.Length} cells of {trials} checks, {compared} of them through LevelCheck.Judge itself, {disagreements} disagreed, {clock.Elapsed.TotalSeconds:0} s"));
        return disagreements == 0 ? 0 : 1;
    }

    private static IEnumerable<Cell> Cells()
    {
        double[] stocks = [0.5, 1, 2];
        foreach (var scatter in Enum.GetValues<Scatters>())
            foreach (var stock in stocks)
                foreach (var low in (double[])[1, 2, 5])
                    foreach (var n in (int[])[3, 4, 5, 6])
                        foreach (var (sd, proportional) in ((double, bool)[])[(1, false), (3, false), (2, true)])
                            yield return new Cell(Waters.OneStock, scatter, stock, [low, 10], n, sd, proportional);
        foreach (var waters in (Waters[])[Waters.TwoStocks, Waters.Background])
            foreach (var stock in stocks)
                foreach (var n in (int[])[3, 4, 5, 6])
                    yield return new Cell(waters, Scatters.Shape, stock, [2, 10], n, 1, false);
        foreach (var stock in stocks)
            foreach (var n in (int[])[3, 4, 5, 6])
                foreach (var scatter in (Scatters[])[Scatters.Shape, Scatters.EachLevel])
                    yield return new Cell(Waters.OneStock, scatter, stock, [1, 2.5, 5, 7.5, 10], n, 1, false);
        foreach (var n in (int[])[3, 6])
            yield return new Cell(Waters.OneStock, Scatters.Shape, 1, [2, 10], n, 1, false, Step: 0.1);
    }

    private static Rates Simulate(Cell cell, int trials, int seed)
    {
        var random = new Xoshiro256StarStar(seed);
        var normal = new Normal(0, 1, random);
        var (known, apart, exact, draw) = Prepare(cell);
        int offset = 0, gain = 0, step = 0, apartGain = 0, apartOffset = 0, leftOut = 0;
        var readings = new double[cell.N];
        var means = new double[cell.At.Length];
        var sds = new double[cell.At.Length];
        for (var trial = 0; trial < trials; trial++)
        {
            var truth = draw(normal);
            for (var i = 0; i < truth.Length; i++)
            {
                for (var k = 0; k < readings.Length; k++)
                {
                    var shown = TrueOffset + TrueGain * truth[i] + cell.Sd(cell.At[i]) * normal.Sample();
                    readings[k] = cell.Step > 0 ? cell.Step * Math.Round(shown / cell.Step) : shown;
                }
                means[i] = readings.Average();
                var mean = means[i];
                sds[i] = Math.Sqrt(readings.Sum(r => (r - mean) * (r - mean)) / (readings.Length - 1));
            }
            var basis = cell.Waters == Waters.Background ? LevelsBasis.Difference : LevelsBasis.EachLevel;
            var judged = LevelsCheck.Judge(Judged(cell, known, means, sds), basis);
            var line = judged.Line!;
            offset += Holds(line.Offset.Value, line.OffsetExpanded, TrueOffset);
            gain += Holds(line.Gain.Value, line.GainExpanded, TrueGain);
            if (judged.Differences is [var difference])
                step += Holds(difference.Estimate.Value, difference.Expanded, (TrueGain - 1) * (truth[1] - truth[0]));
            var asIfApart = LevelsCheck.Judge(Judged(cell, apart, means, sds)).Line!;
            apartGain += Holds(asIfApart.Gain.Value, asIfApart.GainExpanded, TrueGain);
            apartOffset += Holds(asIfApart.Offset.Value, asIfApart.OffsetExpanded, TrueOffset);
            var without = LevelsCheck.Judge(Judged(cell, exact, means, sds)).Line!;
            leftOut += Holds(without.Gain.Value, without.GainExpanded, TrueGain);
        }
        double Percent(int count) => 100.0 * count / trials;
        return new Rates(Percent(offset), Percent(gain), Percent(step), Percent(apartGain), Percent(apartOffset), Percent(leftOut));

        static int Holds(double value, double half, double truth) => Math.Abs(value - truth) <= half ? 1 : 0;
    }

    /// <summary>Known values as they are, as if no two waters shared anything, and as if they were exact; and a draw of the true values.</summary>
    private static (Estimate[] Known, Estimate[] Apart, Estimate[] Exact, Func<Normal, double[]> Draw) Prepare(Cell cell)
    {
        const double private_ = 0.003, backgroundU = 0.08, background = 0.1;
        var relative = cell.StockPercent / 100;
        var stocks = cell.At.Select((_, i) => i).Select(i => ErrorSource.Normal($"stock {(cell.Waters == Waters.TwoStocks ? i : 0)}", 1)).ToArray();
        var ofBackground = ErrorSource.Normal("background", 1);
        Estimate Water(int i, bool together)
        {
            var at = cell.At[i];
            var added = cell.Waters == Waters.Background ? at - background : at;
            List<(ErrorSource, double)> sources =
            [
                (together && cell.Waters != Waters.TwoStocks ? stocks[0] : stocks[i], relative * added),
                (ErrorSource.Normal($"glassware {i}", 1), private_ * added),
            ];
            if (cell.Waters == Waters.Background)
                sources.Add((together ? ofBackground : ErrorSource.Normal($"background {i}", 1), backgroundU));
            return Estimate.FromRows(at, sources);
        }
        var n = cell.At.Length;
        Estimate[] known = [.. Enumerable.Range(0, n).Select(i => Water(i, together: true))];
        Estimate[] apart = [.. Enumerable.Range(0, n).Select(i => Water(i, together: false))];
        return (known, apart, [.. cell.At.Select(Estimate.Exact)], normal =>
        {
            double stock = normal.Sample(), shift = cell.Waters == Waters.Background ? backgroundU * normal.Sample() : 0;
            return [.. cell.At.Select((at, i) =>
            {
                var added = cell.Waters == Waters.Background ? at - background : at;
                var own = cell.Waters == Waters.TwoStocks && i > 0 ? normal.Sample() : stock;
                return at + added * (relative * own + private_ * normal.Sample()) + shift;
            })];
        });
    }

    private static JudgedLevel[] Judged(Cell cell, Estimate[] known, double[] means, double[] sds) => [.. known.Select((reference, i) =>
    {
        var usual = cell.Scatter switch { Scatters.Shape => cell.Sd(cell.At[i]), Scatters.WrongShape => cell.Proportional ? 1 : cell.At[i], _ => 0 };
        var plan = new LevelPlan
        {
            Reference = reference, Form = Form, Tolerance = new Tolerance(0.1, 10), Resolution = cell.Step, Levels = known.Length,
            Prior = usual > 0 ? new PriorSd(usual, 6) : null, PoolPrior = false,
        };
        return new JudgedLevel(plan, Judgement(plan, cell.N, means[i], sds[i]));
    })];

    /// <summary>What the verdict over levels reads of a level's judgement; the rest of a judgement takes a hundred times as long.</summary>
    private static LevelJudgement Judgement(LevelPlan plan, int n, double mean, double sd) => new()
    {
        Verdict = Verdict.CannotTell, Matters = false, N = n, Censored = 0, Mean = mean, Sd = sd, SdUsed = sd, SdDof = n - 1, SdOrigin = SdOrigin.Own,
        Bias = new Bias(mean - plan.Reference.Value, null, null, null, null, null, plan.Coverage), RecoveryPercent = null, ProbabilityWithinTolerance = null,
        Scatter = Scatter.CannotTell, SmallestVisibleBias = null, Remedy = null, Outliers = [], WithoutOutlier = null, TrendP = null, TrendSign = 0,
        LargestIrreducibleSource = null, LargestIrreducibleU = 0, ReadingsAreTheLimit = true,
    };

    /// <summary>The short judgement of the simulation gives the same line as that of the library.</summary>
    private static (int Compared, int Disagreements) CrossCheck(int checks)
    {
        var random = new Normal(0, 1, new Xoshiro256StarStar(5));
        var cell = new Cell(Waters.OneStock, Scatters.Shape, 1, [2, 10], 4, 1, false);
        var known = Prepare(cell).Known;
        var disagreements = 0;
        for (var i = 0; i < checks; i++)
        {
            double[][] readings = [.. cell.At.Select(at => Enumerable.Range(0, cell.N).Select(_ => at + cell.Sd(at) * random.Sample()).ToArray())];
            double[] means = [.. readings.Select(r => r.Average())];
            double[] sds = [.. readings.Select((r, k) => Math.Sqrt(r.Sum(v => (v - means[k]) * (v - means[k])) / (cell.N - 1)))];
            var brief = Judged(cell, known, means, sds);
            var full = brief.Select((b, k) => new JudgedLevel(b.Plan, LevelCheck.Judge(b.Plan, [.. readings[k].Select(v => new Indication(v))]))).ToArray();
            var (a, b) = (LevelsCheck.Judge(brief).Line!, LevelsCheck.Judge(full).Line!);
            if (Math.Abs(a.GainExpanded - b.GainExpanded) > 1e-9 || Math.Abs(a.OffsetExpanded - b.OffsetExpanded) > 1e-9 || Math.Abs(a.Gain.Value - b.Gain.Value) > 1e-12)
                disagreements++;
        }
        return (checks, disagreements);
    }

    private static string Report(Cell[] cells, Rates[] rates, int trials, int compared)
    {
        var c = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        var all = cells.Zip(rates).ToArray();
        text.Append(c, $"""
            # Levels: how often the intervals hold the truth

            Written by `bench/Knownwater.Benchmarks levels`; {trials:N0} simulated checks a line, seeded. A method of offset {TrueOffset} mg/L and gain {TrueGain} reads waters whose highest level is 10 mg/L. Each water’s true value is drawn
            about its known value: the stock’s error is shared by the waters made from it, glassware adds 0.3 % of its own to each. The intervals are asked to hold offset and gain in 95 % of checks.
            Chance alone moves a rate by {196 * Math.Sqrt(0.95 * 0.05 / trials):0.00} (95 %). {compared} checks went through the whole judgement of each level too and gave the same line. The rules are told in [how a check decides](../explanation/checks.md).

            “Shape known” means that the usual scatter of each level is known up to a common factor, so that the levels share one standard deviation. “Each by itself” takes every level’s own few readings alone.
            “Wrong shape” holds a scatter for proportional that is constant, or the other way round: the worst that a history of the method could say; a test parts the levels only where it shows. With three readings each by itself no exact interval exists;
            two sds of two degrees of freedom make this one a little wide where both count, a little narrow where one does.

            ## Two levels from one stock

            Lowest and highest rate over levels of 1, 2 and 5 against 10 mg/L, and over a constant scatter of 0.1 and 0.3 mg/L and one of 2 % of the value.

            | scatter | stock u | readings | offset | gain |
            | --- | --- | --- | --- | --- |

            """);
        foreach (var group in all.Where(a => a.First is { Waters: Waters.OneStock, At.Length: 2, Step: 0 }).GroupBy(a => (a.First.Scatter, a.First.StockPercent, a.First.N)))
            text.Append(c, $"| {Name(group.Key.Scatter)} | {group.Key.StockPercent} % | {group.Key.N} | {Range(group.Select(g => g.Second.Offset))} | {Range(group.Select(g => g.Second.Gain))} |\n");
        text.Append(c, $"""

            ## What a fit without shared errors does

            The same simulated checks, shape known. “As if apart” gives every water the same doubt, but none in common. “Left out” takes the known values as exact. Two levels as if from two stocks make both intervals needlessly wide. Several levels as if apart average an error that does not average. A doubt left out is missed by the gain at once.

            | levels | stock u | readings | gain, ours | gain, as if apart | gain, left out | offset, ours | offset, as if apart |
            | --- | --- | --- | --- | --- | --- | --- | --- |

            """);
        foreach (var (cell, rate) in all.Where(a => a.First is { Waters: Waters.OneStock, Scatter: Scatters.Shape, SdPercent: 1, Step: 0, Proportional: false } && a.First.At[0] is 1 or 2 && (a.First.At.Length > 2 || a.First.At[0] == 2)))
            text.Append(c, $"| {At(cell)} | {cell.StockPercent} % | {cell.N} | {rate.Gain:0.0} | {rate.Apart:0.0} | {rate.LeftOut:0.0} | {rate.Offset:0.0} | {rate.ApartOffset:0.0} |\n");
        text.Append("""

            ## Five levels from one stock

            | scatter | stock u | readings | offset | gain |
            | --- | --- | --- | --- | --- |

            """);
        foreach (var (cell, rate) in all.Where(a => a.First.At.Length > 2))
            text.Append(c, $"| {Name(cell.Scatter)} | {cell.StockPercent} % | {cell.N} | {rate.Offset:0.0} | {rate.Gain:0.0} |\n");
        text.Append("""

            ## Two stocks, an uncertain background, a coarse display

            Levels 2 and 10 mg/L, scatter 0.1 mg/L, shape known. The background has a standard uncertainty of 0.08 mg/L, the same in both waters; the step is what the verdict on a difference rests on. The coarse display has steps of 0.1 mg/L.

            | waters | stock u | readings | offset | gain | step |
            | --- | --- | --- | --- | --- | --- |

            """);
        foreach (var (cell, rate) in all.Where(a => a.First.Waters != Waters.OneStock || a.First.Step > 0))
        {
            var name = cell switch { { Waters: Waters.TwoStocks } => "two stocks", { Waters: Waters.Background } => "one stock, background", _ => "one stock, coarse display" };
            text.Append(c, $"| {name} | {cell.StockPercent} % | {cell.N} | {rate.Offset:0.0} | {rate.Gain:0.0} | {(cell.Waters == Waters.Background ? rate.Step.ToString("0.0", c) : "")} |\n");
        }
        var counted = all.Where(a => a.First.Scatter != Scatters.WrongShape).ToArray();
        var outside = counted.SelectMany(a => new[] { (a.First, What: "offset", Rate: a.Second.Offset), (a.First, What: "gain", Rate: a.Second.Gain) }.Concat(a.First.Waters == Waters.Background ? [(a.First, "step", a.Second.Step)] : []))
            .Where(o => o.Rate is < 94 or > 96).OrderBy(o => o.Rate).ToArray();
        text.Append(c, $"\n## Outside 94 to 96 %\n\n{(outside.Length == 0 ? "None." : $"{outside.Length} of {counted.Length * 2 + counted.Count(a => a.First.Waters == Waters.Background)} rates.")} The wrong shape is left out here.\n");
        if (outside.Length > 0)
        {
            text.Append("\n| waters | scatter | levels | sd | stock u | readings | what | rate |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n");
            foreach (var (cell, what, rate) in outside)
                text.Append(c, $"| {(cell.Waters == Waters.OneStock ? "one stock" : cell.Waters == Waters.TwoStocks ? "two stocks" : "background")}{(cell.Step > 0 ? ", coarse display" : "")} | {Name(cell.Scatter)} | {At(cell)} | {(cell.Proportional ? $"{cell.SdPercent} %" : $"{cell.SdPercent / 10} mg/L")} | {cell.StockPercent} % | {cell.N} | {what} | {rate:0.0} |\n");
        }
        return text.ToString();
    }

    private static string Range(IEnumerable<double> rates) => string.Create(CultureInfo.InvariantCulture, $"{rates.Min():0.0} to {rates.Max():0.0}");

    private static string At(Cell cell) => string.Join(", ", cell.At.Select(a => a.ToString(CultureInfo.InvariantCulture)));

    private static string Name(Scatters scatter) => scatter switch { Scatters.Shape => "shape known", Scatters.EachLevel => "each by itself", _ => "wrong shape" };
}
