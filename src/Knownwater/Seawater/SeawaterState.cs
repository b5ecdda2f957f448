using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Seawater;

/// <summary>Seawater at one salinity, temperature and pressure: salinities, densities, conductivity, specific gravities.</summary>
public sealed record SeawaterState
{
    private SeawaterState(double salinity, double temperature, double pressure)
    {
        (PracticalSalinity, TemperatureCelsius, PressureDecibars) = (salinity, temperature, pressure);
        AbsoluteSalinityGramsPerKilogram = Teos10.AbsoluteSalinityGramsPerKilogram(salinity);
        ConservativeTemperatureCelsius = Teos10.ConservativeTemperatureCelsius(AbsoluteSalinityGramsPerKilogram, temperature, pressure);
        DensityKilogramsPerCubicMetre = Teos10.DensityKilogramsPerCubicMetre(AbsoluteSalinityGramsPerKilogram, ConservativeTemperatureCelsius, pressure);
    }

    /// <summary>Practical Salinity (PSS-78).</summary>
    public double PracticalSalinity { get; }

    /// <summary>Temperature, °C on ITS-90.</summary>
    public double TemperatureCelsius { get; }

    /// <summary>Sea pressure, dbar; zero at the surface.</summary>
    public double PressureDecibars { get; }

    /// <summary>Absolute Salinity of the reference composition, g/kg.</summary>
    public double AbsoluteSalinityGramsPerKilogram { get; }

    /// <summary>Conservative Temperature, °C.</summary>
    public double ConservativeTemperatureCelsius { get; }

    /// <summary>Density by TEOS-10 (75 terms), kg/m³.</summary>
    public double DensityKilogramsPerCubicMetre { get; }

    /// <summary>Density at the surface by the equation of state of 1980, kg/m³.</summary>
    public double DensityEos80KilogramsPerCubicMetre => Eos80.DensityKilogramsPerCubicMetre(PracticalSalinity, TemperatureCelsius);

    /// <summary>Conductivity, mS/cm.</summary>
    public double ConductivityMillisiemensPerCentimetre => Pss78.ConductivityMillisiemensPerCentimetre(PracticalSalinity, TemperatureCelsius, PressureDecibars);

    /// <summary>The state of water of a known salinity.</summary>
    /// <param name="practicalSalinity">Practical Salinity, 0 to 42.</param>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; −2 to 40.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 (the surface) to 10 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static SeawaterState OfSalinity(double practicalSalinity, double temperatureCelsius, double pressureDecibars = 0) => new(practicalSalinity, temperatureCelsius, pressureDecibars);

    /// <summary>The state of water of a known conductivity.</summary>
    /// <param name="conductivityMillisiemensPerCentimetre">Conductivity at the temperature, mS/cm.</param>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; −2 to 40.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 (the surface) to 10 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument, or the salinity it gives, lies outside its range.</exception>
    public static SeawaterState OfConductivity(double conductivityMillisiemensPerCentimetre, double temperatureCelsius, double pressureDecibars = 0) =>
        new(Pss78.Salinity(conductivityMillisiemensPerCentimetre, temperatureCelsius, pressureDecibars), temperatureCelsius, pressureDecibars);

    /// <summary>The state of water of a known density.</summary>
    /// <remarks>Density rises with salinity everywhere in range, so that there is one salinity; it is found to the last bits.</remarks>
    /// <param name="densityKilogramsPerCubicMetre">Density at the temperature, kg/m³.</param>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; −2 to 40.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 (the surface) to 10 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range, or no salinity from 0 to 42 has that density.</exception>
    public static SeawaterState OfDensity(double densityKilogramsPerCubicMetre, double temperatureCelsius, double pressureDecibars = 0)
    {
        var (fresh, salt) = (OfSalinity(0, temperatureCelsius, pressureDecibars), OfSalinity(Teos10.HighestPracticalSalinity, temperatureCelsius, pressureDecibars));
        Range.Require(densityKilogramsPerCubicMetre, Math.Floor(1e6 * fresh.DensityKilogramsPerCubicMetre) / 1e6, Math.Ceiling(1e6 * salt.DensityKilogramsPerCubicMetre) / 1e6, "density", "kg/m³",
            FormattableString.Invariant($"a salinity of 0 to 42 at {temperatureCelsius} °C"), nameof(densityKilogramsPerCubicMetre));
        return new SeawaterState(
            Root.Between(s => new SeawaterState(s, temperatureCelsius, pressureDecibars).DensityKilogramsPerCubicMetre - densityKilogramsPerCubicMetre, 0, Teos10.HighestPracticalSalinity), temperatureCelsius, pressureDecibars);
    }

    /// <summary>Specific gravity: density of this salinity over that of pure water, each at its own temperature and at the surface.</summary>
    /// <remarks>Pure water by Tanaka et al. 2001, which is closer to its density than the 75 terms are at no salinity. A hydrometer shows it for the pair of temperatures it was made for, and only at the first of these; “25/25” and “25/4” differ by 0.003.</remarks>
    /// <param name="temperatureCelsius">Temperature of the sample, °C; 0 to 40.</param>
    /// <param name="waterCelsius">Temperature of the pure water, °C; 0 to 40.</param>
    /// <exception cref="ArgumentOutOfRangeException">A temperature lies outside its range.</exception>
    public double SpecificGravity(double temperatureCelsius, double waterCelsius) =>
        new WaterState(PracticalSalinity, temperatureCelsius).DensityKilogramsPerCubicMetre / PureWater.DensityKilogramsPerCubicMetre(waterCelsius);

    /// <summary>Density of water whose salinity and temperature are uncertain, kg/m³, by TEOS-10.</summary>
    /// <param name="practicalSalinity">Practical Salinity, 0 to 42.</param>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; −2 to 40.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 to 10 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static Estimate Density(Estimate practicalSalinity, Estimate temperatureCelsius, double pressureDecibars = 0) =>
        Propagate((s, t) => OfSalinity(s, t, pressureDecibars).DensityKilogramsPerCubicMetre, practicalSalinity, temperatureCelsius, 0, Teos10.HighestPracticalSalinity);

    /// <summary>Practical Salinity from an uncertain conductivity and temperature.</summary>
    /// <param name="conductivityMillisiemensPerCentimetre">Conductivity at the temperature, mS/cm.</param>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; −2 to 40.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 to 10 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument, or the salinity it gives, lies outside its range.</exception>
    public static Estimate SalinityOfConductivity(Estimate conductivityMillisiemensPerCentimetre, Estimate temperatureCelsius, double pressureDecibars = 0) =>
        Propagate((c, t) => Pss78.Salinity(c, t, pressureDecibars), conductivityMillisiemensPerCentimetre, temperatureCelsius, 0, double.PositiveInfinity);

    /// <summary>Practical Salinity from an uncertain density and temperature.</summary>
    /// <param name="densityKilogramsPerCubicMetre">Density at the temperature, kg/m³.</param>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; −2 to 40.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 to 10 000.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range, or no salinity has that density.</exception>
    public static Estimate SalinityOfDensity(Estimate densityKilogramsPerCubicMetre, Estimate temperatureCelsius, double pressureDecibars = 0)
    {
        // the state itself refuses what no salinity has
        var state = OfDensity(densityKilogramsPerCubicMetre.Value, temperatureCelsius.Value, pressureDecibars);
        var (bySalinity, byTemperature) = Slopes((s, t) => OfSalinity(s, t, pressureDecibars).DensityKilogramsPerCubicMetre, state.PracticalSalinity, temperatureCelsius.Value, 0, Teos10.HighestPracticalSalinity);
        return state.PracticalSalinity + (densityKilogramsPerCubicMetre - densityKilogramsPerCubicMetre.Value) / bySalinity - byTemperature / bySalinity * (temperatureCelsius - temperatureCelsius.Value);
    }

    /// <summary>The law of propagation (JCGM 100:2008, 5.1.2) with slopes by central differences, inward at the ends of the range.</summary>
    private static Estimate Propagate(Func<double, double, double> of, Estimate x, Estimate t, double low, double high)
    {
        var value = of(x.Value, t.Value);
        var (byX, byT) = Slopes(of, x.Value, t.Value, low, high);
        return value + byX * (x - x.Value) + byT * (t - t.Value);
    }

    private static (double ByX, double ByT) Slopes(Func<double, double, double> of, double x, double t, double low, double high)
    {
        const double Step = 1e-3;
        var (x0, x1) = (Math.Max(low, x - Step), Math.Min(high, x + Step));
        var (t0, t1) = (Math.Max(-2, t - Step), Math.Min(40, t + Step));
        return ((of(x1, t) - of(x0, t)) / (x1 - x0), (of(x, t1) - of(x, t0)) / (t1 - t0));
    }
}
