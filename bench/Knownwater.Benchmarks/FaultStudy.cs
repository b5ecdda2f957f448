using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Checks;
using MathNet.Numerics.Random;

namespace Knownwater.Benchmarks;

/// <summary>How often the diagnosis names the class of the fault that was planted, beside the classifier that nobody can beat in that world. Seeded by history, so that the number of threads changes nothing.</summary>
internal static class FaultStudy
{
    private const int Bins = 10, MostDraws = 128;
    private const double LeastShare = 0.9, MostReliabilityError = 0.05, MostMilliseconds = 200;

    private sealed record Answer(bool Right, double OfTruth, double OfFirst, string Family, bool RightOfThree, bool BothOfTwo);

    private sealed record Trial(Fault[] Truth, FaultWorld.Scene Scene, Answer Ours, Answer Best, bool SameClasses);

    /// <summary>How far the best classifier is from itself where rounding is summed by drawing and lot ages are summed twice as finely.</summary>
    private sealed record Exactness(int Histories, double AgainstHalf, double AgainstApproximation, int OtherFirst);

    private sealed record Speed(int Readings, double Median, double NearlyAll, double Open);

    public static int Run(string[] args)
    {
        var (histories, folder, threads) = (1000, "docs/reference", -1);
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--histories")
                histories = int.Parse(args[i + 1], CultureInfo.InvariantCulture);
            else if (args[i] == "--out")
                folder = args[i + 1];
            else if (args[i] == "--threads")
                threads = int.Parse(args[i + 1], CultureInfo.InvariantCulture);
        }

        var clock = Stopwatch.StartNew();
        var parallel = new ParallelOptions { MaxDegreeOfParallelism = threads };
        var single = Trials([.. FaultWorld.Kinds.SelectMany(f => Enumerable.Range(0, histories).Select(i => (new[] { f }, Seed(f, i))))], parallel);
        var two = Trials([.. Enumerable.Range(0, histories).Select(i => (Pair(i), 60_000_000 + i))], parallel);
        var exactness = Exact(Math.Max(1, histories / 200), parallel);
        var speed = Time(Math.Min(histories, 200));
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "fault-study.md"), Report(single, two, exactness, speed, histories));

        Trial[] declared = [.. single.Where(IsDeclared)];
        var (ours, best) = (declared.Average(t => t.Ours.Right ? 1.0 : 0), declared.Average(t => t.Best.Right ? 1.0 : 0));
        var error = Math.Max(ReliabilityError([.. declared.Select(t => t.Ours)]), ReliabilityError([.. single.Select(t => t.Ours)]));
        var differ = single.Concat(two).Count(t => !t.SameClasses);
        Console.WriteLine(FormattableString.Invariant($"faults: top-one {ours:0.0000} of the best {best:0.0000} ({ours / best:0.000}), reliability error {error:0.0000}, log loss {LogLoss(declared, t => t.Ours):0.000} against {LogLoss(declared, t => t.Best):0.000}, classes differ in {differ}, one diagnosis {speed.Median:0} ms ({speed.Open:0} ms without entries), {clock.Elapsed.TotalSeconds:0} s"));
        return ours >= LeastShare * best && error <= MostReliabilityError && differ == 0 && speed.Median <= MostMilliseconds ? 0 : 1;
    }

    private static bool IsDeclared(Trial trial) => trial.Truth[0] != Fault.Unlisted;

    private static int Seed(Fault fault, int history) => 1_000_000 * (int)fault + history;

    private static Fault[] Pair(int i)
    {
        // every pair of two different faults in turn, chance left out
        var faults = FaultWorld.Faults.Where(f => f != Fault.Chance).ToArray();
        var (a, b) = (i % faults.Length, (i % faults.Length + 1 + i / faults.Length % (faults.Length - 1)) % faults.Length);
        return [faults[a], faults[b]];
    }

    private static Trial[] Trials((Fault[] Truth, int Seed)[] jobs, ParallelOptions parallel)
    {
        var trials = new Trial[jobs.Length];
        Parallel.For(0, jobs.Length, parallel, i => trials[i] = Try(jobs[i].Truth, jobs[i].Seed));
        return trials;
    }

    private static Trial Try(Fault[] truth, int seed)
    {
        var history = FaultWorld.Make(truth, seed);
        var classes = FaultWorld.Classes(history.Scene);
        List<(Fault[] Faults, double Probability)> ours = [.. Diagnosis.Rank(FaultWorld.Evidence(history)).Select(c => (c.Faults.Select(f => f.Fault).ToArray(), c.Probability))];
        var best = ByClass(BestClassifier.Posterior(history), classes);
        var same = Keys(ours).SetEquals(Keys(best));
        return new Trial(truth, history.Scene, Of(ours), Of(best), same);

        Answer Of(List<(Fault[] Faults, double Probability)> ranked) => new(
            ranked[0].Faults.Intersect(truth).Any(),
            ranked.Where(c => c.Faults.Intersect(truth).Any()).Sum(c => c.Probability),
            ranked[0].Probability,
            FaultWorld.Family(ranked[0].Faults),
            ranked.Take(3).Any(c => c.Faults.Intersect(truth).Any()),
            truth.All(f => ranked.Take(2).Any(c => c.Faults.Contains(f))));

        // “none of these” is a class of its own on both sides; the best knows it only where the check has more than one level
        static HashSet<string> Keys(List<(Fault[] Faults, double Probability)> causes) => [.. causes.Where(c => c.Faults[0] != Fault.Unlisted).Select(c => string.Join(' ', c.Faults.Order()))];
    }

    private static List<(Fault[] Faults, double Probability)> ByClass(Dictionary<Fault, double> posterior, Dictionary<Fault, string> classes) =>
        [.. posterior.GroupBy(p => classes[p.Key]).Select(g => (g.Select(p => p.Key).ToArray(), g.Sum(p => p.Value))).OrderByDescending(c => c.Item2)];

    private static Exactness Exact(int each, ParallelOptions parallel)
    {
        var jobs = FaultWorld.Kinds.SelectMany(f => Enumerable.Range(0, each).Select(i => Seed(f, i) + 500_000)).ToArray();
        var found = new (double Half, double Approximation, bool Other)[jobs.Length];
        Parallel.For(0, jobs.Length, parallel, i =>
        {
            var history = FaultWorld.Make([(Fault)(jobs[i] / 1_000_000)], jobs[i]);
            var classes = FaultWorld.Classes(history.Scene);
            var random = new Xoshiro256StarStar(jobs[i] + 1);
            double[][] draws = [.. Enumerable.Range(0, MostDraws).Select(_ => Enumerable.Range(0, history.Readings.Length).Select(_ => random.NextDouble() - 0.5).ToArray())];
            var (half, all) = (ByClass(BestClassifier.Posterior(history, draws[..(MostDraws / 2)]), classes), ByClass(BestClassifier.Posterior(history, draws), classes));
            var plain = ByClass(BestClassifier.Posterior(history), classes);
            found[i] = (Distance(half, all), Distance(plain, all), plain[0].Faults[0] != all[0].Faults[0]);
        });
        return new(jobs.Length, found.Average(f => f.Half), found.Average(f => f.Approximation), found.Count(f => f.Other));

        // half of the sum over all classes: the most by which the probability of any statement differs
        static double Distance(List<(Fault[] Faults, double Probability)> a, List<(Fault[] Faults, double Probability)> b) =>
            0.5 * a.Sum(x => Math.Abs(x.Probability - b.Single(y => y.Faults[0] == x.Faults[0]).Probability));
    }

    private static Speed Time(int count)
    {
        var evidence = Enumerable.Range(0, count).Select(i => FaultWorld.Make([FaultWorld.Kinds[i % FaultWorld.Kinds.Count]], 70_000_000 + i)).Select(h => (h.Scene.Data, Evidence: FaultWorld.Evidence(h))).ToArray();
        foreach (var e in evidence.Take(20))
            Diagnosis.Of(e.Evidence);
        double[] times = [.. evidence.Select(e => Milliseconds(e.Evidence)).Order()];
        // the most that is left open: no entry of any carrier
        var open = evidence.Select(e => e.Evidence).Where(e => e.Earlier.Count > 5).Select(e => e with { Carriers = new(), LotAgeDays = null, Earlier = [.. e.Earlier.Select(b => b with { Carriers = new() })] }).Select(Milliseconds).Order().ToArray();
        return new(evidence.Max(e => e.Data), times[times.Length / 2], times[times.Length * 99 / 100], open.Length > 0 ? open[open.Length / 2] : 0);

        static double Milliseconds(CheckEvidence evidence)
        {
            var clock = Stopwatch.StartNew();
            Diagnosis.Of(evidence);
            return clock.Elapsed.TotalMilliseconds;
        }
    }

    private static double LogLoss(IEnumerable<Trial> trials, Func<Trial, Answer> of) => trials.Average(t => -Math.Log(Math.Max(of(t).OfTruth, 1e-12)));

    private static int Bin(double probability) => Math.Min(Bins - 1, (int)(probability * Bins));

    /// <summary>Expected calibration error of the first place: bins of equal width, |how often right − mean probability|, weighed by how many fall there.</summary>
    private static double ReliabilityError(Answer[] answers) =>
        answers.GroupBy(a => Bin(a.OfFirst)).Sum(g => Math.Abs(g.Average(a => a.Right ? 1.0 : 0) - g.Average(a => a.OfFirst)) * g.Count()) / answers.Length;

    private static double Share(IEnumerable<Trial> trials, Func<Trial, bool> what) => 100 * trials.Average(t => what(t) ? 1.0 : 0);

    private static string Report(Trial[] single, Trial[] two, Exactness exactness, Speed speed, int histories)
    {
        var c = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        Trial[] declared = [.. single.Where(IsDeclared)], unlisted = [.. single.Where(t => !IsDeclared(t))];
        var (ours, best) = (Share(declared, t => t.Ours.Right), Share(declared, t => t.Best.Right));
        var worst = declared.Min(t => t.Ours.OfTruth);
        text.Append(c, $"""
            # The fault study: how often the diagnosis names what was planted

            Written by `bench/Knownwater.Benchmarks faults`, a part of `./test.sh --long`. Histories of checks with a known fault are simulated, and the diagnosis is asked what is behind them. The faults and their classes were declared beforehand in
            [the faults](../explanation/diagnosis-faults.md); the diagnosis is told in [what to suspect](../explanation/diagnosis.md).

            - **Kinds of history, and base rates.** 22 faults, chance (nothing is wrong), and faults that are in no list: {FaultWorld.Kinds.Count} kinds, each equally frequent, {histories:N0} histories each. Besides them {two.Length:N0} histories with two faults. Which of two
              faults happens more often in the world is published nowhere; equal rates are a choice.
            - **The simulator** (`FaultWorld.cs`) shares no code and no figure with the diagnosis. Its sizes are uniform, exponential, normal or gross mistakes, its reagent weakens along four curves, its curve bends by stray light, its residue is mixed water by
              water, and its check-to-check error is a gain and an offset of the day.
            - **Nuisance in every history.** One to three levels, with or without a blank, two to five readings each; five kinds of method; usual scatter that is not quite the true one, not known in one history of ten, and one unquiet day in ten; no earlier check or
              up to twelve, with levels missing; lots, stocks, preparations and settings that change without effect; one entry of a lot in twelve missing; age of the lot, residual volume and former sample not always known; remarks in the
              records that mislead; failed and passed checks alike.
            - **“Best”** (`BestClassifier.cs`) is Bayes’ theorem with the simulator’s own laws and the same evidence. It sums over the very values that sizes and scatter are drawn from. No classifier is right more often in that world.
            - **Right** means that the class named first holds the planted fault. Faults that the evidence of a history cannot tell apart are one class there, found by code of the study’s own; it differs from the diagnosis’s in {single.Concat(two).Count(t => !t.SameClasses)} of
              {single.Length + two.Length:N0} histories.

            | chance and the 22 declared faults | diagnosis | best |
            | --- | --- | --- |
            | first named class right, % | {ours:0.0} | {best:0.0} |
            | share of the best’s (asked: at least 0.900) | {ours / best:0.000} | 1 |
            | among the first three, % | {Share(declared, t => t.Ours.RightOfThree):0.0} | {Share(declared, t => t.Best.RightOfThree):0.0} |
            | log loss, nats | {LogLoss(declared, t => t.Ours):0.000} | {LogLoss(declared, t => t.Best):0.000} |
            | reliability error (asked: at most 0.050) | {ReliabilityError([.. declared.Select(t => t.Ours)]):0.000} | {ReliabilityError([.. declared.Select(t => t.Best)]):0.000} |
            | the same with undeclared faults among them: right, % | {Share(single, t => t.Ours.Right):0.0} | {Share(single, t => t.Best.Right):0.0} |
            | log loss, nats | {LogLoss(single, t => t.Ours):0.000} | {LogLoss(single, t => t.Best):0.000} |
            | reliability error | {ReliabilityError([.. single.Select(t => t.Ours)]):0.000} | {ReliabilityError([.. single.Select(t => t.Best)]):0.000} |

            The log loss is the mean of −ln of the probability given to the class of the planted fault. The least that the diagnosis gave one is {(worst < 1e-12 ? "below 10⁻¹²" : worst.ToString("0.0e+0", c))}. Chance alone moves the rate of one fault by about
            {196 * Math.Sqrt(0.2 / histories):0.0} percent points (95 %, at 70 %), the rate of all by {196 * Math.Sqrt(0.2 / declared.Length):0.0}.

            **How exact the best is.** Its one approximation of a law is the rounding of the display as a variance; its one sum that is not over the drawn values is that over the age of a lot. In {exactness.Histories:N0} further histories rounding was summed by {MostDraws} drawn
            places within the display step and ages on twice as many values: the probabilities differ by {exactness.AgainstApproximation:0.0000} on average (half of the sum of the differences), and another class comes first in {exactness.OtherFirst}. {MostDraws / 2} draws against
            {MostDraws} differ by {exactness.AgainstHalf:0.0000}. Its own reliability error, which is zero but for chance in an exact one, stands in the table.

            **Time.** A whole diagnosis with reasons and tests takes {speed.Median:0} ms in the median and {speed.NearlyAll:0} ms in 99 of 100, on one core, with up to {speed.Readings} readings and earlier levels; {speed.Open:0} ms where more than five earlier checks have no entry of any carrier.

            ## By fault

            | planted | diagnosis, % | best, % | diagnosis among three, % | mean probability of its class: diagnosis | best |
            | --- | --- | --- | --- | --- | --- |

            """);
        foreach (var group in declared.GroupBy(t => t.Truth[0]))
            text.Append(c, $"| {Words(group.Key.ToString())} | {Share(group, t => t.Ours.Right):0.0} | {Share(group, t => t.Best.Right):0.0} | {Share(group, t => t.Ours.RightOfThree):0.0} | {group.Average(t => t.Ours.OfTruth):0.00} | {group.Average(t => t.Best.OfTruth):0.00} |\n");

        text.Append("""

            ## By what was at hand

            | | histories | diagnosis, % | best, % | share |
            | --- | --- | --- | --- | --- |

            """);
        foreach (var (name, which) in new (string, Func<FaultWorld.Scene, bool>)[]
        {
            ("one level", s => s.Known.Length == 1),
            ("two levels", s => s.Known.Length == 2),
            ("three levels", s => s.Known.Length == 3),
            ("no blank among several levels", s => s.Known.Length > 1 && s.Known[0] > 0),
            ("no earlier check", s => s.Before.Length == 0),
            ("one to three earlier checks", s => s.Before.Length is > 0 and < 4),
            ("four to twelve", s => s.Before.Length > 3),
            ("an entry of a lot missing", s => s.Before.Any(b => !b.LotRecorded)),
            ("usual scatter not known", s => !s.SdKnown),
        })
        {
            Trial[] some = [.. declared.Where(t => which(t.Scene))];
            if (some.Length > 0)
                text.Append(c, $"| {name} | {some.Length:N0} | {Share(some, t => t.Ours.Right):0.0} | {Share(some, t => t.Best.Right):0.0} | {Share(some, t => t.Ours.Right) / Share(some, t => t.Best.Right):0.000} |\n");
        }

        text.Append("""

            ## What was named instead

            Percent of histories of the planted fault in which the diagnosis names a class first. Gain and offset stand for all classes of that shape, so that a lot named where the stock was planted counts there; with one level the two are one.
            “Right” says how often the class itself is right.


            """);
        Confusion(text, single, t => t.Ours);
        text.Append("\nThe same for the best classifier.\n\n");
        Confusion(text, single, t => t.Best);

        text.Append(c, $"""

            ## How well the probabilities hold

            Probability of the class named first, in {Bins} bins of equal width, and how often it is right; chance and declared faults. The reliability error is the expected calibration error: the distance between the mean probability and the rate, weighed by the number
            of histories in the bin.

            | probability | histories | mean probability | right | best: histories | mean probability | right |
            | --- | --- | --- | --- | --- | --- | --- |

            """);
        for (var b = 0; b < Bins; b++)
        {
            var (mine, its) = (declared.Where(t => Bin(t.Ours.OfFirst) == b).Select(t => t.Ours).ToArray(), declared.Where(t => Bin(t.Best.OfFirst) == b).Select(t => t.Best).ToArray());
            if (mine.Length + its.Length > 0)
                text.Append(c, $"| {(double)b / Bins:0.0} to {(b + 1.0) / Bins:0.0} | {Cells(mine)} | {Cells(its)} |\n");
        }

        text.Append(c, $"""

            ## Faults that nobody declared

            {unlisted.Length:N0} histories with bottles interchanged, one flask wrong, readings of two kinds, or levels off to opposite sides. The best classifier knows these four, the diagnosis none.

            | | diagnosis, % | best, % |
            | --- | --- | --- |
            | “none of these” named first where such a fault was planted | {Share(unlisted, t => t.Ours.Family == nameof(Fault.Unlisted)):0.0} | {Share(unlisted, t => t.Best.Right):0.0} |
            | mean probability of “none of these” there | {100 * unlisted.Average(t => t.Ours.OfTruth):0.0} | {100 * unlisted.Average(t => t.Best.OfTruth):0.0} |
            | “none of these” named first where chance or a declared fault was planted | {Share(declared, t => t.Ours.Family == nameof(Fault.Unlisted)):0.0} | {Share(declared, t => t.Best.Family == nameof(Fault.Unlisted)):0.0} |

            ## Two faults at once

            {two.Length:N0} histories with two different declared faults, each pair in turn. Neither classifier knows of pairs.

            | | diagnosis, % | best for one fault, % |
            | --- | --- | --- |
            | the class named first holds one of the two | {Share(two, t => t.Ours.Right):0.0} | {Share(two, t => t.Best.Right):0.0} |
            | the first two hold both | {Share(two, t => t.Ours.BothOfTwo):0.0} | {Share(two, t => t.Best.BothOfTwo):0.0} |
            | one of the first three holds one of the two | {Share(two, t => t.Ours.RightOfThree):0.0} | {Share(two, t => t.Best.RightOfThree):0.0} |
            | “none of these” named first | {Share(two, t => t.Ours.Family == nameof(Fault.Unlisted)):0.0} | {Share(two, t => t.Best.Family == nameof(Fault.Unlisted)):0.0} |
            | probability above 90 % for a declared fault that is neither of the two | {Share(two, Misled(t => t.Ours)):0.0} | {Share(two, Misled(t => t.Best)):0.0} |

            """);
        return text.ToString();

        static Func<Trial, bool> Misled(Func<Trial, Answer> of) => t => of(t).OfFirst > 0.9 && !of(t).Right && of(t).Family != nameof(Fault.Unlisted);

        string Cells(Answer[] answers) => answers.Length == 0 ? "0 | – | –" : string.Create(c, $"{answers.Length:N0} | {answers.Average(a => a.OfFirst):0.000} | {answers.Average(a => a.Right ? 1.0 : 0):0.000}");
    }

    private static void Confusion(StringBuilder text, Trial[] trials, Func<Trial, Answer> of)
    {
        var columns = trials.Select(t => of(t).Family).Distinct().OrderBy(f => Enum.TryParse<Fault>(f, out var fault) ? (int)fault : -1).ThenBy(f => f, StringComparer.Ordinal).ToArray();
        text.Append(CultureInfo.InvariantCulture, $"| planted | right | {string.Join(" | ", columns.Select(Words))} |\n|{string.Concat(Enumerable.Repeat(" --- |", columns.Length + 2))}\n");
        foreach (var group in trials.GroupBy(t => t.Truth[0]))
        {
            var cells = columns.Select(f => 100.0 * group.Count(t => of(t).Family == f) / group.Count()).Select(p => p == 0 ? "" : p < 0.5 ? "·" : p.ToString("0", CultureInfo.InvariantCulture));
            text.Append(CultureInfo.InvariantCulture, $"| {Words(group.Key.ToString())} | {Share(group, t => of(t).Right):0} | {string.Join(" | ", cells)} |\n");
        }
        text.Append("\nA point stands for less than half a percent.\n");
    }

    /// <summary>“LotStrength” as “lot strength”.</summary>
    private static string Words(string name) => name == nameof(Fault.Unlisted) ? "none of these" : string.Concat(name.Select((ch, i) => char.IsUpper(ch) ? (i > 0 ? " " : "") + char.ToLowerInvariant(ch) : ch.ToString()));
}
