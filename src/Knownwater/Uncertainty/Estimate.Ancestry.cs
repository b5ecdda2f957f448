using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

public readonly partial struct Estimate
{
    /// <summary>Effective degrees of freedom of the standard uncertainty; +∞ where every source's u is taken as known.</summary>
    /// <remarks>
    /// <para>Welch–Satterthwaite, JCGM 100:2008, G.4.1, equation (G.2b), by families: ν_eff = u⁴ / Σ_F (Σ_{i∈F} cᵢ²)²/ν_F.</para>
    /// <para>The formula equates the variance of the estimated u² with that of one χ²-distributed estimate, where var(s²) = 2σ⁴/ν. The cᵢ² of a family are one s² times known factors, so they
    /// rise and fall together: their sum Σcᵢ² has the relative variance 2/ν_F of that one s². They are therefore added before they are squared. Two contributions of one family with 5 degrees of
    /// freedom each have 5 together; from two families equal ones have 10. Sources without a family are families of one. Sources with infinite degrees of freedom add to u but not to the sum.</para>
    /// <para>Members of a family should state the same degrees of freedom; where they differ, the least is taken. For coverage factors and display; a verdict uses its own two-part formula.</para>
    /// </remarks>
    public double EffectiveDof => _sources is null ? double.PositiveInfinity : DofOf(_sources, _contributions!);

    /// <summary>Pools sources that nothing else can share into new ones: one for those without a family, and one for each family.</summary>
    /// <remarks>
    /// The pooled contribution is √Σcᵢ². The standard uncertainty, the effective degrees of freedom and the covariance with every estimate that does not hold a pooled source stay what they
    /// were: a family's pool keeps family and degrees of freedom, the other pool has those of Welch–Satterthwaite. Covariances with an estimate that does hold one are lost: so pool private noise only.
    /// </remarks>
    /// <param name="isPrivate">Whether a source belongs to this estimate alone.</param>
    /// <param name="name">Name of the pooled source, not blank; a family's pool adds the name of its first member where there are several pools.</param>
    /// <param name="unit">Unit of the estimate, for display.</param>
    /// <param name="newId">Where new identities come from; random ones where null.</param>
    /// <returns>The estimate with pooled sources; itself where fewer than two sources of a pool are private.</returns>
    /// <exception cref="ArgumentException">The name is blank.</exception>
    public Estimate Close(Func<ErrorSource, bool> isPrivate, string name, string unit = "", Func<Guid>? newId = null)
    {
        ArgumentNullException.ThrowIfNull(isPrivate);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(unit);
        if (_sources is null)
            return this;
        var open = new List<(ErrorSource Source, double Contribution)>();
        var pools = new Dictionary<Guid, List<(ErrorSource Source, double Contribution)>>();
        for (var i = 0; i < _sources.Length; i++)
        {
            var row = (_sources[i], _contributions![i]);
            if (!isPrivate(_sources[i]))
                open.Add(row);
            else if (pools.TryGetValue(_sources[i].Family ?? Guid.Empty, out var pool))
                pool.Add(row);
            else
                pools.Add(_sources[i].Family ?? Guid.Empty, [row]);
        }
        if (pools.Values.All(p => p.Count < 2))
            return this;
        foreach (var (family, pool) in pools)
        {
            if (pool.Count < 2)
            {
                open.AddRange(pool);
                continue;
            }
            double[] contributions = [.. pool.Select(r => r.Contribution)];
            var u = Norm(contributions);
            if (u == 0)
                continue;
            ErrorSource[] sources = [.. pool.Select(r => r.Source)];
            var dof = DofOf(sources, contributions);
            var shape = Array.TrueForAll(sources, s => s.Shape == SourceShape.ScaledT) && family != Guid.Empty ? SourceShape.ScaledT : SourceShape.Normal;
            var label = pools.Count == 1 || family == Guid.Empty ? name : $"{name}: {sources[0].Name}";
            open.Add((new ErrorSource(newId?.Invoke() ?? Guid.NewGuid(), label, u, unit, dof, shape, family == Guid.Empty ? null : family), u));
        }
        return FromRows(Value, open);
    }

    /// <summary>Correlated inputs from their covariance matrix, as shared sources by Cholesky's factor: V = LLᵀ, xᵢ = valueᵢ + Σⱼ Lᵢⱼ ξⱼ.</summary>
    /// <remarks>
    /// With finite degrees of freedom all sources form one family: any linear combination of means observed together has the degrees of freedom of the common sample, n − 1 (JCGM 100:2008, H.2).
    /// A matrix that is singular (one input a combination of others) is taken with as many sources as it has rank.
    /// </remarks>
    /// <param name="values">Finite values, at least one.</param>
    /// <param name="covariance">Symmetric, positive semidefinite matrix of as many rows and columns, in the products of the units.</param>
    /// <param name="name">Name of the sources, numbered from 1; not blank.</param>
    /// <param name="dof">Degrees of freedom of the matrix, above zero; infinite where it is taken as known.</param>
    /// <param name="newId">Where new identities come from; random ones where null.</param>
    /// <exception cref="ArgumentException">The sizes differ, or the matrix is not finite, not symmetric or not positive semidefinite.</exception>
    public static Estimate[] Correlated(ReadOnlySpan<double> values, double[,] covariance, string name, double dof = double.PositiveInfinity, Func<Guid>? newId = null)
    {
        ArgumentNullException.ThrowIfNull(covariance);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        Require.Sample(values, 1);
        Require.Dof(dof);
        var n = values.Length;
        var factor = CholeskyFactor(covariance, n);
        newId ??= Guid.NewGuid;
        Guid? family = double.IsPositiveInfinity(dof) ? null : newId();
        var rows = new List<(ErrorSource, double)>[n];
        for (var i = 0; i < n; i++)
            rows[i] = [];
        for (var j = 0; j < n; j++)
        {
            if (factor[j, j] == 0)
                continue;
            var source = new ErrorSource(newId(), n == 1 ? name : $"{name} {j + 1}", factor[j, j], "", dof, SourceShape.Normal, family);
            for (var i = j; i < n; i++)
                rows[i].Add((source, factor[i, j]));
        }
        var estimates = new Estimate[n];
        for (var i = 0; i < n; i++)
            estimates[i] = FromRows(values[i], rows[i]);
        return estimates;
    }

    private static double DofOf(ErrorSource[] sources, double[] contributions)
    {
        var u = Norm(contributions);
        if (u == 0)
            return double.PositiveInfinity;
        double sum = 0;
        Dictionary<Guid, (double Share, double Dof)>? families = null;
        for (var i = 0; i < sources.Length; i++)
        {
            if (double.IsPositiveInfinity(sources[i].Dof) || contributions[i] == 0)
                continue;
            var share = contributions[i] / u * (contributions[i] / u);
            if (sources[i].Family is not { } family)
            {
                sum += share * share / sources[i].Dof;
                continue;
            }
            families ??= [];
            var known = families.TryGetValue(family, out var sofar) ? sofar : (Share: 0, Dof: double.PositiveInfinity);
            families[family] = (known.Share + share, Math.Min(known.Dof, sources[i].Dof));
        }
        foreach (var (share, dof) in families?.Values ?? Enumerable.Empty<(double Share, double Dof)>())
            sum += share * share / dof;
        return sum == 0 ? double.PositiveInfinity : 1 / sum;
    }

    private static double[,] CholeskyFactor(double[,] covariance, int n)
    {
        if (covariance.GetLength(0) != n || covariance.GetLength(1) != n)
            throw new ArgumentException($"The covariance matrix is {covariance.GetLength(0)} by {covariance.GetLength(1)}, there are {n} values; it must be {n} by {n}.", nameof(covariance));
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < n; j++)
            {
                if (!double.IsFinite(covariance[i, j]))
                    throw new ArgumentException($"Row {i + 1}, column {j + 1} of the covariance matrix is {covariance[i, j]}; it must be a finite number.", nameof(covariance));
                if (Math.Abs(covariance[i, j] - covariance[j, i]) > 1e-12 * Math.Sqrt(Math.Abs(covariance[i, i] * covariance[j, j])))
                    throw new ArgumentException($"The covariance matrix is not symmetric: row {i + 1}, column {j + 1} is {covariance[i, j]} and across the diagonal {covariance[j, i]}.", nameof(covariance));
            }
            if (covariance[i, i] < 0)
                throw new ArgumentException($"Variance {i + 1} of the covariance matrix is {covariance[i, i]}; it must be zero or above.", nameof(covariance));
        }
        var l = new double[n, n];
        for (var j = 0; j < n; j++)
        {
            var left = covariance[j, j];
            for (var k = 0; k < j; k++)
                left -= l[j, k] * l[j, k];
            // what is left after rounding of a dependent input counts as nothing
            var slack = 1e-12 * covariance[j, j];
            if (left < -slack)
                throw NotPossible(j);
            var pivot = left > slack ? Math.Sqrt(left) : 0;
            l[j, j] = pivot;
            for (var i = j + 1; i < n; i++)
            {
                var rest = (covariance[i, j] + covariance[j, i]) / 2;
                for (var k = 0; k < j; k++)
                    rest -= l[i, k] * l[j, k];
                if (pivot > 0)
                    l[i, j] = rest / pivot;
                else if (Math.Abs(rest) > 1e-6 * Math.Sqrt(covariance[i, i] * covariance[j, j]))
                    throw NotPossible(i);
            }
        }
        return l;

        ArgumentException NotPossible(int row) =>
            new($"The covariance matrix is not positive semidefinite: its first {row + 1} rows claim more correlation than can be.", nameof(covariance));
    }
}
