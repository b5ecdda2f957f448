using System.Runtime.InteropServices;
using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

public readonly partial struct Estimate
{
    /// <summary>An exact number.</summary>
    /// <param name="value">Finite value.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite.</exception>
    public static implicit operator Estimate(double value) => Exact(value);

    /// <summary>Sum: dv = da + db.</summary>
    /// <param name="a">First term.</param>
    /// <param name="b">Second term.</param>
    /// <exception cref="OverflowException">The result is beyond the largest number.</exception>
    public static Estimate operator +(Estimate a, Estimate b) => Combine(a.Value + b.Value, a, 1, b, 1);

    /// <summary>Difference: dv = da − db; x − x is exactly zero.</summary>
    /// <param name="a">What is subtracted from.</param>
    /// <param name="b">What is subtracted.</param>
    /// <exception cref="OverflowException">The result is beyond the largest number.</exception>
    public static Estimate operator -(Estimate a, Estimate b) => Combine(a.Value - b.Value, a, 1, b, -1);

    /// <summary>Negation.</summary>
    /// <param name="a">Estimate.</param>
    public static Estimate operator -(Estimate a) => a.Along(-a.Value, -1);

    /// <summary>Product: dv = b·da + a·db.</summary>
    /// <param name="a">First factor.</param>
    /// <param name="b">Second factor.</param>
    /// <exception cref="OverflowException">The result is beyond the largest number.</exception>
    public static Estimate operator *(Estimate a, Estimate b) => Combine(a.Value * b.Value, a, b.Value, b, a.Value);

    /// <summary>Quotient q = a/b: dq = (da − q·db)/b; x/x is exactly one.</summary>
    /// <param name="a">Dividend.</param>
    /// <param name="b">Divisor, not zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The divisor is zero.</exception>
    /// <exception cref="OverflowException">The result is beyond the largest number.</exception>
    public static Estimate operator /(Estimate a, Estimate b)
    {
        if (b.Value == 0)
            throw new ArgumentOutOfRangeException(nameof(b), b.Value, $"{a.Value} is divided by zero; the divisor must not be zero.");
        var q = a.Value / b.Value;
        return Combine(q, a, 1, b, -q, b.Value);
    }

    /// <summary>Square root: dv = da/(2√a).</summary>
    /// <param name="a">Above zero, or exactly zero without uncertainty.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is negative, or zero with an uncertainty, where the slope is infinite.</exception>
    public static Estimate Sqrt(Estimate a)
    {
        if (a.Value == 0 && a.IsExact)
            return default;
        if (!(a.Value > 0))
            throw new ArgumentOutOfRangeException(nameof(a), a.Value, $"The square root of {a.Value} is asked for; it must be above zero, or exactly zero without uncertainty.");
        var root = Math.Sqrt(a.Value);
        return a.Along(root, 0.5 / root);
    }

    /// <summary>Exponential function: dv = e^a da.</summary>
    /// <param name="a">Exponent.</param>
    /// <exception cref="OverflowException">The result is beyond the largest number.</exception>
    public static Estimate Exp(Estimate a)
    {
        var power = Math.Exp(a.Value);
        return a.Along(power, power);
    }

    /// <summary>Natural logarithm: dv = da/a.</summary>
    /// <param name="a">Above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not above zero.</exception>
    public static Estimate Log(Estimate a) => a.Value > 0 ? a.Along(Math.Log(a.Value), 1 / a.Value)
        : throw new ArgumentOutOfRangeException(nameof(a), a.Value, $"The logarithm of {a.Value} is asked for; it must be above zero.");

    /// <summary>Power with a constant exponent: dv = p·a^(p−1) da.</summary>
    /// <param name="a">Base: above zero; zero or below only with whole exponents, zero only with exponents from one on (or without uncertainty).</param>
    /// <param name="exponent">Finite exponent p.</param>
    /// <exception cref="ArgumentOutOfRangeException">The exponent is not finite, or the base has no power or no finite slope with it.</exception>
    /// <exception cref="OverflowException">The result is beyond the largest number.</exception>
    public static Estimate Pow(Estimate a, double exponent)
    {
        Require.Finite(exponent);
        if (exponent == 0)
            return Exact(1);
        if (a.Value < 0 && exponent != Math.Floor(exponent))
            throw new ArgumentOutOfRangeException(nameof(a), a.Value, $"{a.Value} is raised to {exponent}; a base below zero takes whole exponents only.");
        if (a.Value == 0 && (exponent < 0 || (exponent < 1 && !a.IsExact)))
            throw new ArgumentOutOfRangeException(nameof(a), a.Value, $"Zero is raised to {exponent}; the exponent must be at least 1 there.");
        return a.Value == 0 && exponent < 1 ? default : a.Along(Math.Pow(a.Value, exponent), exponent * Math.Pow(a.Value, exponent - 1));
    }

    /// <summary>Sine: dv = cos a da.</summary>
    /// <param name="a">Angle, rad.</param>
    public static Estimate Sin(Estimate a) => a.Along(Math.Sin(a.Value), Math.Cos(a.Value));

    /// <summary>Cosine: dv = −sin a da.</summary>
    /// <param name="a">Angle, rad.</param>
    public static Estimate Cos(Estimate a) => a.Along(Math.Cos(a.Value), -Math.Sin(a.Value));

    /// <summary>The estimate of the larger value, with its uncertainty: first order only, so near equality let Monte Carlo decide.</summary>
    /// <param name="a">First estimate; taken where both are equal.</param>
    /// <param name="b">Second estimate.</param>
    public static Estimate Max(Estimate a, Estimate b) => a.Value >= b.Value ? a : b;

    /// <summary>The estimate of the smaller value, with its uncertainty: first order only, so near equality let Monte Carlo decide.</summary>
    /// <param name="a">First estimate; taken where both are equal.</param>
    /// <param name="b">Second estimate.</param>
    public static Estimate Min(Estimate a, Estimate b) => a.Value <= b.Value ? a : b;

    /// <summary>One of two estimates, by the sign of a third's value: first order only.</summary>
    /// <param name="sign">The estimate that decides.</param>
    /// <param name="notNegative">The result where its value is zero or above.</param>
    /// <param name="otherwise">The result where it is below zero.</param>
    public static Estimate Select(Estimate sign, Estimate notNegative, Estimate otherwise) => sign.Value >= 0 ? notNegative : otherwise;

    /// <summary>Weighted sum Σ wᵢ xᵢ of many estimates in one step; weights of 1/n give the mean.</summary>
    /// <param name="x">Estimates.</param>
    /// <param name="weights">Finite weights, as many as there are estimates.</param>
    /// <exception cref="ArgumentException">The two differ in length, or a weight is not finite.</exception>
    /// <exception cref="OverflowException">The result is beyond the largest number.</exception>
    public static Estimate Weighted(ReadOnlySpan<Estimate> x, ReadOnlySpan<double> weights)
    {
        if (x.Length != weights.Length)
            throw new ArgumentException($"There are {x.Length} estimates and {weights.Length} weights; each estimate needs one weight.", nameof(weights));
        Require.Sample(weights, 0);
        double sum = 0, carry = 0;
        for (var i = 0; i < x.Length; i++)
        {
            // compensated (Neumaier): a mean of many equal values stays what it is
            var term = weights[i] * x[i].Value;
            var next = sum + term;
            carry += Math.Abs(sum) >= Math.Abs(term) ? sum - next + term : term - next + sum;
            sum = next;
        }
        return Gather(double.IsFinite(sum) ? sum + carry : sum, x, weights);
    }

    /// <summary>Arithmetic mean of estimates.</summary>
    /// <param name="x">At least one estimate.</param>
    /// <exception cref="ArgumentException">There is none.</exception>
    public static Estimate Mean(ReadOnlySpan<Estimate> x)
    {
        if (x.IsEmpty)
            throw new ArgumentException("There are no estimates; a mean needs at least one.", nameof(x));
        var weights = new double[x.Length];
        Array.Fill(weights, 1.0 / x.Length);
        return Weighted(x, weights);
    }

    /// <summary>A model of estimates by its exact gradient: the law of propagation with all correlations (JCGM 100:2008, 5.2.2, equation 13).</summary>
    /// <param name="model">Measurement model.</param>
    /// <param name="x">Inputs, as many as the model has.</param>
    /// <typeparam name="M">Model type.</typeparam>
    /// <exception cref="ArgumentException">The number of inputs is not the model's.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The model has no finite value or no finite slope at these inputs.</exception>
    public static Estimate Of<M>(M model, ReadOnlySpan<Estimate> x) where M : struct, IModel
    {
        if (x.Length != model.Inputs)
            throw new ArgumentException($"The model {typeof(M).Name} has {model.Inputs} inputs, {x.Length} are given.", nameof(x));
        var inputs = new Dual<Real>[x.Length];
        for (var i = 0; i < x.Length; i++)
            inputs[i] = x[i].Value;
        var slopes = new double[x.Length];
        var value = x.Length == 0 ? model.Evaluate<Real>([]).Value : 0;
        for (var i = 0; i < x.Length; i++)
        {
            inputs[i] = new Dual<Real>(x[i].Value, 1.0);
            var y = model.Evaluate<Dual<Real>>(inputs);
            inputs[i] = x[i].Value;
            value = y.Value.Value;
            // where an input is exact its slope carries nothing, and may be infinite
            slopes[i] = x[i]._sources is null ? 0 : y.Derivative.Value;
            if (!double.IsFinite(slopes[i]))
                throw new ArgumentOutOfRangeException(nameof(x), x[i].Value, $"The model {typeof(M).Name} has the slope {slopes[i]} for input {i + 1} at {x[i].Value}; it must be finite.");
        }
        if (!double.IsFinite(value))
            throw new ArgumentOutOfRangeException(nameof(x), $"The model {typeof(M).Name} has the value {value} at these inputs; it must be finite.");
        return Gather(value, x, slopes);
    }

    /// <summary>The outputs of a model as estimates, which share the sources of its inputs: every covariance between them follows (JCGM 102:2011, 6.2; JCGM 100:2008, H.2).</summary>
    /// <param name="model">Measurement model with several outputs.</param>
    /// <param name="x">Inputs, as many as the model has.</param>
    /// <typeparam name="M">Model type.</typeparam>
    /// <returns>As many estimates as the model has outputs.</returns>
    /// <exception cref="ArgumentException">The number of inputs is not the model's.</exception>
    /// <exception cref="ArgumentOutOfRangeException">An output has no finite value or no finite slope at these inputs.</exception>
    public static Estimate[] Joint<M>(M model, ReadOnlySpan<Estimate> x) where M : struct, IMultivariateModel
    {
        var outputs = new Estimate[model.Outputs];
        for (var k = 0; k < outputs.Length; k++)
            outputs[k] = Of(new OneOutput<M>(model, k), x);
        return outputs;
    }

    /// <summary>dv = (p·da + q·db)/divisor: what every operator is.</summary>
    private static Estimate Combine(double value, in Estimate a, double p, in Estimate b, double q, double divisor = 1)
    {
        Finite(value);
        ErrorSource[]? s = a._sources, t = b._sources;
        if (t is null)
            return s is null ? new(value, null, null) : new(value, s, Scaled(a._contributions!, p, divisor));
        if (s is null)
            return new(value, t, Scaled(b._contributions!, q, divisor));
        double[] c = a._contributions!, d = b._contributions!;
        if (ReferenceEquals(s, t))
        {
            var both = new double[c.Length];
            for (var i = 0; i < both.Length; i++)
                both[i] = Finite((p * c[i] + q * d[i]) / divisor);
            return new(value, s, both);
        }

        var sources = new ErrorSource[s.Length + t.Length];
        var contributions = new double[sources.Length];
        int n = 0, left = 0, right = 0;
        while (left < s.Length || right < t.Length)
        {
            var order = left == s.Length ? 1 : right == t.Length ? -1 : ErrorSource.Compare(s[left], t[right]);
            sources[n] = order <= 0 ? s[left] : t[right];
            var sum = order == 0 ? p * c[left++] + q * d[right++] : order < 0 ? p * c[left++] : q * d[right++];
            contributions[n++] = Finite(sum / divisor);
        }
        if (n < sources.Length)
        {
            Array.Resize(ref contributions, n);
            // where one side has every source, its array serves the result too
            if (n == s.Length)
                sources = s;
            else if (n == t.Length)
                sources = t;
            else
                Array.Resize(ref sources, n);
        }
        return new(value, sources, contributions);
    }

    /// <summary>dv = slope·da.</summary>
    private Estimate Along(double value, double slope) =>
        new(Finite(value), _sources, _contributions is null ? null : Scaled(_contributions, slope, 1));

    private static double[] Scaled(double[] c, double p, double divisor)
    {
        var scaled = new double[c.Length];
        for (var i = 0; i < c.Length; i++)
            scaled[i] = Finite(p * c[i] / divisor);
        return scaled;
    }

    /// <summary>dv = Σ wᵢ dxᵢ, for any number of terms.</summary>
    private static Estimate Gather(double value, ReadOnlySpan<Estimate> x, ReadOnlySpan<double> weights)
    {
        Finite(value);
        ErrorSource[]? common = null;
        var oneArray = true;
        foreach (ref readonly var e in x)
        {
            if (e._sources is null)
                continue;
            common ??= e._sources;
            if (!ReferenceEquals(common, e._sources))
            {
                oneArray = false;
                break;
            }
        }
        if (common is null)
            return new(value, null, null);

        if (oneArray)
        {
            var sums = new double[common.Length];
            for (var i = 0; i < x.Length; i++)
            {
                if (x[i]._contributions is not { } c)
                    continue;
                for (var j = 0; j < sums.Length; j++)
                    sums[j] += weights[i] * c[j];
            }
            return new(value, common, Checked(sums));
        }

        var places = new Dictionary<ErrorSource, int>();
        var sources = new List<ErrorSource>();
        var contributions = new List<double>();
        for (var i = 0; i < x.Length; i++)
        {
            if (x[i]._sources is not { } s)
                continue;
            var c = x[i]._contributions!;
            for (var j = 0; j < s.Length; j++)
            {
                ref var place = ref CollectionsMarshal.GetValueRefOrAddDefault(places, s[j], out var known);
                if (known)
                {
                    CollectionsMarshal.AsSpan(contributions)[place] += weights[i] * c[j];
                    continue;
                }
                place = sources.Count;
                sources.Add(s[j]);
                contributions.Add(weights[i] * c[j]);
            }
        }
        ErrorSource[] sorted = [.. sources];
        double[] values = Checked([.. contributions]);
        Sort(sorted, values);
        foreach (ref readonly var e in x)
        {
            if (e._sources is { } s && s.Length == sorted.Length)
                return new(value, s, values);
        }
        return new(value, sorted, values);
    }

    private static double[] Checked(double[] contributions)
    {
        foreach (var c in contributions)
            Finite(c);
        return contributions;
    }
}
