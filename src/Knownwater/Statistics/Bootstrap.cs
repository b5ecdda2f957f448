using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Knownwater.Statistics;

/// <summary>Intervals by resampling: for estimates whose distribution has no formula, or whose assumptions a formula would strain.</summary>
/// <remarks>
/// <para>Observations are drawn with replacement and the estimate is made again, many times (B. Efron, Annals of Statistics 7 (1979) 1–26). The percentile interval takes the quantiles of these replicates. The bias-corrected and accelerated
/// one, BCa, moves the quantiles for bias and skewness: α′ = Φ(z₀ + (z₀ + z_α)/(1 − a(z₀ + z_α))), z₀ from the share of replicates below the estimate (ties half), a = Σd³/(6(Σd²)^1.5) from the deviations d of the estimates with one observation left out
/// (B. Efron, Journal of the American Statistical Association 82 (1987) 171–185).</para>
/// <para>Reproducible: each block of 128 resamples has a generator of its own, seeded from the seed and its number (splitmix64), so that a seed gives the same replicates to the last bit on any number of threads.</para>
/// <para>The promise is one of large samples. Simulated for Deming’s line with errors proportional to the level, the BCa interval of the slope holds it in 89 % with 20 pairs, 92 % with 50 and 93 % with 100
/// where 95 % are asked for: docs/reference/comparison.md.</para>
/// </remarks>
public sealed class Bootstrap
{
    private const int Block = 128;

    private readonly double[][] _replicates;
    private readonly double[][] _leftOut;
    private readonly double[] _estimates;

    private Bootstrap(double[] estimates, double[][] replicates, double[][] leftOut, int undefined)
    {
        _estimates = estimates;
        _replicates = replicates;
        _leftOut = leftOut;
        Undefined = undefined;
    }

    /// <summary>The outputs for the sample itself.</summary>
    public IReadOnlyList<double> Estimates => _estimates;

    /// <summary>Resamples for which the statistic has no value; they are left out, and are fewer than one in twenty.</summary>
    public int Undefined { get; }

    /// <summary>The replicates of an output, in the order in which they were drawn.</summary>
    /// <param name="output">Its number, from zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such output.</exception>
    public IReadOnlyList<double> Replicates(int output = 0) => _replicates[Output(output)];

    /// <summary>The percentile interval of an output.</summary>
    /// <param name="output">Its number, from zero.</param>
    /// <param name="coverage">Coverage probability, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such output, or the coverage is not between 0 and 1.</exception>
    public Interval Percentile(int output = 0, double coverage = 0.95) => Percentile(_replicates[Output(output)], coverage);

    /// <summary>The BCa interval of an output.</summary>
    /// <param name="output">Its number, from zero.</param>
    /// <param name="coverage">Coverage probability, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such output, or the coverage is not between 0 and 1.</exception>
    public Interval BiasCorrected(int output = 0, double coverage = 0.95) => BiasCorrected(_replicates[Output(output)], _estimates[output], _leftOut[output], coverage);

    /// <summary>Resamples a statistic.</summary>
    /// <typeparam name="TStatistic">Its type; a struct is fastest.</typeparam>
    /// <param name="statistic">The statistic, of at least 2 observations.</param>
    /// <param name="resamples">Number of resamples, at least 100; 2,000 suffice for two digits of a 95 % interval.</param>
    /// <param name="seed">Seed; the same one gives the same result.</param>
    /// <param name="cancel">Stops a long computation.</param>
    /// <exception cref="ArgumentOutOfRangeException">There are fewer than 2 observations, no output, or fewer than 100 resamples.</exception>
    /// <exception cref="ArgumentException">The statistic has no value for the sample itself, with one observation left out, or for more than one resample in twenty.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static Bootstrap Of<TStatistic>(TStatistic statistic, int resamples = 2000, ulong seed = 1, CancellationToken cancel = default)
        where TStatistic : IResampledStatistic
    {
        ArgumentNullException.ThrowIfNull(statistic);
        int n = Require.AtLeast(statistic.Observations, 2, nameof(statistic)), outputs = Require.AtLeast(statistic.Outputs, 1, nameof(statistic));
        Require.AtLeast(resamples, 100);

        var estimates = new double[outputs];
        var weights = new double[n];
        Array.Fill(weights, 1);
        statistic.Evaluate(weights, estimates);
        if (!Array.TrueForAll(estimates, double.IsFinite))
            throw new ArgumentException($"The statistic has no finite value for the sample of {n} observations; there is nothing to resample.", nameof(statistic));

        var leftOut = Rows(outputs, n);
        var values = new double[outputs];
        for (var i = 0; i < n; i++)
        {
            weights[i] = 0;
            statistic.Evaluate(weights, values);
            weights[i] = 1;
            if (!Array.TrueForAll(values, double.IsFinite))
                throw new ArgumentException($"The statistic has no finite value without observation {i + 1}; it hangs on one observation, which resampling cannot judge.", nameof(statistic));
            for (var k = 0; k < outputs; k++)
                leftOut[k][i] = values[k];
        }

        var replicates = Rows(outputs, resamples);
        Parallel.For(0, (resamples + Block - 1) / Block, new ParallelOptions { CancellationToken = cancel }, block => Resample(statistic, n, seed, block, replicates));
        var undefined = Array.FindAll(replicates[0], v => !double.IsFinite(v)).Length;
        if (undefined * 20 > resamples)
            throw new ArgumentException($"The statistic has no value for {undefined} of {resamples} resamples; {n} observations are too few or too alike to resample it.", nameof(statistic));
        return new Bootstrap(estimates, undefined == 0 ? replicates : Array.ConvertAll(replicates, r => Array.FindAll(r, double.IsFinite)), leftOut, undefined);
    }

    /// <summary>The percentile interval of replicates: their quantiles at the two tails, between order statistics in a straight line.</summary>
    /// <param name="replicates">Finite replicates in any order, at least 2.</param>
    /// <param name="coverage">Coverage probability, between 0 and 1.</param>
    /// <exception cref="ArgumentException">There are fewer than 2 replicates, or one is not finite.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The coverage is not between 0 and 1.</exception>
    public static Interval Percentile(ReadOnlySpan<double> replicates, double coverage = 0.95)
    {
        Require.Sample(replicates, 2);
        var tail = (1 - Require.InsideUnit(coverage)) / 2;
        var values = replicates.ToArray();
        return new Interval(Quantile(values, tail), Quantile(values, 1 - tail));
    }

    /// <summary>The BCa interval of replicates.</summary>
    /// <param name="replicates">Finite replicates in any order, at least 2.</param>
    /// <param name="estimate">The estimate from the sample itself.</param>
    /// <param name="leftOut">The estimates with each observation left out in turn, at least 2.</param>
    /// <param name="coverage">Coverage probability, between 0 and 1.</param>
    /// <exception cref="ArgumentException">There are too few numbers, or one is not finite.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The estimate is not finite, or the coverage is not between 0 and 1.</exception>
    public static Interval BiasCorrected(ReadOnlySpan<double> replicates, double estimate, ReadOnlySpan<double> leftOut, double coverage = 0.95)
    {
        Require.Sample(replicates, 2);
        Require.Finite(estimate);
        Require.Sample(leftOut, 2);
        var z = Normal.Quantile((1 - Require.InsideUnit(coverage)) / 2);
        double count = 0;
        foreach (var replicate in replicates)
            count += replicate < estimate ? 1 : replicate == estimate ? 0.5 : 0;
        // where all replicates lie on one side, half of one counts as lying on the other
        var bias = Normal.Quantile(Math.Clamp(count / replicates.Length, 0.5 / replicates.Length, 1 - 0.5 / replicates.Length));
        var moments = SampleMoments.Of(leftOut);
        double squares = 0, cubes = 0;
        foreach (var value in leftOut)
        {
            var d = moments.Mean - value;
            squares += d * d;
            cubes += d * d * d;
        }
        var acceleration = squares == 0 ? 0 : cubes / (6 * Math.Pow(squares, 1.5));
        var values = replicates.ToArray();
        return new Interval(Quantile(values, Moved(z)), Quantile(values, Moved(-z)));

        double Moved(double deviate)
        {
            var sum = bias + deviate;
            var slack = 1 - acceleration * sum;
            return slack > 0 ? Normal.Cdf(bias + sum / slack) : sum > 0 ? 1 : 0;
        }
    }

    private int Output(int output) => output >= 0 && output < _estimates.Length ? output
        : throw new ArgumentOutOfRangeException(nameof(output), output, $"There is no output {output}; they are numbered from 0 to {_estimates.Length - 1}.");

    private static double[][] Rows(int outputs, int length)
    {
        var rows = new double[outputs][];
        for (var k = 0; k < outputs; k++)
            rows[k] = new double[length];
        return rows;
    }

    private static void Resample<TStatistic>(TStatistic statistic, int n, ulong seed, int block, double[][] replicates)
        where TStatistic : IResampledStatistic
    {
        var random = new SplitMix(seed, (ulong)block);
        var weights = new double[n];
        var values = new double[replicates.Length];
        for (var b = block * Block; b < Math.Min((block + 1) * Block, replicates[0].Length); b++)
        {
            random.Draw(weights);
            statistic.Evaluate(weights, values);
            var defined = Array.TrueForAll(values, double.IsFinite);
            for (var k = 0; k < values.Length; k++)
                replicates[k][b] = defined ? values[k] : double.NaN;
        }
    }

    /// <summary>The quantile at p, between order statistics in a straight line; the values change their order.</summary>
    private static double Quantile(Span<double> values, double p)
    {
        var place = p * (values.Length - 1);
        var below = Math.Min((int)place, values.Length - 2);
        var low = Quickselect.Place(values, below);
        var high = double.PositiveInfinity;
        foreach (var value in values[(below + 1)..])
            high = Math.Min(high, value);
        return low + (place - below) * (high - low);
    }

    /// <summary>splitmix64 (G. L. Steele, D. Lea and C. H. Flood 2014), one stream for each seed and block.</summary>
    private struct SplitMix
    {
        private const ulong Step = 0x9E3779B97F4A7C15;

        private ulong _state;

        public SplitMix(ulong seed, ulong block)
        {
            _state = seed ^ (block * 0xD1342543DE82EF95 + 0x632BE59BD9B4E019);
            _state = Mix(_state + Step);
        }

        /// <summary>Draws as many observations as there are, with replacement, and counts each.</summary>
        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        public void Draw(double[] weights)
        {
            Array.Clear(weights);
            ref var first = ref MemoryMarshal.GetArrayDataReference(weights);
            var n = (ulong)weights.Length;
            var state = _state;
            // two draws of 32 bits from one number: no observation is favoured by more than n/2³²
            for (var i = 1; i < weights.Length; i += 2)
            {
                var bits = Mix(state += Step);
                Unsafe.Add(ref first, (nuint)((bits & uint.MaxValue) * n >> 32))++;
                Unsafe.Add(ref first, (nuint)((bits >> 32) * n >> 32))++;
            }
            if (n % 2 == 1)
                Unsafe.Add(ref first, (nuint)((Mix(state += Step) >> 32) * n >> 32))++;
            _state = state;
        }

        private static ulong Mix(ulong z)
        {
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }
    }
}
