using System.Globalization;
using System.Text;
using Knownwater.Statistics;
using MathNet.Numerics.Random;

namespace Knownwater.Benchmarks;

/// <summary>How often 95 % intervals of means, standard deviations and calibration lines hold the truth, when the truth is known.</summary>
internal static class Intervals
{
    private const double Mu = 7.9, Sigma = 0.15, Intercept = 0.02, Slope = 1.9, Step = 6.3;
    private const double Low = 94, High = 96;

    private sealed record Line(string Interval, int N, double Percent);

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
        int[] means = [2, 3, 5, 10, 30, 100], lines = [4, 6, 12, 40];
        Line[] all = [.. means.SelectMany(n => Means(n, trials)), .. lines.SelectMany(n => CalibrationLines(n, trials))];
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "intervals.md"), Report(all, trials));
        var outside = all.Count(l => l.Percent is < Low or > High);
        Console.WriteLine(FormattableString.Invariant($"{all.Length} intervals of {trials} trials, {all.Min(l => l.Percent):0.0} to {all.Max(l => l.Percent):0.0} %, {outside} outside {Low} to {High} %"));
        return outside == 0 ? 0 : 1;
    }

    private static IEnumerable<Line> Means(int n, int trials)
    {
        var normal = new MathNet.Numerics.Distributions.Normal(Mu, Sigma, new Xoshiro256StarStar(4001 + n));
        int mean = 0, sd = 0;
        var values = new double[n];
        for (var trial = 0; trial < trials; trial++)
        {
            normal.Samples(values);
            var moments = SampleMoments.Of(values);
            mean += MeanInterval.Of(moments).Contains(Mu) ? 1 : 0;
            sd += SdInterval.Of(moments.StandardDeviation, n - 1).Contains(Sigma) ? 1 : 0;
        }
        yield return new Line("mean", n, 100.0 * mean / trials);
        yield return new Line("standard deviation", n, 100.0 * sd / trials);
    }

    private static IEnumerable<Line> CalibrationLines(int n, int trials)
    {
        var normal = new MathNet.Numerics.Distributions.Normal(0, 1, new Xoshiro256StarStar(7001 + n));
        // errors proportional to 1 + x/5, fitted with the weights that belong to them
        double[] x = [.. Enumerable.Range(0, n).Select(i => 10.0 * i / (n - 1))], sds = [.. x.Select(v => 0.2 * (1 + v / 5))], weights = [.. sds.Select(s => 1 / (s * s))];
        var weight = 1 / Math.Pow(0.2 * (1 + Step / 5), 2);
        int slope = 0, intercept = 0, reading = 0, inverse = 0, exact = 0;
        var y = new double[n];
        for (var trial = 0; trial < trials; trial++)
        {
            for (var i = 0; i < n; i++)
                y[i] = Intercept + Slope * x[i] + sds[i] * normal.Sample();
            var line = PolynomialFit.Line(x, y, weights);
            slope += line.Coefficient(1).Interval().Contains(Slope) ? 1 : 0;
            intercept += line.Coefficient(0).Interval().Contains(Intercept) ? 1 : 0;
            var next = Intercept + Slope * Step + normal.Sample() / Math.Sqrt(weight);
            reading += line.NewReadings(Step, weight: weight).Interval().Contains(next) ? 1 : 0;
            inverse += line.Inverse(next, weight: weight).Interval().Contains(Step) ? 1 : 0;
            exact += line.InverseInterval(next, weight: weight).Contains(Step) ? 1 : 0;
        }
        yield return new Line("slope", n, 100.0 * slope / trials);
        yield return new Line("intercept", n, 100.0 * intercept / trials);
        yield return new Line("next reading", n, 100.0 * reading / trials);
        yield return new Line("inverse prediction, first order", n, 100.0 * inverse / trials);
        yield return new Line("inverse prediction, exact", n, 100.0 * exact / trials);
    }

    private static string Report(Line[] lines, int trials)
    {
        var c = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        text.Append(c, $"""
            # Intervals: how often they hold the truth

            Written by `bench/Knownwater.Benchmarks intervals`; {trials:N0} simulated samples a number, seeded. The intervals are asked to hold the truth in 95 % of samples; chance alone moves a rate by {196 * Math.Sqrt(0.95 * 0.05 / trials):0.0} (95 %). The run fails where one leaves {Low} to {High} %.

            Mean and standard deviation: independent normal values. Lines: {Intercept} + {Slope}·x over 0 to 10 with normal errors of sd 0.2·(1 + x/5), fitted with their weights; a next reading at x = {Step}, and the x read back from it, by the first-order uncertainty and by the exact interval.

            | interval | n | holds the truth, % |
            | --- | --- | --- |

            """);
        foreach (var line in lines.OrderBy(l => Array.IndexOf(["mean", "standard deviation", "slope", "intercept", "next reading", "inverse prediction, first order", "inverse prediction, exact"], l.Interval)).ThenBy(l => l.N))
            text.Append(c, $"| {line.Interval} | {line.N} | {line.Percent:0.0} |\n");
        return text.ToString();
    }
}
