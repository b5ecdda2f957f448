using System.Buffers;
using System.Runtime.CompilerServices;
using System.Runtime.ExceptionServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

/// <summary>A Monte Carlo run that is advanced in whole blocks.</summary>
/// <remarks>
/// A block's generator follows from seed and number alone, its sums stand in a row of their own, and counts in bins are whole numbers: so whichever thread runs a block changes nothing.
/// Large buffers are rented, as fresh memory costs more than the trials that fill it.
/// </remarks>
internal sealed class MonteCarloRun<M> : IDisposable where M : struct, IMultivariateModel
{
    private const int Tiles = MonteCarlo.Block / (SourceDrawing.Tile * Lanes.Count);
    private const int BriefPilot = 16;
    private const int MostWorkers = 64;
    private const double Coverage = 0.95;

    private readonly M _model;
    private readonly string _name;
    private readonly SourceDrawing _drawing;
    private readonly ulong _seed;
    private readonly int _threads;
    private readonly int _outputs;
    private readonly int _sums;
    private readonly double[] _origin;
    private readonly double[] _lowest;
    private readonly double[] _highest;
    private readonly ValueHistogram[] _histograms;
    private readonly int[] _counts;
    private readonly Lock _merging = new();
    private double[] _blockSums = [];
    private int _widenings;

    public MonteCarloRun(M model, string name, ReadOnlySpan<Estimate> inputs, ulong seed, int threads)
    {
        if (threads < 0)
            throw new ArgumentOutOfRangeException(nameof(threads), threads, $"{threads} threads cannot run anything; give a number above zero, or zero for all processors.");
        if (model.Outputs < 1)
            throw new ArgumentException($"The model {name} has {model.Outputs} outputs; it needs at least one.", nameof(model));
        _drawing = new SourceDrawing(new InputSources(inputs, model.Inputs, name));
        (_model, _name, _seed) = (model, name, seed);
        _threads = threads;
        _outputs = model.Outputs;
        _sums = _outputs + _outputs * (_outputs + 1) / 2;
        _origin = new double[_outputs];
        _lowest = new double[_outputs];
        _highest = new double[_outputs];
        _histograms = new ValueHistogram[_outputs];
        _counts = ArrayPool<int>.Shared.Rent(_outputs * ValueHistogram.Bins);
        Clear();
        LookAhead(BriefPilot);
    }

    /// <summary>Blocks run.</summary>
    public int Blocks { get; private set; }

    /// <summary>Whether so many values fell outside the bins that the ends of the intervals are in danger.</summary>
    public bool RangeIsTooNarrow
    {
        get
        {
            // the shortest interval of a 95 % coverage leaves up to 5 % on one side: less than a tenth of that may be unknown once the range was widened
            var allowed = (_widenings == 0 ? 1e-4 : 5e-3) * Blocks * MonteCarlo.Block;
            for (var o = 0; o < _outputs; o++)
            {
                var counts = Counts(o);
                if (counts[0] + (long)counts[^1] > allowed)
                    return true;
            }
            return false;
        }
    }

    /// <summary>Runs the next blocks.</summary>
    public void Advance(int blocks) => Work(blocks, null);

    /// <summary>Runs the next blocks, and gives mean, u and both ends of the symmetric interval of each.</summary>
    public double[][] AdvanceWithEnds(int blocks)
    {
        var ends = new double[blocks][];
        Work(blocks, ends);
        return ends;
    }

    /// <summary>Forgets the blocks and widens the range of the bins: to that of a long pilot, then to the extremes seen.</summary>
    public void StartAgainWider()
    {
        _widenings++;
        if (_widenings == 1)
        {
            LookAhead(Tiles);
        }
        else
        {
            for (var o = 0; o < _outputs; o++)
                _histograms[o] = new ValueHistogram(_lowest[o], _highest[o]);
        }
        Clear();
    }

    /// <summary>Standard uncertainty of the first output by the blocks so far.</summary>
    public double StandardUncertainty => Math.Sqrt(Moments().Covariance[0, 0]);

    /// <summary>What the blocks so far say.</summary>
    public JointResult Result()
    {
        var (means, covariance) = Moments();
        var trials = Blocks * MonteCarlo.Block;
        var outputs = new MonteCarloResult[_outputs];
        for (var o = 0; o < _outputs; o++)
        {
            var counts = Counts(o);
            var histogram = _histograms[o];
            var (shortLow, shortHigh) = histogram.Shortest(counts, Coverage * trials);
            outputs[o] = new MonteCarloResult(trials, means[o], Math.Sqrt(covariance[o, o]),
                Within(histogram.Quantile(counts, (1 - Coverage) / 2 * trials), o), Within(histogram.Quantile(counts, (1 + Coverage) / 2 * trials), o),
                Within(shortLow, o), Within(shortHigh, o), histogram.BinWidth);
        }
        return new JointResult(outputs, covariance);
    }

    public void Dispose() => ArrayPool<int>.Shared.Return(_counts);

    private double Within(double value, int output) => Math.Clamp(value, _lowest[output], _highest[output]);

    private Span<int> Counts(int output) => _counts.AsSpan(output * ValueHistogram.Bins, ValueHistogram.Bins);

    private void Clear()
    {
        Blocks = 0;
        _counts.AsSpan(0, _outputs * ValueHistogram.Bins).Clear();
        Array.Fill(_lowest, double.PositiveInfinity);
        Array.Fill(_highest, double.NegativeInfinity);
    }

    private void Work(int blocks, double[][]? ends)
    {
        var first = Blocks;
        Array.Resize(ref _blockSums, (first + blocks) * _sums);
        var next = 0;
        // each worker takes blocks until none is left; where the runtime chooses how many run at a time, those that come late find nothing to do
        var workers = Math.Min(_threads > 0 ? _threads : MostWorkers, blocks);
        try
        {
            if (workers == 1)
                Worker(0);
            else
                Parallel.For(0, workers, new ParallelOptions { MaxDegreeOfParallelism = _threads > 0 ? _threads : -1 }, Worker);
        }
        catch (AggregateException several)
        {
            // what the model throws reaches the caller as it would on one thread
            ExceptionDispatchInfo.Throw(several.InnerExceptions[0]);
        }
        Blocks = first + blocks;
        foreach (var sum in _blockSums)
        {
            if (!double.IsFinite(sum))
                throw NotFinite();
        }

        void Worker(int worker)
        {
            var b = Interlocked.Increment(ref next) - 1;
            if (b >= blocks)
                return;
            using var bench = new Bench(_drawing, _outputs);
            for (; b < blocks; b = Interlocked.Increment(ref next) - 1)
            {
                var sums = _blockSums.AsSpan((first + b) * _sums, _sums);
                RunBlock((ulong)(first + b), bench, sums);
                if (ends is not null)
                    ends[b] = Ends(bench, sums);
            }
            lock (_merging)
                Merge(bench);
        }
    }

    /// <summary>A block: its sums of values and products about the origin into their row, its values into the bench's bins.</summary>
    private void RunBlock(ulong block, Bench bench, Span<double> sums)
    {
        var random = new LaneRandom(_seed, block);
        var x = bench.Inputs;
        var y = bench.Values;
        var total = bench.Sums;
        total.Clear();
        for (var tile = 0; tile < Tiles; tile++)
        {
            _drawing.Draw(ref random, bench.Columns, x);
            Evaluate(x, y);
            for (var o = 0; o < _outputs; o++)
            {
                var row = _outputs + o * (o + 1) / 2;
                Note(y, o, _origin[o], ref total[o], ref total[row + o], ref bench.Lowest[o], ref bench.Highest[o]);
                for (var p = 0; p < o; p++)
                    Note(y, o, _origin[o], p, _origin[p], ref total[row + p]);
                Count(y, o, _histograms[o], bench.Counts(o));
            }
        }
        for (var s = 0; s < sums.Length; s++)
        {
            double sum = 0;
            for (var lane = 0; lane < Lanes.Count; lane++)
                sum += total[s].GetElement(lane);
            sums[s] = sum;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Evaluate(Span<Vector512<double>> x, Span<Vector512<double>> y)
    {
        var n = _drawing.Inputs;
        ReadOnlySpan<Lanes> inputs = MemoryMarshal.Cast<Vector512<double>, Lanes>(x);
        var outputs = MemoryMarshal.Cast<Vector512<double>, Lanes>(y);
        for (var k = 0; k < SourceDrawing.Tile; k++)
            _model.Evaluate(inputs.Slice(k * n, n), outputs.Slice(k * _outputs, _outputs));
    }

    /// <summary>Sums an output and its squares about the origin, and keeps its extremes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Note(ReadOnlySpan<Vector512<double>> y, int output, double origin, ref Vector512<double> sum, ref Vector512<double> squares, ref Vector512<double> lowest, ref Vector512<double> highest)
    {
        var middle = Vector512.Create(origin);
        var (s, q, low, high) = (sum, squares, lowest, highest);
        for (var k = output; k < y.Length; k += _outputs)
        {
            var value = y[k];
            var d = value - middle;
            s += d;
            q = LaneMath.Fma(d, d, q);
            low = Vector512.MinNative(low, value);
            high = Vector512.MaxNative(high, value);
        }
        (sum, squares, lowest, highest) = (s, q, low, high);
    }

    /// <summary>Sums the products of two outputs about their origins.</summary>
    private void Note(ReadOnlySpan<Vector512<double>> y, int output, double origin, int other, double otherOrigin, ref Vector512<double> products)
    {
        Vector512<double> sum = products, middle = Vector512.Create(origin), otherMiddle = Vector512.Create(otherOrigin);
        for (var k = 0; k < y.Length; k += _outputs)
            sum = LaneMath.Fma(y[k + output] - middle, y[k + other] - otherMiddle, sum);
        products = sum;
    }

    /// <summary>Puts an output into its bins.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Count(ReadOnlySpan<Vector512<double>> y, int output, ValueHistogram histogram, Span<int> counts)
    {
        for (var k = output; k < y.Length; k += _outputs)
            histogram.Add(y[k], counts);
    }

    /// <summary>Mean, u and symmetric interval of the block that alone is in the bench's bins; they move on to the run's.</summary>
    private double[] Ends(Bench bench, ReadOnlySpan<double> sums)
    {
        const double n = MonteCarlo.Block;
        var counts = bench.Counts(0);
        double[] found =
        [
            _origin[0] + sums[0] / n, Math.Sqrt(Math.Max(0, sums[1] - sums[0] * sums[0] / n) / (n - 1)),
            _histograms[0].Quantile(counts, (1 - Coverage) / 2 * n), _histograms[0].Quantile(counts, (1 + Coverage) / 2 * n),
        ];
        lock (_merging)
            Merge(bench);
        bench.Clear();
        return found;
    }

    private void Merge(Bench bench)
    {
        for (var o = 0; o < _outputs; o++)
        {
            Span<int> all = Counts(o), own = bench.Counts(o);
            for (var i = 0; i < all.Length; i++)
                all[i] += own[i];
            for (var lane = 0; lane < Lanes.Count; lane++)
            {
                _lowest[o] = Math.Min(_lowest[o], bench.Lowest[o].GetElement(lane));
                _highest[o] = Math.Max(_highest[o], bench.Highest[o].GetElement(lane));
            }
        }
    }

    /// <summary>Means and covariances of all blocks, merged in their order (Chan, Golub and LeVeque 1983, The American Statistician 37, 242).</summary>
    private (double[] Means, double[,] Covariance) Moments()
    {
        double n = 0;
        const double m = MonteCarlo.Block;
        var means = new double[_outputs];
        var covariance = new double[_outputs, _outputs];
        var difference = new double[_outputs];
        for (var b = 0; b < Blocks; b++)
        {
            var sums = _blockSums.AsSpan(b * _sums, _sums);
            for (var o = 0; o < _outputs; o++)
                difference[o] = sums[o] / m - means[o];
            for (var o = 0; o < _outputs; o++)
            {
                for (var p = 0; p <= o; p++)
                    covariance[o, p] += sums[_outputs + o * (o + 1) / 2 + p] - sums[o] * sums[p] / m + difference[o] * difference[p] * n * m / (n + m);
            }
            n += m;
            for (var o = 0; o < _outputs; o++)
                means[o] += difference[o] * m / n;
        }
        for (var o = 0; o < _outputs; o++)
        {
            means[o] += _origin[o];
            for (var p = 0; p <= o; p++)
                covariance[p, o] = covariance[o, p] /= n - 1;
            // rounding may leave a trace below zero where nothing varies
            covariance[o, o] = Math.Max(0, covariance[o, o]);
        }
        return (means, covariance);
    }

    /// <summary>Runs the first tiles of the first block to see where the values lie: sets the range of the bins, and at first the origin of the sums.</summary>
    private void LookAhead(int tiles)
    {
        using var bench = new Bench(_drawing, _outputs);
        var trials = tiles * SourceDrawing.Tile * Lanes.Count;
        var pilot = ArrayPool<double>.Shared.Rent(_outputs * trials);
        var random = new LaneRandom(_seed, 0);
        for (var tile = 0; tile < tiles; tile++)
        {
            _drawing.Draw(ref random, bench.Columns, bench.Inputs);
            Evaluate(bench.Inputs, bench.Values);
            for (var k = 0; k < SourceDrawing.Tile; k++)
            {
                for (var o = 0; o < _outputs; o++)
                    bench.Values[k * _outputs + o].CopyTo(pilot.AsSpan(o * trials + (tile * SourceDrawing.Tile + k) * Lanes.Count));
            }
        }
        for (var o = 0; o < _outputs; o++)
        {
            var values = pilot.AsSpan(o * trials, trials);
            foreach (var value in values)
            {
                if (!double.IsFinite(value))
                    throw NotFinite();
            }
            values.Sort();
            var median = values[trials / 2];
            if (_widenings == 0)
                _origin[o] = median;
            _histograms[o] = _widenings == 0 ? Around(median, values) : Beyond(median, values);
        }
        ArrayPool<double>.Shared.Return(pilot);
    }

    /// <summary>Ten robust standard deviations to either side: the interquartile range over 1.349, or where it is nothing the standard deviation.</summary>
    private static ValueHistogram Around(double median, ReadOnlySpan<double> sorted)
    {
        var sd = (sorted[sorted.Length * 3 / 4] - sorted[sorted.Length / 4]) / 1.349;
        if (!(sd > 0))
            sd = SampleMoments.Of(sorted).StandardDeviation;
        return Spread(median - 10 * sd, median + 10 * sd);
    }

    /// <summary>Twice as far from the median as the fifth value from either end of a whole block: beyond lie fewer than one in a thousand.</summary>
    private static ValueHistogram Beyond(double median, ReadOnlySpan<double> sorted) =>
        Spread(median + 2 * (sorted[4] - median), median + 2 * (sorted[^5] - median));

    private static ValueHistogram Spread(double low, double high)
    {
        // a constant needs bins too: as narrow as doubles allow
        var least = ValueHistogram.Bins * 4 * Math.Max(double.Epsilon * 1e16, Math.BitIncrement(Math.Abs(low)) - Math.Abs(low));
        return high - low >= least ? new(low, high) : new(low - least / 2, low + least / 2);
    }

    private ArgumentOutOfRangeException NotFinite() => new("model",
        $"The model {_name} has trials without a finite value. Some input reaches a value where the model has none; look at the widest one.");

    /// <summary>What one thread works on: buffers of a tile and its own bins.</summary>
    private sealed class Bench : IDisposable
    {
        private readonly Vector512<double>[] _tile;
        private readonly int[] _counts;
        private readonly int _columns;
        private readonly int _inputs;
        private readonly int _outputs;

        public Bench(SourceDrawing drawing, int outputs)
        {
            _columns = drawing.Columns * SourceDrawing.Tile;
            _inputs = drawing.Inputs * SourceDrawing.Tile;
            _outputs = outputs;
            _tile = ArrayPool<Vector512<double>>.Shared.Rent(_columns + _inputs + outputs * SourceDrawing.Tile);
            _counts = ArrayPool<int>.Shared.Rent(outputs * ValueHistogram.Bins);
            Lowest = new Vector512<double>[outputs];
            Highest = new Vector512<double>[outputs];
            SumsArray = new Vector512<double>[outputs + outputs * (outputs + 1) / 2];
            Clear();
        }

        private Vector512<double>[] SumsArray { get; }

        public Span<Vector512<double>> Columns => _tile.AsSpan(0, _columns);

        public Span<Vector512<double>> Inputs => _tile.AsSpan(_columns, _inputs);

        public Span<Vector512<double>> Values => _tile.AsSpan(_columns + _inputs, _outputs * SourceDrawing.Tile);

        public Span<Vector512<double>> Sums => SumsArray;

        public Vector512<double>[] Lowest { get; }

        public Vector512<double>[] Highest { get; }

        public Span<int> Counts(int output) => _counts.AsSpan(output * ValueHistogram.Bins, ValueHistogram.Bins);

        public void Clear()
        {
            _counts.AsSpan(0, _outputs * ValueHistogram.Bins).Clear();
            Array.Fill(Lowest, Vector512.Create(double.PositiveInfinity));
            Array.Fill(Highest, Vector512.Create(double.NegativeInfinity));
        }

        public void Dispose()
        {
            ArrayPool<Vector512<double>>.Shared.Return(_tile);
            ArrayPool<int>.Shared.Return(_counts);
        }
    }
}
