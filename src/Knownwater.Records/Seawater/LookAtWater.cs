using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Storage;
using Knownwater.Seawater;
using Knownwater.Uncertainty;

namespace Knownwater.Records.Seawater;

/// <summary>Answers what a water is: its salinity, density and carbonate state, and how much of its ammonia is un-ionised; nothing is written.</summary>
public sealed class LookAtWater(RecordsContext records, Clock clock)
{
    private const double BufferScale = 0.115, BufferScaleHalfRange = 0.015;
    private const double UnionisedLimit = 0.02;

    /// <summary>What is known of it; numbers as typed.</summary>
    public sealed record Query
    {
        /// <summary>Whether it is fresh.</summary>
        public bool IsFresh { get; init; }

        /// <summary>Temperature.</summary>
        public string Temperature { get; init; } = "";

        /// <summary>Whether the temperature is in °F.</summary>
        public bool IsFahrenheit { get; init; }

        /// <summary>What says how salty it is; only of seawater.</summary>
        public SaltinessBy SaltinessBy { get; init; }

        /// <summary>The number of that.</summary>
        public string Saltiness { get; init; } = "";

        /// <summary>Alkalinity; may be empty.</summary>
        public string Alkalinity { get; init; } = "";

        /// <summary>Form of the alkalinity: dKH, meq/L or mg/L CaCO3.</summary>
        public string AlkalinityForm { get; init; } = "dKH";

        /// <summary>General hardness in dGH, only of fresh water; may be empty.</summary>
        public string Hardness { get; init; } = "";

        /// <summary>pH; may be empty.</summary>
        public string Ph { get; init; } = "";

        /// <summary>Whether pH is on the total scale; else of an electrode set with ordinary buffers.</summary>
        public bool IsTotalScale { get; init; }

        /// <summary>Total ammonia in mg/L as nitrogen; may be empty.</summary>
        public string Ammonia { get; init; } = "";
    }

    /// <summary>Reckons it.</summary>
    /// <param name="query">What is known.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The water, or what is wrong beside its field (Temperature, Saltiness, Alkalinity, Ph, Ammonia).</returns>
    public async Task<(WaterLook? Look, IReadOnlyList<FieldFault> Faults)> Handle(Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        var fields = bench.Fields();
        var degrees = fields.NeededNumber("Temperature", query.Temperature, "a temperature", "The temperature is missing. Everything here hangs on it; 25 °C is usual.");
        var t = query.IsFahrenheit ? (degrees - 32) / 1.8 : degrees;
        if (t is < 0 or > 40)
            fields.Fault("Temperature", $"{query.Temperature.Trim()} {(query.IsFahrenheit ? "°F is" : "is")} outside 0 to 40 °C, where the equations hold. Check the number and its unit.");
        var alkalinity = fields.Number("Alkalinity", query.Alkalinity, "an alkalinity", 0, aboveLeast: true);
        var hardness = query.IsFresh ? fields.Number("Hardness", query.Hardness, "a hardness", 0) : null;
        var ph = fields.Number("Ph", query.Ph, "a pH", 4, 11);
        var ammonia = fields.Number("Ammonia", query.Ammonia, "total ammonia", 0);
        if (ammonia is not null && ph is null && fields.Ok)
            fields.Fault("Ph", "How much of the ammonia is un-ionised hangs on the pH. Write it too.");
        if (!ReportingForm.TryParse(query.AlkalinityForm, out var form, out var misread))
            fields.Fault("Alkalinity", misread ?? "That is no unit of alkalinity. Choose one of the list.");
        if (!fields.Ok || t is not { } celsius || form is null)
            return (null, fields.Faults);
        try
        {
            return (query.IsFresh ? Fresh(celsius, alkalinity, form, hardness, ph, ammonia, bench.Sign) : Sea(query, fields, celsius, alkalinity, form, ph, ammonia, bench.Sign), fields.Faults);
        }
        catch (ArgumentException fault)
        {
            fields.Fault(FieldOf(fault), fault.Message.Split(" (Parameter", StringSplitOptions.None)[0].Split('\n')[0]);
            return (null, fields.Faults);
        }
    }

    private static string FieldOf(ArgumentException fault) => fault.ParamName switch { "second" or "pH" => "Ph", "first" or "alkalinityMilliequivalentsPerLitre" => "Alkalinity", _ => "Saltiness" };

    private static WaterLook? Sea(Query query, TypedFields fields, double t, double? alkalinity, ReportingForm form, double? ph, double? ammonia, DecimalSign sign)
    {
        var (what, missing) = query.SaltinessBy switch
        {
            SaltinessBy.Conductivity => ("a conductivity", "The conductivity is missing. Write it in mS/cm as it is at that temperature, not turned to 25 °C."),
            SaltinessBy.SpecificGravity => ("a specific gravity", "The specific gravity is missing. Write what the instrument shows, as in 1.0264."),
            _ => ("a salinity", "The salinity is missing. 35 is that of the ocean."),
        };
        if (fields.NeededNumber("Saltiness", query.Saltiness, what, missing, 0) is not { } number)
            return null;
        var state = query.SaltinessBy switch
        {
            SaltinessBy.Conductivity => SeawaterState.OfConductivity(number, t),
            SaltinessBy.SpecificGravity => SeawaterState.OfDensity(number * PureWater.DensityKilogramsPerCubicMetre(25), 25) is var at ? SeawaterState.OfSalinity(at.PracticalSalinity, t) : null!,
            _ => SeawaterState.OfSalinity(number, t),
        };
        string F(double value, int decimals) => NumberWords.Fixed(value, decimals, sign);
        var facts = new List<NumberLine>
        {
            new("Practical salinity", F(state.PracticalSalinity, 2)),
            new("Absolute Salinity", $"{F(state.AbsoluteSalinityGramsPerKilogram, 2)}{Words.NoBreak}g/kg"),
            new("Density", $"{F(state.DensityKilogramsPerCubicMetre, 2)}{Words.NoBreak}kg/m³"),
            new("Conductivity at this temperature", $"{F(state.ConductivityMillisiemensPerCentimetre, 2)}{Words.NoBreak}mS/cm"),
        };
        const double Sixty = (60 - 32) / 1.8;
        NumberLine Shows(string words, double at, double water) => new(words, F(state.SpecificGravity(at, water), 4));
        var look = new WaterLook
        {
            Heading = $"Salinity {F(state.PracticalSalinity, 1)}, {F(state.DensityKilogramsPerCubicMetre, 1)}{Words.NoBreak}kg/m³ at {F(t, 1)}{Words.NoBreak}°C",
            Facts = facts,
            Instruments = [Shows("made for 25 °C against 25 °C", 25, 25), Shows("made for 20 °C against 20 °C", 20, 20), Shows("made for 60 °F against 60 °F", Sixty, Sixty), Shows("made for 25 °C against 4 °C", 25, 4)],
            Warnings = [],
        };
        var total = ph is { } read ? query.IsTotalScale ? Estimate.Exact(read) : Estimate.Exact(read) - Estimate.From(BufferScale, ErrorSource.Rectangular("scale of an electrode set with ordinary buffers", BufferScaleHalfRange)) : (Estimate?)null;
        if (total is { } onTotal && !query.IsTotalScale)
            look = look with { ScaleWords = $"Your electrode was set with ordinary buffers and reads 0.10 to 0.13 high in seawater (common practice). On the total scale that is {F(onTotal.Value, 2)} give or take 0.02." };
        if (alkalinity is { } a && total is { } acidity)
            look = Carbonate(look, state, form, a, acidity, sign);
        return ammonia is { } n && ph is { } p ? Ammoniacal(look, n, p, t, state.PracticalSalinity, sign) : look;
    }

    private static WaterLook Carbonate(WaterLook look, SeawaterState state, ReportingForm form, double alkalinity, Estimate ph, DecimalSign sign)
    {
        var water = new WaterState(state.PracticalSalinity, state.TemperatureCelsius);
        var micromoles = FormConversion.Convert(alkalinity, form, ReportingForm.Parse("umol/kg"), water, Parameter.Find("alkalinity")).Value;
        var asked = new CarbonateWater { PracticalSalinity = Estimate.Exact(state.PracticalSalinity), TemperatureCelsius = Estimate.Exact(state.TemperatureCelsius) };
        var system = CarbonateState.Of(asked, CarbonatePair.AlkalinityAndPh, Estimate.Exact(micromoles), ph);
        CarbonShare At(double value)
        {
            var s = CarbonateState.Of(asked, CarbonatePair.DicAndPh, Estimate.Exact(2000), Estimate.Exact(value));
            return new CarbonShare(value, s.Co2MicromolesPerKilogram.Value / 2000, s.BicarbonateMicromolesPerKilogram.Value / 2000, s.CarbonateMicromolesPerKilogram.Value / 2000);
        }
        string Q(Estimate value, string unit) => (value.StandardUncertainty > 0 ? NumberWords.WithDoubt(value.Value, 1.96 * value.StandardUncertainty, sign) is var (number, doubt) ? $"{number}{Words.NoBreak}±{Words.NoBreak}{doubt}" : "" : NumberWords.Plain(value.Value, 4, sign)) + (unit.Length > 0 ? Words.NoBreak + unit : "");
        var warnings = new List<string>(look.Warnings);
        if (system.OmegaAragonite.Value < 1)
            warnings.Add("Aragonite dissolves in this water: corals and shells lose. Raise alkalinity and pH slowly.");
        if (system.Pco2Microatmospheres.Value > 1000)
            warnings.Add($"The water holds as much carbon dioxide as air of {NumberWords.Plain(system.Pco2Microatmospheres.Value, 2, sign)}{Words.NoBreak}µatm; outdoors it is about 420. Fresh air over the water raises the pH.");
        return look with
        {
            Carbonate =
            [
                new NumberLine("pH on the total scale", Q(system.PhTotal, "")),
                new NumberLine("Alkalinity", Q(system.AlkalinityMicromolesPerKilogram, "µmol/kg")),
                new NumberLine("Inorganic carbon", Q(system.DicMicromolesPerKilogram, "µmol/kg")),
                new NumberLine("Carbon dioxide in balance with air of", Q(system.Pco2Microatmospheres, "µatm")),
                new NumberLine("Saturation of aragonite", Q(system.OmegaAragonite, "")),
                new NumberLine("Saturation of calcite", Q(system.OmegaCalcite, "")),
            ],
            CarbonateSource = "Dickson, Sabine & Christian 2007 with the constants of Lueker et al. 2000; borate by Uppström 1974.",
            Shares = [.. Enumerable.Range(0, 61).Select(i => At(5 + 0.1 * i))],
            Here = At(ph.Value),
            HereWords = NumberWords.Fixed(ph.Value, 2, sign),
            Warnings = warnings,
        };
    }

    private static WaterLook Fresh(double t, double? alkalinity, ReportingForm form, double? hardness, double? ph, double? ammonia, DecimalSign sign)
    {
        var density = PureWater.DensityKilogramsPerCubicMetre(t);
        var look = new WaterLook
        {
            Heading = $"Fresh water of {NumberWords.Fixed(density, 1, sign)}{Words.NoBreak}kg/m³ at {NumberWords.Fixed(t, 1, sign)}{Words.NoBreak}°C",
            Facts = [new NumberLine("Density", $"{NumberWords.Fixed(density, 2, sign)}{Words.NoBreak}kg/m³")],
            Instruments = [],
            Warnings = [],
        };
        if (hardness is { } gh)
        {
            double As(string to) => FormConversion.Convert(gh, ReportingForm.Parse("dGH"), ReportingForm.Parse(to), parameter: Parameter.Find("general-hardness")).Value;
            // what the alkalinity can hold of it is the carbonate hardness, in degrees that are the same amount of charge
            var held = alkalinity is { } kh ? FormConversion.Convert(kh, form, ReportingForm.Parse("dKH"), parameter: Parameter.Find("alkalinity")).Value : (double?)null;
            look = look with
            {
                Facts = [.. look.Facts, new NumberLine("General hardness", $"{NumberWords.Plain(gh, 3, sign)}{Words.NoBreak}dGH, {NumberWords.Plain(As("mg/L CaCO3"), 3, sign)}{Words.NoBreak}mg/L CaCO₃, {NumberWords.Plain(As("mmol/L"), 3, sign)}{Words.NoBreak}mmol/L"),
                    .. held is { } h ? [new NumberLine("Carbonate hardness", $"{NumberWords.Plain(Math.Min(gh, h), 3, sign)}{Words.NoBreak}dGH of it{(h > gh ? "; more alkalinity than hardness, as with soda" : "")}")] : Array.Empty<NumberLine>()],
            };
        }
        if (alkalinity is { } a)
        {
            var parameter = Parameter.Find("alkalinity");
            double As(string to) => FormConversion.Convert(a, form, ReportingForm.Parse(to), parameter: parameter).Value;
            look = look with { Facts = [.. look.Facts, new NumberLine("Alkalinity", $"{NumberWords.Plain(As("dKH"), 3, sign)}{Words.NoBreak}dKH, {NumberWords.Plain(As("meq/L"), 3, sign)}{Words.NoBreak}meq/L, {NumberWords.Plain(As("mg/L CaCO3"), 3, sign)}{Words.NoBreak}mg/L CaCO₃")] };
            if (ph is { } read)
            {
                // an electrode of a tank: 0.1 to both sides, and the alkalinity of a hand kit: half a degree
                var acidity = Estimate.From(read, ErrorSource.Rectangular("pH, 0.1 to both sides", 0.1));
                var (co2, doubt) = NumberWords.WithDoubt(FreshCarbonDioxide.MilligramsPerLitre(Estimate.Exact(As("meq/L")), acidity, t) is var gas ? gas.Value : 0, 1.96 * gas.StandardUncertainty, sign);
                look = look with
                {
                    Carbonate = [new NumberLine("Carbon dioxide", $"{co2}{Words.NoBreak}±{Words.NoBreak}{doubt}{Words.NoBreak}mg/L")],
                    CarbonateSource = "Plummer & Busenberg 1982. It holds only where carbonate makes the alkalinity: peat, driftwood, phosphate and buffer salts make it worthless. The doubt is that of a pH right to 0.1.",
                };
            }
        }
        return ammonia is { } n && ph is { } p ? Ammoniacal(look, n, p, t, null, sign) : look;
    }

    private static WaterLook Ammoniacal(WaterLook look, double total, double ph, double t, double? salinity, DecimalSign sign)
    {
        // ammonia as N, so that the limit is compared as NH3: 17.031/14.007
        const double AsNh3 = 17.031 / 14.007;
        var middle = Ammonia.FractionUnionised(ph, Ammonia.Pka(t, salinity));
        var most = Ammonia.FractionUnionised(ph, Ammonia.LowestPka(t, salinity));
        string Q(double part) => $"{NumberWords.Plain(part * total * AsNh3, 2, sign)}{Words.NoBreak}mg/L NH₃, {NumberWords.Plain(100 * part, 2, sign)}{Words.Narrow}%";
        var lines = new List<NumberLine> { new("Un-ionised", Q(middle)) };
        if (most > middle)
            lines.Add(new NumberLine("At most", $"{Q(most)}: the scale of pH behind that equation is not certain"));
        return look with
        {
            Ammonia = lines,
            AmmoniaSource = salinity is > Knownwater.Seawater.Ammonia.FreshUpTo ? "Bell et al. 2007 with the corrigendum of 2008." : "Emerson et al. 1975.",
            Warnings = most * total * AsNh3 > UnionisedLimit
                ? [.. look.Warnings, $"Above {NumberWords.Plain(UnionisedLimit, 2, sign)}{Words.NoBreak}mg/L of un-ionised ammonia animals suffer (common practice). Stop feeding, aerate, change much water, and never raise pH or temperature now."] : look.Warnings,
        };
    }
}

/// <summary>What says how salty a water is.</summary>
public enum SaltinessBy
{
    /// <summary>Practical salinity.</summary>
    Salinity = 0,

    /// <summary>Conductivity at its temperature, mS/cm.</summary>
    Conductivity = 1,

    /// <summary>Specific gravity of an instrument made for 25 °C against 25 °C.</summary>
    SpecificGravity = 2,
}

/// <summary>What inorganic carbon is made of at one pH, parts of one.</summary>
/// <param name="Ph">pH on the total scale.</param>
/// <param name="CarbonDioxide">Carbon dioxide.</param>
/// <param name="Bicarbonate">Bicarbonate.</param>
/// <param name="Carbonate">Carbonate.</param>
public sealed record CarbonShare(double Ph, double CarbonDioxide, double Bicarbonate, double Carbonate);

/// <summary>A water as a page shows it.</summary>
public sealed record WaterLook
{
    /// <summary>“Salinity 35.0, 1023.3 kg/m³ at 25.0 °C”.</summary>
    public required string Heading { get; init; }

    /// <summary>Salinities, density, conductivity.</summary>
    public required IReadOnlyList<NumberLine> Facts { get; init; }

    /// <summary>What a hydrometer or a refractometer shows, by what it is made for; empty for fresh water.</summary>
    public required IReadOnlyList<NumberLine> Instruments { get; init; }

    /// <summary>The carbonate state; empty unless alkalinity and pH are known.</summary>
    public IReadOnlyList<NumberLine> Carbonate { get; init; } = [];

    /// <summary>By which formulas; empty with it.</summary>
    public string CarbonateSource { get; init; } = "";

    /// <summary>What was done about the scale of pH; empty where nothing was.</summary>
    public string ScaleWords { get; init; } = "";

    /// <summary>Shares of carbon against pH; empty unless it is seawater whose carbonate state is known.</summary>
    public IReadOnlyList<CarbonShare> Shares { get; init; } = [];

    /// <summary>Where the water stands among them; null with them.</summary>
    public CarbonShare? Here { get; init; }

    /// <summary>Its pH as shown.</summary>
    public string HereWords { get; init; } = "";

    /// <summary>The un-ionised part of ammonia; empty unless ammonia and pH are known.</summary>
    public IReadOnlyList<NumberLine> Ammonia { get; init; } = [];

    /// <summary>By which formula; empty with it.</summary>
    public string AmmoniaSource { get; init; } = "";

    /// <summary>What to mind, one sentence or two each.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }
}
