namespace Knownwater.Seawater;

/// <summary>Pure water at a pressure of one atmosphere.</summary>
public static class PureWater
{
    /// <summary>Lowest temperature of the density formula, 0 °C.</summary>
    public const double LowestCelsius = 0;

    /// <summary>Highest temperature of the density formula, 40 °C.</summary>
    public const double HighestCelsius = 40;

    /// <summary>Density of air-free pure water (SMOW).</summary>
    /// <remarks>
    /// ρ = a₅ (1 − (t + a₁)² (t + a₂) / (a₃ (t + a₄))), Tanaka, Girard, Davis, Peuto &amp; Bignell 2001, Metrologia 38, 301–309, equation (1);
    /// 101 325 Pa. Standard uncertainty 0.0004 to 0.0005 kg/m³ over the range.
    /// </remarks>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; 0 to 40.</param>
    /// <returns>Density, kg/m³.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The temperature lies outside 0 to 40 °C.</exception>
    public static double DensityKilogramsPerCubicMetre(double temperatureCelsius)
    {
        Range.Require(temperatureCelsius, LowestCelsius, HighestCelsius, "temperature", "°C", "the density of pure water", nameof(temperatureCelsius));
        const double A1 = -3.983035, A2 = 301.797, A3 = 522528.9, A4 = 69.34881, A5 = 999.974950;
        var t = temperatureCelsius;
        return A5 * (1 - ((t + A1) * (t + A1) * (t + A2) / (A3 * (t + A4))));
    }
}
