using Knownwater.Uncertainty;

namespace Knownwater.Seawater;

/// <summary>Practical Salinity from conductivity and back (Practical Salinity Scale 1978).</summary>
/// <remarks>
/// UNESCO Technical Papers in Marine Science 44 (1983), algorithms 1 and 2, on temperatures of 1968 (t₆₈ = 1.00024 t₉₀); below a
/// salinity of 2 the extension of Hill, Dauphinee &amp; Woods 1986, joined so that it is continuous at 2, as TEOS-10 uses it. Valid for a
/// salinity of 0 to 42, −2 to 35 °C and 0 to 10 000 dbar; at the surface it is used up to 40 °C here. Conductivity is relative to
/// 42.914 mS/cm, that of a salinity of 35 at 15 °C on the scale of 1968 and the surface.
/// </remarks>
public static class Pss78
{
    /// <summary>Conductivity of water of salinity 35 at 15 °C (1968) and the surface, mS/cm.</summary>
    public const double StandardMillisiemensPerCentimetre = 42.914;

    private const double Highest = 42;
    private const double JoinedAt = 2;

    private static readonly double[] A = [0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081];
    private static readonly double[] B = [0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144];

    /// <summary>Practical Salinity of seawater.</summary>
    /// <param name="conductivityMillisiemensPerCentimetre">Conductivity, mS/cm; zero or more.</param>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; −2 to 40.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 (the surface) to 10 000.</param>
    /// <returns>Practical Salinity, 0 to 42.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument, or the salinity it gives, lies outside its range.</exception>
    public static double Salinity(double conductivityMillisiemensPerCentimetre, double temperatureCelsius, double pressureDecibars = 0)
    {
        RequireState(temperatureCelsius, nameof(temperatureCelsius), pressureDecibars, nameof(pressureDecibars));
        if (!(conductivityMillisiemensPerCentimetre >= 0) || double.IsInfinity(conductivityMillisiemensPerCentimetre))
            throw new ArgumentOutOfRangeException(nameof(conductivityMillisiemensPerCentimetre), conductivityMillisiemensPerCentimetre, $"A conductivity of {conductivityMillisiemensPerCentimetre} mS/cm is none; it is zero or more. Check the number and its unit.");
        var t = 1.00024 * temperatureCelsius;
        var ratio = conductivityMillisiemensPerCentimetre / StandardMillisiemensPerCentimetre;
        var s = OfRatio<Real>(ratio / (PressureRatio(ratio, t, pressureDecibars) * TemperatureRatio(t)), t).Value;
        if (s > Highest * (1 + 1e-12))
            throw new ArgumentOutOfRangeException(nameof(conductivityMillisiemensPerCentimetre), conductivityMillisiemensPerCentimetre, System.FormattableString.Invariant($"A conductivity of {conductivityMillisiemensPerCentimetre} mS/cm at {temperatureCelsius} °C is a salinity of {s:0.##}, beyond the range of the Practical Salinity Scale, 0 to 42. Dilute the water, or check the unit."));
        return Math.Max(0, s);
    }

    /// <summary>Conductivity of seawater, the inverse of <see cref="Salinity(double, double, double)"/>.</summary>
    /// <param name="practicalSalinity">Practical Salinity, 0 to 42.</param>
    /// <param name="temperatureCelsius">Temperature, °C on ITS-90; −2 to 40.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 (the surface) to 10 000.</param>
    /// <returns>Conductivity, mS/cm.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static double ConductivityMillisiemensPerCentimetre(double practicalSalinity, double temperatureCelsius, double pressureDecibars = 0)
    {
        Range.Require(practicalSalinity, 0, Highest, "salinity", "", "the Practical Salinity Scale", nameof(practicalSalinity));
        RequireState(temperatureCelsius, nameof(temperatureCelsius), pressureDecibars, nameof(pressureDecibars));
        var t = 1.00024 * temperatureCelsius;
        // salinity rises with the ratio everywhere in range, from nearly zero to less than 42 at a ratio of 1.3
        var root = Root.Between(r => OfRatio<Real>(r * r, t).Value - practicalSalinity, 0, 1.2);
        var target = root * root * TemperatureRatio(t);
        var ratio = pressureDecibars == 0 ? target : Root.Between(r => r / PressureRatio(r, t, pressureDecibars) - target, 0, 3);
        return ratio * StandardMillisiemensPerCentimetre;
    }

    /// <summary>Salinity of the conductivity ratio at one temperature and the surface, on any number type.</summary>
    internal static T OfRatio<T>(T ratio, double t)
        where T : struct, IReal<T>
    {
        var s = Scale(T.Sqrt(ratio), t);
        var below = T.Select(s - JoinedAt, 0, 1);
        return s * (1 - below) + below * Joined(t) * (s - Excess(ratio, t));
    }

    private static T Scale<T>(T root, double t)
        where T : struct, IReal<T>
    {
        T a = A[5], b = B[5];
        for (var i = 4; i >= 0; i--)
        {
            a = a * root + A[i];
            b = b * root + B[i];
        }
        return a + b * Share(t);
    }

    private static double Share(double t) => (t - 15) / (1 + (0.0162 * (t - 15)));

    // Hill, Dauphinee & Woods 1986, equation (8): what the scale of 1978 gives too much in nearly fresh water
    private static T Excess<T>(T ratio, double t)
        where T : struct, IReal<T>
    {
        var x = 400 * ratio;
        var y = 10 * T.Sqrt(ratio);
        return A[0] / (1 + x * (1.5 + x)) + B[0] * Share(t) / (1 + y * (1 + y * (1 + y)));
    }

    /// <summary>What joins both at 2: the scale of 1978 over the extension, at the ratio where the first gives 2.</summary>
    private static double Joined(double t)
    {
        var ratio = Math.Pow(Root.Between(r => Scale<Real>(r, t).Value - JoinedAt, 0, 0.5), 2);
        return JoinedAt / (JoinedAt - Excess<Real>(ratio, t).Value);
    }

    private static double TemperatureRatio(double t) => 0.6766097 + t * (2.00564e-2 + t * (1.104259e-4 + t * (-6.9698e-7 + t * 1.0031e-9)));

    private static double PressureRatio(double ratio, double t, double p) =>
        1 + p * (2.070e-5 + p * (-6.370e-10 + p * 3.989e-15)) / (1 + t * (3.426e-2 + 4.464e-4 * t) + (4.215e-1 - 3.107e-3 * t) * ratio);

    private static void RequireState(double temperature, string temperatureName, double pressure, string pressureName)
    {
        Range.Require(temperature, -2, 40, "temperature", "°C", "the Practical Salinity Scale", temperatureName);
        Range.Require(pressure, 0, 10_000, "pressure", "dbar", "the Practical Salinity Scale", pressureName);
    }
}
