namespace Knownwater.Statistics;

/// <summary>The reproducibility that laboratories reach at a mass fraction, whatever the analyte and method: Horwitz’s function as Thompson completed it.</summary>
/// <remarks>
/// σ_R = 0.02·c^0.8495 from 1.2·10⁻⁷ to 0.138; 0.22·c below, 0.01·√c above: M. Thompson, Analyst 125 (2000) 385; ISO 13528:2015, 8.4. The original form has the exponent 1 − 0.5·lg 2 throughout (W. Horwitz, Analytical Chemistry 54 (1982) 67A).
/// </remarks>
public static class Horwitz
{
    /// <summary>Reproducibility standard deviation by Thompson’s form.</summary>
    /// <param name="massFraction">Mass fraction of the analyte, above 0 and at most 1: 1 mg/kg is 10⁻⁶.</param>
    /// <returns>Standard deviation, as a mass fraction.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The mass fraction is not above 0 and at most 1.</exception>
    public static double ReproducibilityStandardDeviation(double massFraction) => Check(massFraction) switch
    {
        < 1.2e-7 => 0.22 * massFraction,
        > 0.138 => 0.01 * Math.Sqrt(massFraction),
        _ => 0.02 * Math.Pow(massFraction, 0.8495),
    };

    /// <summary>Relative reproducibility standard deviation by Horwitz’s own form, 2^(1 − 0.5·lg c) per cent.</summary>
    /// <param name="massFraction">Mass fraction of the analyte, above 0 and at most 1.</param>
    /// <returns>Relative standard deviation, as a ratio.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The mass fraction is not above 0 and at most 1.</exception>
    public static double RelativeReproducibility(double massFraction) => Math.Pow(2, 1 - 0.5 * Math.Log10(Check(massFraction))) / 100;

    private static double Check(double massFraction) => massFraction is > 0 and <= 1 ? massFraction
        : throw new ArgumentOutOfRangeException(nameof(massFraction), massFraction, $"The mass fraction is {massFraction}; it must be above 0 and at most 1.");
}
