using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

/// <summary>Propagation of distributions through a model (JCGM 101:2008; several outputs: JCGM 102:2011).</summary>
/// <remarks>
/// <para>Each source is drawn once a trial from its own distribution and moves every input that holds it, so inputs that share a source move together. A scaled t, and a normal u with finite degrees of freedom, is drawn from Student's t;
/// members of one family share the χ² of their one variance estimate.</para>
/// <para>Eight trials run side by side (<see cref="Lanes"/>), in blocks that each have their own generator seeded by (seed, block). Moments are kept a block and merged in the order of the
/// blocks: mean and u are the same to the last bit on any number of threads and with vectors of any width.</para>
/// <para>Values are not kept. Their quantiles come from a histogram of 65,536 bins over ten robust standard deviations to either side of the median of a pilot, with the values taken as evenly
/// spread inside a bin: an end is right to one bin (<see cref="MonteCarloResult.BinWidth"/>), about 3·10⁻⁴ u. That is less than what chance leaves in an end up to 10⁸ trials. Only where more
/// than one trial in 10⁴ falls outside, with heavy tails, are the trials run again over a wider range. Memory does not grow with the number of trials.</para>
/// </remarks>
public static class MonteCarlo
{
    /// <summary>Trials in a block.</summary>
    public const int Block = 16_384;

    /// <summary>The most trials.</summary>
    public const int MostTrials = 1_000_000_000;

    /// <summary>Blocks in a round of <see cref="Adaptive"/>.</summary>
    private const int Round = 16;

    /// <summary>A fixed number of trials.</summary>
    /// <param name="model">Model.</param>
    /// <param name="inputs">Its inputs, each with its sources.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="trials">Number of trials, at least 1,000; rounded up to whole blocks.</param>
    /// <param name="threads">Threads to use; all processors where zero. It changes the time, never the result.</param>
    /// <typeparam name="M">Type of the model.</typeparam>
    /// <returns>Mean, standard uncertainty and 95 % coverage intervals.</returns>
    /// <exception cref="ArgumentException">The inputs do not fit the model, or the number of trials or threads lies outside its limits.</exception>
    public static MonteCarloResult Of<M>(M model, ReadOnlySpan<Estimate> inputs, ulong seed, int trials = 1_000_000, int threads = 0) where M : struct, IModel =>
        Fixed(new OnlyOutput<M>(model), typeof(M).Name, inputs, seed, trials, threads).Outputs[0];

    /// <summary>A fixed number of trials of a model with several outputs, whose joint distribution is summed up.</summary>
    /// <param name="model">Model with several outputs.</param>
    /// <param name="inputs">Its inputs, each with its sources.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="trials">Number of trials, at least 1,000; rounded up to whole blocks.</param>
    /// <param name="threads">Threads to use; all processors where zero. It changes the time, never the result.</param>
    /// <typeparam name="M">Type of the model.</typeparam>
    /// <returns>Each output by itself, and their covariance matrix.</returns>
    /// <exception cref="ArgumentException">The inputs do not fit the model, it has no outputs, or the number of trials or threads lies outside its limits.</exception>
    public static JointResult Joint<M>(M model, ReadOnlySpan<Estimate> inputs, ulong seed, int trials = 1_000_000, int threads = 0) where M : struct, IMultivariateModel =>
        Fixed(model, typeof(M).Name, inputs, seed, trials, threads);

    /// <summary>Runs until the results are stable to two significant digits of the standard uncertainty (JCGM 101:2008, 7.9.4), at most <paramref name="most"/> trials.</summary>
    /// <remarks>Whole rounds of sixteen blocks decide: mean, u and both ends of the symmetric interval of every block, until twice the standard error of each of their means is within the numerical tolerance.</remarks>
    /// <param name="model">Model.</param>
    /// <param name="inputs">Its inputs, each with its sources.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="most">The most trials; a run that reaches them ends without being stable.</param>
    /// <param name="threads">Threads to use; all processors where zero. It changes the time, never the result.</param>
    /// <typeparam name="M">Type of the model.</typeparam>
    /// <returns>The result over all trials run.</returns>
    /// <exception cref="ArgumentException">The inputs do not fit the model, or the number of trials or threads lies outside its limits.</exception>
    public static MonteCarloResult Adaptive<M>(M model, ReadOnlySpan<Estimate> inputs, ulong seed, int most = 10_000_000, int threads = 0) where M : struct, IModel
    {
        if (most is < 2 * Block or > MostTrials)
            throw new ArgumentOutOfRangeException(nameof(most), most, $"{most} trials cannot be run; give {2 * Block} to {MostTrials}.");
        using var run = new MonteCarloRun<OnlyOutput<M>>(new(model), typeof(M).Name, inputs, seed, threads);
        var limit = most / Block;
        while (true)
        {
            var ends = new List<double[]>();
            while (run.Blocks < limit)
            {
                ends.AddRange(run.AdvanceWithEnds(Math.Min(Round, limit - run.Blocks)));
                if (run.RangeIsTooNarrow)
                    break;
                var tolerance = Validation.NumericalTolerance(run.StandardUncertainty);
                if (Enumerable.Range(0, 4).All(i => 2 * StandardErrorOfMean([.. ends.Select(e => e[i])]) <= tolerance))
                    return run.Result().Outputs[0];
            }
            if (!run.RangeIsTooNarrow)
                return run.Result().Outputs[0];
            run.StartAgainWider();
        }
    }

    private static double StandardErrorOfMean(double[] x) => SampleMoments.Of(x).StandardDeviation / Math.Sqrt(x.Length);

    private static JointResult Fixed<M>(M model, string name, ReadOnlySpan<Estimate> inputs, ulong seed, int trials, int threads) where M : struct, IMultivariateModel
    {
        if (trials is < 1000 or > MostTrials)
            throw new ArgumentOutOfRangeException(nameof(trials), trials, $"{trials} trials cannot be run; give 1000 to {MostTrials}.");
        using var run = new MonteCarloRun<M>(model, name, inputs, seed, threads);
        var blocks = (trials + Block - 1) / Block;
        run.Advance(blocks);
        while (run.RangeIsTooNarrow)
        {
            run.StartAgainWider();
            run.Advance(blocks);
        }
        return run.Result();
    }
}
