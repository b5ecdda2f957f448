namespace Knownwater.Statistics;

/// <summary>Averages over s/σ, the ratio of an estimated to the true standard deviation: √(χ²(ν)/ν).</summary>
/// <remarks>
/// The trapezium rule on y = ln(s/σ), where the density is proportional to exp(ν(y − e^(2y)/2)). Integrand and density are analytic in y and vanish at both ends, so the
/// rule converges exponentially; the weights are scaled to sum to one, so no gamma function enters.
/// </remarks>
internal sealed class ChiAverage
{
    private readonly double[] _ratio;
    private readonly double[] _weight;

    /// <summary>Nodes and weights for some degrees of freedom.</summary>
    /// <param name="dof">Degrees of freedom, finite and above zero.</param>
    /// <param name="finest">Largest step on the logarithmic scale that the averaged function allows; its natural scale divided by about two.</param>
    /// <param name="refined">Divisor of the step; 1 serves an absolute accuracy of 10⁻¹¹ or better.</param>
    /// <param name="depth">Nodes whose density is below e^(−depth) of the largest are left out: 42 for the absolute accuracy of a double, more for the relative accuracy of a tail that such nodes make.</param>
    public ChiAverage(double dof, double finest = 0.12, double refined = 1, double depth = 42)
    {
        var step = Math.Min(Math.Min(0.12, finest), 0.55 / Math.Sqrt(2 * dof)) / refined;
        // ln density = −ν·d(y) with d = e^(2y)/2 − ½ − y
        var enough = depth / dof;
        int first = 0, last = 0;
        while (Depth(first * step) < enough)
            first--;
        while (Depth(last * step) < enough)
            last++;
        _ratio = new double[last - first + 1];
        _weight = new double[_ratio.Length];
        double sum = 0;
        for (var i = 0; i < _ratio.Length; i++)
        {
            var y = (first + i) * step;
            _ratio[i] = Math.Exp(y);
            sum += _weight[i] = Math.Exp(-dof * Depth(y));
        }
        for (var i = 0; i < _weight.Length; i++)
            _weight[i] /= sum;
    }

    /// <summary>Ratios s/σ at which the function is taken.</summary>
    public ReadOnlySpan<double> Ratios => _ratio;

    /// <summary>Their weights, which sum to one.</summary>
    public ReadOnlySpan<double> Weights => _weight;

    private static double Depth(double y)
    {
        // e^(2y) − 1 − 2y without cancellation near zero
        var x = 2 * y;
        if (Math.Abs(x) > 0.1)
            return (Math.Exp(x) - 1 - x) / 2;
        double term = x * x / 2, sum = term;
        for (var k = 3; k < 14; k++)
            sum += term *= x / k;
        return sum / 2;
    }
}
