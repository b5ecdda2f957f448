namespace Knownwater.Seawater;

/// <summary>Density of seawater at one atmosphere by the equation of state of 1980, for comparison with older figures.</summary>
/// <remarks>Millero &amp; Poisson 1981, Deep-Sea Research 28A, 625–629; UNESCO Technical Papers in Marine Science 44 (1983), algorithm 3. It takes temperatures of 1968; these are made of ITS-90 here, t₆₈ = 1.00024 t₉₀.</remarks>
public static class Eos80
{
    /// <summary>Density at the surface.</summary>
    /// <param name="practicalSalinity">Practical Salinity, 0 to 42.</param>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; −2 to 40.</param>
    /// <returns>Density, kg/m³.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static double DensityKilogramsPerCubicMetre(double practicalSalinity, double temperatureCelsius)
    {
        Range.Require(practicalSalinity, 0, 42, "salinity", "", "the equation of state of 1980", nameof(practicalSalinity));
        Range.Require(temperatureCelsius, -2, 40, "temperature", "°C", "the equation of state of 1980", nameof(temperatureCelsius));
        double t = 1.00024 * temperatureCelsius, s = practicalSalinity;
        var water = 999.842594 + t * (6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
        var a = 8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
        var b = -5.72466e-3 + t * (1.0227e-4 - 1.6546e-6 * t);
        return water + s * (a + b * Math.Sqrt(s) + 4.8314e-4 * s);
    }
}
