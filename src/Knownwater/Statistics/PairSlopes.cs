using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Knownwater.Statistics;

/// <summary>The slopes between all pairs of points, ranked without listing them: O(n log n) time, O(n) memory, exact.</summary>
/// <remarks>
/// <para>Ordered by y − s·x, two points stand the one way round below their slope and the other way round above it. So the slopes between s₁ and s₂ are the inversions between the two orders, and merge sort counts them. A search
/// takes a random sample of the inversions in its bracket, splits the bracket at sample quantiles close to either side of the wanted ranks, counts, and goes on in the bracket that holds the rank, until one is small enough to list:
/// J. Matoušek, Information Processing Letters 39 (1991) 183–187; J. Raymaekers and F. Dufey, Equivariant Passing–Bablok regression in quasilinear time, arXiv:2202.08060 (2022). Chance moves the time, never the result.</para>
/// <para>All comparisons are of whole numbers q·y − p·x for the slope p/q. Slopes below a split and equal to it are counted apart, so a heavy tie ends the search instead of stalling it, and every bracket is open: each round loses at
/// least the slopes that it was split at. Several ranks are sought at once and share brackets. Identical points are one point with a weight. Vertical pairs never invert; they are counted apart.</para>
/// <para>The inner loops are optimised from the first call on: a fit is often the only one of its process.</para>
/// </remarks>
internal abstract class PairSlopes
{
    /// <summary>Range of whole numbers whose products fit the narrow keys with room for differences.</summary>
    private const long Narrow = 1L << 30;

    /// <summary>Pairs of points that are not identical.</summary>
    public abstract long Pairs { get; }

    /// <summary>Pairs with equal x and different y.</summary>
    public abstract long Vertical { get; }

    /// <summary>The number of slopes below −1 and the number of slopes of −1; only where x and y share one step.</summary>
    public abstract (long Below, long At) AroundMinusOne(CancellationToken cancel);

    /// <summary>The slopes of given ranks, counted from 1 at the least slope, verticals left out.</summary>
    /// <param name="ranks">Ascending ranks, from 1 to the number of slopes that are not vertical.</param>
    /// <param name="aboveMinusOne">Whether all of them are slopes above −1, so that the search may begin there.</param>
    /// <param name="cancel">Stops the search.</param>
    public abstract double[] Select(ReadOnlySpan<long> ranks, bool aboveMinusOne, CancellationToken cancel);

    /// <summary>The slopes between points.</summary>
    /// <param name="grid">The points, whose arrays are used up.</param>
    public static PairSlopes Of(in ReadingGrid grid)
    {
        // enough room to sample well, and to list what is left after two rounds
        var capacity = (int)Math.Clamp(4L * grid.X.Length, 1 << 14, 1 << 19);
        return grid.XRange < Narrow && grid.YRange < Narrow ? new PairSlopes<long>(grid, capacity) : new PairSlopes<Int128>(grid, capacity);
    }
}

/// <summary>The slopes with keys of one width.</summary>
internal sealed class PairSlopes<TKey> : PairSlopes
    where TKey : unmanaged, IBinaryInteger<TKey>
{
    private const int InsertionLength = 12;

    // distinct points by x, then y: their numbers are their order below every slope
    private readonly long[] _x;
    private readonly long[] _y;
    private readonly int[]? _weights;
    private readonly int _count;
    private readonly double _factor;
    private readonly (long P, long Q) _last;
    private readonly int _capacity;

    // the points in the order of the moment, and behind them room for the left half of a merge
    private readonly Item[] _items;
    private readonly Pair[] _found;
    private int _foundCount;
    private long _stride;
    private long _nextPair;
    private ulong _random = 0x9E3779B97F4A7C15;
    private (long Below, long At)? _aroundMinusOne;
    private int[]? _orderAboveMinusOne;

    /// <summary>The slopes between points.</summary>
    /// <param name="grid">The points, whose arrays are used up.</param>
    /// <param name="capacity">Most slopes that are listed or sampled at once, at least 2.</param>
    public PairSlopes(in ReadingGrid grid, int capacity)
    {
        _factor = grid.SlopeFactor;
        // steeper than any slope between two points
        _last = (grid.YRange + 1, 1);
        (_x, _y, _weights, _count) = Distinct(grid);
        Pairs = PairsOf(_weights, _count, n: grid.X.Length);
        Vertical = VerticalPairs();
        _capacity = (int)Math.Clamp((long)_count * (_count - 1) / 2, 1, capacity);
        _items = new Item[_count + _count / 2 + 1];
        _found = new Pair[_capacity];
    }

    public override long Pairs { get; }

    public override long Vertical { get; }

    public override (long Below, long At) AroundMinusOne(CancellationToken cancel)
    {
        if (_aroundMinusOne is { } known)
            return known;
        Begin(null);
        var below = Sweep((-1, 1), inclusive: false, long.MaxValue, cancel).Weight;
        var at = Sweep((-1, 1), inclusive: true, long.MaxValue, cancel).Weight;
        _orderAboveMinusOne = Order();
        _aroundMinusOne = (below, at);
        return (below, at);
    }

    public override double[] Select(ReadOnlySpan<long> ranks, bool aboveMinusOne, CancellationToken cancel)
    {
        var targets = new Target[ranks.Length];
        for (var i = 0; i < targets.Length; i++)
            targets[i] = new Target(ranks[i], i);
        var results = new double[ranks.Length];
        long below = 0;
        int[]? order = null;
        if (aboveMinusOne)
        {
            var (less, at) = AroundMinusOne(cancel);
            below = less + at;
            order = _orderAboveMinusOne;
        }
        var open = new Stack<Bracket>();
        open.Push(new Bracket(order, _last, below, default, (long)_count * (_count - 1) / 2, null, targets));
        while (open.TryPop(out var bracket))
            Search(bracket, open, results, cancel);
        return results;
    }

    /// <summary>One rank to find and where it goes.</summary>
    private readonly record struct Target(long Rank, int Place);

    /// <summary>Slopes counted: between distinct points, and by the weights of these.</summary>
    private readonly record struct Tally(long Distinct, long Weight)
    {
        public static Tally operator +(Tally a, Tally b) => new(a.Distinct + b.Distinct, a.Weight + b.Weight);

        public static Tally operator -(Tally a, Tally b) => new(a.Distinct - b.Distinct, a.Weight - b.Weight);
    }

    /// <summary>
    /// An open bracket of slopes: the order just above its lower end (null below all slopes), its upper end, the weight of the slopes at or below its lower end, and a sample of those inside with their tally; or no sample yet,
    /// and about how many distinct ones to expect.
    /// </summary>
    private sealed record Bracket(int[]? Order, (long P, long Q) Upper, long Below, Tally Inside, long Expected, Pair[]? Sample, Target[] Targets);

    private struct Item
    {
        public TKey Key;
        public int Id;
        public int Weight;
    }

    /// <summary>A slope and its two points.</summary>
    private readonly record struct Pair(double Slope, int From, int To);

    private void Search(Bracket bracket, Stack<Bracket> open, double[] results, CancellationToken cancel)
    {
        Pair[] sample;
        var inside = bracket.Inside;
        if (bracket.Sample is { } given)
        {
            sample = given;
        }
        else
        {
            Begin(bracket.Order);
            inside = Sweep(bracket.Upper, inclusive: false, StrideFor(bracket.Expected), cancel);
            if (_stride == 1)
            {
                Pick(_found.AsSpan(0, _foundCount), bracket.Below, bracket.Targets, results);
                return;
            }
            sample = _found[.._foundCount];
            if (sample.Length == 0)
            {
                open.Push(bracket with { Expected = inside.Distinct });
                return;
            }
        }

        Begin(bracket.Order);
        var targets = bracket.Targets;
        var order = bracket.Order;
        Tally passed = default;
        foreach (var (split, stride) in Splits(sample, inside, bracket))
        {
            // a bracket that should hold a wanted rank is listed or sampled on the way
            var turned = Sweep(split, inclusive: false, stride, cancel);
            Hand(order, split, bracket.Below + passed.Weight, turned, ref targets, open, results);
            passed += turned;
            passed += Sweep(split, inclusive: true, long.MaxValue, cancel);
            while (targets.Length > 0 && targets[0].Rank <= bracket.Below + passed.Weight)
            {
                results[targets[0].Place] = (double)split.P / split.Q * _factor;
                targets = targets[1..];
            }
            if (targets.Length == 0)
                return;
            order = Order();
        }
        open.Push(new Bracket(order, bracket.Upper, bracket.Below + passed.Weight, default, (inside - passed).Distinct, null, targets));
    }

    /// <summary>Gives the targets that the bracket just swept holds their answers, or keeps it for later.</summary>
    private void Hand(int[]? order, (long P, long Q) upper, long below, Tally inside, ref Target[] targets, Stack<Bracket> open, double[] results)
    {
        var beyond = Array.FindIndex(targets, t => t.Rank > below + inside.Weight);
        var held = beyond < 0 ? targets.Length : beyond;
        if (held == 0)
            return;
        var own = targets[..held];
        targets = targets[held..];
        if (_stride == 1)
            Pick(_found.AsSpan(0, _foundCount), below, own, results);
        else
            open.Push(new Bracket(order, upper, below, inside, inside.Distinct, _stride == long.MaxValue || _foundCount < 1000 ? null : _found[.._foundCount], own));
    }

    private long StrideFor(long expected) => expected <= _capacity ? 1 : Math.Max(1, 2 * expected / _capacity);

    /// <summary>Slopes at which to split a bracket, ascending: on either side of each wanted rank, so far off that it most likely lies between, with the stride at which the slopes below each are kept.</summary>
    private List<((long P, long Q) Slope, long Stride)> Splits(Pair[] sample, Tally inside, Bracket bracket)
    {
        long total = 0;
        double squares = 0;
        foreach (ref readonly var pair in sample.AsSpan())
        {
            var w = WeightOf(pair);
            total += w;
            squares += (double)w * w;
        }
        // windows of cumulated sample weight, those that overlap joined
        var windows = new List<(long From, long To)>();
        foreach (var target in bracket.Targets)
        {
            var share = Math.Clamp((target.Rank - bracket.Below - 0.5) / inside.Weight, 0, 1);
            var reach = 2.5 * Math.Sqrt(share * (1 - share) * squares) + 2 * squares / total + 1;
            long from = (long)Math.Floor(share * total - reach), to = (long)Math.Ceiling(share * total + reach);
            if (windows.Count > 0 && from <= windows[^1].To)
                windows[^1] = (windows[^1].From, to);
            else
                windows.Add((from, to));
        }
        var splits = new List<((long, long), long)>();
        var last = double.NegativeInfinity;
        var place = 0;
        long before = 0;
        foreach (var (from, to) in windows)
        {
            Add(from, long.MaxValue);
            Add(to, StrideFor((long)((double)(Math.Min(to, total) - Math.Max(from, 0)) / total * inside.Distinct)));
        }
        // a sample too small to bound anything still halves the bracket
        if (splits.Count == 0)
            Add((total + 1) / 2, long.MaxValue);
        return splits;

        void Add(long weight, long stride)
        {
            if (weight < 1 || weight > total)
                return;
            (place, before) = AtWeight(sample, place, before, weight);
            ref readonly var pair = ref sample[place];
            if (pair.Slope <= last)
                return;
            last = pair.Slope;
            splits.Add(((_y[pair.To] - _y[pair.From], _x[pair.To] - _x[pair.From]), stride));
        }
    }

    private void Pick(Span<Pair> all, long below, Target[] targets, double[] results)
    {
        var place = 0;
        long before = 0;
        foreach (var target in targets)
        {
            (place, before) = AtWeight(all, place, before, target.Rank - below);
            results[target.Place] = all[place].Slope * _factor;
        }
    }

    private long WeightOf(in Pair pair) => _weights is null ? 1 : (long)_weights[pair.From] * _weights[pair.To];

    /// <summary>Puts the pair in place at which the cumulated weight of ascending slopes reaches a value: quickselect.</summary>
    /// <param name="pairs">The pairs; those before <paramref name="from"/> are no steeper than those from there on.</param>
    /// <param name="from">Where the search begins.</param>
    /// <param name="before">Weight of the pairs before it.</param>
    /// <param name="weight">The value, above that.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private (int Place, long Before) AtWeight(Span<Pair> pairs, int from, long before, long weight)
    {
        var to = pairs.Length;
        while (to - from > 20)
        {
            double a = pairs[from].Slope, b = pairs[from + (to - from) / 2].Slope, c = pairs[to - 1].Slope;
            var pivot = Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
            int i = from - 1, j = to;
            while (true)
            {
                while (pairs[++i].Slope < pivot)
                {
                }
                while (pairs[--j].Slope > pivot)
                {
                }
                if (i >= j)
                    break;
                (pairs[i], pairs[j]) = (pairs[j], pairs[i]);
            }
            long left = j + 1 - from;
            if (_weights is not null)
            {
                left = 0;
                for (var k = from; k <= j; k++)
                    left += WeightOf(pairs[k]);
            }
            if (weight <= before + left)
                to = j + 1;
            else
                (from, before) = (j + 1, before + left);
        }
        pairs[from..to].Sort(static (p, q) => p.Slope.CompareTo(q.Slope));
        while (from < to - 1 && before + WeightOf(pairs[from]) < weight)
            before += WeightOf(pairs[from++]);
        return (from, before);
    }

    private void Begin(int[]? order)
    {
        for (var i = 0; i < _count; i++)
        {
            var id = order is null ? i : order[i];
            _items[i].Id = id;
            _items[i].Weight = _weights is null ? 1 : _weights[id];
        }
    }

    private int[] Order()
    {
        var order = new int[_count];
        for (var i = 0; i < order.Length; i++)
            order[i] = _items[i].Id;
        return order;
    }

    /// <summary>Turns the order to that just below a slope, or just above it, and counts the pairs that turned: the slopes in between.</summary>
    /// <param name="slope">The slope, at or above that of the present order.</param>
    /// <param name="inclusive">Whether pairs of just that slope turn too.</param>
    /// <param name="stride">One pair in so many is kept, all for 1; more are left out where they do not fit.</param>
    /// <param name="cancel">Stops.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private Tally Sweep((long P, long Q) slope, bool inclusive, long stride, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        TKey p = TKey.CreateTruncating(slope.P), q = TKey.CreateTruncating(slope.Q);
        var items = _items.AsSpan(0, _count);
        for (var i = 0; i < items.Length; i++)
        {
            var id = items[i].Id;
            items[i].Key = q * TKey.CreateTruncating(_y[id]) - p * TKey.CreateTruncating(_x[id]);
        }
        _stride = stride;
        _foundCount = 0;
        _nextPair = stride == long.MaxValue ? long.MaxValue : stride == 1 ? 1 : Gap();
        var margin = inclusive ? TKey.Zero : TKey.One;
        long pairs = 0, weight = 0;
        if (_weights is null)
            Sort<Single>(0, _count, margin, ref pairs, ref weight);
        else
            Sort<Weighted>(0, _count, margin, ref pairs, ref weight);
        return new Tally(pairs, _weights is null ? pairs : weight);
    }

    private interface IWeighing
    {
        static abstract bool Counts { get; }
    }

    private readonly struct Single : IWeighing
    {
        public static bool Counts => false;
    }

    private readonly struct Weighted : IWeighing
    {
        public static bool Counts => true;
    }

    /// <summary>Merge sort by key; a pair turns where the key of the right one plus the margin does not exceed that of the left one.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Sort<TWeighing>(int from, int to, TKey margin, ref long pairs, ref long weight)
        where TWeighing : IWeighing
    {
        if (to - from <= InsertionLength)
        {
            Insert<TWeighing>(from, to, margin, ref pairs, ref weight);
            return;
        }
        var middle = from + (to - from) / 2;
        Sort<TWeighing>(from, middle, margin, ref pairs, ref weight);
        Sort<TWeighing>(middle, to, margin, ref pairs, ref weight);
        Merge<TWeighing>(from, middle, to, margin, ref pairs, ref weight);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Insert<TWeighing>(int from, int to, TKey margin, ref long pairs, ref long weight)
        where TWeighing : IWeighing
    {
        ref var first = ref MemoryMarshal.GetArrayDataReference(_items);
        for (var i = from + 1; i < to; i++)
        {
            var item = Unsafe.Add(ref first, i);
            var key = item.Key + margin;
            var j = i;
            long passed = 0;
            while (j > from && key <= Unsafe.Add(ref first, j - 1).Key)
            {
                Unsafe.Add(ref first, j) = Unsafe.Add(ref first, j - 1);
                if (TWeighing.Counts)
                    passed += Unsafe.Add(ref first, j).Weight;
                j--;
            }
            if (j == i)
                continue;
            Unsafe.Add(ref first, j) = item;
            pairs += i - j;
            if (TWeighing.Counts)
                weight += passed * item.Weight;
            if (pairs >= _nextPair)
                Keep(item.Id, i + 1, pairs);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Merge<TWeighing>(int from, int middle, int to, TKey margin, ref long pairs, ref long weight)
        where TWeighing : IWeighing
    {
        ref var first = ref MemoryMarshal.GetArrayDataReference(_items);
        var least = Unsafe.Add(ref first, middle).Key + margin;
        if (!(least <= Unsafe.Add(ref first, middle - 1).Key))
            return;
        // only the left ones from the first that turns with the least right one on, and the right ones up to the last that turns, move
        from = FirstNotBelow(from, middle, least);
        to = FirstAbove(middle, to, Unsafe.Add(ref first, middle - 1).Key - margin);
        int i = _count, length = middle - from, end = _count + length, j = middle, k = from;
        Array.Copy(_items, from, _items, i, length);
        long here = pairs, left = 0, sum = 0;
        if (TWeighing.Counts)
        {
            for (var s = i; s < end; s++)
                left += Unsafe.Add(ref first, s).Weight;
        }
        var next = _nextPair;
        while (i < end && j < to)
        {
            ref var a = ref Unsafe.Add(ref first, i);
            ref var b = ref Unsafe.Add(ref first, j);
            // no branch on the outcome, which no processor can foresee
            var turns = b.Key + margin <= a.Key ? 1 : 0;
            here += -turns & (end - i);
            if (TWeighing.Counts)
            {
                sum += turns * left * b.Weight;
                left -= (1 - turns) * a.Weight;
            }
            Unsafe.Add(ref first, k++) = Unsafe.Add(ref first, i + (-turns & (j - i)));
            if (here >= next)
            {
                Keep(Unsafe.Add(ref first, j).Id, end, here);
                next = _nextPair;
            }
            i += 1 - turns;
            j += turns;
        }
        Array.Copy(_items, i, _items, k, end - i);
        pairs = here;
        weight += sum;
    }

    private int FirstNotBelow(int from, int to, TKey key)
    {
        while (from < to)
        {
            var middle = from + (to - from) / 2;
            if (_items[middle].Key < key)
                from = middle + 1;
            else
                to = middle;
        }
        return from;
    }

    private int FirstAbove(int from, int to, TKey key)
    {
        while (from < to)
        {
            var middle = from + (to - from) / 2;
            if (_items[middle].Key <= key)
                from = middle + 1;
            else
                to = middle;
        }
        return from;
    }

    /// <summary>Keeps those whose turn it is of the pairs of one point with the items that end before <paramref name="end"/>, the last of which brought the count to <paramref name="pairs"/>.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private void Keep(int id, int end, long pairs)
    {
        long x = _x[id], y = _y[id];
        while (_nextPair <= pairs)
        {
            var other = _items[end - 1 - (int)(pairs - _nextPair)].Id;
            _found[_foundCount++] = new Pair((double)(y - _y[other]) / (x - _x[other]), other, id);
            if (_foundCount == _found.Length && _stride < long.MaxValue / 4)
                Thin();
            _nextPair += _stride == 1 ? 1 : Gap();
        }
    }

    /// <summary>Keeps every second of the pairs kept so far, and from now on half as many.</summary>
    private void Thin()
    {
        for (var i = 0; 2 * i < _foundCount; i++)
            _found[i] = _found[2 * i];
        _foundCount = (_foundCount + 1) / 2;
        _stride *= 2;
    }

    /// <summary>A random step with the stride as its mean (xorshift, Marsaglia 2003).</summary>
    private long Gap()
    {
        _random ^= _random << 13;
        _random ^= _random >> 7;
        _random ^= _random << 17;
        return 1 + (long)(_random % (ulong)(2 * _stride - 1));
    }

    private static (long[] X, long[] Y, int[]? Weights, int Count) Distinct(in ReadingGrid grid)
    {
        var (x, y) = (grid.X, grid.Y);
        var n = x.Length;
        Array.Sort(x, y);
        for (int start = 0, end; start < n; start = end)
        {
            for (end = start + 1; end < n && x[end] == x[start]; end++)
            {
            }
            if (end - start > 1)
                Array.Sort(y, start, end - start);
        }
        var count = 0;
        int[]? weights = null;
        for (var i = 0; i < n; i++)
        {
            if (count > 0 && x[i] == x[count - 1] && y[i] == y[count - 1])
            {
                if (weights is null)
                {
                    weights = new int[n];
                    Array.Fill(weights, 1);
                }
                weights[count - 1]++;
                continue;
            }
            (x[count], y[count]) = (x[i], y[i]);
            count++;
        }
        return (x, y, weights, count);
    }

    private static long PairsOf(int[]? weights, int count, long n)
    {
        var pairs = n * (n - 1) / 2;
        for (var i = 0; i < count && weights is not null; i++)
            pairs -= (long)weights[i] * (weights[i] - 1) / 2;
        return pairs;
    }

    private long VerticalPairs()
    {
        long pairs = 0;
        for (int start = 0, end; start < _count; start = end)
        {
            long sum = 0, own = 0;
            for (end = start; end < _count && _x[end] == _x[start]; end++)
            {
                long w = _weights is null ? 1 : _weights[end];
                sum += w;
                own += w * w;
            }
            pairs += (sum * sum - own) / 2;
        }
        return pairs;
    }
}
