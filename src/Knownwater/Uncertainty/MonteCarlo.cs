namespace Knownwater.Uncertainty;

/// <summary>Propagation of distributions through a model (JCGM 101:2008).</summary>
/// <remarks>
/// <para>Each source is drawn once a trial from its own distribution and moves every input that holds it, so inputs that share a source move together. A scaled t keeps its degrees of freedom;
/// members of one family share the χ² of their one variance estimate.</para>
/// <para>Trials run in blocks, each with its own generator seeded by (seed, block); moments are merged in the order of the blocks. The result is the same to the last bit on any number of threads.</para>
/// </remarks>
public static class MonteCarlo
{
    /// <summary>Trials in a block.</summary>
    public const int Block = 16_384;

    /// <summary>The most trials; the values are kept for their quantiles.</summary>
    public const int MostTrials = 100_000_000;

    /// <summary>A fixed number of trials.</summary>
    /// <param name="model">Model.</param>
    /// <param name="inputs">Its inputs, each with its sources.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="trials">Number of trials, at least 1,000; rounded up to whole blocks.</param>
    /// <param name="threads">Threads to use; all processors where zero. It changes the time, never the result.</param>
    /// <typeparam name="M">Type of the model.</typeparam>
    /// <returns>Mean, standard uncertainty and 95 % coverage intervals.</returns>
    /// <exception cref="ArgumentException">The inputs do not fit the model, or the number of trials lies outside its limits.</exception>
    public static MonteCarloResult Of<M>(M model, ReadOnlySpan<Estimate> inputs, ulong seed, int trials = 1_000_000, int threads = 0) where M : struct, IModel
    {
        if (trials is < 1000 or > MostTrials)
            throw new ArgumentOutOfRangeException(nameof(trials), trials, $"{trials} trials cannot be run; give 1000 to {MostTrials}.");
        var plan = new Drawing(inputs, model.Inputs, typeof(M).Name);
        var blocks = (trials + Block - 1) / Block;
        var values = new double[blocks * Block];
        var moments = new SampleMomentsOfBlock[blocks];
        Run(model, plan, seed, values, moments, 0, blocks, threads);
        return Sum(values, moments);
    }

    /// <summary>Runs until the results are stable to two significant digits of the standard uncertainty (JCGM 101:2008, 7.9.4), at most <paramref name="most"/> trials.</summary>
    /// <param name="model">Model.</param>
    /// <param name="inputs">Its inputs, each with its sources.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="most">The most trials.</param>
    /// <param name="threads">Threads to use; all processors where zero.</param>
    /// <typeparam name="M">Type of the model.</typeparam>
    /// <returns>The result over all trials run.</returns>
    /// <exception cref="ArgumentException">The inputs do not fit the model, or the number of trials lies outside its limits.</exception>
    public static MonteCarloResult Adaptive<M>(M model, ReadOnlySpan<Estimate> inputs, ulong seed, int most = 10_000_000, int threads = 0) where M : struct, IModel
    {
        if (most is < 2 * Block or > MostTrials)
            throw new ArgumentOutOfRangeException(nameof(most), most, $"{most} trials cannot be run; give {2 * Block} to {MostTrials}.");
        var plan = new Drawing(inputs, model.Inputs, typeof(M).Name);
        var limit = most / Block;
        var values = new List<double[]>();
        var moments = new List<SampleMomentsOfBlock>();
        double[][] found = [[], [], [], []];
        while (moments.Count < limit)
        {
            // whole rounds of two blocks decide, never whichever finished
            var round = Math.Min(2, limit - moments.Count);
            var fresh = new double[round * Block];
            var blockMoments = new SampleMomentsOfBlock[round];
            Run(model, plan, seed, fresh, blockMoments, moments.Count, round, threads);
            for (var b = 0; b < round; b++)
            {
                var one = fresh[(b * Block)..((b + 1) * Block)];
                values.Add(one);
                moments.Add(blockMoments[b]);
                var own = Sum((double[])one.Clone(), [blockMoments[b]]);
                double[] four = [own.Mean, own.StandardUncertainty, own.Low, own.High];
                for (var i = 0; i < 4; i++)
                    found[i] = [.. found[i], four[i]];
            }
            if (moments.Count < 10)
                continue;
            var u = Merge(moments).Sd;
            var tolerance = Validation.NumericalTolerance(u);
            if (Array.TrueForAll(found, f => 2 * StandardError(f) <= tolerance))
                break;
        }
        return Sum([.. values.SelectMany(v => v)], [.. moments]);
    }

    private static double StandardError(double[] x)
    {
        var mean = x.Average();
        return Math.Sqrt(x.Sum(v => (v - mean) * (v - mean)) / ((double)x.Length * (x.Length - 1)));
    }

    private static void Run<M>(M model, Drawing plan, ulong seed, double[] values, SampleMomentsOfBlock[] moments, int first, int blocks, int threads) where M : struct, IModel
    {
        var options = new ParallelOptions { MaxDegreeOfParallelism = threads > 0 ? threads : -1 };
        Parallel.For(0, blocks, options, b =>
        {
            var random = new Xoshiro(seed, (ulong)(first + b));
            var inputs = new Real[model.Inputs];
            var state = plan.Start();
            var slice = values.AsSpan(b * Block, Block);
            double sum = 0;
            for (var t = 0; t < Block; t++)
            {
                plan.Draw(ref random, state, inputs);
                var y = model.Evaluate<Real>(inputs).Value;
                slice[t] = y;
                sum += y;
            }
            var mean = sum / Block;
            double squares = 0;
            foreach (var y in slice)
                squares += (y - mean) * (y - mean);
            moments[b] = new SampleMomentsOfBlock(mean, squares);
        });
        if (Array.Exists(values, v => !double.IsFinite(v)))
            throw new ArgumentOutOfRangeException(nameof(model), $"The model {typeof(M).Name} has trials without a finite value. Some input reaches a value where the model has none; look at the widest one.");
    }

    /// <summary>Chan, Golub and LeVeque 1983: moments of blocks merged in their order.</summary>
    private static (double Mean, double Sd) Merge(IReadOnlyList<SampleMomentsOfBlock> blocks)
    {
        double n = 0, mean = 0, squares = 0;
        foreach (var block in blocks)
        {
            var total = n + Block;
            var difference = block.Mean - mean;
            squares += block.Squares + difference * difference * n * Block / total;
            mean += difference * Block / total;
            n = total;
        }
        return (mean, Math.Sqrt(squares / (n - 1)));
    }

    private static MonteCarloResult Sum(double[] values, IReadOnlyList<SampleMomentsOfBlock> blocks)
    {
        var (mean, sd) = Merge(blocks);
        Array.Sort(values);
        // JCGM 101:2008, 7.7: q = pM, and the interval starts at r = (M − q)/2, or where it is shortest
        var m = values.Length;
        var q = (int)Math.Round(0.95 * m);
        var r = (m - q) / 2;
        var shortest = 0;
        for (var i = 1; i + q < m; i++)
        {
            if (values[i + q] - values[i] < values[shortest + q] - values[shortest])
                shortest = i;
        }
        return new MonteCarloResult(m, mean, sd, values[r], values[r + q], values[shortest], values[shortest + q]);
    }

    private readonly record struct SampleMomentsOfBlock(double Mean, double Squares);

    /// <summary>Which sources are drawn and where they go.</summary>
    private sealed class Drawing
    {
        private readonly ErrorSource[] _sources;
        private readonly int[] _families;
        private readonly double[] _familyDof;
        private readonly double[] _values;
        private readonly (int Source, double Contribution)[][] _parts;

        public Drawing(ReadOnlySpan<Estimate> inputs, int wanted, string model)
        {
            if (inputs.Length != wanted)
                throw new ArgumentException($"The model {model} has {wanted} inputs, {inputs.Length} are given.", nameof(inputs));
            var index = new Dictionary<Guid, int>();
            var sources = new List<ErrorSource>();
            _values = new double[inputs.Length];
            _parts = new (int, double)[inputs.Length][];
            for (var i = 0; i < inputs.Length; i++)
            {
                _values[i] = inputs[i].Value;
                var parts = new List<(int, double)>();
                foreach (var part in inputs[i].Contributions)
                {
                    if (!index.TryGetValue(part.Source.Id, out var at))
                    {
                        at = sources.Count;
                        index.Add(part.Source.Id, at);
                        sources.Add(part.Source);
                    }
                    parts.Add((at, part.Value));
                }
                _parts[i] = [.. parts];
            }
            _sources = [.. sources];
            _families = new int[_sources.Length];
            var families = new Dictionary<Guid, int>();
            var dof = new List<double>();
            for (var s = 0; s < _sources.Length; s++)
            {
                _families[s] = -1;
                if (_sources[s].Shape != SourceShape.ScaledT || double.IsPositiveInfinity(_sources[s].Dof))
                    continue;
                if (_sources[s].Family is { } family && families.TryGetValue(family, out var known))
                {
                    _families[s] = known;
                    dof[known] = Math.Min(dof[known], _sources[s].Dof);
                    continue;
                }
                _families[s] = dof.Count;
                if (_sources[s].Family is { } fresh)
                    families.Add(fresh, dof.Count);
                dof.Add(_sources[s].Dof);
            }
            _familyDof = [.. dof];
        }

        public double[] Start() => new double[_sources.Length + _familyDof.Length];

        public void Draw(ref Xoshiro random, double[] state, Real[] inputs)
        {
            var n = _sources.Length;
            for (var f = 0; f < _familyDof.Length; f++)
                state[n + f] = Math.Sqrt(_familyDof[f] / random.ChiSquare(_familyDof[f]));
            for (var s = 0; s < n; s++)
                state[s] = One(ref random, _sources[s], _families[s] >= 0 ? state[n + _families[s]] : 1);
            for (var i = 0; i < inputs.Length; i++)
            {
                var value = _values[i];
                foreach (var (source, contribution) in _parts[i])
                    value += contribution * state[source];
                inputs[i] = value;
            }
        }

        /// <summary>One draw, scaled so that the contribution u keeps its meaning (JCGM 101:2008, 6.4).</summary>
        private static double One(ref Xoshiro random, ErrorSource source, double spread)
        {
            switch (source.Shape)
            {
                case SourceShape.Rectangular or SourceShape.Resolution:
                    return Math.Sqrt(3) * (2 * random.Uniform() - 1);
                case SourceShape.Triangular:
                    return Math.Sqrt(6) * (random.Uniform() + random.Uniform() - 1);
                case SourceShape.Trapezoidal:
                    var beta = source.TopToBase!.Value;
                    return Math.Sqrt(6 / (1 + beta * beta)) * ((1 + beta) / 2 * (2 * random.Uniform() - 1) + (1 - beta) / 2 * (2 * random.Uniform() - 1));
                case SourceShape.Censored:
                    var ratio = source.TopToBase!.Value;
                    var (mean, sd) = ErrorSource.CensoredMoments(ratio);
                    return (random.Uniform() * Math.Sqrt(ratio * ratio + (1 - ratio * ratio) * random.Uniform()) - mean) / sd;
                case SourceShape.ArcSine:
                    return Math.Sqrt(2) * Math.Cos(Math.PI * random.Uniform());
                default:
                    return random.Normal() * spread;
            }
        }
    }
}
