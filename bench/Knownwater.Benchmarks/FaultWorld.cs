using Knownwater.Checks;
using MathNet.Numerics.Random;
using Draw = MathNet.Numerics.Distributions.Normal;

namespace Knownwater.Benchmarks;

/// <summary>
/// A world of checks with one fault each. Its sizes, shapes and nuisances are its own: nothing is taken from the diagnosis but the
/// declared faults and classes of docs/explanation/diagnosis-faults.md and the records in which the evidence is handed over.
/// A fault’s law is written once, as equally likely values, from which a history is drawn and over which the best classifier sums.
/// </summary>
internal sealed class FaultWorld
{
    private const double DarkTop = 1.9;

    /// <summary>What a bench measures: levels that its owner runs, scatter near zero and in percent, display step, ratios of slips, losses a day.</summary>
    private sealed record Bench(string Name, double[][] LevelChoices, double A, double B, double Step, bool Titrates, double[] Forms, double LossPerDay, double[] Hydrates);

    private static readonly Bench[] Benches =
    [
        new("nitrate", [[0, 4, 16], [3, 12], [0, 2, 8]], 0.11, 0.022, 0.05, false, [4.427], 1.2, []),
        new("phosphate", [[0, 0.05, 0.25], [0, 0.1, 0.4], [0.08, 0.3]], 0.0045, 0.02, 0.002, false, [3.066, 0.326], 6, [1.1502, 1.3003]),
        new("ammonia", [[0, 0.2, 1], [0.15, 0.6], [0, 0.3, 0.9]], 0.009, 0.025, 0.004, false, [1.288, 1.216], 7, []),
        new("alkalinity", [[0, 5, 9], [6, 10], [4, 8, 12]], 0.035, 0.006, 0.02, true, [2.804, 17.85], 0, []),
        new("calcium", [[0, 300, 450], [350, 480], [250, 400, 500]], 1.6, 0.004, 1, true, [2.497], 0, [1.3246]),
    ];

    private static readonly Fault[] Declared = [.. Enum.GetValues<Fault>().Where(f => f != Fault.Unlisted)];

    /// <summary>Chance and the declared faults; with <see cref="Fault.Unlisted"/> these are the kinds of history, all equally frequent.</summary>
    public static IReadOnlyList<Fault> Faults => Declared;

    public static IReadOnlyList<Fault> Kinds { get; } = [.. Declared, Fault.Unlisted];

    /// <summary>Everything about a check but its readings.</summary>
    internal sealed class Scene
    {
        public required double[] Known;
        public required int[] N;
        public required double[] Sd;
        public required double[] Tolerance;
        public required double Step, A, B, Stock, Preparation, Background, GainJitter, OffsetJitter;
        public required bool Titrates, ResidualKnown, FormerKnown, Weighed, Sea, LotAgeKnown, SdKnown;
        public required double Sample, Reagent, Residual, Former, Age, LossPerDay, LotAge;
        public required double[] Forms, Hydrates;
        public required Past[] Before;

        public int Readings => N.Sum();

        public int Data => Readings + Before.Sum(b => b.Levels.Length);

        /// <summary>Which earlier checks used today’s lot, were it opened so many days ago.</summary>
        public bool[] OnLot(double lotAge) => [.. Before.Select(b => b.Days <= lotAge)];

        /// <summary>Equally likely ages of the lot for one who has only the records: between the last check that used it and the first that did not.</summary>
        public double[] LotAges(int count)
        {
            if (LotAgeKnown)
                return [LotAge];
            var least = Before.Where(b => b.LotRecorded && b.Lot == 0).Select(b => b.Days).DefaultIfEmpty(LotFrom).Max();
            var most = Before.Where(b => b.LotRecorded && b.Lot != 0).Select(b => b.Days).DefaultIfEmpty(LotTo).Min();
            least = Math.Max(least, LotFrom);
            return Spaced(count, p => least + (most - least) * p);
        }
    }

    private const double LotFrom = 1, LotTo = 71;

    internal sealed record Past(double Days, int[] Levels, int[] N, int Lot, bool LotRecorded, int Stock, int Preparation, int Settings);

    /// <summary>A history as it is handed to a classifier, with the truth.</summary>
    internal sealed class History
    {
        public required Scene Scene;
        public required Fault[] Truth;
        public required double[] Readings;
        public required double[] Biases;
        public required bool? MatrixFits;
        public required bool LotPast, StockPast, WaterPast;
    }

    // ------------------------------------------------------------------ scenes

    public static Scene DrawScene(System.Random random)
    {
        var bench = Benches[random.Next(Benches.Length)];
        var known = bench.LevelChoices[random.Next(bench.LevelChoices.Length)];
        // one in eight has no time for more than one water, one in eight leaves the first out
        known = random.Next(8) switch { 0 => [known[^1]], 1 when known.Length > 2 => known[1..], _ => known };
        var untidy = 0.7 + 0.7 * random.NextDouble();
        double[] sd = [.. known.Select(c => untidy * (bench.A + bench.B * c))];
        var before = new List<Past>();
        int lot = 0, stock = 0, preparation = 0, settings = 0;
        var days = 0.0;
        var lotAge = LotFrom + (LotTo - LotFrom) * random.NextDouble();
        var bottle = random.NextDouble() < 0.3 ? 0 : Math.Round(1 + 29 * random.NextDouble());
        var count = random.NextDouble() < 0.25 ? 0 : 1 + (int)(12 * Math.Pow(random.NextDouble(), 1.8));
        for (var k = 0; k < count; k++)
        {
            var gap = 5 + 20 * random.NextDouble();
            days += gap;
            // the bottle of today is as old as it is; the one before lasted one to three checks
            if (preparation == 0 ? days > bottle : random.NextDouble() < 0.6)
                preparation++;
            if (lot == 0 ? days > lotAge : random.NextDouble() < 0.25)
                lot++;
            if (random.NextDouble() < 0.15)
            {
                stock++;
                if (before.Count == 0 || before[^1].Preparation == preparation)
                    preparation++;
            }
            if (random.NextDouble() < 0.15)
                settings++;
            int[] levels = [.. Enumerable.Range(0, known.Length).Where(_ => random.NextDouble() < 0.85)];
            if (levels.Length == 0)
                levels = [known.Length - 1];
            before.Add(new Past(days, levels, [.. levels.Select(_ => 2 + random.Next(3))], lot, random.NextDouble() < 0.92, stock, preparation, settings));
        }
        var carelessness = 2.5 + 2.5 * random.NextDouble();
        return new Scene
        {
            Known = known,
            N = [.. known.Select(_ => 2 + random.Next(4))],
            Sd = sd,
            Tolerance = [.. sd.Select(s => carelessness * s)],
            Step = bench.Step,
            A = untidy * bench.A,
            B = untidy * bench.B,
            Stock = 0.003 + 0.007 * random.NextDouble(),
            Preparation = 0.003 + 0.007 * random.NextDouble(),
            Background = untidy * bench.A * 0.4 * random.NextDouble(),
            GainJitter = 0.3 * untidy * bench.B,
            OffsetJitter = 0.3 * untidy * bench.A,
            Titrates = bench.Titrates,
            ResidualKnown = random.NextDouble() < 0.8,
            FormerKnown = random.NextDouble() < 0.7,
            Weighed = random.NextDouble() < 0.6,
            Sea = random.NextDouble() < 0.7,
            LotAgeKnown = random.NextDouble() < 0.8,
            SdKnown = random.NextDouble() < 0.9,
            Sample = 5,
            Reagent = bench.Titrates ? 1 : 2 + 3 * random.NextDouble(),
            Residual = 0.25 + 0.5 * random.NextDouble(),
            Former = known[^1] * FormerShares[random.Next(FormerShares.Length)],
            Age = bottle,
            LossPerDay = bench.LossPerDay,
            LotAge = lotAge,
            Forms = bench.Forms,
            Hydrates = bench.Hydrates,
            Before = [.. before],
        };
    }

    private static readonly double[] FormerShares = [0.15, 0.4, 0.7, 1, 1.3, 1.8];

    /// <summary>Whether a fault can be at all.</summary>
    public static bool CanBe(Fault fault, Scene s) => fault switch
    {
        Fault.WrongHydrate => s.Weighed && s.Hydrates.Length > 0,
        Fault.MassForVolume => s.Sea,
        Fault.Evaporated => s.Age > 0,
        Fault.Losses => s.Age > 0 && s.LossPerDay > 0,
        Fault.CarryOver => !s.FormerKnown || s.Known.Length > 1 || Math.Abs(s.Former - s.Known[0]) > 1e-9,
        Fault.Unlisted => s.Known.Length > 1,
        _ => true,
    };

    // ------------------------------------------------------------------ laws of the faults

    /// <summary>
    /// One way in which a fault can be, with its chance within the fault: what it adds to today’s readings and then to the earlier biases is a direction times one of equally likely sizes, and a second direction of the
    /// same kind where there is one. A slip multiplies all readings of the occasions marked; typed slips came in when the number was written down, so that the scatter goes with them, others made the water that much stronger.
    /// </summary>
    internal sealed record Way(double Weight, double[] Direction, double[] Sizes, double[]? Second = null, double[]? SecondSizes = null, double Multiple = 1, bool Typed = false, bool[]? Marked = null);

    private static double[] Spaced(int n, Func<double, double> quantile) => [.. Enumerable.Range(0, n).Select(i => quantile((i + 0.5) / n))];

    private static double[] EitherSide(int n, double low, double high, double up) => [.. Spaced(n, p => p < up ? low + (high - low) * p / up : -(low + (high - low) * (p - up) / (1 - up)))];

    public static List<Way> Ways(Fault fault, Scene s) => Ways(fault, s, s.LotAge, s.OnLot(s.LotAge));

    /// <summary>The ways as far as the records tell: where the age of the lot or an entry of a lot is missing, over what they may have been.</summary>
    public static List<Way> WaysByRecords(Fault fault, Scene s, int finer = 1)
    {
        if (s.LotAgeKnown || s.Before.Length == 0 || fault is not (Fault.LotStrength or Fault.ReagentBlank or Fault.ReagentWeakened))
            return Ways(fault, s);
        // which checks used the lot takes many ages to see, but few answers come of it
        var lotAges = s.LotAges(finer * (fault == Fault.ReagentWeakened ? 8 : 64));
        return [.. lotAges.Select(a => (Age: a, Lots: s.OnLot(a))).GroupBy(a => fault == Fault.ReagentWeakened ? $"{a.Age}" : string.Join(' ', a.Lots))
            .SelectMany(g => Ways(fault, s, g.First().Age, g.First().Lots).Select(w => w with { Weight = w.Weight * g.Count() / lotAges.Length }))];
    }

    private static List<Way> Ways(Fault fault, Scene s, double lotAge, bool[] lot)
    {
        var ways = new List<Way>();
        var top = s.Known[^1];
        bool[] none = new bool[s.Before.Length];
        bool[] stock = [.. s.Before.Select(b => b.Stock == 0)];
        bool[] bottle = [.. s.Before.Select(b => b.Preparation == 0)], settings = [.. s.Before.Select(b => b.Settings == 0)];
        double[] OfLevels(Func<double, double> f, Func<int, double> share) =>
        [
            .. Enumerable.Range(0, s.Known.Length).SelectMany(l => Enumerable.Repeat(f(s.Known[l]), s.N[l])),
            .. s.Before.SelectMany((b, k) => b.Levels.Select(l => share(k) * f(s.Known[l]))),
        ];
        double[] With(Func<double, double> f, bool[] past) => OfLevels(f, k => past[k] ? 1 : 0);
        var since = settings.TakeWhile(x => x).Count();

        switch (fault)
        {
            case Fault.Chance:
            case Fault.WorseScatter:
                ways.Add(new Way(1, With(_ => 0, none), [0]));
                break;
            case Fault.WrongForm:
                AddSlips([.. s.Forms.SelectMany(r => new[] { r, 1 / r })], 0.5, 0.3, 0.2);
                break;
            case Fault.WrongThousand:
                AddSlips([1000, 0.001], 0.6, 0.25, 0.15);
                break;
            case Fault.MassForVolume:
                AddSlips([1.0245, 1 / 1.0245], 0.6, 0.4, 0);
                break;
            case Fault.WrongHydrate:
                AddSlips([.. s.Hydrates.SelectMany(r => new[] { r, 1 / r })], 0, 0, 1);
                break;
            case Fault.StockOff:
                ways.Add(new Way(1, With(c => c, stock), EitherSide(240, 0.04, 0.25, 0.4)));
                break;
            case Fault.LotStrength:
                // mostly weaker, 5 % and an exponential tail
                ways.Add(new Way(0.75, With(c => c, lot), Spaced(240, p => -Math.Min(0.6, 0.05 - 0.09 * Math.Log(1 - p)))));
                ways.Add(new Way(0.25, With(c => c, lot), Spaced(120, p => 0.04 + 0.16 * p)));
                break;
            case Fault.ReagentWeakened:
                foreach (var power in (double[])[0.7, 1, 1.4, 1.8])
                    ways.Add(new Way(0.25, OfLevels(c => c, k => lot[k] ? Math.Pow(Math.Max(0, lotAge - s.Before[k].Days) / lotAge, power) : 0), Spaced(240, p => -(0.06 + 0.39 * p))));
                break;
            case Fault.DeliveryOff:
                ways.Add(new Way(0.75, With(c => c, bottle), EitherSide(240, 0.03, 0.2, 0.5)));
                ways.Add(new Way(0.25, With(c => c, bottle), [-0.5, -0.2, -0.1, 0.1, 0.25, 1]));
                break;
            case Fault.SampleVolume:
                ways.Add(new Way(1, With(c => c, none), [.. EitherSide(240, 0.08, 0.45, 0.45).Select(x => s.Titrates ? x : (1 + x) * (s.Sample + s.Reagent) / (s.Sample * (1 + x) + s.Reagent) - 1)]));
                break;
            case Fault.SettingChanged:
                ways.Add(new Way(1, With(c => c, settings), [.. Spaced(240, p => Math.Exp(0.17 * Draw.InvCDF(0, 1, p)) - 1).Select(x => x + 0.03 * Math.Sign(x))]));
                break;
            case Fault.ReagentBlank:
                ways.Add(new Way(0.8, With(_ => s.A, lot), Spaced(160, p => 4 + 18 * p)));
                ways.Add(new Way(0.2, With(_ => s.A, lot), Spaced(80, p => -4 - 8 * p)));
                break;
            case Fault.DirtyWindow:
                for (var k = 0; k <= since; k++)
                    ways.Add(new Way(1.0 / (since + 1), OfLevels(_ => s.A, j => j < k ? 1 : 0), Spaced(160, p => 3 + 20 * p * p)));
                break;
            case Fault.MatrixContaminated:
                ways.Add(new Way(1, With(_ => s.A, bottle), Spaced(240, p => 3 - 7 * Math.Log(1 - p))));
                break;
            case Fault.PureWaterRinse:
                ways.Add(new Way(1, With(c => c, none), [.. Residues(s).Select(r => -r / (s.Sample + r))]));
                break;
            case Fault.CarryOver:
                foreach (var rinsed in (bool[])[false, true])
                {
                    var formers = s.FormerKnown ? [s.Former] : FormerShares.Select(f => f * top).ToArray();
                    foreach (var former in formers)
                    {
                        foreach (var r in Residues(s).Where((_, i) => i % 2 == 0))
                            ways.Add(new Way((rinsed ? 0.2 : 0.8) / formers.Length / 10, Carried(s, former, r / (s.Sample + r), rinsed), [1]));
                    }
                }
                break;
            case Fault.WrongMethod:
                ways.Add(new Way(1, With(c => c, none), EitherSide(60, 0.07, 0.3, 0.35), With(_ => s.A, none), EitherSide(60, 2, 14, 0.6)));
                break;
            case Fault.Evaporated:
                ways.Add(new Way(1, OfLevels(c => c, k => bottle[k] ? Math.Max(0, s.Age - s.Before[k].Days) / s.Age : 0), Spaced(240, p => 1 / (1 - 0.03 - 0.17 * p) - 1)));
                break;
            case Fault.Losses:
                // a share that the wall takes, smaller where more is there
                var least = s.Known.First(c => c > 0);
                foreach (var half in (double[])[0.3, 1, 3])
                    ways.Add(new Way(1.0 / 3, OfLevels(c => -c * (least * half + least) / (least * half + c), k => bottle[k] ? Math.Max(0, s.Age - s.Before[k].Days) / s.Age : 0), Spaced(160, p => 0.12 + 0.5 * p)));
                break;
            case Fault.Saturation:
                foreach (var absorbance in (double[])[1.1, 1.5, DarkTop])
                {
                    foreach (var stray in (double[])[0.01, 0.02, 0.035, 0.055, 0.08])
                    {
                        for (var k = 0; k <= since; k++)
                            ways.Add(new Way(1.0 / 15 / (since + 1), OfLevels(c => Seen(c / top * absorbance, stray) / absorbance * top - c, j => j < k ? 1 : 0), [1]));
                    }
                }
                break;
            case Fault.DriftWithin:
                foreach (var settling in (double[])[0.12, 0.2, 0.35, 0.6])
                    ways.Add(new Way(0.175, Course(t => Math.Exp(-t / settling)), EitherSide(160, 0.07, 0.35, 0.4)));
                ways.Add(new Way(0.3, Course(t => t * Math.Sqrt(t)), EitherSide(160, 0.07, 0.35, 0.5)));
                break;
            case Fault.OneOddReading:
                var at = 0;
                for (var l = 0; l < s.Known.Length; l++)
                {
                    for (var i = 0; i < s.N[l]; i++)
                    {
                        var direction = new double[s.Data];
                        direction[at++] = s.Sd[l];
                        ways.Add(new Way(1.0 / s.Readings, direction, EitherSide(160, 6, 32, 0.75)));
                    }
                }
                break;
            case Fault.Unlisted:
                // nobody declared these: bottles interchanged, one flask wrong, readings of two kinds, levels off to opposite sides
                ways.Add(new Way(0.25, OfToday((l, _) => s.Known[^(l + 1)] - s.Known[l]), [1]));
                ways.Add(new Way(0.25, OfToday((l, _) => l == s.Known.Length / 2 ? s.Sd[l] : 0), EitherSide(120, 8, 28, 0.5)));
                ways.Add(new Way(0.25, OfToday((l, i) => (i & 1) == 0 ? s.Sd[l] : 0), EitherSide(120, 8, 28, 0.5)));
                ways.Add(new Way(0.25, OfToday((l, _) => l % 2 == 0 ? s.Sd[l] : -s.Sd[l]), EitherSide(120, 8, 28, 0.5)));
                break;
            default:
                throw new InvalidOperationException($"{fault} has no law.");
        }
        return ways;

        void AddSlips(double[] ratios, double typed, double onBottle, double onStock)
        {
            foreach (var ratio in ratios)
            {
                foreach (var (chance, isTyped, marked) in new[] { (typed, true, none), (onBottle, false, bottle), (onStock, false, stock) })
                {
                    if (chance > 0)
                        ways.Add(new Way(chance / ratios.Length, With(_ => 0, none), [0], Multiple: ratio, Typed: isTyped, Marked: marked));
                }
            }
        }

        double[] OfToday(Func<int, int, double> f)
        {
            var direction = new double[s.Data];
            var i = 0;
            for (var l = 0; l < s.Known.Length; l++)
            {
                for (var k = 0; k < s.N[l]; k++, i++)
                    direction[i] = f(l, i);
            }
            return direction;
        }

        double[] Course(Func<double, double> course)
        {
            var direction = new double[s.Data];
            var i = 0;
            for (var l = 0; l < s.Known.Length; l++)
            {
                for (var k = 0; k < s.N[l]; k++, i++)
                    direction[i] = s.Known[l] * course(i / (s.Readings - 1.0));
            }
            return direction;
        }
    }

    /// <summary>What really stays in the chamber: the figure of the procedure, more or less.</summary>
    private static double[] Residues(Scene s) => Spaced(20, p => s.Residual * (0.75 + 0.6 * p));

    private static double[] Carried(Scene s, double former, double share, bool rinsed)
    {
        var direction = new double[s.Data];
        var chamber = former;
        var i = 0;
        for (var l = 0; l < s.Known.Length; l++)
        {
            for (var k = 0; k < s.N[l]; k++, i++)
            {
                // one rinse with the level’s own water, where there was one
                if (rinsed)
                    chamber = s.Known[l] + share * (chamber - s.Known[l]);
                chamber = s.Known[l] + share * (chamber - s.Known[l]);
                direction[i] = chamber - s.Known[l];
            }
        }
        return direction;
    }

    private static double Seen(double absorbance, double stray) => -Math.Log10((Math.Pow(10, -absorbance) + stray) / (1 + stray)) * Small(stray);

    // the instrument was set where the curve is still straight, so that weak waters read right: slope at zero is (1 + s) · seen
    private static double Small(double stray) => 1 + stray;

    private static readonly double[] ScatterWorse = Spaced(12, p => 2.2 + 3.8 * p);
    // one day in ten is unquiet throughout
    private static readonly double[] ScatterUsual = [.. Spaced(9, p => Math.Exp(0.18 * Draw.InvCDF(0, 1, p))), 1.75];

    public static double[] Scatter(Fault fault) => fault == Fault.WorseScatter ? ScatterWorse : ScatterUsual;

    /// <summary>How probable the records’ remarks are.</summary>
    public static double Remarks(History h, Fault[] truth)
    {
        double Yes(bool raised, double if1, double if0, bool said) => said ? raised ? if1 : if0 : 1 - (raised ? if1 : if0);
        var matrix = h.MatrixFits switch { null => 0.4, false => truth.Contains(Fault.WrongMethod) ? 0.35 : 0.03, true => truth.Contains(Fault.WrongMethod) ? 0.25 : 0.57 };
        return matrix
            * Yes(truth.Contains(Fault.LotStrength) || truth.Contains(Fault.ReagentWeakened), 0.25, 0.06, h.LotPast)
            * Yes(truth.Contains(Fault.StockOff), 0.2, 0.05, h.StockPast)
            * Yes(truth.Contains(Fault.Evaporated) || truth.Contains(Fault.Losses), 0.35, 0.1, h.WaterPast);
    }

    // ------------------------------------------------------------------ histories

    public static History Make(Fault[] truth, int seed)
    {
        var random = new Xoshiro256StarStar(seed);
        Scene scene;
        do
            scene = DrawScene(random);
        while (!truth.All(f => CanBe(f, scene)));
        var n = scene.Readings;
        var effect = new double[n + scene.Before.Sum(b => b.Levels.Length)];
        Way? multiple = null;
        var scatter = ScatterUsual[random.Next(ScatterUsual.Length)];
        foreach (var fault in truth)
        {
            var ways = Ways(fault, scene);
            var pick = random.NextDouble() * ways.Sum(w => w.Weight);
            var way = ways[^1];
            foreach (var candidate in ways)
            {
                pick -= candidate.Weight;
                if (pick <= 0)
                {
                    way = candidate;
                    break;
                }
            }
            var size = way.Sizes[random.Next(way.Sizes.Length)];
            var second = way.SecondSizes is { } sizes ? sizes[random.Next(sizes.Length)] : 0;
            for (var i = 0; i < effect.Length; i++)
                effect[i] += size * way.Direction[i] + (way.Second is { } d ? second * d[i] : 0);
            if (way.Multiple != 1)
                multiple = way;
            if (fault == Fault.WorseScatter)
                scatter = ScatterWorse[random.Next(ScatterWorse.Length)];
        }

        double Noise() => Draw.Sample(random, 0, 1);
        // errors of the waters and of the day, shared as the records say
        var stocks = Enumerable.Range(0, 2 * scene.Before.Length + 1).Select(_ => Noise()).ToArray();
        var bottles = Enumerable.Range(0, 2 * scene.Before.Length + 1).Select(_ => scene.Known.Select(_ => Noise()).ToArray()).ToArray();
        var backgrounds = Enumerable.Range(0, 2 * scene.Before.Length + 1).Select(_ => Noise()).ToArray();
        double Water(int l, int stock, int bottle) => scene.Known[l] * (scene.Stock * stocks[stock] + scene.Preparation * bottles[bottle][l]) + scene.Background * backgrounds[bottle];
        var readings = new double[n];
        var biases = new double[effect.Length - n];
        var (dayGain, dayOffset) = (scene.GainJitter * Noise(), scene.OffsetJitter * Noise());
        var at = 0;
        var factor = multiple?.Multiple ?? 1;
        var typed = multiple is { Typed: true };
        for (var l = 0; l < scene.Known.Length; l++)
        {
            var c = scene.Known[l];
            var day = dayGain * c + dayOffset;
            for (var i = 0; i < scene.N[l]; i++, at++)
            {
                var sd = scatter * SdAt(scene, typed ? c : factor * c);
                var clean = typed ? factor * (c + Water(l, 0, 0) + day + sd * Noise()) : factor * (c + Water(l, 0, 0)) + day + sd * Noise();
                readings[at] = clean + effect[at];
            }
        }
        for (var i = 0; i < n; i++)
            readings[i] = scene.Step * Math.Round(readings[i] / scene.Step);
        at = 0;
        for (var k = 0; k < scene.Before.Length; k++)
        {
            var past = scene.Before[k];
            var had = multiple?.Marked is { } marked && marked[k] ? multiple.Multiple : 1;
            var (gain, offset) = (scene.GainJitter * Noise(), scene.OffsetJitter * Noise());
            for (var j = 0; j < past.Levels.Length; j++, at++)
            {
                var c = scene.Known[past.Levels[j]];
                biases[at] = had * (c + Water(past.Levels[j], past.Stock, past.Preparation)) - c + gain * c + offset + SdAt(scene, had * c) / Math.Sqrt(past.N[j]) * Noise() + effect[n + at];
            }
        }
        bool Said(double p) => random.NextDouble() < p;
        var fits = random.NextDouble();
        return new History
        {
            Scene = scene,
            Truth = truth,
            Readings = readings,
            Biases = biases,
            MatrixFits = fits < 0.4 ? null : fits < (truth.Contains(Fault.WrongMethod) ? 0.75 : 0.43) ? false : true,
            LotPast = Said(truth.Contains(Fault.LotStrength) || truth.Contains(Fault.ReagentWeakened) ? 0.25 : 0.06),
            StockPast = Said(truth.Contains(Fault.StockOff) ? 0.2 : 0.05),
            WaterPast = Said(truth.Contains(Fault.Evaporated) || truth.Contains(Fault.Losses) ? 0.35 : 0.1),
        };
    }

    public static double SdAt(Scene s, double c) => s.A + s.B * c;

    /// <summary>The history as the library takes it.</summary>
    public static CheckEvidence Evidence(History h)
    {
        var s = h.Scene;
        var levels = new List<LevelEvidence>();
        var at = 0;
        for (var l = 0; l < s.Known.Length; l++)
        {
            levels.Add(new LevelEvidence
            {
                Known = s.Known[l],
                Readings = [.. h.Readings.Skip(at).Take(s.N[l]).Select(v => new Indication(v))],
                Tolerance = s.Tolerance[l],
                UsualSd = s.SdKnown ? s.Sd[l] : null,
                UsualSdDof = 15,
                Resolution = s.Step,
                StockU = s.Stock * s.Known[l],
                PreparationU = s.Preparation * s.Known[l],
                BackgroundU = s.Background,
                AgeDays = s.Age,
                MostLossPercentPerDay = s.LossPerDay,
            });
            at += s.N[l];
        }
        var earlier = new List<EarlierCheck>();
        at = 0;
        foreach (var past in s.Before)
        {
            earlier.Add(new EarlierCheck
            {
                DaysBefore = past.Days,
                Levels = [.. past.Levels.Select((l, j) => new EarlierLevel(s.Known[l], h.Biases[at + j], s.Sd[l] / Math.Sqrt(past.N[j])))],
                Carriers = new CheckCarriers { Lot = past.LotRecorded ? $"lot {past.Lot}" : null, Stock = $"stock {past.Stock}", Preparation = $"bottle {past.Preparation}", Settings = $"state {past.Settings}" },
            });
            at += past.Levels.Length;
        }
        var slips = new List<Slip>();
        foreach (var r in s.Forms)
            slips.AddRange([new Slip(Fault.WrongForm, r, "a form", "another"), new Slip(Fault.WrongForm, 1 / r, "another", "a form")]);
        slips.AddRange([new Slip(Fault.WrongThousand, 1000, "mg", "µg"), new Slip(Fault.WrongThousand, 0.001, "µg", "mg")]);
        if (s.Sea)
            slips.AddRange([new Slip(Fault.MassForVolume, 1.0245, "per litre", "per kilogram"), new Slip(Fault.MassForVolume, 1 / 1.0245, "per kilogram", "per litre")]);
        if (s.Weighed)
        {
            foreach (var r in s.Hydrates)
                slips.AddRange([new Slip(Fault.WrongHydrate, r, "one hydrate", "another"), new Slip(Fault.WrongHydrate, 1 / r, "another", "one hydrate")]);
        }
        return new CheckEvidence
        {
            Levels = levels,
            Method = new MethodEvidence { IsTitration = s.Titrates, SampleMillilitres = s.Sample, ReagentMillilitres = s.Reagent, ResidualMillilitres = s.ResidualKnown ? s.Residual : null, MatrixFits = h.MatrixFits },
            Carriers = new CheckCarriers { Lot = "lot 0", Stock = "stock 0", Preparation = "bottle 0", Settings = "state 0" },
            LotAgeDays = s.LotAgeKnown ? s.LotAge : null,
            FormerValue = s.FormerKnown ? s.Former : null,
            Slips = slips,
            Earlier = earlier,
            LotIsPastUse = h.LotPast,
            StockIsPastUse = h.StockPast,
            WaterIsPastUse = h.WaterPast,
        };
    }

    // ------------------------------------------------------------------ declared classes

    /// <summary>
    /// The class of every fault in a scene by the declared rule: the shapes of all that it can add to today’s readings and to the earlier biases, whatever the size; faults with the same shapes share a class. Slips, the
    /// rinse with pure water where its residue is known, scatter, chance and faults in no list are classes of their own.
    /// </summary>
    public static Dictionary<Fault, string> Classes(Scene s) => Kinds.Where(f => CanBe(f, s) || f == Fault.Unlisted).ToDictionary(f => f, f => f switch
    {
        Fault.Chance or Fault.WorseScatter or Fault.Unlisted or Fault.WrongForm or Fault.WrongThousand or Fault.WrongHydrate or Fault.MassForVolume => f.ToString(),
        Fault.PureWaterRinse when s.ResidualKnown => f.ToString(),
        _ => string.Join('|', WaysByRecords(f, s).SelectMany(w => w.Second is { } second ? [w.Direction, second] : new[] { w.Direction }).Select(Shape).Where(t => t.Length > 0).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)),
    });

    private static string Shape(double[] direction)
    {
        var size = Math.Sqrt(direction.Sum(d => d * d));
        if (size == 0)
            return "";
        var first = direction.First(d => Math.Abs(d) > 1e-9 * size);
        return string.Join(' ', direction.Select(d => Math.Round(d / size * Math.Sign(first), 5) + 0.0).Select(d => d.ToString("0.#####", System.Globalization.CultureInfo.InvariantCulture)));
    }

    /// <summary>Family of a class for the confusion table, by the faults in it.</summary>
    public static string Family(Fault[] faults)
    {
        bool gain = faults.Any(f => f is Fault.StockOff or Fault.LotStrength or Fault.DeliveryOff or Fault.SettingChanged or Fault.SampleVolume), offset = faults.Any(f => f is Fault.ReagentBlank or Fault.MatrixContaminated or Fault.DirtyWindow);
        return gain && offset ? "gain or offset" : gain ? "gain" : offset ? "offset" : faults[0].ToString();
    }
}
