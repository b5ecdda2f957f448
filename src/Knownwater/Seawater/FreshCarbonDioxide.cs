using Knownwater.Uncertainty;

namespace Knownwater.Seawater;

/// <summary>Carbon dioxide in fresh water from its alkalinity and pH.</summary>
/// <remarks>
/// <para>CO₂ = γ [HCO₃⁻] 10^(−pH)/K₁ with K₁ of Plummer &amp; Busenberg 1982 and the activity coefficient γ of Davies 1962 at the ionic strength of a calcium bicarbonate water, 1.5 times its alkalinity;
/// carbonate and hydroxide are taken off the alkalinity.</para>
/// <para>It holds only where carbonate makes the alkalinity: phosphate or humic acids, as from peat, driftwood or buffer salts, and the scatter of a pH electrode (0.1 is a quarter) make it worthless. pH is the reading of an electrode set
/// with ordinary buffers.</para>
/// </remarks>
public static class FreshCarbonDioxide
{
    /// <summary>Grams in a mole of CO₂.</summary>
    private const double MolarMass = 44.009;
    private const double Ln10 = 2.302585092994046;

    /// <summary>−log₁₀ of the first and second dissociation constants, and of the solubility in mol/(kg atm).</summary>
    /// <param name="temperatureCelsius">Temperature, °C; 0 to 50.</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature lies outside 0 to 50 °C.</exception>
    public static (double PK1, double PK2, double PKh) Constants(double temperatureCelsius)
    {
        Range.Require(temperatureCelsius, 0, 50, "temperature", "°C", "the carbonate constants of fresh water", nameof(temperatureCelsius));
        double t = temperatureCelsius + 273.15, log = Math.Log10(t);
        return (
            356.3094 + 0.06091964 * t - 21834.37 / t - 126.8339 * log + 1684915 / (t * t),
            107.8871 + 0.03252849 * t - 5151.79 / t - 38.92561 * log + 563713.9 / (t * t),
            -108.3865 - 0.01985076 * t + 6919.53 / t + 40.45154 * log - 669365 / (t * t));
    }

    /// <summary>Dissolved carbon dioxide, mg/L.</summary>
    /// <param name="alkalinityMilliequivalentsPerLitre">Alkalinity, meq/L; above 0 to 20.</param>
    /// <param name="pH">pH, 5 to 9.5.</param>
    /// <param name="temperatureCelsius">Temperature, °C; 0 to 50.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static Estimate MilligramsPerLitre(Estimate alkalinityMilliequivalentsPerLitre, Estimate pH, double temperatureCelsius)
    {
        var (pk1, pk2, _) = Constants(temperatureCelsius);
        Range.Require(alkalinityMilliequivalentsPerLitre.Value, 0.01, 20, "alkalinity", "meq/L", "carbon dioxide from alkalinity and pH", nameof(alkalinityMilliequivalentsPerLitre));
        Range.Require(pH.Value, 5, 9.5, "pH", "", "carbon dioxide from alkalinity and pH", nameof(pH));
        var alkalinity = 1e-3 * alkalinityMilliequivalentsPerLitre;
        var strength = 1.5 * alkalinity.Value;
        var root = Math.Sqrt(strength);
        // Davies 1962; a for water at 25 °C, whose change with temperature is below a hundredth
        var single = Math.Pow(10, -0.509 * (root / (1 + root) - 0.3 * strength));
        var h = Estimate.Exp(-Ln10 * pH);
        var hydroxide = Math.Pow(10, -14.0) / (single * h);
        var k2 = Math.Pow(10, -pk2) / (single * single * single);
        var bicarbonate = (alkalinity - hydroxide + h / single) / (1 + 2 * k2 * single / h);
        return 1e3 * MolarMass * single * bicarbonate * h / Math.Pow(10, -pk1);
    }
}
