using System.Collections.Concurrent;
using Knownwater.Statistics;
using MathNet.Numerics.LinearAlgebra.Double;

namespace Knownwater.Drift;

/// <summary>A chart whose memory is one number between two bounds: y = a·z + b·x + c, x normal about the mean with standard deviation 1.</summary>
/// <remarks>
/// Above the upper bound it signals; below the lower one it signals too, or is put back to it (a bound that reflects). The density between the bounds lives on the nodes of
/// a Gauss–Legendre rule, the reflecting bound carries a probability of its own. The expected number of points to come then solves the Fredholm equation
/// L(z) = 1 + P(lower | z)·L(lower) + ∫ L(y) k(y | z) dy on the nodes (Crowder 1987, Technometrics 29, 401; Nyström's method). The kernel is a Gaussian, so that the rule
/// converges exponentially once its nodes lie closer than the kernel is wide; their number follows from that.
/// </remarks>
internal sealed class ScalarChain : IRunLengthChain
{
    private const double InverseSqrtTwoPi = 0.39894228040143267794;
    private static readonly ConcurrentDictionary<int, GaussLegendre> Rules = new();

    private readonly double _a, _b, _c, _start;
    private readonly bool _reflects;
    private readonly Func<int, (double Low, double High)> _bounds;
    private readonly GaussLegendre _rule;
    private readonly double[] _nodes, _weights;
    private (double[,] Matrix, double Mean)? _step;

    /// <summary>Fixes the chart.</summary>
    /// <param name="a">Memory of the last value.</param>
    /// <param name="b">Share of the new point, above 0.</param>
    /// <param name="c">What is added.</param>
    /// <param name="start">Value before the first point, between the bounds.</param>
    /// <param name="reflects">Whether the lower bound puts back instead of signalling.</param>
    /// <param name="settled">Number of the point from which the bounds stay.</param>
    /// <param name="bounds">Bounds at each point.</param>
    public ScalarChain(double a, double b, double c, double start, bool reflects, int settled, Func<int, (double Low, double High)> bounds)
    {
        (_a, _b, _c, _start, _reflects, Settled, _bounds) = (a, b, c, start, reflects, settled, bounds);
        var (low, high) = bounds(settled);
        _rule = Rules.GetOrAdd(NodesFor((high - low) / b), order => new GaussLegendre(order));
        (_nodes, _weights) = Place(low, high);
    }

    public int Settled { get; }

    public double[] First(double mean)
    {
        var (low, high) = _bounds(1);
        var (nodes, weights) = Place(low, high);
        var state = new double[nodes.Length + (_reflects ? 1 : 0)];
        for (var j = 0; j < nodes.Length; j++)
            state[j] = weights[j] * Density(nodes[j], _start, mean);
        if (_reflects)
            state[^1] = Reflected(low, _start, mean);
        return state;
    }

    public double[] Next(double[] state, double mean, int point)
    {
        if (point > Settled || Settled == 1)
            return Times(Step(mean), state);
        var (nodes, weights) = Place(_bounds(point).Low, _bounds(point).High);
        var (last, _) = Place(_bounds(point - 1).Low, _bounds(point - 1).High);
        return Times(Transition(nodes, weights, _bounds(point).Low, last, _bounds(point - 1).Low, mean), state);
    }

    public double[] Remaining(double mean)
    {
        // (I − Kᵀ)·L = 1 with K the transition matrix of masses
        var k = Step(mean);
        var n = k.GetLength(0);
        var equations = new DenseMatrix(n);
        for (var from = 0; from < n; from++)
        {
            for (var to = 0; to < n; to++)
                equations[from, to] = (from == to ? 1 : 0) - k[to, from];
        }
        return equations.LU().Solve(DenseVector.Create(n, 1)).AsArray();
    }

    public double[] Stationary() => QuasiStationary.Of(state => Times(Step(0), state), _nodes.Length + (_reflects ? 1 : 0));

    private static int NodesFor(double widths) => 4 * (int)Math.Ceiling((16 + 1.6 * widths) / 4);

    private (double[] Nodes, double[] Weights) Place(double low, double high)
    {
        var nodes = new double[_rule.Nodes.Length];
        var weights = new double[_rule.Nodes.Length];
        double middle = (low + high) / 2, half = (high - low) / 2;
        for (var j = 0; j < nodes.Length; j++)
            (nodes[j], weights[j]) = (middle + half * _rule.Nodes[j], half * _rule.Weights[j]);
        return (nodes, weights);
    }

    private double Density(double y, double z, double mean)
    {
        var x = (y - _a * z - _c) / _b - mean;
        return InverseSqrtTwoPi / _b * Math.Exp(-0.5 * x * x);
    }

    private double Reflected(double low, double z, double mean) => Normal.Cdf((low - _a * z - _c) / _b - mean);

    private double[,] Step(double mean)
    {
        if (_step is { } kept && kept.Mean == mean)
            return kept.Matrix;
        var low = _bounds(Settled).Low;
        var matrix = Transition(_nodes, _weights, low, _nodes, low, mean);
        _step = (matrix, mean);
        return matrix;
    }

    private double[,] Transition(double[] nodes, double[] weights, double low, double[] from, double fromLow, double mean)
    {
        var n = nodes.Length + (_reflects ? 1 : 0);
        var matrix = new double[n, n];
        for (var j = 0; j < n; j++)
        {
            var z = j < from.Length ? from[j] : fromLow;
            for (var i = 0; i < nodes.Length; i++)
                matrix[i, j] = weights[i] * Density(nodes[i], z, mean);
            if (_reflects)
                matrix[n - 1, j] = Reflected(low, z, mean);
        }
        return matrix;
    }

    private static double[] Times(double[,] matrix, double[] state)
    {
        var n = state.Length;
        var result = new double[n];
        for (var i = 0; i < n; i++)
        {
            double sum = 0;
            for (var j = 0; j < n; j++)
                sum += matrix[i, j] * state[j];
            result[i] = sum;
        }
        return result;
    }
}
