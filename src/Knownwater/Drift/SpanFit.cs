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
    /// <param name="groups">Number of groups, each with a check.</param>
    /// <param name="groupOf">Group of each check.</param>
    /// <param name="checkOf">Check of each row.</param>
    public SpanFit(double[] v, double[] y, int groups, int[] groupOf, int[] checkOf)
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
        var solver = new CholeskyFactor(normal, groups);
        solver.Whiten(_value, _value);
        // restricted likelihood: the levels integrated out with a flat prior
        LogLikelihood = -factor.HalfLogDeterminant - solver.HalfLogDeterminant - 0.5 * (Dot(white, white) - Dot(_value, _value));
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

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (var i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}
