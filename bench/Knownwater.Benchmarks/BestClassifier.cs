using Knownwater.Checks;

namespace Knownwater.Benchmarks;

/// <summary>
/// The classifier that nobody can beat in <see cref="FaultWorld"/>: Bayes’ theorem with the world’s own laws. Given the size of a fault and the scatter all data are normal; sizes and scatters are summed over the
/// same equally likely values that histories are drawn from. Two things are approximated: the rounding of the display, as a variance of a twelfth of its step squared, and the age of a lot that nobody noted, on eight values where it counts and on 64 where only the checks that used it do.
/// </summary>
internal static class BestClassifier
{
    private static readonly Lazy<Dictionary<Fault, double>> Possible = new(() =>
    {
        var random = new MathNet.Numerics.Random.Xoshiro256StarStar(424_242);
        var scenes = Enumerable.Range(0, 40_000).Select(_ => FaultWorld.DrawScene(random)).ToList();
        return FaultWorld.Kinds.ToDictionary(f => f, f => scenes.Count(s => FaultWorld.CanBe(f, s)) / (double)scenes.Count);
    });

    /// <summary>Probability of each kind, all equally frequent beforehand, with rounding taken as a variance.</summary>
    public static Dictionary<Fault, double> Posterior(FaultWorld.History h) => Posterior(h, null);

    /// <summary>The same, with rounding summed over drawn places of every reading within its display step.</summary>
    /// <param name="h">The history.</param>
    /// <param name="draws">Places from −½ to ½ of the step, one list of all readings a draw; null for a variance instead.</param>
    public static Dictionary<Fault, double> Posterior(FaultWorld.History h, double[][]? draws)
    {
        var s = h.Scene;
        var faults = FaultWorld.Kinds.Where(f => FaultWorld.CanBe(f, s)).ToArray();
        var logs = faults.ToDictionary(f => f, _ => new List<double>());
        double[] seen = [.. Deviations(h), .. h.Biases];
        double[][] data = draws is null ? [seen] : [.. draws.Select(d => seen.Select((y, i) => i < d.Length ? y + d[i] * s.Step : y).ToArray())];
        var step = draws is null ? s.Step : 0;
        var each = -Math.Log(data.Length);

        var ways = faults.ToDictionary(f => f, f => FaultWorld.WaysByRecords(f, s, draws is null ? 1 : 2));
        foreach (var group in faults.GroupBy(f => f == Fault.WorseScatter))
        {
            var scatters = FaultWorld.Scatter(group.Key ? Fault.WorseScatter : Fault.Chance);
            foreach (var scatter in scatters)
            {
                var plain = new Inverse(Spread(s, scatter, null, step));
                var noises = Array.ConvertAll(data, y => new Normal(plain, y));
                foreach (var fault in group)
                {
                    foreach (var way in ways[fault])
                    {
                        var prior = Math.Log(way.Weight / scatters.Length) + each;
                        if (way.Multiple != 1)
                        {
                            var (mean, spread) = Multiplied(s, scatter, way, step);
                            var inverse = new Inverse(spread);
                            logs[fault].AddRange(data.Select(d => prior + new Normal(inverse, [.. d.Zip(mean, (a, b) => a - b)]).Log));
                            continue;
                        }
                        var push = new Push(plain, way);
                        logs[fault].AddRange(noises.Select(noise => prior + noise.Log + noise.Averaged(push)));
                    }
                }
            }
        }
        var weights = faults.Select(f => (Fault: f, Log: LogSum(logs[f]) + Math.Log(FaultWorld.Remarks(h, [f]) / Possible.Value[f]))).ToArray();
        var total = LogSum([.. weights.Select(w => w.Log)]);
        return weights.ToDictionary(w => w.Fault, w => Math.Exp(w.Log - total));
    }

    private static IEnumerable<double> Deviations(FaultWorld.History h)
    {
        var at = 0;
        for (var l = 0; l < h.Scene.Known.Length; l++)
        {
            for (var i = 0; i < h.Scene.N[l]; i++)
                yield return h.Readings[at++] - h.Scene.Known[l];
        }
    }

    private static double LogSum(List<double> logs)
    {
        var most = logs.Max();
        return double.IsNegativeInfinity(most) ? most : most + Math.Log(logs.Sum(l => Math.Exp(l - most)));
    }

    private static (double[] Mean, double[,] Spread) Multiplied(FaultWorld.Scene s, double scatter, FaultWorld.Way way, double step)
    {
        var mean = new List<double>();
        for (var l = 0; l < s.Known.Length; l++)
            mean.AddRange(Enumerable.Repeat((way.Multiple - 1) * s.Known[l], s.N[l]));
        for (var k = 0; k < s.Before.Length; k++)
            mean.AddRange(s.Before[k].Levels.Select(l => way.Marked![k] ? (way.Multiple - 1) * s.Known[l] : 0));
        return ([.. mean], Spread(s, scatter, way, step));
    }

    /// <summary>Covariance of all data: for each error, what one unit of it does to each datum, times itself.</summary>
    private static double[,] Spread(FaultWorld.Scene s, double scatter, FaultWorld.Way? slip, double step)
    {
        var data = new List<(int Occasion, int Level, int Stock, int Bottle, double Noise, double Water, double Day)>();
        for (var l = 0; l < s.Known.Length; l++)
        {
            var (factor, typed) = (slip?.Multiple ?? 1, slip is { Typed: true });
            var sd = scatter * (typed ? factor * FaultWorld.SdAt(s, s.Known[l]) : FaultWorld.SdAt(s, factor * s.Known[l]));
            for (var i = 0; i < s.N[l]; i++)
                data.Add((-1, l, 0, 0, sd * sd + step * step / 12, factor, typed ? factor : 1));
        }
        for (var k = 0; k < s.Before.Length; k++)
        {
            var past = s.Before[k];
            var factor = slip?.Marked is { } marked && marked[k] ? slip.Multiple : 1;
            for (var j = 0; j < past.Levels.Length; j++)
            {
                var sd = FaultWorld.SdAt(s, factor * s.Known[past.Levels[j]]);
                data.Add((k, past.Levels[j], past.Stock, past.Preparation, sd * sd / past.N[j], factor, 1));
            }
        }
        var n = data.Count;
        var v = new double[n, n];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var (a, b) = (data[i], data[j]);
                var (ca, cb) = (s.Known[a.Level], s.Known[b.Level]);
                double sum = i == j ? a.Noise : 0;
                if (a.Occasion == b.Occasion)
                    sum += a.Day * b.Day * (s.GainJitter * s.GainJitter * ca * cb + s.OffsetJitter * s.OffsetJitter);
                var water = 0.0;
                if (a.Stock == b.Stock)
                    water += s.Stock * s.Stock * ca * cb;
                if (a.Bottle == b.Bottle)
                    water += s.Background * s.Background + (a.Level == b.Level ? s.Preparation * s.Preparation * ca * cb : 0);
                v[i, j] = v[j, i] = sum + a.Water * b.Water * water;
            }
        }
        return v;
    }

    /// <summary>The inverse of a covariance.</summary>
    private sealed class Inverse
    {
        private readonly double[,] _matrix;

        public Inverse(double[,] spread) => (_matrix, LogDeterminant) = Invert(spread);

        public double LogDeterminant { get; }

        public double[] Times(double[] x)
        {
            var result = new double[x.Length];
            for (var i = 0; i < x.Length; i++)
            {
                double sum = 0;
                for (var j = 0; j < x.Length; j++)
                    sum += _matrix[i, j] * x[j];
                result[i] = sum;
            }
            return result;
        }

        /// <summary>Gauss and Jordan without exchange: the matrix is positive definite.</summary>
        private static (double[,] Inverse, double LogDeterminant) Invert(double[,] matrix)
        {
            var n = matrix.GetLength(0);
            var a = (double[,])matrix.Clone();
            double log = 0;
            for (var p = 0; p < n; p++)
            {
                var pivot = a[p, p];
                log += Math.Log(pivot);
                a[p, p] = 1;
                for (var j = 0; j < n; j++)
                    a[p, j] /= pivot;
                for (var i = 0; i < n; i++)
                {
                    if (i == p)
                        continue;
                    var factor = a[i, p];
                    a[i, p] = 0;
                    for (var j = 0; j < n; j++)
                        a[i, j] -= factor * a[p, j];
                }
            }
            return (a, log);
        }
    }
    /// <summary>What a way does to the data, weighed by the inverse covariance.</summary>
    private sealed class Push
    {
        public Push(Inverse inverse, FaultWorld.Way way)
        {
            Way = way;
            Own = Dot(way.Direction, inverse.Times(way.Direction));
            if (way.Second is { } second)
                (Own2, Both) = (Dot(second, inverse.Times(second)), Dot(way.Direction, inverse.Times(second)));
        }

        public FaultWorld.Way Way { get; }

        public double Own { get; }

        public double Own2 { get; }

        public double Both { get; }
    }

    /// <summary>A normal distribution about zero, looked at one datum.</summary>
    private sealed class Normal
    {
        private readonly double[] _pull;

        public Normal(Inverse inverse, double[] y)
        {
            _pull = inverse.Times(y);
            Log = -0.5 * (Dot(y, _pull) + inverse.LogDeterminant);
        }

        /// <summary>Logarithm of the density of the datum, without 2π.</summary>
        public double Log { get; }

        /// <summary>Logarithm of the mean, over the equally likely sizes, of the density where the way is subtracted, relative to that of the datum itself.</summary>
        public double Averaged(Push push)
        {
            var way = push.Way;
            var (pull, own) = (Dot(way.Direction, _pull), push.Own);
            if (own == 0 && way.Second is null)
                return 0;
            if (way.Second is not { } second)
                return LogMean(way.Sizes, x => x * pull - 0.5 * x * x * own);
            var pull2 = Dot(second, _pull);
            return LogMean(way.Sizes, x => x * pull - 0.5 * x * x * own + LogMean(way.SecondSizes!, z => z * pull2 - 0.5 * z * z * push.Own2 - x * z * push.Both));
        }
    }

    private static double LogMean(double[] sizes, Func<double, double> log)
    {
        var logs = new double[sizes.Length];
        var most = double.NegativeInfinity;
        for (var i = 0; i < sizes.Length; i++)
            most = Math.Max(most, logs[i] = log(sizes[i]));
        double sum = 0;
        foreach (var l in logs)
            sum += Math.Exp(l - most);
        return most + Math.Log(sum / sizes.Length);
    }

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (var i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}
