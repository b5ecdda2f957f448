using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Drift;

/// <summary>A history as numbers in tolerances, its covariance at given standard deviations, and the grid over these.</summary>
/// <remarks>
/// y = bias / T(c). V = between² within a check + walk²·min(t, t′) + covariance of the known waters + s²(c)/(n T²) on the diagonal, and where the level counts as unknown its prior. Several levels of a check
/// stand side by side in rows First[i] to First[i + 1] − 1. A drift that is allowed for adds a line in the days from its onset, zero on the day of the last check, with the prior of its size that <see cref="ChangePoint"/> has: the level is then that of the last day.
/// </remarks>
internal sealed class DriftGrid
{
    private const double WidestBetween = 6, BetweenBend = 0.05, Drop = 9, Negligible = 1e-4, AllButTheSame = 0.08;

    private readonly double[] _water, _known, _prior, _perReading, _levelRatio2, _roundingVariance, _days;
    private readonly Repeats[] _repeats;
    private readonly (double PerReading, double LevelRatio2, double RoundingVariance)[] _steps;

    public DriftGrid(DriftHistory history, DriftPriors priors, bool walks = false, bool coarse = false, double? driftFrom = null)
    {
        (History, Priors) = (history, priors);
        var checks = history.Checks;
        First = new int[checks.Count + 1];
        for (var i = 0; i < checks.Count; i++)
            First[i + 1] = First[i] + checks[i].Levels.Count;
        Count = First[^1];
        CheckOf = new int[Count];
        Span = new int[checks.Count];
        var levels = checks.SelectMany(c => c.Levels).ToArray();
        Levels = levels;
        MiddleLevel = levels.Average(l => l.Known);
        double low = levels.Min(l => l.Known), high = levels.Max(l => l.Known);
        ManyLevels = high > 1.1 * low;

        T = Array.ConvertAll(levels, l => history.Tolerance.At(l.Known));
        Y = new double[Count];
        _days = new double[Count];
        _perReading = new double[Count];
        _levelRatio2 = new double[Count];
        _roundingVariance = new double[Count];
        var anew = history.Events.Where(e => e.StartsAnew).Select(e => e.Day).ToArray();
        for (var i = 0; i < checks.Count; i++)
        {
            Span[i] = anew.Count(day => day > checks[0].Day && day <= checks[i].Day);
            for (var r = First[i]; r < First[i + 1]; r++)
            {
                CheckOf[r] = i;
                Y[r] = levels[r].Bias.Value / T[r];
                _days[r] = checks[i].Day - checks[0].Day;
                _perReading[r] = 1 / (levels[r].Replicates * T[r] * T[r]);
                _levelRatio2[r] = Ratio2(levels[r].Known);
                _roundingVariance[r] = levels[r].Resolution * levels[r].Resolution / 12;
            }
        }

        _water = new double[Count * Count];
        _known = new double[Count * Count];
        _prior = new double[Count * Count];
        var (level2, slope2) = (priors.LevelSd * priors.LevelSd, ManyLevels ? priors.SlopeSd * priors.SlopeSd : 0);
        double Line(int check) => driftFrom is { } onset ? ChangePoint.DriftSdPerDay * (Math.Max(checks[check].Day, onset) - checks[^1].Day) : 0;
        DriftVariance = [.. Enumerable.Range(0, checks.Count).Select(i => Line(i) * Line(i))];
        for (var i = 0; i < Count; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var slope = slope2 * (levels[i].Known - MiddleLevel) * (levels[j].Known - MiddleLevel) / Math.Max((high - low) * (high - low), double.Epsilon);
                // each span between events that start anew has a step of its own on top of the first
                var shared = 1 + Math.Min(Span[CheckOf[i]], Span[CheckOf[j]]);
                var at = i * Count + j;
                _water[at] = Estimate.Covariance(levels[i].Bias, levels[j].Bias) / (T[i] * T[j]);
                _known[at] = _water[at] + (slope2 > 0 ? slope : 0) + Line(CheckOf[i]) * Line(CheckOf[j]);
                _prior[at] = level2 * shared;
            }
        }
        Steps = [.. history.Changeovers.Select(c => c.Step / history.Tolerance.At(c.Level))];
        _steps = [.. history.Changeovers.Select(c =>
        {
            var allowed = history.Tolerance.At(c.Level);
            return ((1.0 / c.FromReplicates + 1.0 / c.ToReplicates) / (allowed * allowed), Ratio2(c.Level), c.Resolution * c.Resolution / 12);
        })];
        _repeats = [.. Enumerable.Range(0, Count).Where(r => levels[r].Sd is not null).Select(r => new Repeats(levels[r].Sd!.Value, levels[r].Dof, _levelRatio2[r], _roundingVariance[r])),
            .. history.Changeovers.Select((c, i) => (c, i)).Where(c => c.c.Sd is not null).Select(c => new Repeats(c.c.Sd!.Value, c.c.Dof, _steps[c.i].LevelRatio2, _steps[c.i].RoundingVariance))];
        Nodes = Grid(walks, coarse);
    }

    /// <summary>A standard deviation of single readings with its degrees of freedom.</summary>
    private readonly record struct Repeats(double Sd, double Dof, double LevelRatio2, double RoundingVariance);

    private double Ratio2(double level) => MiddleLevel > 0 ? level / MiddleLevel * (level / MiddleLevel) : 0;

    public DriftHistory History { get; }

    public DriftPriors Priors { get; }

    public IReadOnlyList<DriftLevel> Levels { get; }

    /// <summary>Number of rows.</summary>
    public int Count { get; }

    /// <summary>First row of each check, and the number of rows at the end.</summary>
    public int[] First { get; }

    public int[] CheckOf { get; }

    /// <summary>Number of events that start anew before each check.</summary>
    public int[] Span { get; }

    /// <summary>What the prior of a drift that is allowed for adds to the variance of each check.</summary>
    public double[] DriftVariance { get; }

    public double[] Y { get; }

    /// <summary>Tolerance at each row.</summary>
    public double[] T { get; }

    /// <summary>Measured steps between lots, in the order of the changeovers.</summary>
    public double[] Steps { get; }

    public double MiddleLevel { get; }

    public bool ManyLevels { get; }

    public DriftNode[] Nodes { get; }

    /// <summary>Degrees of freedom of the scatter within checks, with its prior.</summary>
    public double WithinDof { get; private set; }

    /// <summary>Covariance of the known waters of two rows, the column not after the row.</summary>
    public double KnownWater(int row, int column) => _water[row * Count + column];

    /// <summary>The scale on which the grid over the standard deviation between checks is even.</summary>
    public static double Bent(double between) => Math.Asinh(between / BetweenBend);

    /// <summary>Back from it.</summary>
    public static double Unbent(double bent) => BetweenBend * Math.Sinh(bent);

    /// <summary>How fast the standard deviation rises on it.</summary>
    public static double Stretch(double bent) => BetweenBend * Math.Cosh(bent);

    /// <summary>s² of single readings in a row.</summary>
    public double WithinVariance(in DriftNode node, int row) => WithinVariance(node, _levelRatio2[row], _roundingVariance[row]);

    /// <summary>Variance of a measured step between lots: that of two means, and nothing of the day or of the water.</summary>
    public double StepVariance(in DriftNode node, int changeover) =>
        WithinVariance(node, _steps[changeover].LevelRatio2, _steps[changeover].RoundingVariance) * _steps[changeover].PerReading;

    private static double WithinVariance(in DriftNode node, double levelRatio2, double roundingVariance) =>
        Math.Max(node.Within * node.Within * (1 - node.Share + node.Share * levelRatio2), roundingVariance);

    /// <summary>Covariance of the rows at a node; with the prior of the level where that counts as unknown.</summary>
    public double[] Covariance(in DriftNode node, bool withLevel)
    {
        var v = new double[Count * Count];
        var (between2, walk2) = (node.Between * node.Between, node.Walk * node.Walk);
        for (var i = 0; i < Count; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var at = i * Count + j;
                v[at] = _known[at] + (withLevel ? _prior[at] : 0) + (CheckOf[i] == CheckOf[j] ? between2 : 0);
                if (walk2 > 0)
                    v[at] += walk2 * Math.Min(_days[i], _days[j]);
            }
            v[i * Count + i] += WithinVariance(node, i) * _perReading[i];
        }
        return v;
    }

    /// <summary>Covariance of the bias on the day of the last check, at the middle level, with every row; returns its variance. The level counts as unknown.</summary>
    public double CovarianceWithNow(in DriftNode node, Span<double> rows)
    {
        var (level2, walk2) = (Priors.LevelSd * Priors.LevelSd, node.Walk * node.Walk);
        for (var r = 0; r < Count; r++)
            rows[r] = level2 * (1 + Span[CheckOf[r]]) + walk2 * _days[r];
        return level2 * (1 + Span[^1]) + walk2 * _days[^1];
    }

    public CholeskyFactor Factor(in DriftNode node, bool withLevel) => new(Covariance(node, withLevel), Count);

    /// <summary>Posterior weights from the logarithms of likelihoods at the nodes; they sum to 1.</summary>
    public double[] Weights(double[] logLikelihood)
    {
        var weights = new double[Nodes.Length];
        var highest = double.NegativeInfinity;
        for (var k = 0; k < weights.Length; k++)
            highest = Math.Max(highest, weights[k] = Nodes[k].LogPrior + logLikelihood[k]);
        double sum = 0;
        for (var k = 0; k < weights.Length; k++)
            sum += weights[k] = Math.Exp(weights[k] - highest);
        for (var k = 0; k < weights.Length; k++)
            weights[k] /= sum;
        return weights;
    }

    private DriftNode[] Grid(bool walks, bool coarse)
    {
        var (within, logWithin, shares) = WithinGrid();
        var checks = First.Length - 1;
        // fewer where the walk adds a dimension of its own
        var bends = walks ? 16 : Math.Clamp(24 + checks / 4, 24, 60);
        var step = Bent(WidestBetween) / bends;
        var nodes = new List<DriftNode>();
        double[] walkSds = walks ? WalkSds() : [0];
        // several levels add the shares: where each node is fitted again and again, fewer of the less likely ones, and one for those that are all but the same
        var few = walks || (coarse && shares.Length > 1);
        var scatters = Scatters(within, logWithin, shares, Math.Log(few ? 0.02 : Negligible), few ? AllButTheSame : 0);
        for (var w = 0; w < walkSds.Length; w++)
        {
            for (var b = 0; b <= bends; b++)
            {
                var between = Unbent(b * step);
                // trapezoidal rule over asinh of the standard deviation: even about zero, so its ends cost no accuracy
                var log = LogHalfT(between / Priors.BetweenScale, Priors.BetweenDof) + Math.Log(Math.Cosh(b * step) * (b == 0 ? 0.5 : 1)) - (walks ? Math.Log(walkSds.Length) : 0);
                foreach (var (sd, share, mass) in scatters)
                    nodes.Add(new DriftNode(between, sd, share, walkSds[w], log + mass));
            }
        }
        return [.. nodes];
    }

    /// <summary>The scatters within checks that carry mass. Neighbouring shares that give every level the same variance but for a factor of e to the power of the nearness stand together at the heaviest of them.</summary>
    private List<(double Within, double Share, double LogMass)> Scatters(double[] within, double[,] log, double[] shares, double least, double nearness)
    {
        var (low, high) = (_levelRatio2.Min(), _levelRatio2.Max());
        double Apart(double a, double b) => Math.Max(Math.Abs(Math.Log((1 - a + a * low) / (1 - b + b * low))), Math.Abs(Math.Log((1 - a + a * high) / (1 - b + b * high))));
        List<(double Within, double Share, double LogMass)> found = [];
        for (var s = 0; s < within.Length; s++)
        {
            for (var f = 0; f < shares.Length;)
            {
                var (first, heaviest, mass) = (f, f, 0.0);
                for (; f < shares.Length && Apart(shares[first], shares[f]) <= nearness; f++)
                {
                    mass += Math.Exp(log[s, f]);
                    if (log[s, f] > log[s, heaviest])
                        heaviest = f;
                }
                if (log[s, heaviest] > least)
                    found.Add((within[s], shares[heaviest], Math.Log(mass)));
            }
        }
        return found;
    }

    /// <summary>Equally likely values of the half-normal prior of the walk.</summary>
    private double[] WalkSds()
    {
        const int values = 12;
        return [.. Enumerable.Range(0, values).Select(i => Priors.WalkScale * Normal.Quantile(0.5 + (i + 0.5) / (2 * values)))];
    }

    private static double LogHalfT(double x, double dof) =>
        double.IsPositiveInfinity(dof) ? -0.5 * x * x : -0.5 * (dof + 1) * Math.Log(1 + x * x / dof);

    /// <summary>Grid over ln s at the middle level and the share of the growing part, with the logarithm of the posterior mass given the standard deviations within checks, its highest 0.</summary>
    private (double[] Within, double[,] Log, double[] Shares) WithinGrid()
    {
        var typical = History.Typical;
        var typicalSd = typical?.At(MiddleLevel) ?? 0;
        // without a typical figure a third of the tolerance at the middle level, for two degrees of freedom
        var (prior, priorDof) = typicalSd > 0 ? (typicalSd, Priors.TypicalDof) : (History.Tolerance.At(MiddleLevel) / 3, 2);
        var dof = priorDof;
        foreach (var repeats in _repeats)
            dof += repeats.Dof;
        WithinDof = dof;
        double[] shares = ManyLevels && MiddleLevel > 0 ? Shares(dof) : [typicalSd > 0 ? Math.Pow(typical!.Relative * MiddleLevel / typicalSd, 2) : 0];

        double lowest = double.PositiveInfinity, highest = double.NegativeInfinity;
        var (left, right) = Reach(dof);
        foreach (var share in shares)
        {
            var sum = priorDof * prior * prior;
            foreach (var (sd, degrees, ratio2, rounding) in _repeats)
                sum += degrees * Math.Max(sd * sd, 0.25 * rounding) / (1 - share + share * ratio2);
            var centre = 0.5 * Math.Log(sum / dof);
            lowest = Math.Min(lowest, centre - left);
            highest = Math.Max(highest, centre + right);
        }
        var count = Math.Clamp((int)Math.Ceiling((highest - lowest) * Math.Sqrt(2 * dof) / 0.8), 9, 60) + 1;
        var within = new double[count];
        var log = new double[count, shares.Length];
        var best = double.NegativeInfinity;
        for (var s = 0; s < count; s++)
        {
            within[s] = Math.Exp(lowest + (highest - lowest) * s / (count - 1));
            for (var f = 0; f < shares.Length; f++)
            {
                var node = new DriftNode(0, within[s], shares[f], 0, 0);
                var variance = within[s] * within[s];
                var value = -0.5 * priorDof * (Math.Log(variance) + prior * prior / variance);
                foreach (var (sd, degrees, ratio2, rounding) in _repeats)
                {
                    var here = WithinVariance(node, ratio2, rounding);
                    value -= 0.5 * degrees * (Math.Log(here) + sd * sd / here);
                }
                best = Math.Max(best, log[s, f] = value);
            }
        }
        for (var s = 0; s < count; s++)
        {
            for (var f = 0; f < shares.Length; f++)
                log[s, f] -= best;
        }
        return (within, log, shares);
    }

    /// <summary>Shares that are even on the logit scale from −6 to 6, the closer the more is known.</summary>
    private static double[] Shares(double dof)
    {
        var steps = (int)Math.Ceiling(12 / Math.Clamp(5 / Math.Sqrt(dof), 0.3, 2));
        return [.. Enumerable.Range(0, steps + 1).Select(i => 1 / (1 + Math.Exp(6 - 12.0 * i / steps)))];
    }

    /// <summary>How far ln s reaches to either side until its density has dropped by e⁹: ν(x + (e^(−2x) − 1)/2) = 9.</summary>
    private static (double Left, double Right) Reach(double dof)
    {
        double Fall(double x) => dof * (x + 0.5 * (Math.Exp(-2 * x) - 1)) - Drop;
        double left = 0, right = 0;
        var step = 0.05 / Math.Sqrt(dof);
        while (Fall(-left) < 0)
            left += step;
        while (Fall(right) < 0 && right < 4)
            right += step;
        return (left, right);
    }
}
