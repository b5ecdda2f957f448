using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Seawater;

namespace Knownwater.Benchmarks;

/// <summary>Density of ten million waters beside gsw and pH of a million beside numpy, in turns with bench/peers/seawater.py; each turn takes the best of three of both.</summary>
internal static class SeawaterSpeed
{
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
        var (sa, ct, p, rho) = Waters();
        var (s, t, ta, dic, ph) = Systems();
        Action density = () => Teos10.Densities(sa, ct, p, rho), acidity = () => CarbonateState.PhTotals(s, t, ta, dic, ph);
        for (var i = 0; i < 5; i++)
        {
            density();
            acidity();
        }
        var workloads = new (string Name, string Argument, string Label, Action Ours, double Wanted)[] { ("Density of 10,000,000 waters, TEOS-10, beside gsw", "rho", "rho1e7", density, 2), ("pH of 1,000,000 waters from alkalinity and carbon, beside numpy", "carb", "carb1e6", acidity, 3) };
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
                (var seconds, said[i]) = Peer(workloads[i].Argument, workloads[i].Label);
                peers[i].Add(seconds);
            }
        }
        var report = new StringBuilder("# Seawater: how fast\n\nWritten by `bench/Knownwater.Benchmarks seawater`, which runs ours and `bench/peers/seawater.py` in turns (").Append(rounds.ToString(CultureInfo.InvariantCulture))
            .Append(" turns, in each the best of three of either; the script in a process of its own with freed memory kept). *Times* is the median of the ratios within a turn, with the least and the largest.\n");
        report.Append(CultureInfo.InvariantCulture, $"Load of the machine {load.Min():0.0} to {load.Max():0.0} on {Environment.ProcessorCount} processors, .NET {Environment.Version}. Ours runs on all of them; gsw and numpy have one thread.\n\n| | Knownwater, ms | peer, ms | times | wanted |\n| --- | --- | --- | --- | --- |\n");
        for (var i = 0; i < workloads.Length; i++)
        {
            var ratios = peers[i].Zip(ours[i], (a, b) => a / b).Order().ToList();
            var line = string.Create(CultureInfo.InvariantCulture, $"| {workloads[i].Name} | {1000 * ours[i].Min():0.0} to {1000 * ours[i].Max():0.0} | {1000 * peers[i].Min():0} to {1000 * peers[i].Max():0} | {ratios[ratios.Count / 2]:0.0} ({ratios[0]:0.0} to {ratios[^1]:0.0}) | {workloads[i].Wanted} |");
            report.Append(line).Append('\n');
            Console.WriteLine(line);
        }
        report.Append("\n## The results, ours and theirs\n\nThe script leaves fluoride out of the alkalinity, which moves pH by less than 10⁻⁶.\n\n```\n");
        report.Append(CultureInfo.InvariantCulture, $"rho: mean {rho.Average():0.000000000} first {rho[0]:0.000000000}\n    {said[0]}\ncarb: mean pH {ph.Average():0.0000000000} first {ph[0]:0.0000000000}\n    {said[1]}\n```\n");
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "seawater-speed.md"), report.ToString());
        return 0;
    }

    private static double Frac(double x) => x - Math.Floor(x);

    private static (double[] Sa, double[] Ct, double[] P, double[] Rho) Waters()
    {
        const int N = 10_000_000;
        var (sa, ct, p) = (new double[N], new double[N], new double[N]);
        for (var i = 0; i < N; i++)
            (sa[i], ct[i], p[i]) = (30 + 10 * Frac(i * 0.6180339887498949), 15 + 15 * Frac(i * 0.7548776662466927), 20 * Frac(i * 0.5698402909980532));
        return (sa, ct, p, new double[N]);
    }

    private static (double[] S, double[] T, double[] Ta, double[] Dic, double[] Ph) Systems()
    {
        const int N = 1_000_000;
        var (s, t, ta, dic) = (new double[N], new double[N], new double[N], new double[N]);
        for (var i = 0; i < N; i++)
        {
            (s[i], t[i], ta[i]) = (30 + 8 * Frac(i * 0.8566748838545029), 20 + 10 * Frac(i * 0.733891856627126), 1800 + 2200 * Frac(i * 0.6287067210378087));
            dic[i] = ta[i] * (0.80 + 0.15 * Frac(i * 0.5385972572236101));
        }
        return (s, t, ta, dic, new double[N]);
    }

    private static double BestOfThree(Action action)
    {
        var best = double.PositiveInfinity;
        for (var i = 0; i < 3; i++)
        {
            var watch = Stopwatch.StartNew();
            action();
            best = Math.Min(best, watch.Elapsed.TotalSeconds);
        }
        return best;
    }

    private static (double Seconds, string Said) Peer(string argument, string label)
    {
        var start = new ProcessStartInfo("/usr/bin/python3") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true, WorkingDirectory = "bench/peers" };
        start.ArgumentList.Add("seawater.py");
        start.ArgumentList.Add(argument);
        start.Environment["MALLOC_TRIM_THRESHOLD_"] = "2000000000";
        start.Environment["MALLOC_MMAP_THRESHOLD_"] = "33554432";
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        var all = output + error.Result;
        var timed = all.Split('\n').FirstOrDefault(l => l.Contains(label, StringComparison.Ordinal)) ?? throw new InvalidOperationException($"The script did not time {label}: {all}");
        var seconds = timed.Split([' ', '\t', '='], StringSplitOptions.RemoveEmptyEntries).Select(w => double.TryParse(w, CultureInfo.InvariantCulture, out var v) ? v : (double?)null).OfType<double>().First();
        return (seconds, output.Split('\n').First(l => l.StartsWith(argument + ":", StringComparison.Ordinal)));
    }
}
