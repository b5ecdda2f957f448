using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>Whether, when and by how much the bias of a method changed: steps at dated events, and what changed besides.</summary>
/// <remarks>
/// <para>Every onset between two checks is tried, as a step and as a drift that begins in the middle of the gap, with the whole covariance of the checks and the grid over the standard deviations; what remains is a posterior over
/// “no change” and every onset. The steps of all clear events are allowed for beside it, each of any size. One further change at most is looked for, since the last event that starts anew or across it, but not at it.</para>
/// <para>Prior: no change ½, a step ¼, a drift ¼; the onset is as likely on every day, but half of a step's share lies at the dated events, if there are any left. Size of a step N(0, 1.5²) in tolerances, of a drift N(0, 1) in
/// ninety days. Marginal likelihoods of each in closed form (Gaussian), summed over the grid.</para>
/// <para>Dated events are tested as steps of any size, with the standard deviations that fit the checks once these steps are taken out. All of them are in the model at first; the least clear one is left out again and again until each that is left
/// is clear by Holm's correction over all events. Going down from all of them finds a fault that came and went, of which neither step is clear while the other is not allowed for (Mantel 1970, Technometrics 12, 621). Every event is then tested beside those that are left. Where
/// a search without them finds a drift, or a step between two checks with no event, that change is allowed for too.</para>
/// <para>A changeover that spans an event is one more observation of its step.</para>
/// </remarks>
public sealed class ChangePoint
{
    internal const double DriftSdPerDay = 1.0 / 90;
    private const double StepSd = 1.5, Wanted = 0.95, Light = 1e-4;

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
        return new Search(new DriftGrid(history, priors ?? new DriftPriors(), coarse: true)).Found();
    }

    /// <summary>One onset as a step or a drift.</summary>
    private readonly record struct Candidate(CourseKind Kind, int From, double OnsetDay, double LogPrior);

    private sealed class Search
    {
        private readonly DriftGrid _grid;
        private readonly DriftHistory _history;
        private readonly int _checks, _length;

        /// <summary>For each changeover the last check with the old lots and the first one after it with the new, between which its step lies.</summary>
        private readonly (int From, int To)[] _spans;

        public Search(DriftGrid grid)
        {
            (_grid, _history, _checks) = (grid, grid.History, grid.History.Checks.Count);
            _length = grid.Count + grid.Steps.Length;
            _spans = [.. _history.Changeovers.Select(Span)];
        }

        public ChangePoint Found()
        {
            var lots = Lots();
            var events = EventColumns();
            var change = _checks >= 3 ? Look(events, []) : Outlook.Nothing;
            var tests = Tests(events, Beside(change, events));
            var clear = Clear(tests);
            if (clear.Length > 0 && _checks >= 3)
            {
                var beside = Beside(change, events);
                change = Look(events, clear);
                // what was allowed for may have been the clear events themselves
                if (beside is not null && change.Kind == CourseKind.Steady)
                {
                    tests = Tests(events, null);
                    if (!Clear(tests).SequenceEqual(clear))
                        change = Look(events, Clear(tests));
                }
            }
            var gaps = events.Select(e => e.From).Distinct().Order().ToArray();
            return new ChangePoint(change.Kinds, change.Kind, change.Onset, change.Likeliest, change.Size, change.SizeInterval,
                [.. events.Select(e =>
                {
                    var test = tests[Array.IndexOf(gaps, e.From)];
                    return new EventStep(e.Event, new Interval(Day(e.From - 1), Day(e.From)), test.Step, test.Interval, test.P, test.CorrectedP, [.. events.Where(o => o.From == e.From && o.Event != e.Event).Select(o => o.Event)]);
                })],
                lots);
        }

        /// <summary>Gaps of the clear events.</summary>
        private static int[] Clear(Test[] tests) => [.. tests.Where(t => t.CorrectedP < EventStep.Clear).Select(t => t.From)];

        /// <summary>The change to allow for beside the events: a drift, or a step at none of them.</summary>
        private static Candidate? Beside(Outlook change, (DriftEvent Event, int From)[] events) =>
            change is { Kind: not CourseKind.Steady, Best: { } best } && (best.Kind == CourseKind.Drift || events.All(e => e.From != best.From)) ? best : null;

        /// <summary>What a search came to.</summary>
        private sealed record Outlook(double[] Kinds, CourseKind Kind, Interval? Onset, double? Likeliest, double? Size, Interval? SizeInterval, Candidate? Best)
        {
            public static readonly Outlook Nothing = new([1, 0, 0], CourseKind.Steady, null, null, null, null, null);
        }

        /// <summary>One gap with events, tested.</summary>
        private sealed record Test(int From, double Step, Interval Interval, double P, double CorrectedP);

        private (int From, int To) Span(Changeover changeover)
        {
            bool Has(int check, IReadOnlyList<string> lots) => _history.Checks[check].Lots.Count == lots.Count && _history.Checks[check].Lots.ToHashSet(StringComparer.Ordinal).SetEquals(lots);
            var from = Enumerable.Range(0, _checks).LastOrDefault(i => Has(i, changeover.From), -1);
            var to = Enumerable.Range(from + 1, _checks - from - 1).FirstOrDefault(i => Has(i, changeover.To), -1);
            return from < 0 || to < 0 || _grid.Span[from] != _grid.Span[to] ? (-1, -1) : (from, to);
        }

        private Outlook Look((DriftEvent Event, int From)[] events, int[] allowed)
        {
            var candidates = Candidates(events, allowed);
            if (candidates.Length == 0)
                return Outlook.Nothing;
            var nodes = _grid.Nodes.Length;
            var none = new double[nodes];
            var (cross, square) = (new double[candidates.Length, nodes], new double[candidates.Length, nodes]);
            Scan(candidates, allowed, none, cross, square);

            // joint logarithms over candidates and nodes; “no change” stands for itself
            var highest = double.NegativeInfinity;
            var log = new double[candidates.Length, nodes];
            for (var k = 0; k < nodes; k++)
            {
                var node = _grid.Nodes[k].LogPrior + none[k];
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
                kinds[0] += 0.5 * Math.Exp(_grid.Nodes[k].LogPrior + none[k] - highest);
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
            var best = Enumerable.Range(0, candidates.Length).Where(c => candidates[c].Kind == changed).MaxBy(c => mass[c]);
            return new Outlook(kinds, kind, onset, likeliest, unit * mean, new Interval(unit * low, unit * high), candidates[best]);
        }

        private static double Variance(CourseKind kind) => kind == CourseKind.Step ? StepSd * StepSd : DriftSdPerDay * DriftSdPerDay;

        private double Day(int check) => _history.Checks[check].Day;

        /// <summary>First check on or after each event that is tested, with its event.</summary>
        private (DriftEvent Event, int From)[] EventColumns() =>
            [.. _history.Events.Where(e => !e.StartsAnew)
                .Select(e => (Event: e, From: Enumerable.Range(0, _checks).FirstOrDefault(i => Day(i) >= e.Day, _checks)))
                .Where(e => e.From > 0 && e.From < _checks && _grid.Span[e.From] == _grid.Span[e.From - 1])];

        /// <summary>Onsets to try, without steps at the gaps whose steps are allowed for already.</summary>
        private Candidate[] Candidates((DriftEvent Event, int From)[] events, int[] allowed)
        {
            List<Candidate> found = [];
            var gaps = Enumerable.Range(1, _checks - 1).Where(g => _grid.Span[g] == _grid.Span[g - 1]).ToArray();
            if (gaps.Length == 0)
                return [];
            // a gap of no days counts a little, or two checks of one day could never be told apart
            double Length(int g) => Math.Max(Day(g) - Day(g - 1), 0.1);
            var whole = gaps.Sum(Length);
            var open = gaps.Except(allowed).ToArray();
            var left = events.Where(e => !allowed.Contains(e.From)).ToArray();
            var wholeOpen = open.Sum(Length);
            foreach (var g in gaps)
            {
                var middle = 0.5 * (Day(g - 1) + Day(g));
                found.Add(new Candidate(CourseKind.Drift, g, middle, Math.Log(0.25 * Length(g) / whole * (1 - 1.0 / _checks))));
                if (allowed.Contains(g))
                    continue;
                var here = left.Count(e => e.From == g);
                var share = left.Length == 0 ? Length(g) / wholeOpen : 0.5 * Length(g) / wholeOpen + 0.5 * here / left.Length;
                found.Add(new Candidate(CourseKind.Step, g, middle, Math.Log(0.25 * share)));
            }
            found.Add(new Candidate(CourseKind.Drift, 0, Day(0), Math.Log(0.25 / _checks)));
            return [.. found];
        }

        /// <summary>Whitened checks and changeovers at a node, and the part of the logarithm of the likelihood that no change of the mean touches.</summary>
        private double Whiten(in DriftNode node, in CholeskyFactor factor, double[] white)
        {
            factor.Whiten(_grid.Y, white.AsSpan(0, _grid.Count));
            var log = -factor.HalfLogDeterminant;
            for (var i = 0; i < _grid.Steps.Length; i++)
            {
                // one between lots of no check may have any size: it says nothing here
                var variance = _spans[i].From < 0 ? double.PositiveInfinity : _grid.StepVariance(node, i);
                white[_grid.Count + i] = _grid.Steps[i] / Math.Sqrt(variance);
                log -= double.IsFinite(variance) ? 0.5 * Math.Log(variance) : 0;
            }
            return log;
        }

        /// <summary>The rows of the changeovers in the whitened pattern of a step: a changeover has the step if it spans its gap.</summary>
        private void SpanRows(in DriftNode node, int gap, double[] column)
        {
            for (var i = 0; i < _spans.Length; i++)
                column[_grid.Count + i] = _spans[i].From < gap && gap <= _spans[i].To && _spans[i].From >= 0 ? 1 / Math.Sqrt(_grid.StepVariance(node, i)) : 0;
        }

        /// <summary>The whitened pattern of a step, or of a drift.</summary>
        private double[] Column(in DriftNode node, in CholeskyFactor factor, CourseKind kind, int from, double onset)
        {
            var plain = new double[_grid.Count];
            for (var r = _grid.First[from]; r < _grid.Count; r++)
                plain[r] = kind == CourseKind.Step ? 1 : Day(_grid.CheckOf[r]) - onset;
            var column = new double[_length];
            factor.Whiten(plain, column.AsSpan(0, _grid.Count), _grid.First[from]);
            if (kind == CourseKind.Step)
                SpanRows(node, from, column);
            return column;
        }

        private static double Dot(double[] a, double[] b, int from = 0) => CholeskyFactor.Dot(a.AsSpan(from), b.AsSpan(from));

        /// <summary>For each node: likelihood without a change, and xᵀV⁻¹y and xᵀV⁻¹x for each candidate, beside the steps allowed for. Columns are sums of whitened checks, so that all of them cost about one factorisation.</summary>
        private void Scan(Candidate[] candidates, int[] allowed, double[] none, double[,] cross, double[,] square)
        {
            var count = _grid.Count;
            var byCheck = candidates.Select((c, at) => (c, at)).ToLookup(c => c.c.From);
            Parallel.For(0, _grid.Nodes.Length, k =>
            {
                var (white, unit, whole, ramp, x, plain) = (new double[_length], new double[count], new double[_length], new double[_length], new double[_length], new double[count]);
                var node = _grid.Nodes[k];
                var factor = _grid.Factor(node, withLevel: true);
                none[k] = Whiten(node, factor, white);
                var basis = new double[allowed.Length][];
                for (var a = 0; a < allowed.Length; a++)
                {
                    // Gram and Schmidt; a flat prior of the size leaves −½ ln det xᵀV⁻¹x
                    var column = Column(node, factor, CourseKind.Step, allowed[a], 0);
                    for (var b = 0; b < a; b++)
                        Take(column, basis[b], Dot(column, basis[b]));
                    var length = Math.Sqrt(Dot(column, column));
                    for (var r = 0; r < column.Length; r++)
                        column[r] /= length;
                    none[k] -= Math.Log(length);
                    basis[a] = column;
                    Take(white, column, Dot(white, column));
                }
                none[k] -= 0.5 * Dot(white, white);
                for (var check = _checks - 1; check >= 0; check--)
                {
                    Array.Clear(plain);
                    plain.AsSpan(_grid.First[check], _grid.First[check + 1] - _grid.First[check]).Fill(1);
                    factor.Whiten(plain, unit, _grid.First[check]);
                    var day = Day(check) - Day(0);
                    for (var r = _grid.First[check]; r < count; r++)
                    {
                        whole[r] += unit[r];
                        ramp[r] += day * unit[r];
                    }
                    foreach (var (candidate, at) in byCheck[check])
                    {
                        if (candidate.Kind == CourseKind.Step)
                        {
                            whole.CopyTo(x, 0);
                            SpanRows(node, check, x);
                        }
                        else
                        {
                            var onset = candidate.OnsetDay - Day(0);
                            for (var r = 0; r < _length; r++)
                                x[r] = ramp[r] - onset * whole[r];
                        }
                        var from = _grid.First[check];
                        var left = Dot(x, x, from);
                        foreach (var column in basis)
                        {
                            var along = Dot(x, column, from);
                            left -= along * along;
                        }
                        (cross[at, k], square[at, k]) = (Dot(x, white, from), Math.Max(left, 0));
                    }
                }
            });
        }

        private static void Take(double[] from, double[] column, double times)
        {
            for (var r = 0; r < from.Length; r++)
                from[r] -= times * column[r];
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

        private static List<(double Weight, double Value, double Sd)> Parts(Candidate[] candidates, CourseKind kind, double[,] weight, double[,] cross, double[,] square)
        {
            List<(double Weight, double Value, double Sd)> parts = [];
            var variance = Variance(kind);
            for (var c = 0; c < candidates.Length; c++)
            {
                if (candidates[c].Kind != kind)
                    continue;
                for (var k = 0; k < weight.GetLength(1); k++)
                {
                    var grown = 1 + variance * square[c, k];
                    parts.Add((weight[c, k], variance * cross[c, k] / grown, Math.Sqrt(variance / grown)));
                }
            }
            var most = parts.Max(p => p.Weight);
            parts.RemoveAll(p => p.Weight < Light * most);
            return parts;
        }

        /// <summary>Tests each gap with events as a step beside the other clear ones, and beside a change that was found without them.</summary>
        private Test[] Tests((DriftEvent Event, int From)[] events, Candidate? beside)
        {
            var gaps = events.Select(e => e.From).Distinct().Order().ToArray();
            if (gaps.Length == 0)
                return [];
            var steps = new StepModel(this, gaps, beside);
            var all = Enumerable.Range(0, gaps.Length).ToArray();
            // with as many steps as checks nothing is left to tell scatter from steps: begin with the clearest by themselves
            var most = Math.Max(1, _checks - 2 - (beside is null ? 0 : 1));
            List<int> kept = all.Length <= most ? [.. all] : [.. all.OrderBy(g => steps.Test([g])[0].P).Take(most).Order()];
            while (kept.Count > 0)
            {
                var found = steps.Test(kept);
                var least = Enumerable.Range(0, kept.Count).MaxBy(i => found[i].P);
                if (Holm([.. found.Select(f => f.P)], gaps.Length).Max() < EventStep.Clear)
                    break;
                kept.RemoveAt(least);
            }
            var tests = new (double Step, Interval Interval, double P)[gaps.Length];
            var together = steps.Test(kept);
            foreach (var g in all)
                tests[g] = kept.IndexOf(g) is >= 0 and var at ? together[at] : steps.Test([.. kept, g])[^1];
            var corrected = Holm([.. tests.Select(t => t.P)], gaps.Length);
            return [.. gaps.Select((from, g) => new Test(from, tests[g].Step, tests[g].Interval, tests[g].P, corrected[g]))];
        }

        /// <summary>Holm's correction: the smallest p times the number of tests, the next times one less, never falling.</summary>
        private static double[] Holm(double[] p, int tests)
        {
            var corrected = new double[p.Length];
            double before = 0;
            foreach (var i in Enumerable.Range(0, p.Length).OrderBy(i => p[i]))
                corrected[i] = before = Math.Max(before, Math.Min(1, p[i] * tests--));
            return corrected;
        }

        /// <summary>Steps of any size at some gaps: their inner products at every node, from which any choice of them is fitted.</summary>
        private sealed class StepModel
        {
            private readonly DriftGrid _grid;
            private readonly int _columns;
            private readonly bool _beside;
            private readonly double[] _log;
            private readonly double[][] _cross, _inner;

            public StepModel(Search search, int[] gaps, Candidate? beside)
            {
                _grid = search._grid;
                _beside = beside is not null;
                _columns = gaps.Length + (_beside ? 1 : 0);
                var nodes = _grid.Nodes.Length;
                (_log, _cross, _inner) = (new double[nodes], new double[nodes][], new double[nodes][]);
                Parallel.For(0, nodes, k =>
                {
                    var white = new double[search._length];
                    var columns = new double[_columns][];
                    var node = _grid.Nodes[k];
                    var factor = _grid.Factor(node, withLevel: true);
                    _log[k] = search.Whiten(node, factor, white) - 0.5 * Dot(white, white);
                    for (var g = 0; g < gaps.Length; g++)
                        columns[g] = search.Column(node, factor, CourseKind.Step, gaps[g], 0);
                    if (beside is { } change)
                        columns[^1] = search.Column(node, factor, change.Kind, change.From, change.OnsetDay);
                    (_cross[k], _inner[k]) = (new double[_columns], new double[_columns * _columns]);
                    for (var a = 0; a < _columns; a++)
                    {
                        _cross[k][a] = Dot(columns[a], white);
                        for (var b = 0; b <= a; b++)
                            _inner[k][a * _columns + b] = _inner[k][b * _columns + a] = Dot(columns[a], columns[b]);
                    }
                });
            }

            /// <summary>Step, interval and p of each of some gaps, all of them allowed for together.</summary>
            public (double Step, Interval Interval, double P)[] Test(List<int> gaps)
            {
                int[] chosen = _beside ? [.. gaps, _columns - 1] : [.. gaps];
                var n = chosen.Length;
                var nodes = _log.Length;
                var log = new double[nodes];
                var (value, sd) = (new double[nodes][], new double[nodes][]);
                for (var k = 0; k < nodes; k++)
                {
                    var matrix = new double[n * n];
                    var solved = new double[n];
                    for (var a = 0; a < n; a++)
                    {
                        solved[a] = _cross[k][chosen[a]];
                        for (var b = 0; b <= a; b++)
                            matrix[a * n + b] = _inner[k][chosen[a] * _columns + chosen[b]];
                    }
                    var solver = new CholeskyFactor(matrix, n);
                    solver.Whiten(solved, solved);
                    log[k] = _log[k] + 0.5 * Dot(solved, solved) - solver.HalfLogDeterminant;
                    solver.Unwhiten(solved);
                    (value[k], sd[k]) = (solved, new double[n]);
                    var unit = new double[n];
                    for (var a = 0; a < n; a++)
                    {
                        Array.Clear(unit);
                        unit[a] = 1;
                        solver.Whiten(unit, unit, a);
                        sd[k][a] = Math.Sqrt(Dot(unit, unit));
                    }
                }
                var weights = _grid.Weights(log);
                var most = weights.Max();
                var heavy = Enumerable.Range(0, nodes).Where(k => weights[k] >= Light * most).ToArray();
                return [.. Enumerable.Range(0, gaps.Count).Select(g =>
                {
                    List<(double Weight, double Value, double Sd)> parts = [.. heavy.Select(k => (weights[k], value[k][g], sd[k][g]))];
                    var below = NormalMixture.Cdf(parts, 0);
                    var above = NormalMixture.Cdf([.. parts.Select(p => (p.Weight, -p.Value, p.Sd))], 0);
                    return (parts.Sum(p => p.Weight * p.Value) / parts.Sum(p => p.Weight), NormalMixture.Interval(parts, Wanted), Math.Min(1, 2 * Math.Min(below, above)));
                })];
            }
        }

        private LotBias[] Lots()
        {
            string Key(int span, IReadOnlyList<string> lots) => $"{span}\u0001{string.Join('\u0001', lots)}";
            Dictionary<string, int> columns = [];
            List<IReadOnlyList<string>> names = [];
            int Column(string key, IReadOnlyList<string> lots)
            {
                if (!columns.TryGetValue(key, out var at))
                {
                    columns[key] = at = names.Count;
                    names.Add(lots);
                }
                return at;
            }
            var place = new int[_checks];
            for (var i = 0; i < _checks; i++)
                place[i] = Column(Key(_grid.Span[i], _history.Checks[i].Lots), _history.Checks[i].Lots);
            // a changeover ties two lots, also one that has no check yet; where neither has one it says nothing of where they read
            List<(int From, int To, int Changeover)> ties = [];
            var open = Enumerable.Range(0, _history.Changeovers.Count).ToList();
            for (var tied = true; tied;)
            {
                tied = false;
                foreach (var i in open.ToList())
                {
                    var changeover = _history.Changeovers[i];
                    var span = Math.Max(0, Enumerable.Range(0, _checks).LastOrDefault(c => Day(c) <= changeover.Day, 0));
                    var (from, to) = (Key(_grid.Span[span], changeover.From), Key(_grid.Span[span], changeover.To));
                    if (!columns.ContainsKey(from) && !columns.ContainsKey(to))
                        continue;
                    ties.Add((Column(from, changeover.From), Column(to, changeover.To), i));
                    open.Remove(i);
                    tied = true;
                }
            }
            var fits = new SpanFit[_grid.Nodes.Length];
            var log = new double[fits.Length];
            Parallel.For(0, fits.Length, k =>
            {
                var node = _grid.Nodes[k];
                fits[k] = new SpanFit(_grid.Covariance(node, withLevel: false), _grid.Y, names.Count, place, _grid.CheckOf, [.. ties.Select(t => new GroupDifference(t.From, t.To, _grid.Steps[t.Changeover], _grid.StepVariance(node, t.Changeover)))]);
                log[k] = fits[k].LogLikelihood;
            });
            var weights = _grid.Weights(log);
            var most = weights.Max();
            var found = new List<LotBias>();
            for (var lot = 0; lot < names.Count; lot++)
            {
                if (names[lot].Count == 0)
                    continue;
                List<(double Weight, double Value, double Sd)> parts = [];
                for (var k = 0; k < fits.Length; k++)
                {
                    if (weights[k] >= Light * most)
                        parts.Add((weights[k], fits[k].Value(lot), Math.Sqrt(fits[k].Covariance(lot, lot))));
                }
                found.Add(new LotBias(names[lot], CombinedBias.Of(parts, place.Count(p => p == lot)), ties.Count(t => t.From == lot || t.To == lot)));
            }
            return [.. found];
        }
    }
}
