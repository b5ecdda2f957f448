using System.Diagnostics;
using System.Globalization;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Text;
using Knownwater.Uncertainty;

namespace Knownwater.Benchmarks;

/// <summary>
/// Monte Carlo of a three-step dilution with twelve inputs, in turns with a script in numpy that does the same (bench/peers/mc_budget.py): plain, tuned on one thread, tuned on two. Each turn
/// takes the best of three of every form, ours as the script's; a ratio is formed within a turn, so that other work on the machine hits both sides.
/// </summary>
internal static class MonteCarloSpeed
{
    private const int Trials = 1_000_000;
    private const int Most = 100_000_000;

    // first order by hand, printed by the script too: y = 1000·0.9985·0.1·0.1·0.05, u from the relative parts
    private const double Value = 0.49925;
    private const double Uncertainty = 0.0015272390;

    private static readonly (string Form, int Threads, double Wanted)[] Pairs = [("plain", 1, 6), ("plain", 2, 9), ("tuned1", 1, 3), ("tuned2threads", 2, 0)];

    /// <summary>C = c·P·(1 − 2.1e-4·ΔT)·Π (v/V·r) over three steps.</summary>
    private readonly struct ThreeSteps : IModel
    {
        public int Inputs => 12;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T>
        {
            T c = x[0] * x[1] * (1.0 - 2.1e-4 * x[11]);
            for (var s = 0; s < 3; s++)
                c = c * x[2 + 2 * s] / x[3 + 2 * s] * x[8 + s];
            return c;
        }
    }

    public static int Run(string[] args)
    {
        if (args is ["once", var count, var with])
            return Once(int.Parse(count, CultureInfo.InvariantCulture), int.Parse(with, CultureInfo.InvariantCulture));
        var rounds = 7;
        var folder = "docs/reference";
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--rounds")
                rounds = int.Parse(args[i + 1], CultureInfo.InvariantCulture);
            else if (args[i] == "--out")
                folder = args[i + 1];
        }

        for (var i = 0; i < 40; i++)
            Simulate(Trials, 1 + i % 2);
        var load = new List<double>();
        var seconds = new Dictionary<string, List<double>>();
        void Note(string what, double value) => (seconds.TryGetValue(what, out var list) ? list : seconds[what] = []).Add(value);
        for (var round = 0; round < rounds; round++)
        {
            load.Add(Load());
            foreach (var threads in new[] { 1, 2 })
                Note($"ours {threads}", BestOfThree(threads));
            foreach (var form in new[] { "plain", "tuned1", "tuned2threads" })
                Note(form, Peer(form));
        }

        MonteCarloResult one = Simulate(Trials, 1), two = Simulate(Trials, 2);
        var wide = Bits(one);
        var narrow = Child(("DOTNET_EnableAVX512", "0"), "once", $"{Trials}", "1");
        var large = Child(null, "once", $"{Most}", "2");
        var largeOnOne = Child(null, "once", $"{Most}", "1");
        var same = one == two && narrow.Bits == wide && large.Bits == largeOnOne.Bits;
        // five sampling errors of the mean and of u
        var right = Math.Abs(one.Mean - Value) < 5 * Uncertainty / Math.Sqrt(Trials) + 5e-7 && Math.Abs(one.StandardUncertainty - Uncertainty) < 5 * Uncertainty / Math.Sqrt(2.0 * Trials) + 1e-8;

        var (examples, agree) = PublishedExamples.Table();
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "monte-carlo-speed.md"), Report(seconds, load, rounds, one, narrow, large, largeOnOne, same) + examples);
        foreach (var (what, list) in seconds)
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what}: {list.Min():0.0000} to {list.Max():0.0000} s"));
        Console.WriteLine($"same bits on one and two threads and with narrow vectors: {same}; mean and u as by hand: {right}; published examples: {agree}");
        return same && right && agree ? 0 : 1;
    }

    private static Estimate[] Inputs() =>
    [
        Estimate.From(1000, 2, "stock", "mg/L"), Estimate.From(0.9985, ErrorSource.Rectangular("purity", 0.0015)),
        Glass(10, 0.02), Glass(100, 0.1), Glass(10, 0.02), Glass(100, 0.1), Glass(5, 0.015), Glass(100, 0.1),
        Estimate.From(1, 0.0005, "repeatability 1"), Estimate.From(1, 0.0005, "repeatability 2"), Estimate.From(1, 0.0008, "repeatability 3"),
        Estimate.From(0, ErrorSource.Rectangular("temperature", 3, "K")),
    ];

    private static Estimate Glass(double volume, double half) => Estimate.From(volume, ErrorSource.Triangular("volume", half, "mL"));

    private static MonteCarloResult Simulate(int trials, int threads) => MonteCarlo.Of(new ThreeSteps(), Inputs(), 20250101, trials, threads);

    private static double BestOfThree(int threads)
    {
        var best = double.PositiveInfinity;
        for (var i = 0; i < 3; i++)
        {
            var start = Stopwatch.GetTimestamp();
            Simulate(Trials, threads);
            best = Math.Min(best, Stopwatch.GetElapsedTime(start).TotalSeconds);
        }
        return best;
    }

    /// <summary>The script in its own process, with freed memory kept, which suits it better than the default; it prints the best of its three calls.</summary>
    private static double Peer(string form)
    {
        var start = new ProcessStartInfo("/usr/bin/python3") { UseShellExecute = false, RedirectStandardOutput = true, WorkingDirectory = PeerFolder() };
        foreach (var argument in new[] { "mc_budget.py", $"{Trials}", form })
            start.ArgumentList.Add(argument);
        start.Environment["MALLOC_TRIM_THRESHOLD_"] = "2000000000";
        start.Environment["MALLOC_MMAP_THRESHOLD_"] = "33554432";
        using var process = Process.Start(start)!;
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        var head = $"seconds {form}: ";
        var line = text.Split('\n').FirstOrDefault(l => l.StartsWith(head, StringComparison.Ordinal)) ?? throw new InvalidOperationException($"The script bench/peers/mc_budget.py printed no time: {text}. It needs Debian’s python3-numpy.");
        return double.Parse(line.AsSpan(head.Length, line.IndexOf(' ', head.Length) - head.Length), CultureInfo.InvariantCulture);
    }

    private static string PeerFolder()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "bench", "peers", "mc_budget.py")))
                return Path.Combine(folder.FullName, "bench", "peers");
        }
        throw new InvalidOperationException("bench/peers/mc_budget.py is not found; run this from the checkout.");
    }

    private static int Once(int trials, int threads)
    {
        Simulate(Trials, threads);
        var start = Stopwatch.GetTimestamp();
        var result = Simulate(trials, threads);
        var time = Stopwatch.GetElapsedTime(start).TotalSeconds;
        var peak = File.ReadLines("/proc/self/status").First(l => l.StartsWith("VmHWM", StringComparison.Ordinal)).Split([' ', '\t', 'k'], StringSplitOptions.RemoveEmptyEntries)[1];
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{time} {peak} {Bits(result)}"));
        return 0;
    }

    private static (double Seconds, double Megabytes, string Bits) Child((string Name, string Value)? setting, params string[] arguments)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!) { UseShellExecute = false, RedirectStandardOutput = true };
        start.ArgumentList.Add("monte-carlo");
        foreach (var argument in arguments)
            start.ArgumentList.Add(argument);
        if (setting is { } given)
            start.Environment[given.Name] = given.Value;
        using var process = Process.Start(start)!;
        var words = process.StandardOutput.ReadToEnd().Split(' ', 3);
        process.WaitForExit();
        return (double.Parse(words[0], CultureInfo.InvariantCulture), double.Parse(words[1], CultureInfo.InvariantCulture) / 1024, words[2].Trim());
    }

    private static string Bits(MonteCarloResult result) =>
        string.Join(' ', new[] { result.Mean, result.StandardUncertainty, result.Low, result.High }.Select(v => BitConverter.DoubleToInt64Bits(v).ToString("x16", CultureInfo.InvariantCulture)));

    private static double Load() => double.Parse(File.ReadAllText("/proc/loadavg").Split(' ')[0], CultureInfo.InvariantCulture);

    private static string Report(Dictionary<string, List<double>> seconds, List<double> load, int rounds, MonteCarloResult one, (double Seconds, double Megabytes, string Bits) narrow,
        (double Seconds, double Megabytes, string Bits) large, (double Seconds, double Megabytes, string Bits) largeOnOne, bool same)
    {
        var c = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        text.Append(c, $"""
            # Monte Carlo: how fast, beside numpy

            Written by `bench/Knownwater.Benchmarks monte-carlo`. A dilution in three steps with twelve inputs (four normal, two rectangular, six triangular), {Trials:N0} trials, in turns with `bench/peers/mc_budget.py` on numpy: plain as one would write it,
            and tuned by blocks that stay in the cache, its fastest generator and partial sorting. {rounds} turns, each with the best of three calls of every form; the script runs with freed memory kept, which suits it better.
            {RuntimeInformation.FrameworkDescription}, {Environment.ProcessorCount} processors, load of the machine {load.Min():0.0} to {load.Max():0.0} during the turns: other work shared it, so take the ratios, not the seconds. A short run finds a free moment more easily than a long one, which favours ours; the least ratio is the one to trust.

            | form | best, s | median, s | slowest, s |
            | --- | --- | --- | --- |

            """);
        foreach (var (what, name) in new[] { ("ours 1", "ours, one thread"), ("ours 2", "ours, two threads"), ("plain", "numpy, plain"), ("tuned1", "numpy, tuned, one thread"), ("tuned2threads", "numpy, tuned, two threads") })
        {
            double[] times = [.. seconds[what].Order()];
            text.Append(c, $"| {name} | {times[0]:0.0000} | {times[times.Length / 2]:0.0000} | {times[^1]:0.0000} |\n");
        }
        text.Append("""

            How many times as long the script takes, turn by turn; “best” compares the fastest turn of each side.

            | script | ours on | least | median | most | best | wanted | reached by the median |
            | --- | --- | --- | --- | --- | --- | --- | --- |

            """);
        foreach (var (form, threads, wanted) in Pairs)
        {
            var ours = seconds[$"ours {threads}"];
            double[] ratios = [.. seconds[form].Select((s, i) => s / ours[i]).Order()];
            var median = ratios[ratios.Length / 2];
            text.Append(c, $"| {form switch { "plain" => "plain", "tuned1" => "tuned, one thread", _ => "tuned, two threads" }} | {(threads == 1 ? "one thread" : "two threads")} | {ratios[0]:0.0} | {median:0.0} | {ratios[^1]:0.0} | {seconds[form].Min() / ours.Min():0.0} | {(wanted > 0 ? wanted.ToString("0", c) : "–")} | {(wanted > 0 ? median >= wanted ? "yes" : "no" : "–")} |\n");
        }
        text.Append(c, $"""

            | trials | vectors | threads | s | peak memory of the process, MB |
            | --- | --- | --- | --- | --- |
            | {Most:N0} | 512 bits | two | {large.Seconds:0.00} | {large.Megabytes:0} |
            | {Most:N0} | 512 bits | one | {largeOnOne.Seconds:0.00} | {largeOnOne.Megabytes:0} |
            | {Trials:N0} | 256 bits | one | {narrow.Seconds:0.000} | {narrow.Megabytes:0} |

            Mean, u and both ends on one and two threads and with either width of vectors: {(same ? "the same to the last bit" : "NOT the same")}. Mean {one.Mean:0.0000000}, u {one.StandardUncertainty:0.0000000}; by the law of propagation 0.4992500 and {Uncertainty:0.0000000}.
            An end of the interval is right to one bin of the histogram, {one.BinWidth / one.StandardUncertainty:0.00000} u; chance alone moves it by {Math.Sqrt(0.025 * 0.975 / Trials) / 0.0584:0.0000} u at {Trials:N0} trials and {Math.Sqrt(0.025 * 0.975 / Most) / 0.0584:0.00000} u at {Most:N0}.

            """);
        return text.ToString();
    }
}
