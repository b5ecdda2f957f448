namespace Knownwater.Statistics;

/// <summary>Nodes and weights of a Gauss–Legendre rule between −1 and 1.</summary>
/// <remarks>
/// Newton's method on the Legendre polynomial from Tricomi's approximation, to the last digits. MathNet.Numerics has tables for some orders and stops at 10⁻¹⁰ for all others,
/// which is too coarse where the order follows from the problem.
/// </remarks>
internal sealed class GaussLegendre
{
    private readonly double[] _nodes, _weights;

    /// <summary>Makes the rule.</summary>
    /// <param name="order">Number of nodes, at least 2.</param>
    public GaussLegendre(int order)
    {
        Require.AtLeast(order, 2);
        (_nodes, _weights) = (new double[order], new double[order]);
        for (var i = 0; i < (order + 1) / 2; i++)
        {
            var x = Math.Cos(Math.PI * (i + 0.75) / (order + 0.5));
            double slope = 0;
            for (var turn = 0; turn < 8; turn++)
            {
                double value = 1, before = 0;
                for (var n = 1; n <= order; n++)
                    (value, before) = (((2 * n - 1) * x * value - (n - 1) * before) / n, value);
                slope = order * (x * value - before) / (x * x - 1);
                var step = value / slope;
                x -= step;
                if (Math.Abs(step) < 1e-15)
                    break;
            }
            (_nodes[i], _nodes[order - 1 - i]) = (-x, x);
            _weights[i] = _weights[order - 1 - i] = 2 / ((1 - x * x) * slope * slope);
        }
        if (order % 2 == 1)
            _nodes[order / 2] = 0;
    }

    /// <summary>Nodes in rising order.</summary>
    public ReadOnlySpan<double> Nodes => _nodes;

    /// <summary>Weights, which sum to 2.</summary>
    public ReadOnlySpan<double> Weights => _weights;
}
