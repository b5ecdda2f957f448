using System.Globalization;

namespace Knownwater.Uncertainty;

/// <summary>The law of propagation with its second-order terms (JCGM 100:2008, 5.1.2, note).</summary>
/// <remarks>
/// <para>The model is expanded in the independent standardised sources ξ of its inputs, so that every correlation is in it: with gᵢ, gᵢⱼ, gᵢⱼⱼ the derivatives of y by the sources,
/// u² = Σ gᵢ² + Σᵢ Σⱼ (½gᵢⱼ² + gᵢgᵢⱼⱼ). That is the note's formula, for normal sources. A source that is not normal has its own third and fourth moments in the terms i = j:
/// γgᵢgᵢᵢ + ¼(κ − 1)gᵢᵢ² + ⅓κgᵢgᵢᵢᵢ, which for γ = 0 and κ = 3 are those of the note. A scaled t counts as normal here; its degrees of freedom are the matter of the coverage factor.</para>
/// <para>The mean moves by ½Σgᵢᵢ, which the note leaves out and Monte Carlo shows. Derivatives are exact: three nested dual numbers. The expansion holds where the terms are small beside the
/// first; where they are not, or the model has a kink within the uncertainties, <see cref="MonteCarlo"/> is the one to believe.</para>
/// </remarks>
/// <param name="FirstOrder">The law of propagation to first order.</param>
/// <param name="MeanShift">What the curvature adds to the value: the mean of the measurand is the value plus this.</param>
/// <param name="StandardUncertainty">Combined standard uncertainty (k = 1) with second-order terms.</param>
/// <param name="Terms">The second-order terms that are not zero, largest first.</param>
public sealed record SecondOrder(Estimate FirstOrder, double MeanShift, double StandardUncertainty, IReadOnlyList<SecondOrderTerm> Terms)
{
    /// <summary>Expands a model at its inputs.</summary>
    /// <param name="model">Measurement model, smooth at the inputs.</param>
    /// <param name="x">Inputs, as many as the model has, each with its sources.</param>
    /// <typeparam name="M">Model type.</typeparam>
    /// <exception cref="ArgumentException">The number of inputs is not the model's.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The model has no finite value or derivative at these inputs, or the terms of second order take more away than the first gives.</exception>
    public static SecondOrder Of<M>(M model, ReadOnlySpan<Estimate> x) where M : struct, IModel
    {
        var first = Estimate.Of(model, x);
        var inputs = new InputSources(x, model.Inputs, typeof(M).Name);
        var n = inputs.Sources.Length;
        var c = new double[n, x.Length];
        for (var i = 0; i < x.Length; i++)
        {
            foreach (var (source, contribution) in inputs.Parts[i])
                c[source, i] = contribution;
        }

        var point = new Dual<Dual<Dual<Real>>>[x.Length];
        var terms = new double[n, n];
        double shift = 0, variance = first.StandardUncertainty * first.StandardUncertainty;
        for (var s = 0; s < n; s++)
        {
            for (var j = 0; j < n; j++)
            {
                for (var i = 0; i < point.Length; i++)
                    point[i] = new(new(new(inputs.Values[i], c[j, i]), c[j, i]), c[s, i]);
                var y = model.Evaluate<Dual<Dual<Dual<Real>>>>(point);
                double gs = y.Derivative.Value.Value.Value, gsj = y.Derivative.Value.Derivative.Value, gsjj = y.Derivative.Derivative.Derivative.Value;
                if (s == j)
                {
                    double skewness = inputs.Sources[s].Skewness, kurtosis = inputs.Sources[s].IsStudent ? 3 : inputs.Sources[s].Kurtosis;
                    terms[s, s] = skewness * gs * gsj + (kurtosis - 1) / 4 * gsj * gsj + kurtosis / 3 * gs * gsjj;
                    shift += gsj / 2;
                }
                else
                {
                    terms[Math.Max(s, j), Math.Min(s, j)] += gsj * gsj / 2 + gs * gsjj;
                }
            }
        }

        var list = new List<SecondOrderTerm>();
        for (var s = 0; s < n; s++)
        {
            for (var j = 0; j <= s; j++)
            {
                variance += terms[s, j];
                if (terms[s, j] != 0)
                    list.Add(new SecondOrderTerm(inputs.Sources[j], inputs.Sources[s], terms[s, j]));
            }
        }
        if (!double.IsFinite(variance) || !double.IsFinite(shift))
            throw new ArgumentOutOfRangeException(nameof(x), $"The model {typeof(M).Name} has no finite second and third derivatives at these inputs; use Monte Carlo.");
        if (variance < 0)
        {
            throw new ArgumentOutOfRangeException(nameof(x), variance, string.Create(CultureInfo.InvariantCulture,
                $"The second-order terms of the model {typeof(M).Name} leave a variance of {variance}, below zero: the inputs are too uncertain for an expansion. Use Monte Carlo."));
        }
        return new SecondOrder(first, shift, Math.Sqrt(variance), [.. list.OrderByDescending(t => Math.Abs(t.Variance))]);
    }
}
