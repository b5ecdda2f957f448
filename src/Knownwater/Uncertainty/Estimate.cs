using System.Globalization;
using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

/// <summary>A value that keeps the error sources it came from.</summary>
/// <remarks>
/// <para>Model: x = value + Σ cᵢ ξᵢ, with independent standardised sources ξᵢ and signed contributions cᵢ = sensitivity × u. So u² = Σ cᵢ² and the covariance of any two estimates is
/// Σ cᵢ dᵢ over the sources they share: the law of propagation with every correlation (JCGM 100:2008, 5.1.2 and 5.2.2) follows from arithmetic. First order only: a chain of stored
/// estimates cannot give second-order terms.</para>
/// <para>x − x and x/x have u exactly zero. Regrouped sums such as (a + b) − b − a may leave the rounding of a double. Nothing small is ever dropped. For a sum or mean of many estimates use
/// <see cref="Weighted"/>, and <see cref="Close"/> noise that nothing else shares before a value is kept: a running sum of terms with sources of their own grows with the square of their number.</para>
/// <para>Value and contributions are finite: an operation without a finite result throws. <c>default</c> is exactly zero. Equality: same value and same contributions from sources of
/// the same ids; two values that happen to be equal but come from different sources are not equal. There is no order: estimates overlap.</para>
/// </remarks>
/// <example><code>
/// var stock = Estimate.From(1000, 2.5, "stock", "mg/L");
/// var low = stock * 0.005;
/// var high = stock * 0.05;
/// var ratio = high / low;        // 10, u = 0: the stock's error cancels
/// </code></example>
public readonly partial struct Estimate : IReal<Estimate>, IEquatable<Estimate>
{
    // sorted by ErrorSource.Compare, of equal length, never changed after they are made; null for an exact number
    private readonly ErrorSource[]? _sources;
    private readonly double[]? _contributions;

    private Estimate(double value, ErrorSource[]? sources, double[]? contributions)
    {
        Value = value;
        _sources = sources;
        _contributions = contributions;
    }

    /// <summary>The value: best estimate of the quantity.</summary>
    public double Value { get; }

    /// <summary>Combined standard uncertainty (k = 1), in the unit of the value.</summary>
    public double StandardUncertainty => _contributions is null ? 0 : Norm(_contributions);

    /// <summary>Whether no source contributes.</summary>
    public bool IsExact => _contributions is null || Array.TrueForAll(_contributions, c => c == 0);

    /// <summary>Signed contributions that are not zero, in the order of the sources' ids (an internal one, the same in every process).</summary>
    public IReadOnlyList<Contribution> Contributions
    {
        get
        {
            if (_sources is null)
                return [];
            var list = new List<Contribution>(_sources.Length);
            for (var i = 0; i < _sources.Length; i++)
            {
                if (_contributions![i] != 0)
                    list.Add(new Contribution(_sources[i], _contributions[i]));
            }
            return list;
        }
    }

    /// <summary>The contribution that is largest in size; null for an exact number.</summary>
    public Contribution? LargestSource => LargestAmong(static _ => true);

    /// <summary>The largest contribution among the sources that a condition picks, as those that more replicates cannot reduce.</summary>
    /// <param name="counts">Whether a source is looked at.</param>
    /// <returns>The contribution; null where none that counts contributes.</returns>
    public Contribution? LargestAmong(Func<ErrorSource, bool> counts)
    {
        ArgumentNullException.ThrowIfNull(counts);
        Contribution? largest = null;
        for (var i = 0; i < (_sources?.Length ?? 0); i++)
        {
            if (_contributions![i] != 0 && counts(_sources![i]) && !(largest?.StandardUncertainty >= Math.Abs(_contributions[i])))
                largest = new Contribution(_sources[i], _contributions[i]);
        }
        return largest;
    }

    /// <summary>The uncertainty budget: a line a source, largest contribution first.</summary>
    public IReadOnlyList<BudgetLine> Budget()
    {
        var u = StandardUncertainty;
        return [.. Contributions
            .OrderByDescending(c => c.StandardUncertainty)
            .Select(c => new BudgetLine(c.Source, c.Value, c.StandardUncertainty / u * (c.StandardUncertainty / u)))];
    }

    /// <summary>An exact number.</summary>
    /// <param name="value">Finite value.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite.</exception>
    public static Estimate Exact(double value) => new(Require.Finite(value), null, null);

    /// <summary>A value whose whole error is one source: c = u of the source.</summary>
    /// <param name="value">Finite value, in the unit of the source.</param>
    /// <param name="source">The source.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite.</exception>
    public static Estimate From(double value, ErrorSource source) => From(value, source, 1);

    /// <summary>A value that one source moves by a sensitivity: c = sensitivity × u of the source.</summary>
    /// <param name="value">Finite value.</param>
    /// <param name="source">The source, as a pipette's gain.</param>
    /// <param name="sensitivity">Unit of the value per unit of the source; finite; zero makes the value exact.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value or the sensitivity is not finite.</exception>
    public static Estimate From(double value, ErrorSource source, double sensitivity)
    {
        Require.Finite(value);
        ArgumentNullException.ThrowIfNull(source);
        var contribution = Require.Finite(sensitivity) * source.StandardUncertainty;
        return contribution == 0 ? new(value, null, null) : new(value, [source], [Finite(contribution)]);
    }

    /// <summary>A value with a normal source of its own.</summary>
    /// <param name="value">Finite value.</param>
    /// <param name="standardUncertainty">u in the unit of the value, zero or above; zero makes the value exact.</param>
    /// <param name="name">Name of the source.</param>
    /// <param name="unit">Unit, for display.</param>
    /// <param name="dof">Degrees of freedom of u, above zero; infinite where u is taken as known.</param>
    /// <exception cref="ArgumentException">The name is blank.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite, u is negative or not finite, or dof is not above zero.</exception>
    public static Estimate From(double value, double standardUncertainty, string name, string unit = "", double dof = double.PositiveInfinity)
    {
        Require.Finite(value);
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        Require.Dof(dof);
        return Require.NotNegative(standardUncertainty) == 0 ? new(value, null, null) : From(value, ErrorSource.Normal(name, standardUncertainty, unit, dof));
    }

    /// <summary>What is known of a quantity that cannot be negative and was read “below L”: the mean of its distribution, with a source of that shape.</summary>
    /// <remarks>L/2 with u = L/√12 for a sharp limit; see <see cref="ErrorSource.Censored"/> for the density and the effect of the reading's own error.</remarks>
    /// <param name="limit">L, finite and above zero.</param>
    /// <param name="name">Name of the source.</param>
    /// <param name="readingHalfWidth">Half-width w of the error of the reading, 0 to L.</param>
    /// <param name="unit">Unit, for display.</param>
    /// <param name="id">Identity of the source; a new one where null.</param>
    /// <exception cref="ArgumentException">The name is blank.</exception>
    /// <exception cref="ArgumentOutOfRangeException">L is not finite and above zero, or w is not within 0 to L.</exception>
    public static Estimate Below(double limit, string name, double readingHalfWidth = 0, string unit = "", Guid? id = null)
    {
        var source = ErrorSource.Censored(name, limit, readingHalfWidth, unit, id);
        return From(-source.Lowest, source);
    }

    /// <summary>An estimate from recorded rows.</summary>
    /// <param name="value">Finite value.</param>
    /// <param name="rows">Sources with their signed contributions, in any order; no source twice.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite.</exception>
    /// <exception cref="ArgumentException">A contribution is not finite, or a source comes twice.</exception>
    public static Estimate FromRows(double value, IEnumerable<(ErrorSource Source, double Contribution)> rows)
    {
        Require.Finite(value);
        ArgumentNullException.ThrowIfNull(rows);
        var list = rows.ToArray();
        foreach (var (source, contribution) in list)
        {
            if (source is null)
                throw new ArgumentException("A row has no source; each needs one.", nameof(rows));
            if (!double.IsFinite(contribution))
                throw new ArgumentException($"The contribution of “{source.Name}” is {contribution}; it must be a finite number.", nameof(rows));
        }
        var sources = Array.ConvertAll(list, r => r.Source);
        var contributions = Array.ConvertAll(list, r => r.Contribution);
        Sort(sources, contributions);
        for (var i = 1; i < sources.Length; i++)
        {
            if (sources[i - 1].Equals(sources[i]))
                throw new ArgumentException($"The source “{sources[i].Name}” ({sources[i].Id}) comes twice; an estimate has one row for each source.", nameof(rows));
        }
        return sources.Length == 0 ? new(value, null, null) : new(value, sources, contributions);
    }

    /// <summary>Covariance of two estimates: Σ cᵢ dᵢ over the sources they share.</summary>
    /// <param name="a">First estimate.</param>
    /// <param name="b">Second estimate.</param>
    /// <returns>Covariance in the product of the two units; zero where nothing is shared.</returns>
    public static double Covariance(in Estimate a, in Estimate b)
    {
        if (a._sources is not { } s || b._sources is not { } t)
            return 0;
        double[] c = a._contributions!, d = b._contributions!;
        double sum = 0;
        if (ReferenceEquals(s, t))
        {
            for (var i = 0; i < c.Length; i++)
                sum += c[i] * d[i];
            return sum;
        }
        for (int i = 0, j = 0; i < s.Length && j < t.Length;)
        {
            var order = ErrorSource.Compare(s[i], t[j]);
            if (order == 0)
                sum += c[i++] * d[j++];
            else if (order < 0)
                i++;
            else
                j++;
        }
        return sum;
    }

    /// <summary>Correlation coefficient of two estimates, −1 to 1.</summary>
    /// <param name="a">First estimate, not exact.</param>
    /// <param name="b">Second estimate, not exact.</param>
    /// <exception cref="ArgumentException">One of them is exact: an exact number has no correlation.</exception>
    public static double Correlation(in Estimate a, in Estimate b)
    {
        double ua = a.StandardUncertainty, ub = b.StandardUncertainty;
        if (ua == 0)
            throw new ArgumentException($"{a.Value} is exact, its u is 0; an exact number has no correlation.", nameof(a));
        if (ub == 0)
            throw new ArgumentException($"{b.Value} is exact, its u is 0; an exact number has no correlation.", nameof(b));
        return Math.Clamp(Covariance(a.ScaledBy(1 / ua), b.ScaledBy(1 / ub)), -1, 1);
    }

    /// <summary>Covariance matrix of several estimates, with their variances on the diagonal.</summary>
    /// <param name="x">Estimates.</param>
    /// <returns>Symmetric matrix in the products of the units.</returns>
    public static double[,] CovarianceMatrix(ReadOnlySpan<Estimate> x) => Matrix(x, Covariance);

    /// <summary>Matrix of correlation coefficients of several estimates, with ones on the diagonal.</summary>
    /// <param name="x">Estimates, none of them exact.</param>
    /// <exception cref="ArgumentException">One of them is exact: an exact number has no correlation.</exception>
    public static double[,] CorrelationMatrix(ReadOnlySpan<Estimate> x) => Matrix(x, Correlation);

    /// <summary>Whether values and contributions are the same.</summary>
    /// <param name="other">The other estimate.</param>
    public bool Equals(Estimate other)
    {
        if (!Value.Equals(other.Value))
            return false;
        if (ReferenceEquals(_sources, other._sources) && ReferenceEquals(_contributions, other._contributions))
            return true;
        IReadOnlyList<Contribution> mine = Contributions, others = other.Contributions;
        if (mine.Count != others.Count)
            return false;
        for (var i = 0; i < mine.Count; i++)
        {
            if (mine[i].Value != others[i].Value || mine[i].Source.Id != others[i].Source.Id)
                return false;
        }
        return true;
    }

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is Estimate other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = default(HashCode);
        hash.Add(Value);
        foreach (var c in Contributions)
        {
            hash.Add(c.Source.Id);
            hash.Add(c.Value);
        }
        return hash.ToHashCode();
    }

    /// <summary>Whether values and contributions are the same.</summary>
    /// <param name="a">First estimate.</param>
    /// <param name="b">Second estimate.</param>
    public static bool operator ==(Estimate a, Estimate b) => a.Equals(b);

    /// <summary>Whether values or contributions differ.</summary>
    /// <param name="a">First estimate.</param>
    /// <param name="b">Second estimate.</param>
    public static bool operator !=(Estimate a, Estimate b) => !a.Equals(b);

    /// <summary>Value and standard uncertainty in full, invariant: “5 ± 0.1 (k = 1)”.</summary>
    public override string ToString() => IsExact
        ? Value.ToString("R", CultureInfo.InvariantCulture)
        : string.Create(CultureInfo.InvariantCulture, $"{Value:R} ± {StandardUncertainty:R} (k = 1)");

    /// <summary>Whether two estimates hold the same array of sources, so that combining them needs no merge.</summary>
    internal static bool ShareSourceArray(in Estimate a, in Estimate b) => ReferenceEquals(a._sources, b._sources);

    private delegate double OfTwo(in Estimate a, in Estimate b);

    private static double[,] Matrix(ReadOnlySpan<Estimate> x, OfTwo element)
    {
        var matrix = new double[x.Length, x.Length];
        for (var i = 0; i < x.Length; i++)
        {
            for (var j = 0; j <= i; j++)
                matrix[i, j] = matrix[j, i] = element(x[i], x[j]);
        }
        return matrix;
    }

    private Estimate ScaledBy(double factor) => _contributions is null ? this : new(Value, _sources, Array.ConvertAll(_contributions, c => c * factor));

    /// <summary>√Σc², scaled so that squares neither overflow nor vanish.</summary>
    private static double Norm(ReadOnlySpan<double> c)
    {
        double sum = 0, largest = 0;
        foreach (var x in c)
        {
            sum += x * x;
            largest = Math.Max(largest, Math.Abs(x));
        }
        if (largest is 0 or (> 1e-140 and < 1e140) || !double.IsFinite(largest))
            return Math.Sqrt(sum);
        sum = 0;
        foreach (var x in c)
            sum += x / largest * (x / largest);
        return largest * Math.Sqrt(sum);
    }

    private static double Finite(double result) => double.IsFinite(result) ? result
        : throw new OverflowException("The result of this operation with an estimate is beyond the largest number.");

    private static void Sort(ErrorSource[] sources, double[] contributions) =>
        Array.Sort(sources, contributions, SourceOrder.Instance);

    private sealed class SourceOrder : IComparer<ErrorSource>
    {
        public static readonly SourceOrder Instance = new();

        public int Compare(ErrorSource? x, ErrorSource? y) => ErrorSource.Compare(x!, y!);
    }
}
