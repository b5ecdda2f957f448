using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Statistics;

namespace Knownwater.Benchmarks;

/// <summary>
/// Lines between two methods, in turns with scripts in numpy that do the same (bench/peers/passing_bablok.py, york.py). Each turn takes the best of three of both; a ratio is formed within a turn, so that other work on the
/// machine hits both sides.
/// </summary>
internal static class ComparisonSpeed
{
    private const int Resamples = 2000;

    /// <summary>A workload: the peer’s script, its argument and the label of its time; ours; the ratio wanted.</summary>
    private sealed record Workload(string Name, string Script, string Argument, string Label, Action Ours, Func<string> Result, double Wanted);

    public static int Run(string[] args)
    {
        if (args is ["once", var count])
            return Once(int.Parse(count, CultureInfo.InvariantCulture));
        var rounds = 7;
        var folder = "docs/reference";
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--rounds")
                rounds = int.Parse(args[i + 1], CultureInfo.InvariantCulture);
            else if (args[i] == "--out")
                folder = args[i + 1];
        }
        Workload[] workloads = [.. Workloads()];
        foreach (var workload in workloads)
        {
            for (var i = 0; i < 40; i++)
                workload.Ours();
        }
        var ours = workloads.Select(_ => new List<double>()).ToArray();
        var peers = workloads.Select(_ => new List<double>()).ToArray();
        var load = new List<double>();
        var said = new string[workloads.Length];
        for (var round = 0; round < rounds; round++)
        {
            load.Add(double.Parse(File.ReadAllText("/proc/loadavg").Split(' ')[0], CultureInfo.InvariantCulture));
            for (var i = 0; i < workloads.Length; i++)
            {
                ours[i].Add(BestOfThree(workloads[i].Ours));
                (var seconds, said[i]) = Peer(workloads[i]);
                peers[i].Add(seconds);
            }
        }
        var large = Child(1_000_000);
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "comparison-speed.md"), Report(workloads, ours, peers, load, said, large));
        for (var i = 0; i < workloads.Length; i++)
            Console.WriteLine($"{workloads[i].Name}: {Ratios(peers[i], ours[i])} ×, wanted {workloads[i].Wanted}");
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"1,000,000 readings: {large.Seconds:0.0} s, {large.Megabytes:0} MB"));
        return 0;
    }

    private static IEnumerable<Workload> Workloads()
    {
        foreach (var (n, wanted) in ((int, double)[])[(500, 0), (5000, 0), (20_000, 80)])
        {
            var (x, y) = Comparison(n);
            PassingBablokLine? line = null;
            yield return new Workload(string.Create(CultureInfo.InvariantCulture, $"Passing–Bablok, {n:N0} readings"), "passing_bablok.py", $"{n}", $"pb{n}", () => line = PassingBablokLine.Fit(x, y),
                () => Line(line!.Slope, line.SlopeInterval, line.Intercept, line.InterceptInterval), wanted);
        }
        {
            var (x, y) = Comparison(200);
            Bootstrap? bootstrap = null;
            Interval slope = default, intercept = default;
            yield return new Workload("Deming, 200 readings, 2,000 resamples, percentile limits", "passing_bablok.py", "deming", "deming", () =>
            {
                bootstrap = Bootstrap.Of(new DemingStatistic(x, y), Resamples, 12);
                slope = bootstrap.Percentile(0);
                intercept = bootstrap.Percentile(1);
            }, () => Line(bootstrap!.Estimates[0], slope, bootstrap.Estimates[1], intercept), 3);
        }
        {
            var (x, y, ux, uy, r) = Correlated(100_000);
            YorkLine? line = null;
            yield return new Workload("York, 100,000 points, correlated errors", "york.py", "100000", "york", () => line = YorkLine.Fit(x, y, ux, uy, r),
                () => string.Create(CultureInfo.InvariantCulture, $"a {line!.Intercept:0.000000000} b {line.Slope:0.000000000} u(a) {line.InterceptStandardUncertainty:0.000000000} u(b) {line.SlopeStandardUncertainty:0.000000000}"), 2);
        }

        static string Line(double slope, Interval ofSlope, double intercept, Interval ofIntercept) =>
            string.Create(CultureInfo.InvariantCulture, $"{slope:0.000000} [{ofSlope.Low:0.000000}, {ofSlope.High:0.000000}] {intercept:0.000000} [{ofIntercept.Low:0.000000}, {ofIntercept.High:0.000000}]");
    }

    private static double BestOfThree(Action work)
    {
        var best = double.PositiveInfinity;
        for (var i = 0; i < 3; i++)
        {
            var start = Stopwatch.GetTimestamp();
            work();
            best = Math.Min(best, Stopwatch.GetElapsedTime(start).TotalSeconds);
        }
        return best;
    }

    /// <summary>The script in its own process, with freed memory kept, which suits it better than the default; it prints its times of three calls to a tenth of a millisecond, and its result.</summary>
    private static (double Seconds, string Result) Peer(Workload workload)
    {
        var start = new ProcessStartInfo("/usr/bin/python3") { UseShellExecute = false, RedirectStandardOutput = true, WorkingDirectory = PeerFolder() };
        start.ArgumentList.Add("-B");
        start.ArgumentList.Add(workload.Script);
        start.ArgumentList.Add(workload.Argument);
        start.Environment["MALLOC_TRIM_THRESHOLD_"] = "2000000000";
        start.Environment["MALLOC_MMAP_THRESHOLD_"] = "33554432";
        using var process = Process.Start(start)!;
        var lines = process.StandardOutput.ReadToEnd().Split('\n');
        process.WaitForExit();
        var head = $"seconds {workload.Label}: ";
        var at = Array.FindIndex(lines, l => l.StartsWith(head, StringComparison.Ordinal));
        return at < 0
            ? throw new InvalidOperationException($"The script bench/peers/{workload.Script} printed no time. It needs Debian’s python3-numpy and python3-scipy.")
            : (double.Parse(lines[at].AsSpan(head.Length, lines[at].IndexOf(' ', head.Length) - head.Length), CultureInfo.InvariantCulture), lines[at + 1]);
    }

    private static string PeerFolder()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "bench", "peers", "york.py")))
                return Path.Combine(folder.FullName, "bench", "peers");
        }
        throw new InvalidOperationException("bench/peers/york.py is not found; run this from the checkout.");
    }

    /// <summary>One large fit in a process of its own: time and peak memory.</summary>
    private static int Once(int n)
    {
        var (x, y) = Comparison(n);
        var start = Stopwatch.GetTimestamp();
        var line = PassingBablokLine.Fit(x, y);
        var time = Stopwatch.GetElapsedTime(start).TotalSeconds;
        var peak = File.ReadLines("/proc/self/status").First(l => l.StartsWith("VmHWM", StringComparison.Ordinal)).Split([' ', '\t', 'k'], StringSplitOptions.RemoveEmptyEntries)[1];
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{time} {peak} {line.Slope}"));
        return 0;
    }

    private static (double Seconds, double Megabytes) Child(int n)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!) { UseShellExecute = false, RedirectStandardOutput = true };
        foreach (var argument in new[] { "comparison-speed", "once", $"{n}" })
            start.ArgumentList.Add(argument);
        using var process = Process.Start(start)!;
        var cells = process.StandardOutput.ReadToEnd().Split(' ');
        process.WaitForExit();
        return (double.Parse(cells[0], CultureInfo.InvariantCulture), double.Parse(cells[1], CultureInfo.InvariantCulture) * 1024 / 1e6);
    }

    private static string Ratios(List<double> peer, List<double> ours)
    {
        double[] ratios = [.. peer.Zip(ours, (p, o) => p / o).Order()];
        return string.Create(CultureInfo.InvariantCulture, $"{Significant(ratios[ratios.Length / 2])} ({Significant(ratios[0])} to {Significant(ratios[^1])})");
    }

    private static string Significant(double ratio) => ratio.ToString(ratio >= 10 ? "0" : "0.0", CultureInfo.InvariantCulture);

    private static string Report(Workload[] workloads, List<double>[] ours, List<double>[] peers, List<double> load, string[] said, (double Seconds, double Megabytes) large)
    {
        var c = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        text.Append(c, $"""
            # Lines between two methods: how fast

            Written by `bench/Knownwater.Benchmarks comparison-speed`, which runs ours and scripts in numpy (`bench/peers`, in processes of their own, freed memory kept) in turns: {load.Count} turns, in each the best of three of either. *Times* is the median of the ratios within a turn, with the least and the largest.
            Other work ran on the machine: load average {load.Min():0.0} to {load.Max():0.0} on {Environment.ProcessorCount} cores.

            | | Knownwater, ms | numpy, ms | times | wanted |
            | --- | --- | --- | --- | --- |

            """);
        for (var i = 0; i < workloads.Length; i++)
            text.Append(c, $"| {workloads[i].Name} | {1000 * ours[i].Min():0.00} to {1000 * ours[i].Max():0.00} | {1000 * peers[i].Min():0.0} to {1000 * peers[i].Max():0.0} | {Ratios(peers[i], ours[i])} | {(workloads[i].Wanted > 0 ? workloads[i].Wanted.ToString(c) : "–")} |\n");
        text.Append(c, $"""

            Passing–Bablok and York run on one thread; resampling on as many as there are cores. The forms of numpy: all slopes at once and a partition; resamples in blocks of 100 that stay in the cache; York’s iteration on whole arrays.
            One million readings by Passing–Bablok, in a process of its own: {large.Seconds:0.0} s, peak memory of the process {large.Megabytes:0} MB; all slopes of so many are 5·10¹¹ numbers.

            ## The results, ours and theirs

            numpy’s form takes slopes as quotients of doubles, and so misses most slopes of exactly −1: its limits may differ in the sixth digit. The resamples are different ones.

            ```

            """);
        for (var i = 0; i < workloads.Length; i++)
            text.Append(c, $"{workloads[i].Result()}\n    {said[i]}\n");
        text.Append("```\n");
        return text.ToString();
    }

    private static (double[] X, double[] Y) Comparison(int n)
    {
        double[] x = new double[n], y = new double[n];
        for (var i = 0; i < n; i++)
        {
            var t = 5 + 45 * Uniform(11, i);
            x[i] = Math.Round(t * (1 + .02 * Normal(12, i)), 3);
            y[i] = Math.Round(0.3 + 1.03 * t + .025 * t * Normal(13, i), 3);
        }
        return (x, y);
    }

    private static (double[] X, double[] Y, double[] UX, double[] UY, double[] R) Correlated(int n)
    {
        double[] x = new double[n], y = new double[n], ux = new double[n], uy = new double[n], r = new double[n];
        for (var i = 0; i < n; i++)
        {
            var t = 2 + 48 * Uniform(41, i);
            ux[i] = Math.Round(.05 + .02 * t * Uniform(42, i), 5);
            uy[i] = Math.Round(.08 + .03 * t * Uniform(43, i), 5);
            r[i] = Math.Round(.6 * Uniform(44, i), 3);
            double z = Normal(45, i), e = r[i] * z + Math.Sqrt(1 - r[i] * r[i]) * Normal(46, i);
            x[i] = Math.Round(t + ux[i] * z, 5);
            y[i] = Math.Round(.4 + .97 * t + uy[i] * e, 5);
        }
        return (x, y, ux, uy, r);
    }

    /// <summary>The numbers of bench/peers/_prng.py.</summary>
    private static double Uniform(ulong seed, long place)
    {
        var z = seed * 0xD1342543DE82EF95 + ((ulong)place + 1) * 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return ((z ^ (z >> 31)) >> 11) * (1.0 / (1UL << 53));
    }

    private static double Normal(ulong seed, long place) => Math.Sqrt(-2 * Math.Log(1 - Uniform(seed, 2 * place))) * Math.Cos(2 * Math.PI * Uniform(seed, 2 * place + 1));
}
