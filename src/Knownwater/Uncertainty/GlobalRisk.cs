using System.Globalization;
using Knownwater.Statistics;
using MathNet.Numerics.Integration;

namespace Knownwater.Uncertainty;

/// <summary>How often a decision rule will be wrong over all items still to be measured (JCGM 106:2012, clause 9.5, global risks).</summary>
/// <remarks>
/// <para>Known beforehand is how the quantity varies from item to item, N(m, u₀²); a measured value is then N(η, u²) about the item's own η. The consumer's risk is the joint probability
/// that an item does not conform and is accepted, the producer's that it conforms and is rejected. <see cref="Conformity.ConsumersRisk(double, double, double, double)"/> gives the specific risk of one item with its measured value in hand.</para>
/// <para>The joint distribution is integrated over η by Gauss–Legendre rules on pieces no longer than u₀ near the middle of the prior and u near the acceptance limits, where the parts of the integrand
/// change; what lies beyond nine standard deviations is left out. The error is below 10⁻¹⁵.</para>
/// </remarks>
/// <param name="Consumers">Global consumer's risk R_C.</param>
/// <param name="Producers">Global producer's risk R_P.</param>
/// <param name="Conforming">Part of all items that conforms, whatever is decided.</param>
public readonly record struct GlobalRisk(double Consumers, double Producers, double Conforming)
{
    private const double Reach = 9;
    private static readonly GaussLegendreRule Rule = new(-1, 1, 20);

    /// <summary>Part of all items that is accepted.</summary>
    public double Accepted => Conforming - Producers + Consumers;

    /// <summary>The risks of an acceptance interval.</summary>
    /// <param name="priorMean">Mean m of the quantity over items, finite.</param>
    /// <param name="priorSd">Standard deviation u₀ of the quantity over items, finite and above zero.</param>
    /// <param name="standardUncertainty">Standard uncertainty u of a measured value, finite and above zero.</param>
    /// <param name="tolerance">Tolerance interval; a limit that does not exist is infinite.</param>
    /// <param name="acceptance">Acceptance interval of measured values; a limit that does not exist is infinite. It may reach beyond the tolerance (guarded rejection).</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is not finite where it must be, a standard deviation is not above zero, or an interval's limits are swapped.</exception>
    public static GlobalRisk Of(double priorMean, double priorSd, double standardUncertainty, Interval tolerance, Interval acceptance)
    {
        Require.Finite(priorMean);
        Require.Positive(priorSd);
        Require.Positive(standardUncertainty);
        Ordered(tolerance, nameof(tolerance));
        Ordered(acceptance, nameof(acceptance));
        return Joint(priorMean, priorSd, standardUncertainty, tolerance, acceptance);
    }

    /// <summary>The acceptance interval with the same guard band inside each tolerance limit that brings the consumer's risk to a wanted one.</summary>
    /// <param name="priorMean">Mean m of the quantity over items, finite.</param>
    /// <param name="priorSd">Standard deviation u₀ of the quantity over items, finite and above zero.</param>
    /// <param name="standardUncertainty">Standard uncertainty u of a measured value, finite and above zero.</param>
    /// <param name="tolerance">Tolerance interval; at least one limit finite.</param>
    /// <param name="consumersRisk">Wanted global consumer's risk, above zero and below the part of items that does not conform: that part is the risk of accepting without measuring.</param>
    /// <returns>Acceptance interval; wider than the tolerance where the risk allows it.</returns>
    /// <exception cref="ArgumentOutOfRangeException">As for <see cref="Of"/>, or both tolerance limits are infinite, or the risk is zero or more than acceptance of every item brings.</exception>
    public static Interval Acceptance(double priorMean, double priorSd, double standardUncertainty, Interval tolerance, double consumersRisk)
    {
        var unmeasured = Of(priorMean, priorSd, standardUncertainty, tolerance, new Interval(double.NegativeInfinity, double.PositiveInfinity));
        if (double.IsInfinity(tolerance.Low) && double.IsInfinity(tolerance.High))
            throw new ArgumentOutOfRangeException(nameof(tolerance), "Both tolerance limits are infinite; at least one must be a number.");
        if (!(consumersRisk > 0 && consumersRisk < unmeasured.Consumers))
        {
            throw new ArgumentOutOfRangeException(nameof(consumersRisk), consumersRisk, string.Create(CultureInfo.InvariantCulture,
                $"A consumer's risk of {consumersRisk} is wanted; it must be above zero and below {unmeasured.Consumers}, the risk of accepting every item without measuring."));
        }
        Interval Guarded(double band) => new(tolerance.Low + band, tolerance.High - band);
        double Excess(double band) => consumersRisk - Joint(priorMean, priorSd, standardUncertainty, tolerance, Guarded(band)).Consumers;
        // from where nearly all is accepted to where nothing is
        var far = (Reach + 1) * (priorSd + standardUncertainty);
        double open = far + Math.Max(Distance(tolerance.Low), Distance(tolerance.High));
        var closed = double.IsInfinity(tolerance.Low) || double.IsInfinity(tolerance.High) ? open : (tolerance.High - tolerance.Low) / 2;
        return Guarded(SpecialFunctions.BracketedRoot(Excess, -open, Excess(-open), closed, Excess(closed)));

        double Distance(double limit) => double.IsInfinity(limit) ? 0 : Math.Abs(limit - priorMean);
    }

    private static GlobalRisk Joint(double m, double u0, double u, Interval tolerance, Interval acceptance)
    {
        double low = m - Reach * u0, high = m + Reach * u0;
        double tolLow = Math.Clamp(tolerance.Low, low, high), tolHigh = Math.Clamp(tolerance.High, low, high);
        var cuts = new List<double> { low, tolLow, tolHigh, high };
        Span<double> centres = [m, acceptance.Low, acceptance.High];
        for (var i = 0; i < centres.Length; i++)
        {
            if (double.IsInfinity(centres[i]))
                continue;
            for (var k = -Reach; k <= Reach; k++)
            {
                if (centres[i] + k * (i == 0 ? u0 : u) is var cut && cut > low && cut < high)
                    cuts.Add(cut);
            }
        }
        cuts.Sort();
        double consumers = 0, producers = 0;
        for (var i = 1; i < cuts.Count; i++)
        {
            double half = (cuts[i] - cuts[i - 1]) / 2, middle = cuts[i - 1] + half;
            if (half == 0)
                continue;
            var inside = middle > tolLow && middle < tolHigh;
            double sum = 0;
            for (var k = 0; k < Rule.Order; k++)
            {
                var eta = middle + half * Rule.GetAbscissa(k);
                double below = (acceptance.Low - eta) / u, above = (acceptance.High - eta) / u;
                sum += Rule.GetWeight(k) * Normal.Density((eta - m) / u0) * (inside ? Normal.Cdf(below) + Normal.Cdf(-above) : Normal.Between(below, above));
            }
            if (inside)
                producers += sum * half / u0;
            else
                consumers += sum * half / u0;
        }
        return new GlobalRisk(consumers, producers, Normal.Between((tolerance.Low - m) / u0, (tolerance.High - m) / u0));
    }

    private static void Ordered(Interval interval, string name)
    {
        if (!(interval.Low <= interval.High))
            throw new ArgumentOutOfRangeException(name, string.Create(CultureInfo.InvariantCulture, $"The {name} interval runs from {interval.Low} to {interval.High}; its upper limit must be at least its lower one."));
    }
}
