using Knownwater.Seawater;

namespace Knownwater.Quantities;

/// <summary>The state of a water that its density depends on, at the surface.</summary>
/// <remarks>
/// Density of pure water by Tanaka et al. 2001 at salinity zero, of seawater by TEOS-10 (75-term polynomial, reference composition)
/// above; where the two meet they differ by about one part in a million. Two states are equal when both numbers are.
/// </remarks>
/// <param name="PracticalSalinity">Practical Salinity (PSS-78); 0 (fresh water) to 42.</param>
/// <param name="TemperatureCelsius">Temperature, °C on ITS-90; 0 to 40.</param>
/// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
public sealed record WaterState(double PracticalSalinity, double TemperatureCelsius)
{
    /// <summary>Practical Salinity (PSS-78); zero for fresh water.</summary>
    public double PracticalSalinity { get; } = SalinityInRange(PracticalSalinity);

    /// <summary>Temperature, °C on ITS-90.</summary>
    public double TemperatureCelsius { get; } = TemperatureInRange(TemperatureCelsius);

    /// <summary>Density at the surface, kg/m³.</summary>
    public double DensityKilogramsPerCubicMetre => PracticalSalinity == 0
        ? PureWater.DensityKilogramsPerCubicMetre(TemperatureCelsius)
        : SeawaterDensity(Teos10.AbsoluteSalinityGramsPerKilogram(PracticalSalinity));

    private double SeawaterDensity(double absoluteSalinity) =>
        Teos10.DensityKilogramsPerCubicMetre(absoluteSalinity, Teos10.ConservativeTemperatureCelsius(absoluteSalinity, TemperatureCelsius));

    private static double SalinityInRange(double salinity)
    {
        Seawater.Range.Require(salinity, 0, Teos10.HighestPracticalSalinity, "salinity", "", "the density of water", nameof(PracticalSalinity));
        return salinity;
    }

    private static double TemperatureInRange(double temperature)
    {
        Seawater.Range.Require(temperature, PureWater.LowestCelsius, PureWater.HighestCelsius, "temperature", "°C", "the density of water", nameof(TemperatureCelsius));
        return temperature;
    }
}
