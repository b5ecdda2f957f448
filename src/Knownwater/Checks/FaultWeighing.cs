namespace Knownwater.Checks;

/// <summary>Marginal likelihood of every fault: normal given size and scatter, averaged over the priors of both.</summary>
/// <remarks>
/// The data y are normal about a sum of directions times sizes, y = D·e + noise, noise ~ N(0, Σ(κ)). The prior of e is a sum of normal distributions N(μ, S), so that with a = DᵀΣ⁻¹y and B = DᵀΣ⁻¹D the integral over e is closed:
/// N(y; 0, Σ) · |I + √S·B·√S|^(−½) · exp(aᵀμ − ½μᵀBμ + ½ rᵀ(I + √S·B·√S)⁻¹r), r = √S·(a − Bμ). The scatter κ is averaged on a grid; its prior for the usual scatter is that of a standard deviation
/// known with ν degrees of freedom, p(ln κ) ∝ κ^(−ν)·exp(−ν/(2κ²)), which makes the readings t-distributed. A slip brings a covariance and a shorter grid of its own.
/// </remarks>
internal sealed class FaultWeighing
{
    private const int Grid = 18;
    private const double LeastMultiple = 0.15, MostMultiple = 12;

    // the scatter of one check differs from that of another by more than chance: as if known with so many degrees of freedom at most
    private const double MostDof = 20;

    private static readonly double[] Multiples = [.. Enumerable.Range(0, Grid).Select(i => LeastMultiple * Math.Pow(MostMultiple / LeastMultiple, i / (Grid - 1.0)))];

    private static readonly double[] SlipMultiples = [0.4, 0.6, 0.8, 1, 1.25, 1.6, 2.3, 4, 8];

    private readonly FaultModel _model;
    private readonly double _dof;
    private readonly double[][,] _covariances;

    public FaultWeighing(FaultModel model, IReadOnlyList<LevelEvidence> levels)
    {
        _model = model;
        var dof = levels.Min(FaultModel.UsualDof);
        _dof = 1 / (1 / dof + 1 / MostDof);
        _covariances = [.. Multiples.Select(m => model.Covariance(m))];
    }

    /// <summary>Logarithm of the marginal likelihood of each hypothesis, up to a constant common to all, with the mean size along its first direction.</summary>
    /// <param name="rows">What is looked at: each row is a list of places in the data whose mean is taken.</param>
    public (double Log, double Size)[] Weigh(int[][] rows)
    {
        var y = Reduce(_model.Data, rows);
        var hypotheses = _model.Hypotheses;
        var logs = new List<double>[hypotheses.Count];
        var sizes = new List<double>[hypotheses.Count];
        var scatter = new double[hypotheses.Count][];
        for (var h = 0; h < hypotheses.Count; h++)
        {
            (logs[h], sizes[h]) = ([], []);
            scatter[h] = ScatterPrior(hypotheses[h]);
        }
        var directions = hypotheses.Select(h => h.Patterns.Select(p => p.Directions.Select(d => Reduce(d, rows)).ToArray()).ToArray()).ToArray();
        for (var k = 0; k < Grid; k++)
        {
            var root = Cholesky(Reduce(_covariances[k], rows));
            var white = Solve(root, y);
            var fixedPart = -0.5 * Dot(white, white);
            for (var i = 0; i < y.Length; i++)
                fixedPart -= Math.Log(root[i, i]);
            for (var h = 0; h < hypotheses.Count; h++)
            {
                if (scatter[h][k] <= 0 || hypotheses[h].Multiple != 1)
                    continue;
                var prior = fixedPart + Math.Log(scatter[h][k]);
                for (var p = 0; p < hypotheses[h].Patterns.Count; p++)
                    Average(hypotheses[h].Patterns[p], [.. directions[h][p].Select(d => Solve(root, d))], white, prior, logs[h], sizes[h]);
            }
        }
        for (var h = 0; h < hypotheses.Count; h++)
        {
            for (var p = 0; p < hypotheses[h].Patterns.Count; p++)
            {
                if (hypotheses[h].Patterns[p].Noise is { } noise)
                    Slipped(hypotheses[h].Patterns[p], noise, y, directions[h][p], rows, logs[h], sizes[h]);
            }
        }
        return [.. logs.Select((l, h) => MeanOf(l, sizes[h]))];
    }

    /// <summary>A slip has noise of its own, and few scatters will do since its size is known.</summary>
    private void Slipped(FaultPattern pattern, SlipNoise noise, double[] y, double[][] directions, int[][] rows, List<double> logs, List<double> sizes)
    {
        var scatter = Normalised([.. SlipMultiples.Select(Usual)]);
        for (var k = 0; k < SlipMultiples.Length; k++)
        {
            var root = Cholesky(Reduce(_model.Covariance(SlipMultiples[k], noise), rows));
            var white = Solve(root, y);
            var prior = Math.Log(scatter[k]) - 0.5 * Dot(white, white);
            for (var i = 0; i < y.Length; i++)
                prior -= Math.Log(root[i, i]);
            Average(pattern, [.. directions.Select(d => Solve(root, d))], white, prior, logs, sizes);
        }
    }

    private double Usual(double k) => Math.Exp(-_dof * Math.Log(k) - _dof / (2 * k * k) + _dof / 2);

    /// <summary>Adds one term a normal part of the size's prior: its logarithm, and the mean size given it.</summary>
    private static void Average(FaultPattern pattern, double[][] directions, double[] white, double prior, List<double> logs, List<double> sizes)
    {
        var log = prior + Math.Log(pattern.Weight);
        switch (directions.Length)
        {
            case 0:
                logs.Add(log);
                sizes.Add(0);
                return;
            case 1:
                var (a, b) = (Dot(directions[0], white), Dot(directions[0], directions[0]));
                foreach (var size in pattern.Sizes)
                {
                    var (mean, variance) = (size.Mean[0], size.Sd[0] * size.Sd[0]);
                    var r = a - b * mean;
                    logs.Add(log + Math.Log(size.Weight) - 0.5 * Math.Log(1 + b * variance) + a * mean - 0.5 * b * mean * mean + 0.5 * r * r * variance / (1 + b * variance));
                    sizes.Add(mean + variance * r / (1 + b * variance));
                }
                return;
            default:
                Several(pattern, directions, white, log, logs, sizes);
                return;
        }
    }

    private static void Several(FaultPattern pattern, double[][] directions, double[] white, double log, List<double> logs, List<double> sizes)
    {
        var n = directions.Length;
        var a = new double[n];
        var b = new double[n, n];
        for (var i = 0; i < n; i++)
        {
            a[i] = Dot(directions[i], white);
            for (var j = 0; j < n; j++)
                b[i, j] = Dot(directions[i], directions[j]);
        }
        foreach (var size in pattern.Sizes)
        {
            var inner = new double[n, n];
            var r = new double[n];
            double shift = 0;
            for (var i = 0; i < n; i++)
            {
                var bMean = 0.0;
                for (var j = 0; j < n; j++)
                {
                    inner[i, j] = (i == j ? 1 : 0) + size.Sd[i] * b[i, j] * size.Sd[j];
                    bMean += b[i, j] * size.Mean[j];
                }
                r[i] = size.Sd[i] * (a[i] - bMean);
                shift += a[i] * size.Mean[i] - 0.5 * size.Mean[i] * bMean;
            }
            var root = Cholesky(inner);
            var half = Solve(root, r);
            var value = log + Math.Log(size.Weight) + shift + 0.5 * Dot(half, half);
            for (var i = 0; i < n; i++)
                value -= Math.Log(root[i, i]);
            logs.Add(value);
            sizes.Add(size.Mean[0]);
        }
    }

    private double[] ScatterPrior(FaultHypothesis hypothesis)
    {
        double[] usual = Normalised([.. Multiples.Select(Usual)]);
        double[] any = Normalised([.. Multiples.Select(k => k >= 0.5 ? 1.0 : 0)]);
        return hypothesis.Spread switch
        {
            Spread.Worse => Normalised([.. Multiples.Select(k => Math.Exp(-0.5 * Math.Pow(Math.Log(k / 3) / Math.Log(1.6), 2)))]),
            Spread.Any => [.. usual.Zip(any, (u, w) => (u + w) / 2)],
            _ => usual,
        };
    }

    private static double[] Normalised(double[] weights)
    {
        var sum = weights.Sum();
        return [.. weights.Select(w => w / sum)];
    }

    private static (double Log, double Size) MeanOf(List<double> logs, List<double> sizes)
    {
        var most = logs.Max();
        double sum = 0, size = 0;
        for (var i = 0; i < logs.Count; i++)
        {
            var weight = Math.Exp(logs[i] - most);
            sum += weight;
            size += weight * sizes[i];
        }
        return (most + Math.Log(sum), size / sum);
    }

    private static double[] Reduce(double[] data, int[][] rows)
    {
        var result = new double[rows.Length];
        for (var i = 0; i < rows.Length; i++)
        {
            foreach (var place in rows[i])
                result[i] += data[place];
            result[i] /= rows[i].Length;
        }
        return result;
    }

    private static double[,] Reduce(double[,] covariance, int[][] rows)
    {
        var result = new double[rows.Length, rows.Length];
        for (var i = 0; i < rows.Length; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                double sum = 0;
                foreach (var a in rows[i])
                {
                    foreach (var b in rows[j])
                        sum += covariance[a, b];
                }
                result[i, j] = result[j, i] = sum / (rows[i].Length * rows[j].Length);
            }
        }
        return result;
    }

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (var i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }

    private static double[,] Cholesky(double[,] matrix)
    {
        var n = matrix.GetLength(0);
        var root = new double[n, n];
        for (var j = 0; j < n; j++)
        {
            var pivot = matrix[j, j];
            for (var k = 0; k < j; k++)
                pivot -= root[j, k] * root[j, k];
            // each reading has variance of its own, so that only rounding can take a pivot to nothing
            root[j, j] = Math.Sqrt(Math.Max(pivot, 1e-14 * matrix[j, j]));
            for (var i = j + 1; i < n; i++)
            {
                var rest = matrix[i, j];
                for (var k = 0; k < j; k++)
                    rest -= root[i, k] * root[j, k];
                root[i, j] = rest / root[j, j];
            }
        }
        return root;
    }

    private static double[] Solve(double[,] root, double[] right)
    {
        var n = right.Length;
        var x = new double[n];
        for (var i = 0; i < n; i++)
        {
            var rest = right[i];
            for (var k = 0; k < i; k++)
                rest -= root[i, k] * x[k];
            x[i] = rest / root[i, i];
        }
        return x;
    }
}
