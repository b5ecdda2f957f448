using Knownwater.Statistics;
using MathNet.Numerics.LinearAlgebra.Double;

namespace Knownwater.Drift;

/// <summary>A chart of single points together with that of their moving range: a point signals beyond a line, or where it differs from the one before it by more than a limit (ISO 7870-2:2013).</summary>
/// <remarks>
/// The run length L(x) after a point x follows L(x) = 1 + ∫ L(y)·φ(y − shift) dy over |y| &lt; width and |y − x| &lt; range, and the one from the start
/// L = 1 + ∫ L(y)·φ(y − shift) dy over |y| &lt; width, as the first point has no range (Crowder 1987, Journal of Quality Technology 19, 98). L bends only where x ± m·range meets a line, so it is
/// taken as a polynomial between those places and solved for at their Gauss–Legendre nodes.
/// </remarks>
/// <param name="Width">Distance of a line from the target in σ, above 0.</param>
/// <param name="Range">Limit of the difference of two neighbours in σ, at least a twentieth of the width; <see cref="UsualRange"/> is the usual one.</param>
public sealed record MovingRangeChart(double Width, double Range)
{
    private const double FewestParts = 20, LongestPart = 1.5, Same = 1e-9;
    private static readonly GaussLegendre Rule = new(24);

    /// <summary>Makes the usual chart: lines at 3 σ, and the range at D₂ = d₂ + 3·d₃ of two.</summary>
    public MovingRangeChart() : this(3, UsualRange)
    {
    }

    /// <summary>d₂ + 3·d₃ for two values, with d₂ = 2/√π and d₃ = √(2 − 4/π): 3.686.</summary>
    public static double UsualRange { get; } = 2 / Math.Sqrt(Math.PI) + 3 * Math.Sqrt(2 - 4 / Math.PI);

    /// <inheritdoc cref="MovingRangeChart"/>
    public double Width { get; init; } = Require.Positive(Width, nameof(Width));

    /// <inheritdoc cref="MovingRangeChart"/>
    public double Range { get; init; } = Require.Positive(Range, nameof(Range)) >= Width / FewestParts
        ? Range
        : throw new ArgumentOutOfRangeException(nameof(Range), Range, $"The limit of the range is {Range}; it must be at least {Width / FewestParts}, a twentieth of the width. Nearly every point would signal.");

    /// <summary>Average number of points until one signals, from the first one on.</summary>
    /// <param name="shift">Mean of the points in units of σ; 0 is in control.</param>
    /// <returns>Number of points, at least 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The shift is not a finite number.</exception>
    public double AverageRunLength(double shift = 0)
    {
        Require.Finite(shift);
        var edges = Edges();
        int parts = edges.Count - 1, order = Rule.Nodes.Length, n = parts * order;
        var nodes = new double[n];
        for (var i = 0; i < n; i++)
            nodes[i] = At(edges[i / order], edges[i / order + 1], Rule.Nodes[i % order]);
        // from any point: a whole part by its rule, a cut one by the polynomial through its nodes
        double[] From(double low, double high)
        {
            var weights = new double[n];
            for (var part = 0; part < parts; part++)
            {
                var (a, b) = (Math.Max(low, edges[part]), Math.Min(high, edges[part + 1]));
                if (b - a <= Same)
                    continue;
                for (var q = 0; q < order; q++)
                {
                    var y = At(a, b, Rule.Nodes[q]);
                    var mass = (b - a) / 2 * Rule.Weights[q] * Normal.Density(y - shift);
                    if (b - a > edges[part + 1] - edges[part] - Same)
                    {
                        weights[part * order + q] += mass;
                        continue;
                    }
                    for (var j = 0; j < order; j++)
                    {
                        var basis = 1.0;
                        for (var k = 0; k < order; k++)
                        {
                            if (k != j)
                                basis *= (y - nodes[part * order + k]) / (nodes[part * order + j] - nodes[part * order + k]);
                        }
                        weights[part * order + j] += mass * basis;
                    }
                }
            }
            return weights;
        }
        var equations = DenseMatrix.CreateIdentity(n);
        for (var i = 0; i < n; i++)
        {
            var row = From(nodes[i] - Range, nodes[i] + Range);
            for (var j = 0; j < n; j++)
                equations[i, j] -= row[j];
        }
        var lengths = equations.LU().Solve(DenseVector.Create(n, 1));
        return 1 + lengths.DotProduct(DenseVector.OfArray(From(-Width, Width)));
    }

    /// <summary>The moving ranges of standardised points: how far each lies from the one before it.</summary>
    /// <param name="points">Points as distances from the target in σ, at least 1.</param>
    /// <returns>One range for each point but the first.</returns>
    /// <exception cref="ArgumentException">There is no point, or one is not finite.</exception>
    public static double[] Ranges(ReadOnlySpan<double> points)
    {
        Require.Sample(points, 1);
        var ranges = new double[points.Length - 1];
        for (var i = 0; i < ranges.Length; i++)
            ranges[i] = Math.Abs(points[i + 1] - points[i]);
        return ranges;
    }

    private static double At(double low, double high, double node) => (low + high + (high - low) * node) / 2;

    // the lines, what lies a whole number of ranges from them, and enough between
    private List<double> Edges()
    {
        List<double> places = [-Width, Width];
        for (var m = 1; m * Range < 2 * Width; m++)
            places.AddRange([Width - m * Range, m * Range - Width]);
        places.Sort();
        List<double> edges = [places[0]];
        foreach (var place in places)
        {
            var gap = place - edges[^1];
            if (gap <= Same)
                continue;
            var (from, cuts) = (edges[^1], (int)Math.Ceiling(gap / LongestPart));
            for (var i = 1; i <= cuts; i++)
                edges.Add(from + gap * i / cuts);
        }
        return edges;
    }
}
