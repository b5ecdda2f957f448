namespace Knownwater.Statistics;

/// <summary>Cochran’s test for one group whose scatter is too large.</summary>
/// <remarks>C = s²max/Σs² over p groups of equal size n. Critical value 1/(1 + (p − 1)/F), F the upper α/p point with n − 1 and (p − 1)(n − 1) degrees of freedom: the formula behind the table of ISO 5725-2:1994, 7.3.3; exact where C is above one half, a little strict below.</remarks>
public static class Cochran
{
    /// <summary>The critical value of C.</summary>
    /// <param name="groups">Number p of groups, at least 2.</param>
    /// <param name="perGroup">Number n of values in each, at least 2; where the sizes differ a little, the most frequent one (ISO 5725-2:1994, 7.3.3).</param>
    /// <param name="alpha">Level of significance, between 0 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is below 2, or alpha is not between 0 and 1.</exception>
    public static double CriticalValue(int groups, int perGroup, double alpha)
    {
        Require.AtLeast(groups, 2);
        Require.AtLeast(perGroup, 2);
        Require.InsideUnit(alpha);
        // the upper point as the inverse of a lower one, which keeps its digits
        double dof = perGroup - 1, others = (groups - 1) * dof;
        return 1 / (1 + (groups - 1) * FisherF.Quantile(alpha / groups, others, dof));
    }

    /// <summary>The group of the largest scatter and its C.</summary>
    /// <param name="standardDeviations">Standard deviations of the groups, zero or above; at least 2, not all zero.</param>
    /// <returns>Position of the group, counting from zero, and C.</returns>
    /// <exception cref="ArgumentException">There are fewer than 2, one is negative or not finite, or all are zero.</exception>
    public static (int Index, double C) Largest(ReadOnlySpan<double> standardDeviations)
    {
        var size = Mandel.Scale(standardDeviations, 2, nameof(standardDeviations));
        var index = 0;
        double sum = 0;
        for (var i = 0; i < standardDeviations.Length; i++)
        {
            var s = standardDeviations[i] / size;
            sum += s * s;
            if (standardDeviations[i] > standardDeviations[index])
                index = i;
        }
        return (index, 1 / sum);
    }
}
