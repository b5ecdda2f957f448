using System.Globalization;
using Knownwater.Uncertainty;

namespace Knownwater.Seawater;

/// <summary>Which two quantities of the carbonate system are known.</summary>
public enum CarbonatePair
{
    /// <summary>Total alkalinity and dissolved inorganic carbon, both µmol/kg.</summary>
    AlkalinityAndDic = 0,

    /// <summary>Total alkalinity, µmol/kg, and pH on the total scale.</summary>
    AlkalinityAndPh = 1,

    /// <summary>Total alkalinity, µmol/kg, and partial pressure of CO₂, µatm.</summary>
    AlkalinityAndPco2 = 2,

    /// <summary>Dissolved inorganic carbon, µmol/kg, and pH on the total scale.</summary>
    DicAndPh = 3,

    /// <summary>Dissolved inorganic carbon, µmol/kg, and partial pressure of CO₂, µatm.</summary>
    DicAndPco2 = 4,

    /// <summary>pH on the total scale and partial pressure of CO₂, µatm.</summary>
    PhAndPco2 = 5,
}

/// <summary>The water whose carbonate system is asked for.</summary>
public sealed record CarbonateWater
{
    /// <summary>Practical Salinity, 5 to 45.</summary>
    public required Estimate PracticalSalinity { get; init; }

    /// <summary>Temperature, °C on ITS-90; 0 to 40.</summary>
    public required Estimate TemperatureCelsius { get; init; }

    /// <summary>Total phosphate, µmol/kg.</summary>
    public Estimate PhosphateMicromolesPerKilogram { get; init; } = Estimate.Exact(0);

    /// <summary>Total silicate, µmol/kg.</summary>
    public Estimate SilicateMicromolesPerKilogram { get; init; } = Estimate.Exact(0);

    /// <summary>Which total borate is taken.</summary>
    public TotalBorate Borate { get; init; }

    /// <summary>Whether the constants count with their doubt: pK₀ 0.002, pK₁ 0.0075, pK₂ 0.015, pK_B and pK_W 0.01, both solubilities 0.02, total borate 2 % (Orr et al. 2018, their defaults). Every state then shares these sources.</summary>
    public bool ConstantsAreUncertain { get; init; }
}

/// <summary>The whole carbonate system of seawater at the surface, each quantity with the error sources of what it was computed from.</summary>
/// <remarks>
/// Any two of alkalinity, dissolved inorganic carbon, pH and partial pressure of CO₂ give the rest. pH is on the total scale throughout; an electrode that was set with ordinary buffers reads
/// about 0.1 higher in seawater. The hydrogen ion is found by a bracketed search on its logarithm; the estimates by the law of propagation (JCGM 100:2008, 5.2.2) of the implicit
/// equation. Constants: Dickson, Sabine &amp; Christian 2007 with K₁ and K₂ of Lueker et al. 2000; their own doubt counts where <see cref="CarbonateWater.ConstantsAreUncertain"/> says so, else the doubt is that of the inputs alone.
/// </remarks>
public sealed record CarbonateState
{
    private const double MostCarbonOverAlkalinity = 2;
    private const double LowestPh = 4, HighestPh = 11, Ln10 = 2.302585092994046;

    /// <summary>pH on the total scale.</summary>
    public required Estimate PhTotal { get; init; }

    /// <summary>Hydrogen ion on the total scale, nmol/kg.</summary>
    public required Estimate HydrogenNanomolesPerKilogram { get; init; }

    /// <summary>Total alkalinity, µmol/kg.</summary>
    public required Estimate AlkalinityMicromolesPerKilogram { get; init; }

    /// <summary>Dissolved inorganic carbon, µmol/kg.</summary>
    public required Estimate DicMicromolesPerKilogram { get; init; }

    /// <summary>Fugacity of CO₂, µatm.</summary>
    public required Estimate Fco2Microatmospheres { get; init; }

    /// <summary>Partial pressure of CO₂ in air that is in balance with the water, µatm.</summary>
    public required Estimate Pco2Microatmospheres { get; init; }

    /// <summary>Dissolved CO₂, carbonic acid included, µmol/kg.</summary>
    public required Estimate Co2MicromolesPerKilogram { get; init; }

    /// <summary>Bicarbonate, µmol/kg.</summary>
    public required Estimate BicarbonateMicromolesPerKilogram { get; init; }

    /// <summary>Carbonate, µmol/kg.</summary>
    public required Estimate CarbonateMicromolesPerKilogram { get; init; }

    /// <summary>Saturation of aragonite; above 1 it can grow.</summary>
    public required Estimate OmegaAragonite { get; init; }

    /// <summary>Saturation of calcite.</summary>
    public required Estimate OmegaCalcite { get; init; }

    /// <summary>Constants and totals by name, in mol/kg; K₀ in mol/(kg atm).</summary>
    public required IReadOnlyDictionary<string, double> Constants { get; init; }

    /// <summary>The system of water of which two quantities are known.</summary>
    /// <param name="water">Salinity, temperature, nutrients.</param>
    /// <param name="pair">Which two are known.</param>
    /// <param name="first">The first one, in the unit that <paramref name="pair"/> names.</param>
    /// <param name="second">The second one.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside the range of the constants, or is none that water has.</exception>
    /// <exception cref="ArgumentException">No water has both: the sentence says why.</exception>
    public static CarbonateState Of(CarbonateWater water, CarbonatePair pair, Estimate first, Estimate second)
    {
        ArgumentNullException.ThrowIfNull(water);
        Require(water, pair, first.Value, second.Value);
        var plain = new CarbonateConstants<Real>(water.PracticalSalinity.Value, water.TemperatureCelsius.Value, water.Borate);
        var (p, si) = (water.PhosphateMicromolesPerKilogram.Value * 1e-6, water.SilicateMicromolesPerKilogram.Value * 1e-6);
        var k = new CarbonateConstants<Estimate>(water.PracticalSalinity, water.TemperatureCelsius, water.Borate);
        var (k0, aragonite, calcite) = (k.K0, k.KAragonite, k.KCalcite);
        if (water.ConstantsAreUncertain)
        {
            k = k with { K1 = Off("K1", 0.0075) * k.K1, K2 = Off("K2", 0.015) * k.K2, KB = Off("KB", 0.01) * k.KB, KW = Off("KW", 0.01) * k.KW, Borate = (1 + Estimate.From(0, Constant("total borate", 0.02))) * k.Borate };
            (k0, aragonite, calcite) = (Off("K0", 0.002) * k0, Off("solubility of aragonite", 0.02) * aragonite, Off("solubility of calcite", 0.02) * calcite);
        }
        var (phosphate, silicate) = (1e-6 * water.PhosphateMicromolesPerKilogram, 1e-6 * water.SilicateMicromolesPerKilogram);

        Estimate alkalinity, dic, h, co2;
        switch (pair)
        {
            case CarbonatePair.AlkalinityAndDic:
                (alkalinity, dic) = (1e-6 * first, 1e-6 * second);
                h = Implicit(
                    x => (double)(second.Value * 1e-6 * plain.CarbonatePart(x) + plain.OtherAlkalinity(x, p, si)) - first.Value * 1e-6,
                    x => dic * k.CarbonatePart(x) + k.OtherAlkalinity(x, phosphate, silicate) - alkalinity,
                    $"An alkalinity of {Show(first)} µmol/kg and {Show(second)} µmol/kg of inorganic carbon belong to no seawater between pH 4 and 11. It has a little more alkalinity than carbon; check both, and their units.");
                co2 = dic * h * h / (h * h + k.K1 * h + k.K1 * k.K2);
                break;
            case CarbonatePair.AlkalinityAndPco2:
                alkalinity = 1e-6 * first;
                co2 = 1e-6 * second * k.Fugacity * k0;
                var gas = co2;
                h = Implicit(
                    x => (double)(gas.Value * plain.K1 / x * (1 + 2 * plain.K2 / x) + plain.OtherAlkalinity(x, p, si)) - first.Value * 1e-6,
                    x => gas * k.K1 / x * (1 + 2 * k.K2 / x) + k.OtherAlkalinity(x, phosphate, silicate) - alkalinity,
                    $"An alkalinity of {Show(first)} µmol/kg with {Show(second)} µatm of CO₂ belongs to no seawater between pH 4 and 11. Check both, and their units.");
                dic = co2 * (1 + k.K1 / h + k.K1 * k.K2 / (h * h));
                break;
            case CarbonatePair.DicAndPco2:
                dic = 1e-6 * first;
                co2 = 1e-6 * second * k.Fugacity * k0;
                if (co2.Value >= dic.Value)
                    throw new ArgumentException($"{Show(second)} µatm of CO₂ alone are {(1e6 * co2.Value).ToString("0.#", CultureInfo.InvariantCulture)} µmol/kg, not less than the {Show(first)} µmol/kg of all inorganic carbon. Check both, and their units.", nameof(second));
                h = 2 * k.K1 * k.K2 / (Estimate.Sqrt(k.K1 * k.K1 + 4 * k.K1 * k.K2 * (dic / co2 - 1)) - k.K1);
                alkalinity = dic * k.CarbonatePart(h) + k.OtherAlkalinity(h, phosphate, silicate);
                break;
            case CarbonatePair.AlkalinityAndPh:
                (alkalinity, h) = (1e-6 * first, Estimate.Exp(-Ln10 * second));
                dic = (alkalinity - k.OtherAlkalinity(h, phosphate, silicate)) / k.CarbonatePart(h);
                if (dic.Value <= 0)
                    throw new ArgumentException($"At pH {Show(second)} borate, hydroxide and the rest alone make more than the {Show(first)} µmol/kg of alkalinity, so that no carbonate is left. Check both, and the scale of pH.", nameof(first));
                co2 = dic * h * h / (h * h + k.K1 * h + k.K1 * k.K2);
                break;
            case CarbonatePair.DicAndPh:
                (dic, h) = (1e-6 * first, Estimate.Exp(-Ln10 * second));
                alkalinity = dic * k.CarbonatePart(h) + k.OtherAlkalinity(h, phosphate, silicate);
                co2 = dic * h * h / (h * h + k.K1 * h + k.K1 * k.K2);
                break;
            default:
                (h, co2) = (Estimate.Exp(-Ln10 * first), 1e-6 * second * k.Fugacity * k.K0);
                dic = co2 * (1 + k.K1 / h + k.K1 * k.K2 / (h * h));
                alkalinity = dic * k.CarbonatePart(h) + k.OtherAlkalinity(h, phosphate, silicate);
                break;
        }
        var bicarbonate = co2 * k.K1 / h;
        var carbonate = bicarbonate * k.K2 / h;
        var fugacity = co2 / k0;
        return new CarbonateState
        {
            PhTotal = -Estimate.Log(h) / Ln10,
            HydrogenNanomolesPerKilogram = 1e9 * h,
            AlkalinityMicromolesPerKilogram = 1e6 * alkalinity,
            DicMicromolesPerKilogram = 1e6 * dic,
            Fco2Microatmospheres = 1e6 * fugacity,
            Pco2Microatmospheres = 1e6 * fugacity / k.Fugacity,
            Co2MicromolesPerKilogram = 1e6 * co2,
            BicarbonateMicromolesPerKilogram = 1e6 * bicarbonate,
            CarbonateMicromolesPerKilogram = 1e6 * carbonate,
            OmegaAragonite = carbonate * k.Calcium / aragonite,
            OmegaCalcite = carbonate * k.Calcium / calcite,
            Constants = new Dictionary<string, double>(StringComparer.Ordinal)
            {
                ["k0"] = plain.K0.Value, ["k1"] = plain.K1.Value, ["k2"] = plain.K2.Value, ["kb"] = plain.KB.Value, ["kw"] = plain.KW.Value, ["ks_free"] = plain.KS.Value, ["kf"] = plain.KF.Value,
                ["k1p"] = plain.K1P.Value, ["k2p"] = plain.K2P.Value, ["k3p"] = plain.K3P.Value, ["ksi"] = plain.KSi.Value, ["ksp_aragonite"] = plain.KAragonite.Value, ["ksp_calcite"] = plain.KCalcite.Value,
                ["borate"] = plain.Borate.Value, ["sulfate"] = plain.Sulfate.Value, ["fluoride"] = plain.Fluoride.Value, ["calcium"] = plain.Calcium.Value, ["fugacity_factor"] = plain.Fugacity.Value,
            },
        };
    }

    private static readonly Guid ConstantsSpace = new("8f6a1f0e-55b3-5d0c-9d0e-6f7a4a4f7c11");

    private static ErrorSource Constant(string name, double u) => ErrorSource.Normal($"carbonate constants, {name}", u, id: SourceIdentity.Of(ConstantsSpace, name));

    private static Estimate Off(string name, double pk) => Estimate.Exp(Ln10 * Estimate.From(0, Constant(name, pk)));

    /// <summary>pH of many waters at once from alkalinity and carbon, without phosphate and silicate: Newton's method on the logarithm of the hydrogen ion in eight lanes, on as many threads as there are cores.</summary>
    /// <param name="practicalSalinities">Practical Salinities; each 5 to 45.</param>
    /// <param name="temperaturesCelsius">Temperatures, °C; each 0 to 40.</param>
    /// <param name="alkalinitiesMicromolesPerKilogram">Alkalinities, µmol/kg; each 1 to 20 000.</param>
    /// <param name="dicsMicromolesPerKilogram">Dissolved inorganic carbon, µmol/kg; each 1 to 20 000.</param>
    /// <param name="phTotals">Receives the pH on the total scale, to about 10⁻¹².</param>
    /// <param name="borate">Which total borate is taken.</param>
    /// <exception cref="ArgumentException">The lengths differ, or no water has an alkalinity and a carbon; the message names its place.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value lies outside its range; the message names it and its place.</exception>
    public static void PhTotals(ReadOnlyMemory<double> practicalSalinities, ReadOnlyMemory<double> temperaturesCelsius, ReadOnlyMemory<double> alkalinitiesMicromolesPerKilogram, ReadOnlyMemory<double> dicsMicromolesPerKilogram,
        Memory<double> phTotals, TotalBorate borate = TotalBorate.Uppstrom1974)
    {
        var n = practicalSalinities.Length;
        if (temperaturesCelsius.Length != n || alkalinitiesMicromolesPerKilogram.Length != n || dicsMicromolesPerKilogram.Length != n || phTotals.Length != n)
            throw new ArgumentException($"There are {n} salinities, {temperaturesCelsius.Length} temperatures, {alkalinitiesMicromolesPerKilogram.Length} alkalinities, {dicsMicromolesPerKilogram.Length} of carbon and room for {phTotals.Length} pH. Give as many of each.", nameof(phTotals));
        Batches.Run(n, (from, to) =>
        {
            var s = practicalSalinities.Span;
            var t = temperaturesCelsius.Span;
            var ta = alkalinitiesMicromolesPerKilogram.Span;
            var dic = dicsMicromolesPerKilogram.Span;
            var into = phTotals.Span;
            for (var i = from; i < to; i += Lanes.Count)
            {
                var (salinity, celsius, alkalinity, carbon) = (Batches.Load(s, i, to), Batches.Load(t, i, to), Batches.Load(ta, i, to), Batches.Load(dic, i, to));
                if (Batches.AllWithin(salinity, 5, 45) && Batches.AllWithin(celsius, 0, 40) && Batches.AllWithin(alkalinity, 1, 20_000) && Batches.AllWithin(carbon, 1, 20_000)
                    && Batches.AllWithin(MostCarbonOverAlkalinity * alkalinity + 50 - carbon, 0, double.PositiveInfinity)
                    && Newton(new CarbonateConstants<Lanes>(salinity, celsius, borate), 1e-6 * alkalinity, 1e-6 * carbon) is { } logarithm)
                {
                    Batches.Store(-1 / Ln10 * logarithm, into, i, to);
                    continue;
                }
                // one by one, each with its own search or its own sentence
                for (var j = i; j < Math.Min(to, i + Lanes.Count); j++)
                {
                    try
                    {
                        into[j] = Of(new CarbonateWater { PracticalSalinity = Estimate.Exact(s[j]), TemperatureCelsius = Estimate.Exact(t[j]), Borate = borate }, CarbonatePair.AlkalinityAndDic, Estimate.Exact(ta[j]), Estimate.Exact(dic[j])).PhTotal.Value;
                    }
                    catch (ArgumentException fault)
                    {
                        var sentence = $"Water {j + 1}: {fault.Message.Split(" (Parameter", StringSplitOptions.None)[0]}";
                        throw fault is ArgumentOutOfRangeException range ? new ArgumentOutOfRangeException(range.ParamName, range.ActualValue, sentence) : new ArgumentException(sentence, fault);
                    }
                }
            }
        });
    }

    /// <summary>Natural logarithm of the hydrogen ion in eight waters; null where the method does not settle between pH 4 and 11 in all of them.</summary>
    private static Lanes? Newton(in CarbonateConstants<Lanes> k, Lanes alkalinity, Lanes dic)
    {
        Lanes x = -8 * Ln10;
        for (var step = 0; step < 20; step++)
        {
            var h = Lanes.Exp(x);
            var move = (dic * k.CarbonatePart(h) + k.MinorAlkalinity(h) - alkalinity) / (dic * k.CarbonateSlope(h) + k.MinorSlope(h));
            x -= move;
            // the method doubles its digits at every step
            if (Batches.AllWithin(move, -1e-7, 1e-7))
                return Batches.AllWithin(x, -HighestPh * Ln10, -LowestPh * Ln10) ? x : null;
        }
        return null;
    }

    /// <summary>The hydrogen ion where an alkalinity balance is zero: found on plain numbers, then given its sources by dx = −df/f′.</summary>
    private static Estimate Implicit(Func<Real, double> balance, Func<Estimate, Estimate> sources, string impossible)
    {
        double Balance(double ph) => balance(Math.Exp(-Ln10 * ph));
        // alkalinity rises with pH
        if (!(Balance(LowestPh) < 0 && Balance(HighestPh) > 0))
            throw new ArgumentException(impossible);
        var ph = Root.Between(Balance, LowestPh, HighestPh);
        const double Step = 1e-5;
        var slope = (Balance(ph + Step) - Balance(ph - Step)) / (2 * Step);
        var logarithm = -Ln10 * ph + Ln10 / slope * sources(Estimate.Exact(Math.Exp(-Ln10 * ph)));
        return Estimate.Exp(logarithm);
    }

    private static void Require(CarbonateWater water, CarbonatePair pair, double first, double second)
    {
        Range.Require(water.PracticalSalinity.Value, 5, 45, "salinity", "", "the carbonate constants", "water");
        Range.Require(water.TemperatureCelsius.Value, 0, 40, "temperature", "°C", "the carbonate constants", "water");
        Range.Require(water.PhosphateMicromolesPerKilogram.Value, 0, 1000, "phosphate", "µmol/kg", "the carbonate system", "water");
        Range.Require(water.SilicateMicromolesPerKilogram.Value, 0, 1000, "silicate", "µmol/kg", "the carbonate system", "water");
        if (!Enum.IsDefined(pair))
            throw new ArgumentOutOfRangeException(nameof(pair), pair, $"{pair} is no pair of the carbonate system. Choose one of {string.Join(", ", Enum.GetNames<CarbonatePair>())}.");
        foreach (var (value, isFirst) in new[] { (first, true), (second, false) })
        {
            var what = (pair, isFirst) switch
            {
                (CarbonatePair.AlkalinityAndDic or CarbonatePair.AlkalinityAndPh or CarbonatePair.AlkalinityAndPco2, true) => ("alkalinity", "µmol/kg", 1d, 20_000d),
                (CarbonatePair.AlkalinityAndDic, false) or (CarbonatePair.DicAndPh or CarbonatePair.DicAndPco2, true) => ("inorganic carbon", "µmol/kg", 1, 20_000),
                (CarbonatePair.AlkalinityAndPh or CarbonatePair.DicAndPh, false) or (CarbonatePair.PhAndPco2, true) => ("pH", "", 4, 11),
                _ => ("CO₂", "µatm", 0.1, 1_000_000),
            };
            Range.Require(value, what.Item3, what.Item4, what.Item1, what.Item2, "the carbonate system", isFirst ? nameof(first) : nameof(second));
        }
        if (pair == CarbonatePair.AlkalinityAndDic && second > MostCarbonOverAlkalinity * first + 50)
        {
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture,
                $"{second} µmol/kg of inorganic carbon are far more than an alkalinity of {first} µmol/kg can hold: nearly all of it would be gas, as in soda water. Seawater has a little more alkalinity than carbon; check both, and their units."), nameof(second));
        }
    }

    private static string Show(Estimate estimate) => estimate.Value.ToString("0.####", CultureInfo.InvariantCulture);
}
