using Knownwater.Statistics;

namespace Knownwater.Uncertainty;

/// <summary>Conformity of one measured item with a tolerance interval: probability, specific risk and guard bands of JCGM 106:2012. <see cref="GlobalRisk"/> looks at all items still to come.</summary>
/// <remarks>The quantity is described by a distribution centred on the measured value; nothing is assumed known beforehand (JCGM 106, 7.2). One-sided tolerances have an infinite other limit.</remarks>
public static class Conformity
{
    /// <summary>Probability that the quantity lies within its tolerance limits, for a normal distribution (JCGM 106, 7.3 and 7.4).</summary>
    /// <param name="value">Measured value y, finite.</param>
    /// <param name="standardUncertainty">Standard uncertainty u in the unit of y, zero or above; zero gives 0 or 1.</param>
    /// <param name="low">Lower tolerance limit; −∞ where there is none.</param>
    /// <param name="high">Upper tolerance limit, at least the lower one; +∞ where there is none.</param>
    /// <returns>Conformance probability, 0 to 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A number is not finite where it must be, u is negative, or the limits are swapped.</exception>
    public static double Probability(double value, double standardUncertainty, double low, double high)
    {
        Require.Finite(value);
        Require.NotNegative(standardUncertainty);
        Limits(low, high);
        return standardUncertainty == 0
            ? low <= value && value <= high ? 1 : 0
            : Normal.Between((low - value) / standardUncertainty, (high - value) / standardUncertainty);
    }

    /// <summary>Probability that the quantity lies within its tolerance limits, where its error is the sum of a t part and a normal part.</summary>
    /// <param name="value">Measured value, finite.</param>
    /// <param name="error">Distribution of the error about zero, in the unit of the value.</param>
    /// <param name="low">Lower tolerance limit; −∞ where there is none.</param>
    /// <param name="high">Upper tolerance limit, at least the lower one; +∞ where there is none.</param>
    /// <returns>Conformance probability, 0 to 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite, or the limits are swapped.</exception>
    public static double Probability(double value, TPlusNormal error, double low, double high)
    {
        Require.Finite(value);
        ArgumentNullException.ThrowIfNull(error);
        Limits(low, high);
        return error.Between(low - value, high - value);
    }

    /// <summary>Specific consumer's risk of an item that is accepted: the probability that it lies outside its tolerance limits all the same (JCGM 106, 9.3.2).</summary>
    /// <remarks>Summed from the tails, so that a small risk keeps all its digits, which one minus the conformance probability does not. The specific producer's risk of a rejected item is <see cref="Probability(double, double, double, double)"/> itself.</remarks>
    /// <param name="value">Measured value y, finite.</param>
    /// <param name="standardUncertainty">Standard uncertainty u in the unit of y, zero or above; zero gives 0 or 1.</param>
    /// <param name="low">Lower tolerance limit; −∞ where there is none.</param>
    /// <param name="high">Upper tolerance limit, at least the lower one; +∞ where there is none.</param>
    /// <returns>Probability, 0 to 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A number is not finite where it must be, u is negative, or the limits are swapped.</exception>
    public static double ConsumersRisk(double value, double standardUncertainty, double low, double high)
    {
        Require.Finite(value);
        Require.NotNegative(standardUncertainty);
        Limits(low, high);
        return standardUncertainty == 0
            ? low <= value && value <= high ? 0 : 1
            : Normal.Cdf((low - value) / standardUncertainty) + Normal.Cdf((value - high) / standardUncertainty);
    }

    /// <summary>Specific consumer's risk of an item that is accepted, where the error is the sum of a t part and a normal part.</summary>
    /// <param name="value">Measured value, finite.</param>
    /// <param name="error">Distribution of the error about zero, in the unit of the value.</param>
    /// <param name="low">Lower tolerance limit; −∞ where there is none.</param>
    /// <param name="high">Upper tolerance limit, at least the lower one; +∞ where there is none.</param>
    /// <returns>Probability, 0 to 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite, or the limits are swapped.</exception>
    public static double ConsumersRisk(double value, TPlusNormal error, double low, double high)
    {
        Require.Finite(value);
        ArgumentNullException.ThrowIfNull(error);
        Limits(low, high);
        return error.Cdf(low - value) + error.Cdf(value - high);
    }

    /// <summary>Guard band of a one-sided tolerance: the distance from the tolerance limit at which the conformance probability is the one asked for, z·u (JCGM 106, 8.3.2).</summary>
    /// <param name="standardUncertainty">Standard uncertainty u, zero or above.</param>
    /// <param name="probability">Least conformance probability of an accepted value, between 0 and 1; below one half the band is negative: acceptance beyond the limit.</param>
    /// <returns>Width in the unit of u, inwards from the limit.</returns>
    /// <exception cref="ArgumentOutOfRangeException">u is negative or not finite, or the probability is not between 0 and 1.</exception>
    public static double GuardBand(double standardUncertainty, double probability) =>
        Require.NotNegative(standardUncertainty) * Normal.Quantile(probability);

    /// <summary>Guard band of a one-sided tolerance, where the error is the sum of a t part and a normal part.</summary>
    /// <param name="error">Distribution of the error about zero.</param>
    /// <param name="probability">Least conformance probability of an accepted value, between 0 and 1.</param>
    /// <returns>Width in the unit of the error, inwards from the limit.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The probability is not between 0 and 1.</exception>
    public static double GuardBand(TPlusNormal error, double probability)
    {
        ArgumentNullException.ThrowIfNull(error);
        return error.Quantile(probability);
    }

    /// <summary>The measured values that conform with at least a probability, for a normal distribution (JCGM 106, 8.3).</summary>
    /// <param name="standardUncertainty">Standard uncertainty u, zero or above.</param>
    /// <param name="low">Lower tolerance limit; −∞ where there is none.</param>
    /// <param name="high">Upper tolerance limit, at least the lower one; +∞ where there is none; one of them is finite.</param>
    /// <param name="probability">Least conformance probability, between 0 and 1.</param>
    /// <param name="acceptance">The acceptance interval; meaningless where the answer is false.</param>
    /// <returns>False where no measured value reaches the probability: u is too large for this tolerance.</returns>
    /// <exception cref="ArgumentOutOfRangeException">u is negative or not finite, the limits are swapped or both infinite, or the probability is not between 0 and 1.</exception>
    public static bool TryAcceptance(double standardUncertainty, double low, double high, double probability, out Interval acceptance)
    {
        var band = GuardBand(standardUncertainty, probability);
        Limits(low, high);
        if (double.IsInfinity(low) && double.IsInfinity(high))
            throw new ArgumentOutOfRangeException(nameof(low), low, "Both tolerance limits are infinite; at least one must be a number.");
        if (double.IsInfinity(low) || double.IsInfinity(high) || standardUncertainty == 0)
        {
            acceptance = new Interval(low + (double.IsInfinity(low) ? 0 : band), high - (double.IsInfinity(high) ? 0 : band));
            return true;
        }
        var middle = low + (high - low) / 2;
        var atMiddle = Probability(middle, standardUncertainty, low, high);
        acceptance = default;
        if (atMiddle < probability)
            return false;
        // the probability falls from the middle outwards: find the distance at which it is the one asked for
        double reach = high - middle + 40 * standardUncertainty;
        var distance = SpecialFunctions.BracketedRoot(
            d => probability - Probability(middle + d, standardUncertainty, low, high), 0, probability - atMiddle, reach, probability);
        acceptance = new Interval(middle - distance, middle + distance);
        return true;
    }

    private static void Limits(double low, double high)
    {
        Require.Number(low);
        Require.Number(high);
        if (high < low)
            throw new ArgumentOutOfRangeException(nameof(high), high, $"The upper tolerance limit {high} is below the lower one, {low}.");
    }
}
