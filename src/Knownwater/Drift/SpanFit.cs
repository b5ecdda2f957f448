namespace Knownwater.Drift;

/// <summary>Generalised least squares of one free level for each group of checks.</summary>
internal sealed class SpanFit
{
    private readonly double[] _value;
    private readonly double[] _covariance;
    private readonly int _groups;

    /// <summary>Fits.</summary>
    /// <param name="v">Covariance of the rows, lower half; left as it is.</param>
    /// <param name="y">Rows.</param>
    /// <param name="groups">Number of groups.</param>
    /// <param name="groupOf">Group of each check.</param>
    /// <param name="checkOf">Check of each row.</param>
    /// <param name="differences">Measured differences between two groups, independent of all rows; a group may have no check where a difference ties it to one that has.</param>
    public SpanFit(double[] v, double[] y, int groups, int[] groupOf, int[] checkOf, IReadOnlyList<GroupDifference>? differences = null)
    {
        var count = y.Length;
        _groups = groups;
        var factor = new CholeskyFactor((double[])v.Clone(), count);
        var white = new double[count];
        factor.Whiten(y, white);
        var columns = new double[groups][];
        for (var g = 0; g < groups; g++)
        {
            columns[g] = new double[count];
            for (var r = 0; r < count; r++)
                columns[g][r] = groupOf[checkOf[r]] == g ? 1 : 0;
            factor.Whiten(columns[g], columns[g]);
        }
        var normal = new double[groups * groups];
        _value = new double[groups];
        for (var g = 0; g < groups; g++)
        {
            for (var h = 0; h <= g; h++)
                normal[g * groups + h] = Dot(columns[g], columns[h]);
            _value[g] = Dot(columns[g], white);
        }
        double added = 0;
        foreach (var (from, to, value, variance) in differences ?? [])
        {
            normal[from * groups + from] += 1 / variance;
            normal[to * groups + to] += 1 / variance;
            normal[Math.Max(from, to) * groups + Math.Min(from, to)] -= 1 / variance;
            _value[to] += value / variance;
            _value[from] -= value / variance;
            added += value * value / variance + Math.Log(variance);
        }
        var solver = new CholeskyFactor(normal, groups);
        solver.Whiten(_value, _value);
        // restricted likelihood: the levels integrated out with a flat prior
        LogLikelihood = -factor.HalfLogDeterminant - solver.HalfLogDeterminant - 0.5 * (Dot(white, white) + added - Dot(_value, _value));
        solver.Unwhiten(_value);
        _covariance = new double[groups * groups];
        for (var g = 0; g < groups; g++)
        {
            var unit = _covariance.AsSpan(g * groups, groups);
            unit[g] = 1;
            solver.Whiten(unit, unit);
            solver.Unwhiten(unit);
        }
    }

    /// <summary>Logarithm of the restricted likelihood, but for a constant.</summary>
    public double LogLikelihood { get; }

    public double Value(int group) => _value[group];

    public double Covariance(int group, int other) => _covariance[group * _groups + other];

    private static double Dot(double[] a, double[] b) => CholeskyFactor.Dot(a, b);
}
