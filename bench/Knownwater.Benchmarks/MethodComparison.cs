using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Statistics;
using MathNet.Numerics.Random;

namespace Knownwater.Benchmarks;

/// <summary>How often the intervals of lines between two methods hold the true line, within what they assume and outside it. The true line is 0.2 + 1.05 x.</summary>
internal static class MethodComparison
{
    private const double Slope = 1.05, Intercept = 0.2, Low = 94, High = 96;

    private static readonly Interval Unbounded = new(double.NegativeInfinity, double.PositiveInfinity);

    private enum Fit { York, Deming, Resampled, PassingBablok }

    /// <summary>One combination.</summary>
    /// <param name="Fit">The method.</param>
    /// <param name="N">Pairs.</param>
    /// <param name="Reliability">Share of the variance of x that is not error.</param>
    /// <param name="Ratio">True ratio of the error variances, y over x.</param>
    /// <param name="Assumed">The ratio that the fit is told.</param>
    /// <param name="Grows">Whether errors are proportional to the level.</param>
    /// <param name="Step">Rounding of the readings, in standard deviations of the errors of x.</param>
    /// <param name="Correlation">Correlation of the errors of x and y.</param>
    /// <param name="Promised">Whether 94 to 96 % are promised.</param>
    private sealed record Cell(Fit Fit, int N, double Reliability, double Ratio, double Assumed, bool Grows = false, double Step = 0, double Correlation = 0, bool Promised = false)
    {
        /// <summary>The published limits of Passing and Bablok’s intercept leave out the scatter of the median that they rest on: only their slope is promised.</summary>
        public bool PromisesIntercept => Promised && Fit != Fit.PassingBablok;
    }

    /// <summary>Rates in per cent: the interval holds the slope, lies wholly above it, wholly below it; holds the intercept.</summary>
    private sealed record Rates(double Slope, double Above, double Below, double Intercept, double Unbounded);

    /// <summary>Rates in per cent: the intervals hold the true mean difference, the true limits, and the next difference does lie in its interval.</summary>
    private sealed record DifferenceRates(int N, double Bias, double Lower, double Upper, double Next);

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
        Cell[] cells = [.. Cells()];
        var rates = new Rates[cells.Length];
        Parallel.For(0, cells.Length, i => rates[i] = Simulate(cells[i], trials, 900 + i));
        DifferenceRates[] differences = [.. ((int[])[2, 3, 5, 10, 30, 100]).Select(n => SimulateDifferences(n, trials))];
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "comparison.md"), Report(cells, rates, differences, trials));
        double[] promised =
        [
            .. cells.Zip(rates).Where(c => c.First.Promised).SelectMany(c => c.First.PromisesIntercept ? (double[])[c.Second.Slope, c.Second.Intercept] : [c.Second.Slope]),
            .. differences.SelectMany(d => (double[])[d.Bias, d.Lower, d.Upper, d.Next]),
        ];
        var outside = promised.Count(r => r is < Low or > High);
        Console.WriteLine(FormattableString.Invariant($"{cells.Length} combinations of {trials} trials; promised: {promised.Length} intervals, {promised.Min():0.0} to {promised.Max():0.0} %, {outside} outside {Low} to {High} %; {clock.Elapsed.TotalSeconds:0} s"));
        return outside == 0 ? 0 : 1;
    }

    private static IEnumerable<Cell> Cells()
    {
        foreach (var n in (int[])[5, 10, 20, 50])
            foreach (var reliability in (double[])[0.99, 0.97, 0.95, 0.8])
                foreach (var r in (double[])[0, 0.6])
                    yield return new Cell(Fit.York, n, reliability, 2, 2, Grows: true, Correlation: r, Promised: n >= 10 && reliability >= 0.95);
        foreach (var n in (int[])[3, 5, 10, 20, 50, 100])
            foreach (var reliability in (double[])[0.99, 0.95, 0.8, 0.5])
                foreach (var ratio in (double[])[1, 4])
                    yield return new Cell(Fit.Deming, n, reliability, ratio, ratio, Promised: n >= 10 && reliability >= 0.95);
        foreach (var n in (int[])[20, 50, 100])
            foreach (var reliability in (double[])[0.99, 0.95])
                foreach (var fit in (Fit[])[Fit.Deming, Fit.Resampled])
                {
                    yield return new Cell(fit, n, reliability, 1, 1, Grows: true);
                    yield return new Cell(fit, n, reliability, 4, 1);
                    yield return new Cell(fit, n, reliability, 25, 1);
                }
        foreach (var n in (int[])[20, 30, 50, 100])
            foreach (var reliability in (double[])[0.999, 0.99, 0.95])
                yield return new Cell(Fit.PassingBablok, n, reliability, Slope * Slope, 1, Promised: reliability >= 0.99);
        foreach (var n in (int[])[20, 50, 100])
            foreach (var reliability in (double[])[0.99, 0.95])
            {
                foreach (var ratio in (double[])[0.04, 0.25, 4, 25])
                    yield return new Cell(Fit.PassingBablok, n, reliability, ratio, 1);
                yield return new Cell(Fit.PassingBablok, n, reliability, Slope * Slope, 1, Grows: true);
                foreach (var step in (double[])[0.5, 1, 2])
                    yield return new Cell(Fit.PassingBablok, n, reliability, Slope * Slope, 1, Step: step);
            }
        foreach (var n in (int[])[8, 12, 200])
            yield return new Cell(Fit.PassingBablok, n, 0.99, Slope * Slope, 1);
    }

    private static Rates Simulate(Cell cell, int trials, int seed)
    {
        // resampling a thousand times in each trial: fewer trials
        if (cell.Fit == Fit.Resampled)
            trials = Math.Min(trials, 4000);
        var normal = new MathNet.Numerics.Distributions.Normal(0, 1, new Xoshiro256StarStar(seed));
        // levels uniform over 1 to 11, sd 10/√12; a proportional error has that sd in the middle
        double spread = 10 / Math.Sqrt(12), sd = spread * Math.Sqrt(1 / cell.Reliability - 1), step = cell.Step * sd;
        double[] x = new double[cell.N], y = new double[cell.N], ux = new double[cell.N], uy = new double[cell.N], r = new double[cell.N];
        Array.Fill(r, cell.Correlation);
        int slope = 0, above = 0, below = 0, intercept = 0, unbounded = 0;
        for (var trial = 0; trial < trials; trial++)
        {
            for (var i = 0; i < cell.N; i++)
            {
                var t = 1 + 10 * normal.RandomSource.NextDouble();
                ux[i] = sd * (cell.Grows ? t / 6 : 1);
                uy[i] = ux[i] * Math.Sqrt(cell.Ratio);
                double z = normal.Sample(), e = cell.Correlation * z + Math.Sqrt(1 - cell.Correlation * cell.Correlation) * normal.Sample();
                x[i] = Shown(t + ux[i] * z);
                y[i] = Shown(Intercept + Slope * t + uy[i] * e);
            }
            var (ofSlope, ofIntercept) = Intervals(cell, x, y, ux, uy, r, (ulong)trial);
            slope += ofSlope.Contains(Slope) ? 1 : 0;
            above += ofSlope.Low > Slope ? 1 : 0;
            below += ofSlope.High < Slope ? 1 : 0;
            intercept += ofIntercept.Contains(Intercept) ? 1 : 0;
            unbounded += double.IsFinite(ofSlope.Low) && double.IsFinite(ofSlope.High) ? 0 : 1;
        }
        double Percent(int count) => 100.0 * count / trials;
        return new Rates(Percent(slope), Percent(above), Percent(below), Percent(intercept), Percent(unbounded));

        double Shown(double value) => step > 0 ? step * Math.Round(value / step) : value;
    }

    private static DifferenceRates SimulateDifferences(int n, int trials)
    {
        const double mean = 0.3, sd = 1.7;
        var normal = new MathNet.Numerics.Distributions.Normal(mean, sd, new Xoshiro256StarStar(77 + n));
        double reach = 1.959963984540054 * sd;
        var differences = new double[n];
        int bias = 0, lower = 0, upper = 0, next = 0;
        for (var trial = 0; trial < trials; trial++)
        {
            normal.Samples(differences);
            var limits = LimitsOfAgreement.Of(differences);
            bias += limits.BiasInterval.Contains(mean) ? 1 : 0;
            lower += limits.LowerLimitInterval.Contains(mean - reach) ? 1 : 0;
            upper += limits.UpperLimitInterval.Contains(mean + reach) ? 1 : 0;
            next += limits.PredictionInterval.Contains(normal.Sample()) ? 1 : 0;
        }
        double Percent(int count) => 100.0 * count / trials;
        return new DifferenceRates(n, Percent(bias), Percent(lower), Percent(upper), Percent(next));
    }

    private static (Interval Slope, Interval Intercept) Intervals(Cell cell, double[] x, double[] y, double[] ux, double[] uy, double[] r, ulong seed)
    {
        switch (cell.Fit)
        {
            case Fit.York:
                try
                {
                    var york = YorkLine.Fit(x, y, ux, uy, r);
                    return (york.SlopeInterval, york.InterceptInterval);
                }
                catch (ArgumentException)
                {
                    // no line is given, so nothing wrong is said
                    return (Unbounded, Unbounded);
                }
            case Fit.Deming:
                var deming = DemingLine.Fit(x, y, cell.Assumed);
                return (deming.SlopeInterval, deming.InterceptInterval);
            case Fit.Resampled:
                var resampled = Bootstrap.Of(new DemingStatistic(x, y, cell.Assumed), 1000, seed);
                return (resampled.BiasCorrected(0), resampled.BiasCorrected(1));
            default:
                var line = PassingBablokLine.Fit(x, y);
                return (line.SlopeInterval, line.InterceptInterval);
        }
    }

    private static string Report(Cell[] cells, Rates[] rates, DifferenceRates[] differences, int trials)
    {
        var c = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        text.Append(c, $"""
            # Two methods compared: how often the intervals hold the truth

            Written by `bench/Knownwater.Benchmarks comparison`; {trials:N0} simulated comparisons a line (4,000 where each is resampled 1,000 times), seeded. Two methods read waters whose levels are spread evenly from 1 to 11; the true line is {Intercept} + {Slope}·x, the errors are normal.
            The intervals are asked to hold the truth in 95 % of comparisons; chance alone moves a rate by {196 * Math.Sqrt(0.95 * 0.05 / trials):0.0} (95 %). The run fails where a promised one, in bold, leaves {Low} to {High} %.

            *Reliability* is the share of the variance of x that is not error: at 0.99 the errors have a tenth of the spread of the levels, at 0.95 nearly a quarter. *Ratio* is that of the error variances, y over x: 25 means five times the standard deviation. *Above* and *below*: the whole interval lies above or below the true slope.


            """);
        text.Append("## Differences\n\nNormal differences; the interval of each limit of agreement is exact, and the prediction interval holds the next difference.\n\n| pairs | mean, % | lower limit, % | upper limit, % | next difference, % |\n| --- | --- | --- | --- | --- |\n");
        foreach (var d in differences)
            text.Append(c, $"| {d.N} | **{d.Bias:0.0}** | **{d.Lower:0.0}** | **{d.Upper:0.0}** | **{d.Next:0.0}** |\n");
        text.Append('\n');
        var all = cells.Zip(rates).ToArray();
        Table("York: errors known for each pair", "Errors grow with the level, those of y are √2 times as large; their uncertainties are stated right. With few pairs or large errors the true line is missed a little more often, as the published standard errors are those of many pairs.",
            "correlation | reliability | pairs", all.Where(a => a.First.Fit == Fit.York).Select(a => ($"{a.First.Correlation} | {a.First.Reliability} | {a.First.N}", a)));
        Table("Deming: constant errors, ratio known", "The interval of the slope is exact at every number of pairs and every reliability; few pairs or large errors make it unbounded, not wrong. That of the intercept is nearly so.",
            "ratio | reliability | pairs", all.Where(a => a.First.Fit == Fit.Deming && a.First.Ratio == a.First.Assumed && !a.First.Grows).Select(a => ($"{a.First.Ratio} | {a.First.Reliability} | {a.First.N}", a)));
        Table("Deming where its assumptions fail", "Errors proportional to the level, or a ratio taken as 1 that is another. “Resampled” is the BCa interval of the same line. No interval repairs a wrong ratio: it bends the line itself. Where errors grow, resampling does no better than the exact interval below 100 pairs, York with stated uncertainties does.",
            "interval | what fails | reliability | pairs", all.Where(a => a.First.Fit == Fit.Resampled || (a.First.Fit == Fit.Deming && (a.First.Grows || a.First.Ratio != a.First.Assumed)))
                .OrderBy(a => a.First.Grows ? 0 : a.First.Ratio).ThenBy(a => a.First.Reliability).ThenBy(a => a.First.N)
                .Select(a => ($"{(a.First.Fit == Fit.Deming ? "exact" : "resampled")} | {(a.First.Grows ? "errors grow" : $"true ratio {a.First.Ratio}")} | {a.First.Reliability} | {a.First.N}", a)));
        Table("Passing–Bablok within its assumptions", "Both methods err alike on the scale of the line, readings are not rounded. The slope is promised from 20 to 100 pairs. The published limits of the intercept come from those of the slope alone and leave out the scatter of the median they rest on: they hold the true one in about 91 %.",
            "reliability | pairs", all.Where(a => a.First.Fit == Fit.PassingBablok && !Fails(a.First)).OrderByDescending(a => a.First.Reliability).ThenBy(a => a.First.N).Select(a => ($"{a.First.Reliability} | {a.First.N}", a)));
        Table("Passing–Bablok where its assumptions fail", "Unlike errors bend the line: the more so the larger they are beside the spread of the levels, and the more pairs there are. A coarse display makes ties; *step* is its step over the standard deviation of the errors.",
            "what fails | reliability | pairs", all.Where(a => a.First.Fit == Fit.PassingBablok && Fails(a.First)).OrderBy(a => a.First.Step).ThenBy(a => a.First.Grows ? 1 : 0).ThenBy(a => a.First.Ratio).ThenByDescending(a => a.First.Reliability).ThenBy(a => a.First.N)
                .Select(a => ($"{(a.First.Grows ? "errors grow" : a.First.Step > 0 ? $"step {a.First.Step}" : $"standard deviations {Deviations(a.First.Ratio)}")} | {a.First.Reliability} | {a.First.N}", a)));
        return text.ToString();

        static bool Fails(Cell cell) => cell.Grows || cell.Step > 0 || Math.Abs(cell.Ratio - Slope * Slope) > 1e-9;

        static string Deviations(double ratio) => ratio > 1 ? $"1 : {Math.Sqrt(ratio)}" : $"{1 / Math.Sqrt(ratio)} : 1";

        void Table(string title, string told, string columns, IEnumerable<(string Head, (Cell First, Rates Second) Line)> lines)
        {
            text.Append(c, $"## {title}\n\n{told}\n\n| {columns} | slope, % | above, % | below, % | intercept, % | unbounded, % |\n|{string.Concat(Enumerable.Repeat(" --- |", columns.Count(ch => ch == '|') + 6))}\n");
            foreach (var (head, (cell, rate)) in lines)
            {
                string mark = cell.Promised ? "**" : "", other = cell.PromisesIntercept ? "**" : "";
                text.Append(c, $"| {head} | {mark}{rate.Slope:0.0}{mark} | {rate.Above:0.0} | {rate.Below:0.0} | {other}{rate.Intercept:0.0}{other} | {rate.Unbounded:0.0} |\n");
            }
            text.Append('\n');
        }
    }
}
