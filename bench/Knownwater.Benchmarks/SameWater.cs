using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Knownwater.Benchmarks;

/// <summary>How often the interval of the difference of two series of one water holds the truth, when the truth is known; and how often each word is right. Values in dKH about 7.9.</summary>
internal static class SameWater
{
    private const double Known = 7.9, KnownU = 0.3, Sd = 0.1;
    private static readonly ReportingForm Form = ReportingForm.Parse("dKH");

    /// <summary>One combination: readings of each series, the second scatter in first ones, display step and prior in sds.</summary>
    private sealed record Cell(int First, int Second, double Ratio, double Step, double PriorDof);

    /// <summary>Rates in per cent.</summary>
    private sealed record Rates(double Holds, double Apart, double Cleared, double FalseAlarm, double Found, double PlannedCleared, double PlannedFound);

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
        Parallel.For(0, cells.Length, i => rates[i] = Simulate(cells[i], trials, 301 + i));
        var disagreements = CrossCheck(300);
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "same-water.md"), Report(cells, rates, trials));
        // a rate counts as kept where it is below by no more than two standard errors of the simulation
        var least = 94 - 200 * Math.Sqrt(0.05 * 0.95 / trials);
        var below = cells.Zip(rates).Count(c => Usual(c.First) && c.Second.Holds < least);
        Console.WriteLine(FormattableString.Invariant($"{cells.Length} cells of {trials} checks, {below} usual ones below 94 %, {disagreements} of 300 disagreed with the whole judgement, {clock.Elapsed.TotalSeconds:0} s"));
        return disagreements == 0 && below == 0 ? 0 : 1;
    }

    /// <summary>Equal numbers, scatter alike to a factor of two, a display no coarser than half a standard deviation.</summary>
    private static bool Usual(Cell cell) => cell.First == cell.Second && cell.Ratio <= 2 && cell.Step <= 0.5;

    private static IEnumerable<Cell> Cells()
    {
        foreach (var n in (int[])[3, 4, 5, 6, 8, 10])
            foreach (var ratio in (double[])[1, 1.5, 2])
                foreach (var prior in (double[])[0, 12])
                    if (prior == 0 || ratio == 1)
                        yield return new Cell(n, n, ratio, 0, prior);
        foreach (var n in (int[])[3, 5, 8])
            foreach (var step in (double[])[0.5, 1, 2, 5])
                yield return new Cell(n, n, 1, step, 0);
        foreach (var (one, two) in ((int, int)[])[(3, 5), (4, 8)])
            foreach (var ratio in (double[])[0.5, 1, 2])
                yield return new Cell(one, two, ratio, 0, 0);
        foreach (var n in (int[])[4, 6])
            foreach (var ratio in (double[])[4, 8])
                yield return new Cell(n, n, ratio, 0, 0);
    }

    private static Rates Simulate(Cell cell, int trials, int seed)
    {
        var random = new Xoshiro256StarStar(seed);
        var normal = new Normal(0, 1, random);
        var source = ErrorSource.Normal("certificate", KnownU);
        var known = Estimate.From(Known, source);
        var other = Estimate.From(Known, ErrorSource.Normal("as if another certificate", KnownU));
        const double difference = -0.2;
        var tolerance = 4 * Sd;
        int holds = 0, apart = 0, cleared = 0, alarms = 0, found = 0;
        for (var trial = 0; trial < trials; trial++)
        {
            var truth = Known + KnownU * normal.Sample() + Sd * cell.Step * (random.NextDouble() - 0.5);
            var first = Series(cell.First, truth, 1);
            var judged = Judge(first, Series(cell.Second, truth + difference, cell.Ratio));
            holds += Math.Abs(judged.Difference!.Value.Value - difference) <= judged.Expanded ? 1 : 0;
            // what the same readings would give if the waters were held to be two
            var wide = judged.Difference.Value + (other - known);
            apart += Math.Abs(wide.Value - difference) <= 1.96 * wide.StandardUncertainty ? 1 : 0;
            var same = Judge(first, Series(cell.Second, truth, cell.Ratio));
            cleared += same.Verdict == Verdict.ReadsRight ? 1 : 0;
            alarms += same.Verdict is Verdict.ReadsHigh or Verdict.ReadsLow ? 1 : 0;
            found += Judge(first, Series(cell.Second, truth + 2 * tolerance, cell.Ratio)).Verdict == Verdict.ReadsHigh ? 1 : 0;
        }
        var planned = cell.First == cell.Second && cell.Ratio == 1 ? SameWaterCheck.Power(cell.First, tolerance, Sd, cell.Step * Sd, Prior(cell)) : (Right: double.NaN, Wrong: double.NaN);
        double Percent(int count) => 100.0 * count / trials;
        return new Rates(Percent(holds), Percent(apart), Percent(cleared), Percent(alarms), Percent(found), 100 * planned.Right, 100 * planned.Wrong);

        double[] Series(int n, double mean, double ratio) => [.. Enumerable.Range(0, n).Select(_ =>
        {
            var value = mean + Sd * ratio * normal.Sample();
            return cell.Step > 0 ? cell.Step * Sd * Math.Round(value / (cell.Step * Sd)) : value;
        })];

        SameWaterJudgement Judge(double[] first, double[] second) => SameWaterCheck.Judge(Brief(cell, known, first, tolerance), Brief(cell, known, second, tolerance));
    }

    private static PriorSd? Prior(Cell cell) => cell.PriorDof > 0 ? new PriorSd(Sd, cell.PriorDof) : null;

    private static LevelPlan Plan(Cell cell, Estimate known, double tolerance) =>
        new() { Reference = known, Form = Form, Tolerance = new Tolerance(tolerance, 0), Resolution = cell.Step * Sd, Prior = Prior(cell), Levels = 2 };

    /// <summary>What the difference reads of a series’ judgement; the rest of a judgement takes a hundred times as long. Its word on the scatter is the chi-square ratio of the whole one.</summary>
    private static JudgedLevel Brief(Cell cell, Estimate known, double[] readings, double tolerance)
    {
        var plan = Plan(cell, known, tolerance);
        var mean = readings.Average();
        var sd = Math.Sqrt(readings.Sum(r => (r - mean) * (r - mean)) / (readings.Length - 1));
        var worse = plan.Prior is { } prior && Math.Pow(sd / prior.Value, 2) > Statistics.FisherF.Quantile(0.95, readings.Length - 1, prior.Dof);
        return new JudgedLevel(plan, new LevelJudgement
        {
            Verdict = Verdict.CannotTell, Matters = false, N = readings.Length, Censored = 0, Mean = mean, Sd = sd, SdUsed = sd, SdDof = readings.Length - 1, SdOrigin = SdOrigin.Own,
            Bias = new Bias(mean - known.Value, null, null, null, null, null, plan.Coverage), RecoveryPercent = null, ProbabilityWithinTolerance = null, Scatter = worse ? Scatter.WorseThanUsual : Scatter.CannotTell,
            SmallestVisibleBias = null, Remedy = null, Outliers = [], WithoutOutlier = null, TrendP = null, TrendSign = 0, LargestIrreducibleSource = null, LargestIrreducibleU = 0, ReadingsAreTheLimit = true,
        });
    }

    /// <summary>The short judgement gives the same difference as that of the library.</summary>
    private static int CrossCheck(int checks)
    {
        var normal = new Normal(0, 1, new Xoshiro256StarStar(9));
        var known = Estimate.From(Known, KnownU, "certificate");
        var disagreements = 0;
        for (var i = 0; i < checks; i++)
        {
            var cell = new Cell(4, 4, 1, 0, i % 2 == 0 ? 0 : 12);
            double[][] readings = [.. Enumerable.Range(0, 2).Select(_ => Enumerable.Range(0, 4).Select(_ => Known + Sd * normal.Sample()).ToArray())];
            var brief = SameWaterCheck.Judge(Brief(cell, known, readings[0], 0.4), Brief(cell, known, readings[1], 0.4));
            var whole = readings.Select(r => { var plan = Plan(cell, known, 0.4); return new JudgedLevel(plan, LevelCheck.Judge(plan, [.. r.Select(v => new Indication(v))])); }).ToArray();
            var full = SameWaterCheck.Judge(whole[0], whole[1]);
            if (Math.Abs(brief.Expanded!.Value - full.Expanded!.Value) > 1e-9 || brief.Verdict != full.Verdict)
                disagreements++;
        }
        return disagreements;
    }

    private static string Report(Cell[] cells, Rates[] rates, int trials)
    {
        var c = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        var all = cells.Zip(rates).ToArray();
        text.Append(c, $"""
            # Line check and changeover: how often the interval holds the truth

            Written by `bench/Knownwater.Benchmarks same-water`; {trials:N0} simulated checks a line, seeded. One water of {Known} dKH with a standard doubt of {KnownU} dKH is read twice, n times each, with a scatter of {Sd} dKH in the first series; its true value is drawn anew for every check and is the same in both series.
            The second series reads 0.2 dKH lower. The interval of the difference is asked to hold that in 95 % of checks; chance alone moves a rate by {196 * Math.Sqrt(0.95 * 0.05 / trials):0.00} (95 %). Three hundred checks went through the whole judgement of each series too and gave the same difference.
            “Cleared” is how often nothing that matters is found where there is no difference, at a tolerance of {4 * Sd:0.0} dKH, “alarm” how often one is called there, “found” how often a difference of twice the tolerance is called higher; beside them what the plan reckons beforehand. The rules are told in [how a check decides](../explanation/checks.md).

            ## Usual cases

            As many readings in each series, scatters alike to a factor of two, a display no coarser than half the scatter. “Own” is the scatter of these readings alone, “usual” one pooled with a usual scatter of 12 degrees of freedom.

            | readings | second scatter | scatter | step | holds | cleared (planned) | alarm | found (planned) |
            | --- | --- | --- | --- | --- | --- | --- | --- |

            """);
        foreach (var (cell, rate) in all.Where(a => Usual(a.First)))
            text.Append(Row(cell, rate));
        text.Append("""

            ## Coarse displays, unequal numbers, scatters far apart

            A step coarser than the scatter rounds both means alike or apart; the interval counts it as apart, and so holds more than it says. Unequal numbers happen where readings were left out for a cause. There the shared scatter leans to the longer series: where the shorter one scatters more, and too little more for the F test to see, the interval holds less than it says. Read a new check rather than leave many readings out.

            | readings | second scatter | scatter | step | holds | cleared (planned) | alarm | found (planned) |
            | --- | --- | --- | --- | --- | --- | --- | --- |

            """);
        foreach (var (cell, rate) in all.Where(a => !Usual(a.First)))
            text.Append(Row(cell, rate));
        var usual = all.Where(a => Usual(a.First)).Select(a => a.Second.Holds).ToArray();
        text.Append(c, $"""

            ## What the known water adds

            Usual cases: {usual.Min():0.0} to {usual.Max():0.0} % hold. If the two series were held to be of two waters, each with its own doubt of {KnownU} dKH, the interval would hold {all.Where(a => Usual(a.First)).Min(a => a.Second.Apart):0.0} to {all.Where(a => Usual(a.First)).Max(a => a.Second.Apart):0.0} %, since it would be several times as wide: no line check or changeover would then see anything.

            """);
        return text.ToString();

        string Row(Cell cell, Rates rate) => string.Create(c, $"| {(cell.First == cell.Second ? $"{cell.First}" : $"{cell.First} and {cell.Second}")} | {cell.Ratio} × | {(cell.PriorDof > 0 ? "usual" : "own")} | {cell.Step * Sd} | {rate.Holds:0.0} | {rate.Cleared:0.0}{Planned(rate.PlannedCleared)} | {rate.FalseAlarm:0.00} | {rate.Found:0.0}{Planned(rate.PlannedFound)} |\n");

        string Planned(double value) => double.IsNaN(value) ? "" : string.Create(c, $" ({value:0.0})");
    }
}
