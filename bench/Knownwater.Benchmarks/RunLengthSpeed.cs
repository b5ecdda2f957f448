using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Drift;

namespace Knownwater.Benchmarks;

/// <summary>Average run lengths of an EWMA and of a cumulative sum at ten shifts beside R package spc, in turns with bench/peers/arl.R; each turn takes the best of three of both.</summary>
internal static class RunLengthSpeed
{
    private static readonly double[] Shifts = [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4];

    public static int Run(string[] args)
    {
        var (rounds, folder) = (7, "docs/reference");
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--rounds")
                rounds = int.Parse(args[i + 1], CultureInfo.InvariantCulture);
            else if (args[i] == "--out")
                folder = args[i + 1];
        }
        double Set(ControlChart chart) => Shifts.Sum(chart.AverageRunLength);
        var workloads = new (string Name, string Chart, int Nodes, ControlChart Ours)[]
        {
            ("EWMA, λ = 0.1, width 2.814; spc with its own 40 nodes", "ewma", 40, new EwmaChart(0.1, 2.814)),
            ("CUSUM, k = 0.5, h = 5, two sides; spc with its own 30 nodes", "cusum", 30, new CusumChart(0.5, 5)),
        };
        for (var i = 0; i < 300; i++)
            Array.ForEach(workloads, w => Set(w.Ours));
        var ours = workloads.Select(_ => new List<double>()).ToArray();
        var peers = workloads.Select(_ => new List<double>()).ToArray();
        var said = new double[workloads.Length];
        var load = new List<double>();
        for (var round = 0; round < rounds; round++)
        {
            load.Add(double.Parse(File.ReadAllText("/proc/loadavg").Split(' ')[0], CultureInfo.InvariantCulture));
            for (var i = 0; i < workloads.Length; i++)
            {
                ours[i].Add(BestOfThree(() => Set(workloads[i].Ours)));
                (var seconds, said[i]) = Peer(workloads[i].Chart, workloads[i].Nodes);
                peers[i].Add(seconds);
            }
        }
        var report = new StringBuilder("# Average run lengths: how fast\n\nWritten by `bench/Knownwater.Benchmarks run-lengths`, which runs ours and `bench/peers/arl.R` in turns (").Append(rounds.ToString(CultureInfo.InvariantCulture))
            .Append(" turns, in each the best of three of either, each a mean over 50 sets of ten shifts). *Times* is the median of the ratios within a turn, with the least and the largest.\n");
        report.Append(CultureInfo.InvariantCulture, $"Load of the machine {load.Min():0.0} to {load.Max():0.0} on {Environment.ProcessorCount} processors, .NET {Environment.Version}. Both have one thread.\n\n| ten average run lengths | Knownwater, ms | spc, ms | times | sum of the ten, ours | spc |\n| --- | --- | --- | --- | --- | --- |\n");
        for (var i = 0; i < workloads.Length; i++)
        {
            var ratios = peers[i].Zip(ours[i], (a, b) => a / b).Order().ToList();
            var line = string.Create(CultureInfo.InvariantCulture, $"| {workloads[i].Name} | {1000 * ours[i].Min():0.000} to {1000 * ours[i].Max():0.000} | {1000 * peers[i].Min():0.000} to {1000 * peers[i].Max():0.000} | {ratios[ratios.Count / 2]:0.0} ({ratios[0]:0.0} to {ratios[^1]:0.0}) | {Set(workloads[i].Ours):0.000000} | {said[i]:0.000000} |");
            report.Append(line).Append('\n');
            Console.WriteLine(line);
        }
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "run-length-speed.md"), report.ToString());
        return 0;
    }

    private static double BestOfThree(Action set)
    {
        var best = double.PositiveInfinity;
        for (var turn = 0; turn < 3; turn++)
        {
            var watch = Stopwatch.StartNew();
            for (var i = 0; i < 50; i++)
                set();
            best = Math.Min(best, watch.Elapsed.TotalSeconds / 50);
        }
        return best;
    }

    private static (double Seconds, double Sum) Peer(string chart, int nodes)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !Directory.Exists(Path.Combine(folder.FullName, "bench", "peers")))
            folder = folder.Parent;
        var start = new ProcessStartInfo("Rscript") { UseShellExecute = false, RedirectStandardOutput = true, WorkingDirectory = Path.Combine(folder!.FullName, "bench", "peers") };
        foreach (var argument in (string[])["arl.R", chart, nodes.ToString(CultureInfo.InvariantCulture)])
            start.ArgumentList.Add(argument);
        using var process = Process.Start(start)!;
        var words = process.StandardOutput.ReadToEnd().Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        process.WaitForExit();
        if (process.ExitCode != 0 || words.Length != 3)
            throw new InvalidOperationException("bench/peers/arl.R did not answer. It needs R with the package spc (Debian: r-cran-spc).");
        return (double.Parse(words[0], CultureInfo.InvariantCulture), double.Parse(words[2], CultureInfo.InvariantCulture));
    }
}
