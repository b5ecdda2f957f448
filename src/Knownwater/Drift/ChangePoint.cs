using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>Whether, when and by how much the bias of a method changed.</summary>
/// <remarks>
/// <para>Every onset between two checks is tried, as a step and as a drift that begins in the middle of the gap, with the whole covariance of the checks and the grid over the standard deviations; what remains is a posterior over
/// “no change” and every onset. One change at most is looked for, since the last event that starts anew or across it, but not at it.</para>
/// <para>Prior: no change ½, a step ¼, a drift ¼; the onset is as likely on every day, but half of a step's share lies at the dated events, if there are any. Size of a step N(0, 1.5²) in tolerances, of a drift N(0, 1) in
/// ninety days. Marginal likelihoods of each in closed form (Gaussian), summed over the grid.</para>
/// <para>Each dated event by itself is tested as a step of any size, with the standard deviations that fit the checks once that step is taken out.</para>
/// </remarks>
public sealed class ChangePoint
{
    private const double StepSd = 1.5, DriftSdPerDay = 1.0 / 90, Wanted = 0.95, Light = 1e-4;

    private ChangePoint(double[] kinds, CourseKind kind, Interval? onset, double? likeliest, double? size, Interval? sizeInterval, EventStep[] events, LotBias[] lots) =>
        (SteadyProbability, StepProbability, DriftProbability, Kind, Onset, LikeliestOnset, Size, SizeInterval, Events, Lots) = (kinds[0], kinds[1], kinds[2], kind, onset, likeliest, size, sizeInterval, events, lots);

    /// <summary>Probability that nothing changed.</summary>
    public double SteadyProbability { get; }

    /// <summary>Probability of a step.</summary>
    public double StepProbability { get; }

    /// <summary>Probability of a drift.</summary>
    public double DriftProbability { get; }

    /// <summary>The most probable of the three.</summary>
    public CourseKind Kind { get; }

    /// <summary>95 % interval of the day on which it began, if it did; null with fewer than three checks. It begins and ends at checks, since a step lies between two.</summary>
    public Interval? Onset { get; }

    /// <summary>Middle of the likeliest gap between two checks for the onset, if it changed.</summary>
    public double? LikeliestOnset { get; }

    /// <summary>Posterior mean of the size if it changed: of a step in tolerances, of a drift in tolerances in thirty days, whichever of the two is more probable.</summary>
    public double? Size { get; }

    /// <summary>95 % interval of the size.</summary>
    public Interval? SizeInterval { get; }

    /// <summary>Each dated event with checks before and after it, but for those that start anew.</summary>
    public IReadOnlyList<EventStep> Events { get; }

    /// <summary>Bias under each set of lots in use.</summary>
    public IReadOnlyList<LotBias> Lots { get; }

    /// <summary>The more probable kind of change, even where no change is more probable still.</summary>
    public CourseKind KindOfChange => StepProbability >= DriftProbability ? CourseKind.Step : CourseKind.Drift;

    /// <summary>Looks for a change.</summary>
    /// <param name="history">The history.</param>
    /// <param name="priors">What is taken to be so beforehand; the documented priors where null.</param>
    public static ChangePoint Find(DriftHistory history, DriftPriors? priors = null)
    {
        ArgumentNullException.ThrowIfNull(history);
        return new Search(new DriftGrid(history, priors ?? new DriftPriors())).Found();
    }

    /// <summary>One onset as a step or a drift.</summary>
    private readonly record struct Candidate(CourseKind Kind, int From, double OnsetDay, double LogPrior);

    private sealed class Search(DriftGrid grid)
    {
        private readonly DriftHistory _history = grid.History;
        private readonly int _checks = grid.History.Checks.Count;

        public ChangePoint Found()
        {
            var lots = Lots();
            var events = EventColumns();
            var candidates = _checks >= 3 ? Candidates(events) : [];
            var nodes = grid.Nodes.Length;
            var none = new double[nodes];
            var (cross, square) = (new double[candidates.Length, nodes], new double[candidates.Length, nodes]);
            var (eventCross, eventSquare) = (new double[_checks, nodes], new double[_checks, nodes]);
            Scan(candidates, none, cross, square, eventCross, eventSquare);

            var tests = Tests(events, none, eventCross, eventSquare);
            if (candidates.Length == 0)
                return new ChangePoint([1, 0, 0], CourseKind.Steady, null, null, null, null, tests, lots);

            // joint logarithms over candidates and nodes; “no change” stands for itself
            var highest = double.NegativeInfinity;
            var log = new double[candidates.Length, nodes];
            for (var k = 0; k < nodes; k++)
            {
                var node = grid.Nodes[k].LogPrior + none[k];
                highest = Math.Max(highest, node + Math.Log(0.5));
                for (var c = 0; c < candidates.Length; c++)
                {
                    var variance = Variance(candidates[c].Kind);
                    var grown = 1 + variance * square[c, k];
                    log[c, k] = node + candidates[c].LogPrior - 0.5 * Math.Log(grown) + 0.5 * variance * cross[c, k] * cross[c, k] / grown;
                    highest = Math.Max(highest, log[c, k]);
                }
            }
            var kinds = new double[3];
            var mass = new double[candidates.Length];
            for (var k = 0; k < nodes; k++)
            {
                kinds[0] += 0.5 * Math.Exp(grid.Nodes[k].LogPrior + none[k] - highest);
                for (var c = 0; c < candidates.Length; c++)
                {
                    log[c, k] = Math.Exp(log[c, k] - highest);
                    mass[c] += log[c, k];
                    kinds[(int)candidates[c].Kind] += log[c, k];
                }
            }
            var all = kinds.Sum();
            for (var i = 0; i < 3; i++)
                kinds[i] /= all;
            var kind = (CourseKind)Array.IndexOf(kinds, kinds.Max());
            var changed = kinds[1] >= kinds[2] ? CourseKind.Step : CourseKind.Drift;
            var (onset, likeliest) = Onset(candidates, mass);
            var parts = Parts(candidates, changed, log, cross, square);
            var unit = changed == CourseKind.Drift ? 30.0 : 1;
            var (low, high) = NormalMixture.Interval(parts, Wanted);
            var mean = parts.Sum(p => p.Weight * p.Value) / parts.Sum(p => p.Weight);
            return new ChangePoint(kinds, kind, onset, likeliest, unit * mean, new Interval(unit * low, unit * high), tests, lots);
        }

        private static double Variance(CourseKind kind) => kind == CourseKind.Step ? StepSd * StepSd : DriftSdPerDay * DriftSdPerDay;

        private double Day(int check) => _history.Checks[check].Day;

        /// <summary>First check on or after each event that is tested, with its event.</summary>
        private (DriftEvent Event, int From)[] EventColumns() =>
            [.. _history.Events.Where(e => !e.StartsAnew)
                .Select(e => (Event: e, From: Enumerable.Range(0, _checks).FirstOrDefault(i => Day(i) >= e.Day, _checks)))
                .Where(e => e.From > 0 && e.From < _checks && grid.Span[e.From] == grid.Span[e.From - 1])];

        private Candidate[] Candidates((DriftEvent Event, int From)[] events)
        {
            List<Candidate> found = [];
            var gaps = Enumerable.Range(1, _checks - 1).Where(g => grid.Span[g] == grid.Span[g - 1]).ToArray();
            if (gaps.Length == 0)
                return [];
            // a gap of no days counts a little, or two checks of one day could never be told apart
            double Length(int g) => Math.Max(Day(g) - Day(g - 1), 0.1);
            var whole = gaps.Sum(Length);
            foreach (var g in gaps)
            {
                var middle = 0.5 * (Day(g - 1) + Day(g));
                var here = events.Count(e => e.From == g);
                var share = events.Length == 0 ? Length(g) / whole : 0.5 * Length(g) / whole + 0.5 * here / events.Length;
                found.Add(new Candidate(CourseKind.Step, g, middle, Math.Log(0.25 * share)));
                found.Add(new Candidate(CourseKind.Drift, g, middle, Math.Log(0.25 * Length(g) / whole * (1 - 1.0 / _checks))));
            }
            found.Add(new Candidate(CourseKind.Drift, 0, Day(0), Math.Log(0.25 / _checks)));
            return [.. found];
        }

        /// <summary>For each node: likelihood without a change, and xᵀV⁻¹y and xᵀV⁻¹x for each candidate. Columns are sums of whitened checks, so that all of them cost about one factorisation.</summary>
        private void Scan(Candidate[] candidates, double[] none, double[,] cross, double[,] square, double[,] eventCross, double[,] eventSquare)
        {
            var count = grid.Count;
            var (white, unit, whole, ramp) = (new double[count], new double[count], new double[count], new double[count]);
            var plain = new double[count];
            var byCheck = candidates.Select((c, at) => (c, at)).ToLookup(c => c.c.From);
            for (var k = 0; k < grid.Nodes.Length; k++)
            {
                var factor = grid.Factor(grid.Nodes[k], withLevel: true);
                factor.Whiten(grid.Y, white);
                none[k] = -factor.HalfLogDeterminant;
                for (var r = 0; r < count; r++)
                    none[k] -= 0.5 * white[r] * white[r];
                Array.Clear(whole);
                Array.Clear(ramp);
                for (var check = _checks - 1; check >= 0; check--)
                {
                    Array.Clear(plain);
                    plain.AsSpan(grid.First[check], grid.First[check + 1] - grid.First[check]).Fill(1);
                    factor.Whiten(plain, unit, grid.First[check]);
                    var day = Day(check) - Day(0);
                    for (var r = grid.First[check]; r < count; r++)
                    {
                        whole[r] += unit[r];
                        ramp[r] += day * unit[r];
                    }
                    double xy = 0, xx = 0;
                    for (var r = grid.First[check]; r < count; r++)
                    {
                        xy += whole[r] * white[r];
                        xx += whole[r] * whole[r];
                    }
                    (eventCross[check, k], eventSquare[check, k]) = (xy, xx);
                    foreach (var (candidate, at) in byCheck[check])
                    {
                        if (candidate.Kind == CourseKind.Step)
                        {
                            (cross[at, k], square[at, k]) = (xy, xx);
                            continue;
                        }
                        var onset = candidate.OnsetDay - Day(0);
                        double dy = 0, dd = 0;
                        for (var r = grid.First[check]; r < count; r++)
                        {
                            var x = ramp[r] - onset * whole[r];
                            dy += x * white[r];
                            dd += x * x;
                        }
                        (cross[at, k], square[at, k]) = (dy, dd);
                    }
                }
            }
        }

        /// <summary>Shortest run of neighbouring gaps that holds 95 % of the onset.</summary>
        private (Interval Onset, double Likeliest) Onset(Candidate[] candidates, double[] mass)
        {
            var byGap = new double[_checks];
            for (var c = 0; c < candidates.Length; c++)
                byGap[candidates[c].From] += mass[c];
            var wanted = Wanted * byGap.Sum();
            var best = new Interval(Day(0), Day(_checks - 1));
            for (var from = 0; from < _checks; from++)
            {
                double inside = 0;
                for (var to = from; to < _checks; to++)
                {
                    inside += byGap[to];
                    if (inside >= wanted)
                    {
                        var low = Day(Math.Max(from - 1, 0));
                        if (Day(to) - low < best.High - best.Low)
                            best = new Interval(low, Day(to));
                        break;
                    }
                }
            }
            var likeliest = Array.IndexOf(byGap, byGap.Max());
            return (best, 0.5 * (Day(Math.Max(likeliest - 1, 0)) + Day(likeliest)));
        }

        private List<(double Weight, double Value, double Sd)> Parts(Candidate[] candidates, CourseKind kind, double[,] weight, double[,] cross, double[,] square)
        {
            List<(double Weight, double Value, double Sd)> parts = [];
            var variance = Variance(kind);
            for (var c = 0; c < candidates.Length; c++)
            {
                if (candidates[c].Kind != kind)
                    continue;
                for (var k = 0; k < grid.Nodes.Length; k++)
                {
                    var grown = 1 + variance * square[c, k];
                    parts.Add((weight[c, k], variance * cross[c, k] / grown, Math.Sqrt(variance / grown)));
                }
            }
            var most = parts.Max(p => p.Weight);
            parts.RemoveAll(p => p.Weight < Light * most);
            return parts;
        }

        private EventStep[] Tests((DriftEvent Event, int From)[] events, double[] none, double[,] cross, double[,] square)
        {
            var gaps = events.Select(e => e.From).Distinct().Order().ToArray();
            var found = new List<(int From, double Step, Interval Interval, double P)>();
            foreach (var from in gaps)
            {
                var log = new double[none.Length];
                for (var k = 0; k < log.Length; k++)
                    log[k] = none[k] + 0.5 * cross[from, k] * cross[from, k] / square[from, k] - 0.5 * Math.Log(square[from, k]);
                var weights = grid.Weights(log);
                var most = weights.Max();
                List<(double Weight, double Value, double Sd)> parts = [];
                for (var k = 0; k < log.Length; k++)
                {
                    if (weights[k] >= Light * most)
                        parts.Add((weights[k], cross[from, k] / square[from, k], 1 / Math.Sqrt(square[from, k])));
                }
                var below = NormalMixture.Cdf(parts, 0);
                var above = NormalMixture.Cdf([.. parts.Select(p => (p.Weight, -p.Value, p.Sd))], 0);
                found.Add((from, parts.Sum(p => p.Weight * p.Value) / parts.Sum(p => p.Weight), NormalMixture.Interval(parts, Wanted), Math.Min(1, 2 * Math.Min(below, above))));
            }
            // Holm: the smallest p times the number of tests, the next times one less, never falling
            Dictionary<int, double> corrected = [];
            double before = 0;
            var left = found.Count;
            foreach (var test in found.OrderBy(t => t.P))
                corrected[test.From] = before = Math.Max(before, Math.Min(1, test.P * left--));
            return [.. events.Select(e =>
            {
                var test = found.Single(t => t.From == e.From);
                return new EventStep(e.Event, test.Step, test.Interval, test.P, corrected[e.From], [.. events.Where(o => o.From == e.From && o.Event != e.Event).Select(o => o.Event)]);
            })];
        }

        private LotBias[] Lots()
        {
            string Key(int i) => $"{grid.Span[i]}\u0001{string.Join('\u0001', _history.Checks[i].Lots)}";
            Dictionary<string, int> columns = [];
            var place = new int[_checks];
            for (var i = 0; i < _checks; i++)
                place[i] = columns.TryGetValue(Key(i), out var at) ? at : columns[Key(i)] = columns.Count;
            var fits = new SpanFit[grid.Nodes.Length];
            var log = new double[fits.Length];
            for (var k = 0; k < fits.Length; k++)
            {
                fits[k] = new SpanFit(grid.Covariance(grid.Nodes[k], withLevel: false), grid.Y, columns.Count, place, grid.CheckOf);
                log[k] = fits[k].LogLikelihood;
            }
            var weights = grid.Weights(log);
            var most = weights.Max();
            var found = new List<LotBias>();
            for (var lot = 0; lot < columns.Count; lot++)
            {
                var check = Array.IndexOf(place, lot);
                if (_history.Checks[check].Lots.Count == 0)
                    continue;
                List<(double Weight, double Value, double Sd)> parts = [];
                for (var k = 0; k < fits.Length; k++)
                {
                    if (weights[k] >= Light * most)
                        parts.Add((weights[k], fits[k].Value(lot), Math.Sqrt(fits[k].Covariance(lot, lot))));
                }
                found.Add(new LotBias(_history.Checks[check].Lots, CombinedBias.Of(parts, place.Count(p => p == lot))));
            }
            return [.. found];
        }
    }
}
