using Knownwater.Quantities;
using Knownwater.Statistics;
using MathNet.Numerics.Interpolation;

namespace Knownwater.Drift;

/// <summary>What the checks of a method say of its scatter and its course: the parts of the scatter, the two views, and how each check fell against its forecast.</summary>
/// <remarks>
/// <para>Model in tolerances: bias of check i at level c = steady level + slope over the levels + effect of the check, N(0, s_b²) and the same at all its levels + error of the known water, with the covariance
/// that ancestry gives + scatter of the mean, s_r²(c)/n with s_r(c) = √(a² + (b·c)²). The unknown standard deviations have the priors of <see cref="DriftPriors"/>; their posterior is computed on a grid, which gives the
/// same figures each time. The rounding of a display counts as at least q²/12 in s_r².</para>
/// <para>Forecast of check i: from the checks before it, with their whole covariance and the posterior of s_b that they give. Its error is turned into a probability (average over the grid) and that into
/// a normal score, so that estimated standard deviations, shared stocks and a number of readings that varies are all accounted for: under the model and its priors the scores are independent and N(0, 1) from the start (Rosenblatt 1952,
/// Annals of Mathematical Statistics 23, 470; Dawid 1984, Journal of the Royal Statistical Society A 147, 278). The scatter within checks, which says nothing of the means, is taken from all checks.</para>
/// </remarks>
public sealed class DriftModel
{
    private const double Light = 1e-3;

    private readonly DriftGrid _grid;
    private readonly double[] _weights;
    private readonly Lazy<DriftComponents> _components;
    private readonly Lazy<(TruenessPoint[] Points, CombinedBias Combined)> _trueness;
    private readonly Lazy<StabilityPoint[]> _stability;

    private DriftModel(DriftHistory history, DriftPriors priors, double? driftFrom = null)
    {
        History = history;
        _grid = new DriftGrid(history, priors, driftFrom: driftFrom);
        (_weights, Forecasts) = Sweep();
        _components = new(FindComponents);
        _trueness = new(FindTrueness);
        _stability = new(FindStability);
    }

    /// <summary>The history.</summary>
    public DriftHistory History { get; }

    /// <summary>The parts of the scatter.</summary>
    public DriftComponents Components => _components.Value;

    /// <summary>Deviations from the fitted level within a stock.</summary>
    public IReadOnlyList<StabilityPoint> Stability => _stability.Value;

    /// <summary>Biases against the known zero.</summary>
    public IReadOnlyList<TruenessPoint> Trueness => _trueness.Value.Points;

    /// <summary>One bias from the checks since the last event that starts anew, at the middle level; beside a drift, that of the day of the last check.</summary>
    public CombinedBias CombinedBias => _trueness.Value.Combined;

    /// <summary>How each check fell against its forecast: what every chart takes as its points.</summary>
    public IReadOnlyList<ForecastError> Forecasts { get; }

    /// <summary>Mean of the levels checked, in the unit of the history.</summary>
    public double MiddleLevel => _grid.MiddleLevel;

    /// <summary>Fits the model to a history.</summary>
    /// <param name="history">The history.</param>
    /// <param name="priors">What is taken to be so beforehand; the documented priors where null.</param>
    public static DriftModel Fit(DriftHistory history, DriftPriors? priors = null)
    {
        ArgumentNullException.ThrowIfNull(history);
        return new DriftModel(history, priors ?? new DriftPriors());
    }

    /// <summary>The model beside a change, so that what moved is no scatter: each clear event begins a level of its own, and so does a step at no event; a drift is allowed for as a line from its likeliest onset on, and the level is that of the last check.</summary>
    /// <param name="change">What changed in the history.</param>
    /// <returns>The model beside it; this one where nothing changed.</returns>
    public DriftModel Beside(ChangePoint change)
    {
        ArgumentNullException.ThrowIfNull(change);
        var settled = History.StartingAnew(change);
        if (change is { Kind: CourseKind.Step, LikeliestOnset: { } step })
            settled = settled.With([.. settled.Events, new DriftEvent(step, DriftEventKind.Service, "a step at no event") { StartsAnew = true }]);
        var driftFrom = change.Kind == CourseKind.Drift ? change.LikeliestOnset : null;
        return ReferenceEquals(settled, History) && driftFrom is null ? this : new DriftModel(settled, _grid.Priors, driftFrom);
    }

    /// <summary>One factorisation a node gives its likelihood and every one-step forecast.</summary>
    private (double[] Weights, ForecastError[] Forecasts) Sweep()
    {
        var (nodes, count, checks) = (_grid.Nodes, _grid.Count, _grid.First.Length - 1);
        var likelihood = new double[checks + 1][];
        for (var i = 0; i <= checks; i++)
            likelihood[i] = new double[nodes.Length];
        var error = new double[checks, nodes.Length];
        var sd = new double[checks, nodes.Length];
        Parallel.For(0, nodes.Length, k =>
        {
            double[] white = new double[count], one = new double[count];
            var factor = _grid.Factor(nodes[k], withLevel: true);
            factor.Whiten(_grid.Y, white);
            double log = 0;
            for (var i = 0; i < checks; i++)
            {
                var (from, to) = (_grid.First[i], _grid.First[i + 1]);
                Shift(factor, from, to, one);
                double cross = 0, square = 0;
                for (var r = from; r < to; r++)
                {
                    cross += one[r] * white[r];
                    square += one[r] * one[r];
                    log -= Math.Log(factor[r, r]) + 0.5 * white[r] * white[r];
                }
                error[i, k] = cross / square;
                sd[i, k] = 1 / Math.Sqrt(square);
                likelihood[i + 1][k] = log;
            }
        });

        var forecasts = new ForecastError[checks];
        for (var i = 0; i < checks; i++)
        {
            var weights = _grid.Weights(likelihood[i]);
            double below = 0, above = 0, mean = 0, square = 0;
            for (var k = 0; k < nodes.Length; k++)
            {
                var z = error[i, k] / sd[i, k];
                below += weights[k] * Normal.Cdf(z);
                above += weights[k] * Normal.Cdf(-z);
                mean += weights[k] * error[i, k];
                square += weights[k] * sd[i, k] * sd[i, k];
            }
            var foretold = i >= 2 && _grid.Span[i] == _grid.Span[i - 1];
            double? score = foretold ? (below < above ? Normal.Quantile(Math.Max(below, double.Epsilon)) : -Normal.Quantile(Math.Max(above, double.Epsilon))) : null;
            forecasts[i] = new ForecastError(i, History.Checks[i].Day, mean, Math.Sqrt(square), score);
        }
        return (_grid.Weights(likelihood[checks]), forecasts);
    }

    /// <summary>A shift of one tolerance at one check, whitened over its own rows: L_BB⁻¹·1.</summary>
    private static void Shift(in CholeskyFactor factor, int from, int to, double[] one)
    {
        for (var r = from; r < to; r++)
        {
            double sum = 1;
            for (var k = from; k < r; k++)
                sum -= factor[r, k] * one[k];
            one[r] = sum / factor[r, r];
        }
    }

    private DriftComponents FindComponents()
    {
        var nodes = _grid.Nodes;
        var between = Marginal(nodes.Select(n => n.Between).ToArray());
        double a2 = 0, b2 = 0, s2 = 0;
        for (var k = 0; k < nodes.Length; k++)
        {
            var variance = nodes[k].Within * nodes[k].Within;
            a2 += _weights[k] * variance * (1 - nodes[k].Share);
            s2 += _weights[k] * nodes[k].Between * nodes[k].Between;
            if (_grid.MiddleLevel > 0)
                b2 += _weights[k] * variance * nodes[k].Share / (_grid.MiddleLevel * _grid.MiddleLevel);
        }
        var (stock, preparation) = KnownWaterParts();
        return new DriftComponents(WithinAt, new TypicalSd(Math.Sqrt(a2), Math.Sqrt(b2), "this method's own checks"), _grid.WithinDof, between, Math.Sqrt(s2), stock, preparation, History.Tolerance, History.Checks.Count);
    }

    /// <summary>Posterior of the standard deviation between checks: shortest 95 % interval, which reaches down to zero where the checks show no sign of it.</summary>
    private ComponentEstimate Marginal(double[] values)
    {
        var distinct = values.Distinct().Order().ToArray();
        var mass = new double[distinct.Length];
        for (var k = 0; k < values.Length; k++)
            mass[Array.BinarySearch(distinct, values[k])] += _weights[k];
        // mass at the nodes is density over asinh(σ/bend), but for half of it at zero; between them its logarithm is a spline, flat at zero
        var at = Array.ConvertAll(distinct, DriftGrid.Bent);
        mass[0] *= 2;
        var log = Array.ConvertAll(mass, m => Math.Log(Math.Max(m, 1e-290)));
        var spline = CubicSpline.InterpolateBoundariesSorted(at, log, SplineBoundaryCondition.FirstDerivative, 0, SplineBoundaryCondition.SecondDerivative, 0);
        const int fine = 4000;
        var value = new double[fine];
        var weight = new double[fine];
        var density = new double[fine];
        double total = 0;
        for (var i = 0; i < fine; i++)
        {
            var x = at[^1] * (i + 0.5) / fine;
            value[i] = DriftGrid.Unbent(x);
            weight[i] = Math.Exp(spline.Interpolate(x));
            density[i] = weight[i] / DriftGrid.Stretch(x);
            total += weight[i];
        }
        double median = double.NaN, below = 0;
        for (var i = 0; i < fine; i++)
        {
            if (below < 0.5 * total && below + weight[i] >= 0.5 * total)
                median = value[i];
            below += weight[i];
        }
        var order = Enumerable.Range(0, fine).OrderByDescending(i => density[i]);
        double inside = 0, low = double.PositiveInfinity, high = 0;
        foreach (var i in order)
        {
            low = Math.Min(low, i == 0 ? 0 : value[i]);
            high = Math.Max(high, value[i]);
            inside += weight[i];
            if (inside >= 0.95 * total)
                break;
        }
        return new ComponentEstimate(median, new Interval(low, high));
    }

    private ComponentEstimate WithinAt(double level)
    {
        var ratio2 = _grid.MiddleLevel > 0 ? level / _grid.MiddleLevel * (level / _grid.MiddleLevel) : 0;
        var mass = new SortedDictionary<(double Share, double Within), double>();
        for (var k = 0; k < _weights.Length; k++)
        {
            var key = (_grid.Nodes[k].Share, _grid.Nodes[k].Within);
            mass[key] = mass.GetValueOrDefault(key) + _weights[k];
        }
        const int parts = 20;
        List<(double Value, double Weight)> points = [];
        foreach (var line in mass.GroupBy(m => m.Key.Share))
        {
            var x = line.Select(m => Math.Log(m.Key.Within)).ToArray();
            var log = line.Select(m => Math.Log(Math.Max(m.Value, 1e-290))).ToArray();
            var factor = Math.Sqrt(Math.Max(1 - line.Key + line.Key * ratio2, double.Epsilon));
            if (x.Length < 3)
            {
                points.AddRange(x.Select((at, i) => (Math.Exp(at) * factor, parts * Math.Exp(log[i]))));
                continue;
            }
            var spline = CubicSpline.InterpolateNaturalSorted(x, log);
            for (var i = 0; i < (x.Length - 1) * parts; i++)
            {
                var at = x[0] + (x[^1] - x[0]) * (i + 0.5) / ((x.Length - 1) * parts);
                points.Add((Math.Exp(at) * factor, Math.Exp(spline.Interpolate(at))));
            }
        }
        points.Sort();
        var total = points.Sum(p => p.Weight);
        return new ComponentEstimate(Quantile(0.5), new Interval(Quantile(0.025), Quantile(0.975)));

        double Quantile(double p)
        {
            double below = 0;
            foreach (var (value, weight) in points)
            {
                below += weight;
                if (below >= p * total)
                    return value;
            }
            return points[^1].Value;
        }
    }

    /// <summary>Known waters' variance by whether a source also stands in a check with another preparation.</summary>
    private (double Stock, double Preparation) KnownWaterParts()
    {
        var preparations = new Dictionary<Guid, HashSet<string>>();
        string Preparation(int check) => History.Checks[check].Preparation ?? $"\u0001{check}";
        for (var r = 0; r < _grid.Count; r++)
        {
            foreach (var part in _grid.Levels[r].Bias.Contributions)
            {
                if (!preparations.TryGetValue(part.Source.Id, out var seen))
                    preparations[part.Source.Id] = seen = [];
                seen.Add(Preparation(_grid.CheckOf[r]));
            }
        }
        double shared = 0, fresh = 0;
        for (var r = 0; r < _grid.Count; r++)
        {
            foreach (var part in _grid.Levels[r].Bias.Contributions)
            {
                var share = part.Value / _grid.T[r];
                if (preparations[part.Source.Id].Count > 1)
                    shared += share * share;
                else
                    fresh += share * share;
            }
        }
        return (Math.Sqrt(shared / _grid.Count), Math.Sqrt(fresh / _grid.Count));
    }

    private (TruenessPoint[] Points, CombinedBias Combined) FindTrueness()
    {
        var checks = History.Checks.Count;
        var span = _grid.Span[^1];
        var columns = Columns(Enumerable.Range(0, checks).Select(i => _grid.Span[i].ToString(System.Globalization.CultureInfo.InvariantCulture)), out var place);
        double sum = 0;
        var bias = new double[checks];
        var bias2 = new double[checks];
        var u2 = new double[checks];
        var known2 = new double[checks];
        List<(double Weight, double Value, double Sd)> parts = [];
        foreach (var (k, weight) in Heavy())
        {
            var v = _grid.Covariance(_grid.Nodes[k], withLevel: false);
            var fit = new SpanFit(v, _grid.Y, columns, place, _grid.CheckOf);
            var (value, variance) = (fit.Value(columns - 1), fit.Covariance(columns - 1, columns - 1));
            parts.Add((weight, value, Math.Sqrt(variance)));
            sum += weight;
            for (var i = 0; i < checks; i++)
            {
                var w = Collapse(v, i);
                double found = 0, all = 0, known = 0;
                for (var r = 0; r < w.Length; r++)
                {
                    found += w[r] * _grid.Y[_grid.First[i] + r];
                    for (var c = 0; c < w.Length; c++)
                    {
                        var (row, column) = (_grid.First[i] + Math.Max(r, c), _grid.First[i] + Math.Min(r, c));
                        all += w[r] * w[c] * v[row * _grid.Count + column];
                        known += w[r] * w[c] * _grid.KnownWater(row, column);
                    }
                }
                bias[i] += weight * found;
                bias2[i] += weight * found * found;
                // a drift moves where the check lies and does not blur it
                u2[i] += weight * (all - _grid.DriftVariance[i]);
                known2[i] += weight * known;
            }
        }
        var points = new TruenessPoint[checks];
        for (var i = 0; i < checks; i++)
        {
            var value = bias[i] / sum;
            points[i] = new TruenessPoint(i, History.Checks[i].Day, value, Math.Sqrt(u2[i] / sum + Math.Max(0, bias2[i] / sum - value * value)), Math.Sqrt(known2[i] / sum));
        }
        return (points, CombinedBias.Of(parts, _grid.Span.Count(s => s == span)));
    }

    private StabilityPoint[] FindStability()
    {
        var checks = History.Checks.Count;
        string Group(int i) => $"{_grid.Span[i]}\u0001{History.Checks[i].Stock}";
        var columns = Columns(Enumerable.Range(0, checks).Select(Group), out var place);
        var sizes = place.GroupBy(p => p).ToDictionary(g => g.Key, g => g.Count());
        double sum = 0;
        var deviation = new double[checks];
        var deviation2 = new double[checks];
        var u2 = new double[checks];
        foreach (var (k, weight) in Heavy())
        {
            var v = _grid.Covariance(_grid.Nodes[k], withLevel: false);
            var fit = new SpanFit(v, _grid.Y, columns, place, _grid.CheckOf);
            sum += weight;
            for (var i = 0; i < checks; i++)
            {
                var w = Collapse(v, i);
                double found = 0, all = -fit.Covariance(place[i], place[i]);
                for (var r = 0; r < w.Length; r++)
                {
                    found += w[r] * (_grid.Y[_grid.First[i] + r] - fit.Value(place[i]));
                    for (var c = 0; c < w.Length; c++)
                    {
                        var (row, column) = (_grid.First[i] + Math.Max(r, c), _grid.First[i] + Math.Min(r, c));
                        all += w[r] * w[c] * v[row * _grid.Count + column];
                    }
                }
                deviation[i] += weight * found;
                deviation2[i] += weight * found * found;
                u2[i] += weight * Math.Max(0, all);
            }
        }
        var points = new StabilityPoint[checks];
        for (var i = 0; i < checks; i++)
        {
            var value = deviation[i] / sum;
            var alone = sizes[place[i]] < 2;
            points[i] = new StabilityPoint(i, History.Checks[i].Day, History.Checks[i].Stock, alone ? null : value, alone ? 0 : Math.Sqrt(u2[i] / sum + Math.Max(0, deviation2[i] / sum - value * value)));
        }
        return points;
    }

    /// <summary>Nodes that carry weight.</summary>
    private IEnumerable<(int Node, double Weight)> Heavy()
    {
        var most = _weights.Max();
        for (var k = 0; k < _weights.Length; k++)
        {
            if (_weights[k] > Light * most)
                yield return (k, _weights[k]);
        }
    }

    private static int Columns(IEnumerable<string> names, out int[] place)
    {
        Dictionary<string, int> columns = [];
        place = [.. names.Select(name => columns.TryGetValue(name, out var at) ? at : columns[name] = columns.Count)];
        return columns.Count;
    }

    /// <summary>Weights that make one value of the levels of a check: V⁻¹1 over its rows, brought to sum 1.</summary>
    private double[] Collapse(double[] v, int check)
    {
        var (from, size) = (_grid.First[check], _grid.First[check + 1] - _grid.First[check]);
        if (size == 1)
            return [1];
        var block = new double[size * size];
        for (var r = 0; r < size; r++)
        {
            for (var c = 0; c <= r; c++)
                block[r * size + c] = v[(from + r) * _grid.Count + from + c];
        }
        var factor = new CholeskyFactor(block, size);
        var weights = new double[size];
        Array.Fill(weights, 1);
        factor.Whiten(weights, weights);
        factor.Unwhiten(weights);
        var sum = weights.Sum();
        return Array.ConvertAll(weights, w => w / sum);
    }
}
