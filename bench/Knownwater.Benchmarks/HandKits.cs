using System.Diagnostics;
using System.Globalization;
using System.Text;
using Knownwater.Checks;
using Knownwater.Quantities;
using Knownwater.Uncertainty;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Knownwater.Benchmarks;

/// <summary>How often the intervals of checks by hand kits hold the truth, when the truth is known: colours of a card, and drops.</summary>
/// <remarks>
/// The simulated person and kit know nothing of the library: an eye that sees the colour a little paler or darker, drops that differ in size, a colour that turns a little early or late.
/// What such a person would type goes through the library's own scales, intervals and difference; a part of the checks goes through <see cref="LevelCheck.Judge"/> itself and must agree.
/// </remarks>
internal static class HandKits
{
    private const double Least = 94;
    private const double DropSd = 0.05, RelativeDoubt = 0.1;
    private static readonly ColourCard Card = new([0, 2, 5, 10, 25]);
    private static readonly DropCount Drops = new(0.5);
    private static readonly ReportingForm CardForm = ReportingForm.Parse("mg/L NO3"), DropForm = ReportingForm.Parse("dKH");

    private enum Way { NearestColour, ColourOrBetween, Drops }

    /// <summary>One combination: how it is read, readings a series, what eye or turn scatters in steps.</summary>
    private sealed record Cell(Way Way, int N, double Scatter);

    /// <summary>Rates in per cent.</summary>
    private sealed record Rates(double Level, double WorstPlace, double Difference);

    public static int Run(string[] args)
    {
        var trials = 4_000;
        var folder = "docs/reference";
        for (var i = 0; i + 1 < args.Length; i += 2)
        {
            if (args[i] == "--trials")
                trials = int.Parse(args[i + 1], CultureInfo.InvariantCulture);
            else if (args[i] == "--out")
                folder = args[i + 1];
        }

        var clock = Stopwatch.StartNew();
        Cell[] cells = [.. from way in Enum.GetValues<Way>() from n in (int[])[2, 3, 5, 8] from scatter in (double[])[0, 0.2, 0.5, 1] select new Cell(way, n, scatter)];
        var rates = new Rates[cells.Length];
        Parallel.For(0, cells.Length, i => rates[i] = Simulate(cells[i], trials, 701 + i));
        var (compared, disagreements) = CrossCheck();
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "hand-kits.md"), Report(cells, rates, trials, compared));
        var below = rates.Count(r => r.Level < Least || r.Difference < Least);
        Console.WriteLine(FormattableString.Invariant($"{cells.Length} cells of {trials} checks, {rates.Min(r => r.Level):0.0} to {rates.Max(r => r.Level):0.0} % hold, differences {rates.Min(r => r.Difference):0.0} to {rates.Max(r => r.Difference):0.0} %, {below} below {Least} %; {disagreements} of {compared} disagreed with the whole judgement, {clock.Elapsed.TotalSeconds:0} s"));
        return below == 0 && disagreements == 0 ? 0 : 1;
    }

    /// <summary>Where the true value may lie, away from the ends of the scale.</summary>
    private static (double From, double To) Range(Way way) => way == Way.Drops ? (2, 10) : (2, 20);

    /// <summary>The step about a true value: between its two colours, or a drop.</summary>
    private static double StepAt(Way way, double truth) => way == Way.Drops ? Drops.ValuePerDrop : Card.Neighbours(truth) is ({ } below, { } above) && below != above ? Card.Steps[above] - Card.Steps[below] : Card.Like(Card.IndexOf(truth)).Resolution;

    private static Rates Simulate(Cell cell, int trials, int seed)
    {
        var random = new Xoshiro256StarStar(seed);
        var normal = new Normal(0, 1, random);
        var (from, to) = Range(cell.Way);
        var holds = 0;
        var differs = 0;
        for (var trial = 0; trial < trials; trial++)
        {
            var truth = from + (to - from) * random.NextDouble();
            holds += Holds(truth) ? 1 : 0;
            differs += Differs(truth) ? 1 : 0;
        }
        const int Places = 32;
        var each = Math.Max(200, trials / Places);
        var worst = 100.0;
        for (var place = 0; place <= Places; place++)
        {
            var held = 0;
            for (var trial = 0; trial < each; trial++)
                held += Holds(from + (to - from) * place / Places) ? 1 : 0;
            worst = Math.Min(worst, 100.0 * held / each);
        }
        return new Rates(100.0 * holds / trials, worst, 100.0 * differs / trials);

        bool Holds(double truth)
        {
            var step = StepAt(cell.Way, truth);
            var bias = step * 0.4 * (random.NextDouble() - 0.5);
            var u = RelativeDoubt * step;
            var known = truth + u * normal.Sample();
            var readings = Series(cell, truth + bias, step, random, normal);
            var (mean, variance) = Moments(readings);
            return Math.Abs(mean - known - bias) <= new BiasInterval(cell.N - 1, 0.95, Resolution(cell.Way, readings, known), u).HalfWidth(variance, cell.N);
        }

        bool Differs(double truth)
        {
            var step = StepAt(cell.Way, truth);
            var shift = step * 0.8 * (random.NextDouble() - 0.5);
            var known = Estimate.From(truth, RelativeDoubt * step, "certificate");
            var judged = SameWaterCheck.Judge(Brief(cell, known, Series(cell, truth, step, random, normal)), Brief(cell, known, Series(cell, truth + shift, step, random, normal)));
            return judged is { Difference: { } difference, Expanded: { } half } && Math.Abs(difference.Value - shift) <= half;
        }
    }

    /// <summary>What a person types for each reading, as values of the scale.</summary>
    private static double[] Series(Cell cell, double value, double step, Xoshiro256StarStar random, Normal normal)
    {
        var readings = new double[cell.N];
        for (var i = 0; i < readings.Length; i++)
        {
            var seen = value + cell.Scatter * step * normal.Sample();
            readings[i] = cell.Way switch
            {
                Way.Drops => Counted(seen, normal),
                Way.NearestColour => Card.Steps.MinBy(s => Math.Abs(s - seen)),
                _ => LikeOrBetween(Math.Clamp(seen, Card.Steps[0], Card.Steps[^1])),
            };
        }
        return readings;
    }

    /// <summary>Like a colour within a quarter of the way to the next one, else between the two.</summary>
    private static double LikeOrBetween(double seen)
    {
        var (below, above) = Card.Neighbours(seen);
        if (below == above)
            return Card.Steps[below!.Value];
        var part = (seen - Card.Steps[below!.Value]) / (Card.Steps[above!.Value] - Card.Steps[below.Value]);
        return part < 0.25 ? Card.Like(below.Value).Value : part > 0.75 ? Card.Like(above.Value).Value : Card.Between(below.Value).Value;
    }

    /// <summary>Drops, each of its own size, until the colour turns.</summary>
    private static double Counted(double needed, Normal normal)
    {
        var given = 0.0;
        var drops = 0;
        do
        {
            given += Drops.ValuePerDrop * (1 + DropSd * normal.Sample());
            drops++;
        }
        while (given < needed);
        return Drops.Turned(drops).Value;
    }

    /// <summary>As the records take it: the widest among the steps where the readings fell and that of the known value.</summary>
    private static double Resolution(Way way, double[] readings, double known)
    {
        IReadingScale scale = way == Way.Drops ? Drops : Card;
        return readings.Select(scale.ResolutionAt).Append(scale.ResolutionAt(known)).Max();
    }

    private static (double Mean, double Variance) Moments(double[] readings)
    {
        var mean = readings.Average();
        return (mean, readings.Sum(r => (r - mean) * (r - mean)) / (readings.Length - 1));
    }

    private static LevelPlan Plan(Cell cell, Estimate known, double[] readings) => new()
    {
        Reference = known, Form = cell.Way == Way.Drops ? DropForm : CardForm, Tolerance = new Tolerance(StepAt(cell.Way, known.Value), 0), Resolution = Resolution(cell.Way, readings, known.Value), Levels = 2,
    };

    /// <summary>What the difference reads of a series' judgement; the rest takes a hundred times as long.</summary>
    private static JudgedLevel Brief(Cell cell, Estimate known, double[] readings)
    {
        var plan = Plan(cell, known, readings);
        var (mean, variance) = Moments(readings);
        var sd = Math.Sqrt(variance);
        return new JudgedLevel(plan, new LevelJudgement
        {
            Verdict = Verdict.CannotTell, Matters = false, N = readings.Length, Censored = 0, Mean = mean, Sd = sd, SdUsed = sd, SdDof = readings.Length - 1, SdOrigin = SdOrigin.Own,
            Bias = new Bias(mean - known.Value, null, null, null, null, null, plan.Coverage), RecoveryPercent = null, ProbabilityWithinTolerance = null, Scatter = Scatter.CannotTell,
            SmallestVisibleBias = null, Remedy = null, Outliers = [], WithoutOutlier = null, TrendP = null, TrendSign = 0, LargestIrreducibleSource = null, LargestIrreducibleU = 0, ReadingsAreTheLimit = true,
        });
    }

    /// <summary>The short judgements give the same intervals as those of the library.</summary>
    private static (int Compared, int Disagreements) CrossCheck()
    {
        var random = new Xoshiro256StarStar(41);
        var normal = new Normal(0, 1, random);
        var (compared, disagreements) = (0, 0);
        foreach (var way in Enum.GetValues<Way>())
        {
            for (var i = 0; i < 100; i++)
            {
                var cell = new Cell(way, 3 + i % 3, 0.5);
                var (from, to) = Range(way);
                var truth = from + (to - from) * random.NextDouble();
                var step = StepAt(way, truth);
                var known = Estimate.From(truth, RelativeDoubt * step, "certificate");
                double[][] readings = [Series(cell, truth, step, random, normal), Series(cell, truth, step, random, normal)];
                var whole = readings.Select(r => new JudgedLevel(Plan(cell, known, r), LevelCheck.Judge(Plan(cell, known, r) with { Levels = 1 }, [.. r.Select(v => new Indication(v))]))).ToArray();
                var (_, variance) = Moments(readings[0]);
                var half = new BiasInterval(cell.N - 1, 0.95, Resolution(way, readings[0], truth), RelativeDoubt * step).HalfWidth(variance, cell.N);
                var brief = SameWaterCheck.Judge(Brief(cell, known, readings[0]), Brief(cell, known, readings[1]));
                var full = SameWaterCheck.Judge(whole[0], whole[1]);
                compared++;
                if (Math.Abs(whole[0].Judgement.Bias.Expanded!.Value - half) > 1e-9 * half || Math.Abs(brief.Expanded!.Value - full.Expanded!.Value) > 1e-9 * half)
                    disagreements++;
            }
        }
        return (compared, disagreements);
    }

    private static string Report(Cell[] cells, Rates[] rates, int trials, int compared)
    {
        var c = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        text.Append(c, $"""
            # Hand kits: how often the interval holds the truth

            Written by `bench/Knownwater.Benchmarks hand-kits`; {trials:N0} simulated checks and as many changeovers a line, seeded. The true value of the water and the bias of the kit are drawn anew for every check, the water anywhere between {Range(Way.NearestColour).From} and {Range(Way.NearestColour).To} mg/L on a card with the colours {string.Join(", ", Card.Steps)}, or between {Range(Way.Drops).From} and {Range(Way.Drops).To} dKH with drops of {Drops.ValuePerDrop.ToString(c)} dKH; the known value errs with a tenth of a step as its standard doubt.
            “Eye” is how much one reading differs from the next, one standard deviation in parts of the step: how dark the colour is seen, or how early the turn. Single drops differ by {100 * DropSd:0} %.
            “Nearest colour” is a person who always names one colour of the card; “colour or between” says “like” within a quarter of the way to the next colour and “between” for the rest.

            The interval of a check is asked to hold the bias in 95 % of checks, and that of a changeover the step from bottle to bottle. Chance alone moves a rate by {196 * Math.Sqrt(0.95 * 0.05 / trials):0.00} (95 %). “Worst place” is the least rate among 33 fixed places of the true value: without scatter of the eye all readings of one water err alike, and only the width of the step speaks for them. {compared} checks went through the whole judgement too and gave the same intervals.
            The step counts in full, and the widest one where readings fell counts for all of them; so most lines hold more than 95 %. That is meant: a kit is coarse, and its interval does not pretend otherwise.

            | read by | readings | eye | holds | worst place | changeover holds |
            | --- | --- | --- | --- | --- | --- |

            """);
        foreach (var (cell, rate) in cells.Zip(rates))
            text.Append(c, $"| {Name(cell.Way)} | {cell.N} | {cell.Scatter} | {rate.Level:0.0} | {rate.WorstPlace:0.0} | {rate.Difference:0.0} |\n");
        text.Append(c, $"""

            What a single reading leaves open is told by closed forms and tested against them: a colour between two steps is rectangular over the step, u = width/√12 (JCGM 100:2008, 4.3.7); n drops mean n − ½ drops with u² = v²/12 + v²r²(n − ⅔), r the scatter of single drops.

            """);
        return text.ToString();
    }

    private static string Name(Way way) => way switch { Way.NearestColour => "nearest colour", Way.ColourOrBetween => "colour or between", _ => "drops" };
}
