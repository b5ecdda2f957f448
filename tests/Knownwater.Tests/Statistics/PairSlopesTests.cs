using CsCheck;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

/// <summary>The ranked slopes against all slopes listed and sorted as ratios of whole numbers.</summary>
public class PairSlopesTests
{
    private sealed record Listed(List<(Int128 P, Int128 Q)> Finite, long Vertical)
    {
        public static Listed Of(long[] x, long[] y)
        {
            var slopes = new List<(Int128 P, Int128 Q)>();
            long vertical = 0;
            for (var i = 0; i < x.Length; i++)
            {
                for (var j = 0; j < i; j++)
                {
                    Int128 q = x[i] - x[j], p = y[i] - y[j];
                    if (q == 0)
                        vertical += p == 0 ? 0 : 1;
                    else
                        slopes.Add(q > 0 ? (p, q) : (-p, -q));
                }
            }
            slopes.Sort((a, b) => (a.P * b.Q).CompareTo(b.P * a.Q));
            return new Listed(slopes, vertical);
        }

        public double this[long rank] => (double)Finite[(int)rank - 1].P / (double)Finite[(int)rank - 1].Q;
    }

    private static void AssertRanks<TKey>(long[] x, long[] y, int capacity, Random random)
        where TKey : unmanaged, System.Numerics.IBinaryInteger<TKey>
    {
        var listed = Listed.Of(x, y);
        var slopes = new PairSlopes<TKey>(Grid(x, y), capacity);
        Assert.Equal(listed.Finite.Count + listed.Vertical, slopes.Pairs);
        Assert.Equal(listed.Vertical, slopes.Vertical);
        var (below, at) = slopes.AroundMinusOne(TestContext.Current.CancellationToken);
        Assert.Equal(listed.Finite.Count(s => s.P < -s.Q), below);
        Assert.Equal(listed.Finite.Count(s => s.P == -s.Q), at);
        foreach (var aboveMinusOne in (bool[])[false, true])
        {
            var first = aboveMinusOne ? below + at + 1 : 1;
            if (first > listed.Finite.Count)
                continue;
            long[] ranks = [first, listed.Finite.Count, .. Enumerable.Range(0, 3).Select(_ => random.NextInt64(first, listed.Finite.Count + 1))];
            ranks = [.. ranks.Order()];
            Assert.Equal(ranks.Select(r => listed[r]), slopes.Select(ranks, aboveMinusOne, TestContext.Current.CancellationToken));
        }
    }

    private static ReadingGrid Grid(long[] x, long[] y) => ReadingGrid.Of([.. x.Select(v => v / 1000.0)], [.. y.Select(v => v / 1000.0)], sharedStep: true);

    // 6000 grids of 2 to 60 points: few steps and many, so identical points, verticals, slopes of −1 and ties abound; little room, so that every search goes many rounds
    [Fact]
    public void Ranks_agree_with_all_slopes_listed_on_thousands_of_grids()
    {
        var random = new Random(4);
        for (var trial = 0; trial < 6000; trial++)
        {
            int n = random.Next(2, 60), steps = (int)Math.Pow(10, 5 * random.NextDouble()) + 1;
            var shape = random.Next(4);
            var x = new long[n];
            var y = new long[n];
            for (var i = 0; i < n; i++)
            {
                x[i] = random.Next(steps);
                y[i] = shape switch
                {
                    0 => random.Next(steps),
                    1 => x[i] + random.Next(-steps / 10 - 1, steps / 10 + 2),
                    2 => -x[i] + random.Next(0, 2),
                    _ => 3 * x[i] / 2,
                };
            }
            var capacity = random.Next(3) switch { 0 => 2, 1 => random.Next(3, 40), _ => 1 << 14 };
            if (trial % 3 == 0)
                AssertRanks<Int128>(x, y, capacity, random);
            else
                AssertRanks<long>(x, y, capacity, random);
        }
    }

    // the sampling of larger sets: heavy ties on a coarse grid, and next to none on a fine one
    [Theory]
    [InlineData(600, 8, 500)]
    [InlineData(900, 60, 500)]
    [InlineData(1200, 1_000_000, 2000)]
    [InlineData(700, 3000, 64)]
    public void Ranks_agree_with_all_slopes_listed_for_larger_sets(int n, int steps, int capacity)
    {
        var random = new Random(n);
        for (var trial = 0; trial < 3; trial++)
        {
            long[] x = [.. Enumerable.Range(0, n).Select(_ => random.NextInt64(steps))];
            long[] y = [.. x.Select(v => v + random.NextInt64(steps / 20 + 2))];
            AssertRanks<long>(x, y, capacity, random);
        }
    }

    [Fact]
    public void One_slope_shared_by_all_pairs_ends_the_search()
    {
        long[] x = [.. Enumerable.Range(0, 3000).Select(i => (long)i)];
        long[] y = [.. x.Select(v => 2 * v)];
        var slopes = new PairSlopes<long>(Grid(x, y), 64);
        Assert.Equal([2, 2, 2], slopes.Select([1, 2_000_000, slopes.Pairs], aboveMinusOne: false, TestContext.Current.CancellationToken));
    }

    // readings that were reckoned from others lie on one line but for the rounding of doubles: slopes without number, all but equal
    [Fact]
    public void Points_on_one_line_but_for_rounding_end_the_search()
    {
        double[] x = [.. Enumerable.Range(1, 3000).Select(i => Math.Sqrt(i))], y = [.. x.Select(v => v * 1.1)];
        Assert.Equal(1.1, PassingBablokLine.Fit(x, y, cancel: TestContext.Current.CancellationToken).Slope, 1e-13);
        Assert.Equal(1.1, TheilSenLine.Fit(x, y, cancel: TestContext.Current.CancellationToken).Slope, 1e-13);
    }

    // 100 000 readings of which only 400 differ: the weights carry all pairs
    [Fact]
    public void Identical_points_are_one_point_with_a_weight()
    {
        var random = new Random(2);
        long[] x = [.. Enumerable.Range(0, 100_000).Select(_ => random.NextInt64(20))];
        long[] y = [.. x.Select(v => v + random.NextInt64(-3, 4))];
        var slopes = PairSlopes.Of(Grid(x, y));
        Assert.True(slopes.Pairs is > 4_900_000_000 and < 4_999_950_000);
        var middle = (slopes.Pairs - slopes.Vertical + 1) / 2;
        Assert.Equal(1, slopes.Select([middle], aboveMinusOne: false, TestContext.Current.CancellationToken)[0]);
    }

    [Fact]
    public void Decimals_and_numbers_that_are_none_find_their_grid()
    {
        var decimals = ReadingGrid.Of([0.1, 0.25, -3], [1e3, 0.125, 7], sharedStep: true);
        Assert.Equal([3100, 3250, 0], decimals.X);
        Assert.Equal([999875, 0, 6875], decimals.Y);
        Assert.Equal(1, decimals.SlopeFactor);
        // thirds are no decimals: a shared binary step for one unit, one of its own for each of two
        var thirds = ReadingGrid.Of([0, 1 / 3.0, 2 / 3.0], [0, 1000 / 3.0, 2000 / 3.0], sharedStep: true);
        Assert.Equal(1, thirds.SlopeFactor);
        Assert.True(thirds.YRange > 1L << 59);
        var apart = ReadingGrid.Of([0, 1 / 3.0, 2 / 3.0], [0, 1000 / 3.0, 2000 / 3.0], sharedStep: false);
        Assert.Equal(1000, apart.YRange / (double)apart.XRange * apart.SlopeFactor, 1e-9);
        var wide = ReadingGrid.Of([0, 1e150, 3e150], [0, 1e-150, 2e-150], sharedStep: false);
        Assert.Equal(2.0 / 3, wide.YRange / (double)wide.XRange * wide.SlopeFactor * 1e300, 1e-12);
    }

    [Fact]
    public void Numbers_that_are_no_decimals_are_ranked_too() =>
        Gen.Select(Gen.Int[-1000, 1000].Array[4, 30].Where(t => t.Distinct().Count() > 2), Gen.Int[0, 1000]).Sample((t, seed) =>
        {
            var random = new Random(seed);
            double[] x = [.. t.Select(v => v / 3.0)], y = [.. t.Select(v => v / 7.0 + random.NextDouble() / 10)];
            var listed = (from i in Enumerable.Range(0, x.Length) from j in Enumerable.Range(0, i) where x[i] != x[j] select (y[i] - y[j]) / (x[i] - x[j])).Order().ToArray();
            var slopes = PairSlopes.Of(ReadingGrid.Of(x, y, sharedStep: false));
            var found = slopes.Select([1, (listed.Length + 1) / 2, listed.Length], aboveMinusOne: false, CancellationToken.None);
            Assert.Equal(listed[0], found[0], 1e-9 * Math.Abs(listed[0]));
            Assert.Equal(listed[(listed.Length - 1) / 2], found[1], 1e-9 * Math.Abs(listed[(listed.Length - 1) / 2]));
            Assert.Equal(listed[^1], found[2], 1e-9 * Math.Abs(listed[^1]));
        });
}
