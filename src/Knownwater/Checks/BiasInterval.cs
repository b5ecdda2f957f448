using Knownwater.Statistics;

namespace Knownwater.Checks;

/// <summary>The interval of a bias and the rule that turns it into a verdict.</summary>
/// <remarks>
/// Half-width² = t²(ν) · max(s², q²/12)/n + z² · (q²/12 + u²): the readings' part with Student's t, the part that more readings cannot
/// reduce (display step q, standard uncertainty u of the reference value) with the normal factor. The part of the display stands
/// outside the mean because rounding errs alike in all replicates when the scatter is small against the step. The combination in
/// squares is an approximation whose coverage is shown by simulation (docs/reference/operating-characteristics.md).
/// </remarks>
internal readonly struct BiasInterval
{
    private readonly double _t2;
    private readonly double _fixed2;
    private readonly double _floor2;

    /// <summary>Prepares the interval for a standard deviation of known degrees of freedom.</summary>
    /// <param name="dof">Degrees of freedom of s; above zero, may be infinite.</param>
    /// <param name="coverage">Coverage probability, 0.95 or 0.975.</param>
    /// <param name="resolution">Display step q.</param>
    /// <param name="referenceU">Standard uncertainty u of the reference value.</param>
    public BiasInterval(double dof, double coverage, double resolution, double referenceU)
    {
        var upper = 1 - (1 - coverage) / 2;
        var z = Normal.Quantile(upper);
        var t = double.IsPositiveInfinity(dof) ? z : StudentT.Quantile(upper, dof);
        _t2 = t * t;
        _floor2 = resolution * resolution / 12;
        _fixed2 = z * z * (_floor2 + referenceU * referenceU);
    }

    /// <summary>Variance of a single reading with the display's floor: max(s², q²/12).</summary>
    public double Floored(double variance) => Math.Max(variance, _floor2);

    /// <summary>Half-width of the interval for the mean of n readings whose variance is s².</summary>
    public double HalfWidth(double variance, int n) => Math.Sqrt(_t2 * Floored(variance) / n + _fixed2);

    /// <summary>Half-width left when the number of readings grows without limit.</summary>
    public double Limit => Math.Sqrt(_fixed2);

    /// <summary>The verdict on a bias known to lie between two limits of estimate (equal unless readings are censored).</summary>
    /// <param name="low">Lower end of the interval.</param>
    /// <param name="high">Upper end of the interval.</param>
    /// <param name="least">Least estimate.</param>
    /// <param name="greatest">Greatest estimate.</param>
    /// <param name="tolerance">Tolerance T at the reference value.</param>
    public static Verdict Decide(double low, double high, double least, double greatest, double tolerance) =>
        low >= -tolerance && high <= tolerance ? Verdict.ReadsRight
        : low > 0 && least > tolerance ? Verdict.ReadsHigh
        : high < 0 && greatest < -tolerance ? Verdict.ReadsLow
        : Verdict.CannotTell;
}
