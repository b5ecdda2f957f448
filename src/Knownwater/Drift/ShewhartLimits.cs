using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>Centre and limits at three standard deviations, estimated from the points themselves (ISO 7870-2:2013).</summary>
/// <remarks>With few points the limits are themselves uncertain, and the chart signals more often than three standard deviations say; see <see cref="ShewhartConstants"/> for the factors.</remarks>
/// <param name="Lower">Lower limit, in the points' unit.</param>
/// <param name="Centre">Centre line.</param>
/// <param name="Upper">Upper limit.</param>
public readonly record struct ShewhartLimits(double Lower, double Centre, double Upper)
{
    /// <summary>Limits of single values from their mean moving range, that of two neighbours.</summary>
    /// <param name="values">Values in their order, at least 2, not all alike.</param>
    /// <returns>The limits of the values, and those of their moving range.</returns>
    /// <exception cref="ArgumentException">There are fewer than two values, one is not finite, or all neighbours are alike.</exception>
    public static (ShewhartLimits Values, ShewhartLimits Ranges) OfIndividuals(ReadOnlySpan<double> values)
    {
        Require.Sample(values, 2);
        double ranges = 0;
        for (var i = 1; i < values.Length; i++)
            ranges += Math.Abs(values[i] - values[i - 1]);
        ranges /= values.Length - 1;
        if (ranges == 0)
            throw new ArgumentException("All neighbours are alike, so that their ranges say nothing of the scatter. Give values with the digits that were read.", nameof(values));
        var constants = ShewhartConstants.Of(2);
        var mean = SampleMoments.Of(values).Mean;
        var half = constants.IndividualsByRange * ranges;
        return (new(mean - half, mean, mean + half), new(constants.RangeLower * ranges, ranges, constants.RangeUpper * ranges));
    }

    /// <summary>Limits of means and standard deviations of groups of n values each.</summary>
    /// <param name="means">Means of the groups, at least 1.</param>
    /// <param name="sds">Standard deviations of the groups, not all zero.</param>
    /// <param name="count">Number n of values in each group, 2 to 1000.</param>
    /// <returns>The limits of the means and those of the standard deviations.</returns>
    /// <exception cref="ArgumentException">The lists differ in length or are empty, a number is not finite, a standard deviation is negative, or all are zero.</exception>
    public static (ShewhartLimits Means, ShewhartLimits Sds) OfGroups(ReadOnlySpan<double> means, ReadOnlySpan<double> sds, int count)
    {
        Require.Pairs(means, sds, 1);
        foreach (var sd in sds)
            Require.NotNegative(sd, nameof(sds));
        var constants = ShewhartConstants.Of(count);
        double centre = SampleMoments.Of(means).Mean, typical = SampleMoments.Of(sds).Mean;
        if (typical == 0)
            throw new ArgumentException("All standard deviations are zero, so that they say nothing of the scatter. Give values with the digits that were read.", nameof(sds));
        var half = constants.MeanBySd * typical;
        return (new(centre - half, centre, centre + half), new(constants.SdLower * typical, typical, constants.SdUpper * typical));
    }

    /// <summary>Whether a point lies beyond a limit.</summary>
    /// <param name="point">The point.</param>
    public bool Signals(double point) => point < Lower || point > Upper;
}
