using Knownwater.Uncertainty;

namespace Knownwater.Seawater;

/// <summary>Seawater by the thermodynamic equation of 2010 (TEOS-10).</summary>
/// <remarks>
/// IOC, SCOR and IAPSO 2010, The international thermodynamic equation of seawater 2010 (Manuals and Guides 56). Temperatures are
/// ITS-90; pressures are sea pressures, zero at the surface. Absolute Salinity is taken from the reference composition, without the
/// regional anomaly of the open ocean, which an aquarium does not share.
/// </remarks>
public static class Teos10
{
    /// <summary>Grams of sea salt per kilogram and unit of Practical Salinity, 35.16504 / 35.</summary>
    public const double GramsPerKilogramInOneUnitOfPracticalSalinity = 35.16504 / 35;

    /// <summary>Highest Practical Salinity taken, 42.</summary>
    public const double HighestPracticalSalinity = 42;

    private const double HeatCapacity = 3991.86795711963;
    private const double SalinityScale = 1 / (40 * GramsPerKilogramInOneUnitOfPracticalSalinity);
    private const double HighestAbsoluteSalinity = HighestPracticalSalinity * GramsPerKilogramInOneUnitOfPracticalSalinity;
    private const double LowestTemperature = -2;
    private const double HighestTemperature = 40;
    private const double HighestPressure = 10_000;

    // −40 K times the entropy of pure water less a constant: Σ c[i][k] y^i z^k with y = t/40 °C, z = p/10⁴ dbar. Feistel 2003 (F03), as in the manual, appendix G.
    private static readonly double[][] WaterEntropy =
    [
        [0, -270.983805184062, 776.153611613101, -196.51255088122, 28.9796526294175, -2.13290083518327],
        [-24715.571866078, 2910.0729080936, -1513.116771538718, 546.959324647056, -111.1208127634436, 8.68841343834394],
        [2210.2236124548363, -2017.52334943521, 1498.081172457456, -718.6359919632359, 146.4037555781616, -4.9892131862671505],
        [-592.743745734632, 1591.873781627888, -1207.261522487504, 608.785486935364, -105.4993508931208],
        [290.12956292128547, -973.091553087975, 602.603274510125, -276.361526170076, 32.40953340386105],
        [-113.90630790850321, 381.06836198507096, -133.7383902842754, 49.023632509086724],
        [21.35571525415769, -67.41756835751434],
    ];

    // The saline part less the terms in salinity alone: x² Σ c[j][i][k] x^j y^i z^k, x = √(SA/(40 uPS)). Feistel 2008 (F08), appendix H.
    private static readonly double[][][] SalineEntropy =
    [
        [
            [0, 729.116529735046, -343.956902961561, 124.687671116248, -31.656964386073, 7.04658803315449],
            [1760.062705994408, -1721.528607567954, 674.819060538734, -356.629112415276, 88.4080716616, -15.84003094423364],
            [-675.802947790203, 2082.7344423998043, -614.668925894709, 340.685093521782, -33.3848202979239],
            [365.7041791005036, -1190.914967948748, 298.904564555024, -145.9491676006352],
            [-108.30162043765552],
            [12.78101825083098],
        ],
        [
            [0, -175.292041186547, 83.1923927801819, -29.483064349429],
            [-86.1329351956084, 766.116132004952, -108.3834525034224, 51.2796974779828],
            [-30.0682112585625, -1380.9597954037708],
            [3.50240264723578, 938.26075044542],
        ],
        [
            [0, -22.6683558512829],
            [-137.1145018408982],
            [148.10030845687618],
            [-68.5590309679152],
            [12.4848504784754],
        ],
    ];

    // Potential enthalpy, J/kg: Σ w[i] y^i + x² Σ s[j][i] x^j y^i with y = θ/40 °C; same sources.
    private static readonly double[] WaterEnthalpy =
        [61.01362420681071, 168776.46138048015, -2735.2785605119625, 2574.2164453821433, -1536.6644434977543, 545.7340497931629, -50.91091728474331, -18.30489878927802];

    private static readonly double[][] SalineEnthalpy =
    [
        [268.5520265845071, -12019.028203559312, 3734.858026725145, -2046.7671145057618, 465.28655623826234, -0.6370820302376359, -10.650848542359153],
        [937.2099110620707, 588.1802812170108, 248.39476522971285, -3.871557904936333, -2.6268019854268356],
        [-1687.914374187449, 936.3206544460336, -942.7827304544439, 369.4389437509002, -33.83664947895248, -9.987880382780322],
        [246.9598888781377],
        [123.59576582457964],
        [-48.5891069025409],
    ];

    /// <summary>Absolute Salinity of seawater of reference composition: SA = SP · 35.16504/35 g/kg.</summary>
    /// <remarks>Millero, Feistel, Wright &amp; McDougall 2008; IOC, SCOR and IAPSO 2010, equation (2.4.1).</remarks>
    /// <param name="practicalSalinity">Practical Salinity (PSS-78); 0 to 42.</param>
    /// <returns>Absolute Salinity, g/kg.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The salinity lies outside 0 to 42.</exception>
    public static double AbsoluteSalinityGramsPerKilogram(double practicalSalinity)
    {
        Range.Require(practicalSalinity, 0, HighestPracticalSalinity, "salinity", "", "the equation of seawater", nameof(practicalSalinity));
        return practicalSalinity * GramsPerKilogramInOneUnitOfPracticalSalinity;
    }

    /// <summary>Conservative Temperature of seawater: potential enthalpy over a fixed heat capacity.</summary>
    /// <remarks>
    /// Θ = h⁰(SA, θ)/cp⁰, IOC, SCOR and IAPSO 2010, equation (3.3.1); below the surface the potential temperature θ is where the
    /// specific entropy at the surface equals that at (t, p), equation (3.1.3), found by Newton's method to about 10⁻¹² K.
    /// </remarks>
    /// <param name="absoluteSalinityGramsPerKilogram">Absolute Salinity, g/kg; 0 to 42.2.</param>
    /// <param name="temperatureCelsius">In-situ temperature, °C on ITS-90; −2 to 40.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 (the surface) to 10 000.</param>
    /// <returns>Conservative Temperature, °C.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static double ConservativeTemperatureCelsius(double absoluteSalinityGramsPerKilogram, double temperatureCelsius, double pressureDecibars = 0)
    {
        RequireSalinityAndPressure(absoluteSalinityGramsPerKilogram, nameof(absoluteSalinityGramsPerKilogram), pressureDecibars, nameof(pressureDecibars));
        Range.Require(temperatureCelsius, LowestTemperature, HighestTemperature, "temperature", "°C", "the equation of seawater", nameof(temperatureCelsius));
        var x = Math.Sqrt(SalinityScale * absoluteSalinityGramsPerKilogram);
        var y = PotentialTemperature(x, temperatureCelsius / 40, pressureDecibars / 1e4);
        double saline = 0;
        for (var j = SalineEnthalpy.Length - 1; j >= 0; j--)
            saline = (saline * x) + Horner(SalineEnthalpy[j], y);
        return (Horner(WaterEnthalpy, y) + (x * x * saline)) / HeatCapacity;
    }

    /// <summary>Specific volume of seawater by the 75-term polynomial.</summary>
    /// <remarks>Roquet et al. 2015, equation (A.2); fitted to the full Gibbs function for oceanic water, where its density agrees within about 0.002 kg/m³.</remarks>
    /// <param name="absoluteSalinityGramsPerKilogram">Absolute Salinity, g/kg; 0 to 42.2.</param>
    /// <param name="conservativeTemperatureCelsius">Conservative Temperature, °C; −4 to 43.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 (the surface) to 10 000.</param>
    /// <returns>Specific volume, m³/kg.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static double SpecificVolumeCubicMetresPerKilogram(double absoluteSalinityGramsPerKilogram, double conservativeTemperatureCelsius, double pressureDecibars = 0)
    {
        RequireSalinityAndPressure(absoluteSalinityGramsPerKilogram, nameof(absoluteSalinityGramsPerKilogram), pressureDecibars, nameof(pressureDecibars));
        Range.Require(conservativeTemperatureCelsius, LowestTemperature - 2, HighestTemperature + 3, "Conservative Temperature", "°C", "the equation of seawater", nameof(conservativeTemperatureCelsius));
        var x = Math.Sqrt(SalinityScale * (absoluteSalinityGramsPerKilogram + 24));
        var y = conservativeTemperatureCelsius / 40;
        var z = pressureDecibars / 1e4;
        return SpecificVolume75.Of<Real>(x, y, z).Value;
    }

    /// <summary>Density of seawater by the 75-term polynomial: the inverse of its specific volume.</summary>
    /// <param name="absoluteSalinityGramsPerKilogram">Absolute Salinity, g/kg; 0 to 42.2.</param>
    /// <param name="conservativeTemperatureCelsius">Conservative Temperature, °C; −4 to 43.</param>
    /// <param name="pressureDecibars">Sea pressure, dbar; 0 (the surface) to 10 000.</param>
    /// <returns>Density, kg/m³.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside its range.</exception>
    public static double DensityKilogramsPerCubicMetre(double absoluteSalinityGramsPerKilogram, double conservativeTemperatureCelsius, double pressureDecibars = 0) =>
        1 / SpecificVolumeCubicMetresPerKilogram(absoluteSalinityGramsPerKilogram, conservativeTemperatureCelsius, pressureDecibars);

    /// <summary>Densities of many waters at once: the same polynomial on eight lanes, on as many threads as there are cores.</summary>
    /// <param name="absoluteSalinities">Absolute Salinities, g/kg; each 0 to 42.2.</param>
    /// <param name="conservativeTemperatures">Conservative Temperatures, °C; each −4 to 43.</param>
    /// <param name="pressures">Sea pressures, dbar; each 0 to 10 000; a single one counts for all.</param>
    /// <param name="densities">Receives the densities, kg/m³.</param>
    /// <exception cref="ArgumentException">The lengths differ.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value lies outside its range; the message names it and its place.</exception>
    public static void Densities(ReadOnlyMemory<double> absoluteSalinities, ReadOnlyMemory<double> conservativeTemperatures, ReadOnlyMemory<double> pressures, Memory<double> densities)
    {
        var n = absoluteSalinities.Length;
        if (conservativeTemperatures.Length != n || densities.Length != n || (pressures.Length != n && pressures.Length != 1))
            throw new ArgumentException($"There are {n} salinities, {conservativeTemperatures.Length} temperatures, {pressures.Length} pressures and room for {densities.Length} densities. Give as many of each, or one pressure for all.", nameof(densities));
        Batches.Run(n, (from, to) =>
        {
            var sa = absoluteSalinities.Span;
            var ct = conservativeTemperatures.Span;
            var p = pressures.Span;
            var into = densities.Span;
            Lanes one = p.Length == 1 ? p[0] : 0;
            for (var i = from; i < to; i += Lanes.Count)
            {
                var (s, t, z) = (Batches.Load(sa, i, to), Batches.Load(ct, i, to), p.Length == 1 ? one : Batches.Load(p, i, to));
                if (!Batches.AllWithin(s, 0, HighestAbsoluteSalinity * (1 + 1e-12)) || !Batches.AllWithin(t, LowestTemperature - 2, HighestTemperature + 3) || !Batches.AllWithin(z, 0, HighestPressure))
                    Complain(sa, ct, p, i, Math.Min(to, i + Lanes.Count));
                Batches.Store(1 / SpecificVolume75.Of(Lanes.Sqrt(SalinityScale * (s + 24)), t / 40, z / 1e4), into, i, to);
            }
        });

        static void Complain(ReadOnlySpan<double> sa, ReadOnlySpan<double> ct, ReadOnlySpan<double> p, int from, int to)
        {
            for (var i = from; i < to; i++)
            {
                try
                {
                    _ = DensityKilogramsPerCubicMetre(sa[i], ct[i], p.Length == 1 ? p[0] : p[i]);
                }
                catch (ArgumentOutOfRangeException fault)
                {
                    throw new ArgumentOutOfRangeException(fault.ParamName, fault.ActualValue, $"Water {i + 1}: {fault.Message.Split(" (Parameter", StringSplitOptions.None)[0].Split('\n')[0]}");
                }
            }
        }
    }

    /// <summary>Potential temperature over 40 °C, where the entropy at the surface equals that at (y, z).</summary>
    private static double PotentialTemperature(double x, double y, double z)
    {
        if (z == 0)
            return y;
        var entropy = EntropyPart(x, y, z);
        var potential = y;
        for (var step = 0; step < 20; step++)
        {
            const double Width = 1e-4;
            var slope = (EntropyPart(x, potential + Width, 0) - EntropyPart(x, potential - Width, 0)) / (2 * Width);
            var move = (entropy - EntropyPart(x, potential, 0)) / slope;
            potential += move;
            if (Math.Abs(move) < 1e-14)
                break;
        }
        return potential;
    }

    private static double EntropyPart(double x, double y, double z)
    {
        double water = 0, saline = 0;
        for (var i = WaterEntropy.Length - 1; i >= 0; i--)
            water = (water * y) + Horner(WaterEntropy[i], z);
        for (var j = SalineEntropy.Length - 1; j >= 0; j--)
        {
            double part = 0;
            for (var i = SalineEntropy[j].Length - 1; i >= 0; i--)
                part = (part * y) + Horner(SalineEntropy[j][i], z);
            saline = (saline * x) + part;
        }
        return water + (x * x * saline);
    }

    private static double Horner(double[] coefficients, double variable)
    {
        double sum = 0;
        for (var i = coefficients.Length - 1; i >= 0; i--)
            sum = (sum * variable) + coefficients[i];
        return sum;
    }

    private static void RequireSalinityAndPressure(double salinity, string salinityName, double pressure, string pressureName)
    {
        Range.Require(salinity, 0, HighestAbsoluteSalinity * (1 + 1e-12), "Absolute Salinity", "g/kg", "the equation of seawater", salinityName);
        Range.Require(pressure, 0, HighestPressure, "pressure", "dbar", "the equation of seawater", pressureName);
    }
}
