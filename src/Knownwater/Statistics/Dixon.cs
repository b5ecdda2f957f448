namespace Knownwater.Statistics;

/// <summary>Dixon’s test for one outlier in a small normal sample, by ratios of gaps.</summary>
/// <remarks>
/// For the largest value, r = (xₙ − xₙ₋ⱼ)/(xₙ − xᵢ). W. J. Dixon, Annals of Mathematical Statistics 21 (1950) 488 and 22 (1951) 68; ratios by number of values: Biometrics 9 (1953) 74.
/// P(r > R) is the double integral of the joint density of the three order statistics, the middle one integrated in closed form; the trapezium rule over the centre and the logarithm of the range
/// converges exponentially. So no table is carried, and none of the misprints of tables (Rorabacher, Analytical Chemistry 63 (1991) 139, n = 4 at 99 %: 0.926 for 0.920).
/// </remarks>
public static class Dixon
{
    /// <summary>The ratio that Dixon recommends for a number of values.</summary>
    /// <param name="n">Number of values, at least 3.</param>
    /// <exception cref="ArgumentOutOfRangeException">n is below 3.</exception>
    public static DixonRatio RatioFor(int n) => Require.AtLeast(n, 3) switch
    {
        <= 7 => DixonRatio.R10,
        <= 10 => DixonRatio.R11,
        <= 13 => DixonRatio.R21,
        _ => DixonRatio.R22,
    };

    /// <summary>Probability of a ratio of the largest value above r in a normal sample; that of the smallest value is the same.</summary>
    /// <param name="ratio">Which ratio.</param>
    /// <param name="n">Number of values, at least two more than the digits of the ratio say, at most 1000.</param>
    /// <param name="r">Ratio, 0 to 1.</param>
    /// <returns>Absolute error below 10⁻¹⁰.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The ratio is none of the six, n is out of its range, or r is not 0 to 1.</exception>
    public static double UpperTail(DixonRatio ratio, int n, double r)
    {
        var (j, i) = Shape(ratio, n);
        if (!(r >= 0 && r <= 1))
            throw new ArgumentOutOfRangeException(nameof(r), r, $"The ratio is {r}; it must be 0 to 1.");
        // between xᵢ = a and xₙ₋ⱼ lie m values, above xₙ₋ⱼ and below xₙ = x j − 1
        var m = n - j - i - 1;
        var factor = Math.Exp(LogFactorial(n) - LogFactorial(i - 1) - LogFactorial(m));
        // extremes of many values scatter less
        double finer = n <= 30 ? 1 : n <= 150 ? 2 : 3, centreStep = 0.2 / finer, logStep = 0.1 / finer;
        int centres = (int)Math.Ceiling(6.8 / centreStep), first = -(int)Math.Ceiling(44 / (m + 2.0) / logStep), last = (int)Math.Ceiling(2.7 / logStep);
        double sum = 0;
        for (var s = first; s <= last; s++)
        {
            // v = x − a = e^s; its weight is v ds
            var v = Math.Exp(s * logStep);
            for (var c = -centres; c <= centres; c++)
            {
                double a = c * centreStep - v / 2, x = c * centreStep + v / 2;
                var density = Normal.Density(a) * Normal.Density(x) * v;
                if (density < 1e-24)
                    continue;
                double below = Normal.Cdf(a), inside = Math.Max(0, Normal.Cdf(x - r * v) - below);
                var power = Math.Pow(inside, m + 1) / (m + 1);
                if (j == 2)
                    power = power * (Normal.Cdf(x) - below) - Math.Pow(inside, m + 2) / (m + 2);
                sum += density * power * (i == 1 ? 1 : Math.Pow(below, i - 1));
            }
        }
        return Math.Clamp(sum * factor * centreStep * logStep, 0, 1);
    }

    /// <summary>The critical value of a ratio.</summary>
    /// <param name="ratio">Which ratio.</param>
    /// <param name="n">Number of values, at least two more than the digits of the ratio say, at most 1000.</param>
    /// <param name="alpha">Level of significance, 10⁻⁶ to 0.5.</param>
    /// <param name="twoSided">Whether an outlier at either end counts: then each end has half of alpha. Else the end was chosen before the data were seen.</param>
    /// <exception cref="ArgumentOutOfRangeException">The ratio is none of the six, n is out of its range, or alpha is.</exception>
    public static double CriticalValue(DixonRatio ratio, int n, double alpha, bool twoSided)
    {
        Shape(ratio, n);
        if (!(alpha >= 1e-6 && alpha <= 0.5))
            throw new ArgumentOutOfRangeException(nameof(alpha), alpha, $"The alpha is {alpha}; it must be 0.000001 to 0.5.");
        var tail = twoSided ? alpha / 2 : alpha;
        return SpecialFunctions.BracketedRoot(r => Math.Log(tail / Math.Max(1e-300, UpperTail(ratio, n, r))), 0, Math.Log(tail), 1, 1e3);
    }

    /// <summary>The end value with the larger ratio.</summary>
    /// <param name="values">Finite values in any order, as many as the ratio needs.</param>
    /// <param name="ratio">Which ratio; the recommended one unless given.</param>
    /// <returns>Position of the value, counting from zero, and its ratio; zero where the range that it is set against is zero.</returns>
    /// <exception cref="ArgumentException">There are too few values, or one is not finite.</exception>
    public static (int Index, double Ratio) Farthest(ReadOnlySpan<double> values, DixonRatio? ratio = null)
    {
        Require.Sample(values, 3);
        var n = values.Length;
        var (j, i) = Shape(ratio ?? RatioFor(n), n, nameof(values));
        var sorted = values.ToArray();
        int[] positions = [.. Enumerable.Range(0, n)];
        Array.Sort(sorted, positions);
        double high = Over(sorted[^1] - sorted[n - 1 - j], sorted[^1] - sorted[i - 1]), low = Over(sorted[j] - sorted[0], sorted[n - i] - sorted[0]);
        return high >= low ? (positions[^1], high) : (positions[0], low);

        static double Over(double gap, double range) => range > 0 ? gap / range : 0;
    }

    private static (int J, int I) Shape(DixonRatio ratio, int n, string name = "n")
    {
        var (j, i) = ratio switch
        {
            DixonRatio.R10 => (1, 1),
            DixonRatio.R11 => (1, 2),
            DixonRatio.R12 => (1, 3),
            DixonRatio.R20 => (2, 1),
            DixonRatio.R21 => (2, 2),
            DixonRatio.R22 => (2, 3),
            _ => throw new ArgumentOutOfRangeException(nameof(ratio), ratio, $"The ratio is {ratio}; it must be one of R10, R11, R12, R20, R21, R22."),
        };
        if (n < j + i + 1 || n > 1000)
            throw new ArgumentOutOfRangeException(name, n, $"The number of values is {n}; for {ratio} it must be {j + i + 1} to 1000.");
        return (j, i);
    }

    private static double LogFactorial(int n) => MathNet.Numerics.SpecialFunctions.FactorialLn(n);
}
