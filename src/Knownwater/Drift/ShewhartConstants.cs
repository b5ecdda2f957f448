using Knownwater.Statistics;
using Numerics = MathNet.Numerics.SpecialFunctions;

namespace Knownwater.Drift;

/// <summary>Factors that turn ranges and standard deviations of n normal values into limits at three standard deviations (ISO 7870-2:2013, Table 2).</summary>
/// <remarks>
/// c₄ = √(2/(n − 1))·Γ(n/2)/Γ((n − 1)/2), the mean of s/σ. d₂ = ∫ (1 − Φⁿ − (1 − Φ)ⁿ) dx and d₃, mean and standard deviation of the range over σ
/// (Tippett 1925, Biometrika 17, 364), by Gauss–Legendre rules between −8.5 and 8.5 σ, to better than 10⁻¹⁰. All others follow from these three.
/// </remarks>
public sealed record ShewhartConstants
{
    private const double Reach = 8.5;
    private const int Largest = 1000;
    private static readonly GaussLegendre Rule = new(160);

    private ShewhartConstants(int n, double c4, double d2, double d3) => (Count, SdFactor, RangeFactor, RangeSdFactor) = (n, c4, d2, d3);

    /// <summary>Number n of values.</summary>
    public int Count { get; }

    /// <summary>c₄: mean of s over σ.</summary>
    public double SdFactor { get; }

    /// <summary>d₂: mean of the range over σ.</summary>
    public double RangeFactor { get; }

    /// <summary>d₃: standard deviation of the range over σ.</summary>
    public double RangeSdFactor { get; }

    /// <summary>A₂: limits of the mean are mean ± A₂·R̄.</summary>
    public double MeanByRange => 3 / (RangeFactor * Math.Sqrt(Count));

    /// <summary>A₃: limits of the mean are mean ± A₃·s̄.</summary>
    public double MeanBySd => 3 / (SdFactor * Math.Sqrt(Count));

    /// <summary>B₃: lower limit of s over s̄; zero where it would be negative.</summary>
    public double SdLower => Math.Max(0, 1 - SdSpread / SdFactor);

    /// <summary>B₄: upper limit of s over s̄.</summary>
    public double SdUpper => 1 + SdSpread / SdFactor;

    /// <summary>B₅: lower limit of s over σ; zero where it would be negative.</summary>
    public double SdLowerOfSigma => Math.Max(0, SdFactor - SdSpread);

    /// <summary>B₆: upper limit of s over σ.</summary>
    public double SdUpperOfSigma => SdFactor + SdSpread;

    /// <summary>D₃: lower limit of the range over R̄; zero where it would be negative.</summary>
    public double RangeLower => Math.Max(0, 1 - 3 * RangeSdFactor / RangeFactor);

    /// <summary>D₄: upper limit of the range over R̄.</summary>
    public double RangeUpper => 1 + 3 * RangeSdFactor / RangeFactor;

    /// <summary>E₂: limits of single values are mean ± E₂·R̄, R̄ the mean range of n neighbours.</summary>
    public double IndividualsByRange => 3 / RangeFactor;

    private double SdSpread => 3 * Math.Sqrt(1 - SdFactor * SdFactor);

    /// <summary>The constants for n values.</summary>
    /// <param name="count">Number of values, 2 to 1000.</param>
    /// <returns>The constants.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is out of range.</exception>
    public static ShewhartConstants Of(int count)
    {
        if (count is < 2 or > Largest)
            throw new ArgumentOutOfRangeException(nameof(count), count, $"The count is {count}; it must be from 2 to {Largest}.");
        var c4 = Math.Sqrt(2.0 / (count - 1)) * Math.Exp(Numerics.GammaLn(count / 2.0) - Numerics.GammaLn((count - 1) / 2.0));
        // E w² = 2 ∫∫ over x < y of 1 − Φ(y)ⁿ − (1 − Φ(x))ⁿ + (Φ(y) − Φ(x))ⁿ
        double mean = 0, square = 0;
        for (var i = 0; i < Rule.Nodes.Length; i++)
        {
            var y = Reach * Rule.Nodes[i];
            var below = Normal.Cdf(y);
            mean += Reach * Rule.Weights[i] * (1 - Math.Pow(below, count) - Math.Pow(Normal.Cdf(-y), count));
            double inner = 0;
            for (var j = 0; j < Rule.Nodes.Length; j++)
            {
                // x from the lowest to y
                var x = (y - Reach + (y + Reach) * Rule.Nodes[j]) / 2;
                inner += Rule.Weights[j] * (1 - Math.Pow(below, count) - Math.Pow(Normal.Cdf(-x), count) + Math.Pow(Math.Max(0, below - Normal.Cdf(x)), count));
            }
            square += Reach * Rule.Weights[i] * inner * (y + Reach) / 2;
        }
        return new ShewhartConstants(count, c4, mean, Math.Sqrt(2 * square - mean * mean));
    }
}
