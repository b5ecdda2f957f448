using Knownwater.Seawater;
using Knownwater.Statistics;

namespace Knownwater.Preparation;

/// <summary>From a mass read in air to the volume of the water that was weighed.</summary>
public static class AirBuoyancy
{
    /// <summary>Density to which balances and weights refer, 8000 kg/m³ (OIML R 111-1).</summary>
    public const double WeightsKilogramsPerCubicMetre = 8000;

    /// <summary>Cubic expansion of borosilicate glass, 1.0·10⁻⁵ /°C (from memory; soda-lime glass has about 2.7·10⁻⁵).</summary>
    public const double BorosilicatePerCelsius = 1.0e-5;

    /// <summary>Density of moist air.</summary>
    /// <remarks>ρ = (0.34848 p − 0.009 h e^(0.061 t)) / (273.15 + t), the short formula of OIML R 111-1 (annex E; from memory), for 900 to 1100 hPa and 10 to 30 °C within 0.02 %; used a little beyond.</remarks>
    /// <param name="temperatureCelsius">Air temperature t, °C; 0 to 40.</param>
    /// <param name="pressureHectopascals">Pressure p of the place, not reduced to sea level, hPa; 500 to 1100.</param>
    /// <param name="humidityPercent">Relative humidity h, %; 0 to 100.</param>
    /// <returns>Density, kg/m³.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value lies outside its limits.</exception>
    public static double AirDensityKilogramsPerCubicMetre(double temperatureCelsius, double pressureHectopascals = 1013, double humidityPercent = 50)
    {
        const string Of = "the density of air";
        Seawater.Range.Require(temperatureCelsius, PureWater.LowestCelsius, PureWater.HighestCelsius, "temperature", "°C", Of, nameof(temperatureCelsius));
        Seawater.Range.Require(pressureHectopascals, 500, 1100, "pressure", "hPa", Of, nameof(pressureHectopascals));
        Seawater.Range.Require(humidityPercent, 0, 100, "humidity", "%", Of, nameof(humidityPercent));
        return (0.34848 * pressureHectopascals - 0.009 * humidityPercent * Math.Exp(0.061 * temperatureCelsius)) / (273.15 + temperatureCelsius);
    }

    /// <summary>The factor Z from the mass of pure water read in air to its volume at the temperature of the water.</summary>
    /// <remarks>Z = (1 − ρₐ/ρ_weights)/(ρ_water − ρₐ) (ISO 4787 and ISO 8655-6; from memory), the water by Tanaka et al. 2001 (<see cref="PureWater"/>), air-free.</remarks>
    /// <param name="temperatureCelsius">Temperature of water and air, °C; 0 to 40.</param>
    /// <param name="pressureHectopascals">Pressure of the place, hPa; 500 to 1100.</param>
    /// <param name="humidityPercent">Relative humidity, %; 0 to 100.</param>
    /// <returns>Z, mL/g.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value lies outside its limits.</exception>
    public static double MillilitresPerGram(double temperatureCelsius, double pressureHectopascals = 1013, double humidityPercent = 50)
    {
        var air = AirDensityKilogramsPerCubicMetre(temperatureCelsius, pressureHectopascals, humidityPercent);
        return 1000 * (1 - air / WeightsKilogramsPerCubicMetre) / (PureWater.DensityKilogramsPerCubicMetre(temperatureCelsius) - air);
    }

    /// <summary>What a vessel holds or delivers at 20 °C, from its volume at another temperature.</summary>
    /// <remarks>V₂₀ = V_t (1 − γ (t − 20)), ISO 4787 (from memory).</remarks>
    /// <param name="volume">Volume at the temperature, in any unit.</param>
    /// <param name="temperatureCelsius">Temperature of vessel and water, °C.</param>
    /// <param name="expansionPerCelsius">Cubic expansion γ of the vessel, 1/°C; zero or above.</param>
    /// <returns>Volume at 20 °C, in the same unit.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite, or the expansion is below zero.</exception>
    public static double At20Celsius(double volume, double temperatureCelsius, double expansionPerCelsius) =>
        Require.Finite(volume) * (1 - Require.NotNegative(expansionPerCelsius) * (Require.Finite(temperatureCelsius) - 20));
}
