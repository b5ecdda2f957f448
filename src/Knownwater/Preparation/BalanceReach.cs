using Knownwater.Quantities;
using Knownwater.Statistics;

namespace Knownwater.Preparation;

/// <summary>What a balance can prove of a volume before anything is weighed, and what would do where it is too coarse.</summary>
/// <remarks>
/// <para>u² = (a²/3 + ρ²)/k² + u_Z² + u_e² for k deliveries in each weighing: a the balance’s limit (or the doubt of its proof near this mass), not made smaller by repeating; ρ = d/√6 the rounding of
/// tare and load at the display step d, divided by √n where the deliveries scatter by at least half a step, for only then do the roundings differ; u_Z the part of Z, temperature and pressure
/// rectangular; u_e half of the evaporation, rectangular (JCGM 100:2008, 4.3.7 and 5.1.2).</para>
/// <para>It proves where 2u is at most a third of the limit of error of the piece, finds gross faults up to the whole limit, and says nothing above (common practice: a test is at least three times
/// better than what it tests).</para>
/// </remarks>
public sealed record BalanceReach
{
    private static readonly double[] Steps = [0.1, 0.01, 0.001, 0.0001];
    private static readonly int[] Sums = [10, 20, 50];

    private BalanceReach()
    {
    }

    /// <summary>Standard uncertainty of one volume from the rounding of the display, mL.</summary>
    public required double Rounding { get; init; }

    /// <summary>Standard uncertainty of one volume from the balance’s limit or its proof, mL.</summary>
    public required double Balance { get; init; }

    /// <summary>Standard uncertainty of one volume from temperature and pressure, mL.</summary>
    public required double Water { get; init; }

    /// <summary>Standard uncertainty of one volume from evaporation, mL.</summary>
    public required double Evaporation { get; init; }

    /// <summary>Degrees of freedom of <see cref="Balance"/>; infinite for a limit.</summary>
    public required double BalanceDof { get; init; }

    /// <summary>Combined standard uncertainty of one volume, mL, without the scatter of the deliveries.</summary>
    public double StandardUncertainty => Math.Sqrt(Rounding * Rounding + Balance * Balance + Water * Water + Evaporation * Evaporation);

    /// <summary>Limit of error of the piece, mL; zero where none is claimed.</summary>
    public required double Limit { get; init; }

    /// <summary>What the weighings can say.</summary>
    public ProofPower Power => PowerOf(StandardUncertainty, Limit);

    /// <summary>Least number of deliveries, weighed as one sum, that would prove it on this balance: 10, 20 or 50; null where none does or one by one does already.</summary>
    public int? SumThatProves { get; init; }

    /// <summary>Coarsest display step, g, of a balance within its working limit that would prove it one by one; null where none does.</summary>
    public double? StepThatProves { get; init; }

    /// <summary>Whether this balance would prove it, were it proven itself by five readings of a fine check weight.</summary>
    public bool CheckWeightProves { get; init; }

    /// <summary>What a balance can prove.</summary>
    /// <param name="trial">The weighings as they are meant; their values are not used.</param>
    /// <param name="weighings">How many weighings are made; at least 1.</param>
    /// <param name="scattered">Whether deliveries scatter by at least half a display step, so that rounding averages out; expected of ten deliveries of a pipette.</param>
    /// <exception cref="ArgumentException">A figure lies outside its limits, or the balance is none.</exception>
    public static BalanceReach Of(GravimetricTrial trial, int weighings, bool scattered = true)
    {
        ArgumentNullException.ThrowIfNull(trial);
        GravimetricProof.Accept(trial);
        Require.AtLeast(weighings, 1);
        var deliveries = trial.DeliveriesEach;
        var reach = Reach(trial, trial.Balance, deliveries, weighings, scattered);
        if (reach.Power == ProofPower.Proves)
            return reach;
        bool Does(Glassware balance, int each) => Reach(trial, balance, each, each > 1 ? 1 : weighings, scattered).Power == ProofPower.Proves;
        // what five readings of a fine weight leave, d/√6/√5, as a rectangular limit
        var proven = trial.Balance with { Tolerance = (trial.Balance.Readability ?? 0) * Math.Sqrt(0.1), ToleranceIsRelative = false, Shape = Uncertainty.SourceShape.Rectangular, Proofs = [] };
        return reach with
        {
            SumThatProves = deliveries > 1 ? null : Sums.Where(k => Does(trial.Balance, k)).Select(k => (int?)k).FirstOrDefault(),
            StepThatProves = Steps.Where(d => Does(trial.Balance with { Tolerance = d < 0.001 ? 3 * d : 2 * d, ToleranceIsRelative = false, Readability = d, Proofs = [] }, deliveries)).Select(d => (double?)d).FirstOrDefault(),
            CheckWeightProves = trial.Balance.ProofAt(trial.Setting * deliveries) is null && Does(proven, deliveries),
        };
    }

    /// <summary>What it can prove, and what would do, in a sentence or two.</summary>
    /// <param name="sign">The reader’s decimal sign.</param>
    public string Words(DecimalSign sign)
    {
        string Size(double value) => $"{NumberWords.Plain(value, 2, sign)}\u00A0mL";
        var doubt = Size(2 * StandardUncertainty);
        if (Power == ProofPower.Proves)
            return Limit > 0 ? $"This balance proves it: ±\u202F{doubt}, at most a third of the limit of {Size(Limit)}." : $"This balance shows it to ±\u202F{doubt}.";
        var ways = new List<string>();
        if (SumThatProves is { } sum)
            ways.Add($"weigh {sum} deliveries as one sum");
        if (CheckWeightProves)
            ways.Add("prove the balance by a check weight near this load");
        if (StepThatProves is { } step)
            ways.Add($"take a balance with a step of {NumberWords.Plain(step, 1, sign)}\u00A0g");
        var remedy = ways.Count == 0 ? "No usual balance proves so little; use a larger volume."
            : $"{char.ToUpperInvariant(ways[0][0])}{string.Join(", or ", ways)[1..]}.";
        return Power == ProofPower.GrossFaultsOnly
            ? $"This balance finds gross faults only: it shows the volume to ±\u202F{doubt}, and a third of the limit of {Size(Limit)} is needed. {remedy}"
            : $"The balance is too coarse for this: it shows the volume to ±\u202F{doubt}, which is more than the limit of {Size(Limit)} itself. {remedy}";
    }

    internal static ProofPower PowerOf(double u, double limit)
    {
        const double rounding = 1 + 1e-9;
        return limit == 0 || 2 * u <= limit / 3 * rounding ? ProofPower.Proves : 2 * u <= limit * rounding ? ProofPower.GrossFaultsOnly : ProofPower.TooCoarse;
    }

    private static BalanceReach Reach(GravimetricTrial trial, Glassware balance, int deliveries, int weighings, bool scattered)
    {
        var (t, p, h) = (trial.TemperatureCelsius, trial.PressureHectopascals, trial.HumidityPercent);
        var z = GravimetricProof.Factor(trial);
        var (u, dof) = GravimetricProof.LimitOf(balance, trial.Setting / z * deliveries);
        const double dt = 0.01, dp = 1;
        // central differences, one-sided at the ends of the formulas
        var (t0, t1) = (Math.Max(t - dt, 0), Math.Min(t + dt, 40));
        var (p0, p1) = (Math.Max(p - dp, 500), Math.Min(p + dp, 1100));
        var byTemperature = (AirBuoyancy.MillilitresPerGram(t1, p, h) - AirBuoyancy.MillilitresPerGram(t0, p, h)) / (t1 - t0) - z * trial.ExpansionPerCelsius;
        var byPressure = (AirBuoyancy.MillilitresPerGram(t, p1, h) - AirBuoyancy.MillilitresPerGram(t, p0, h)) / (p1 - p0);
        var root3 = Math.Sqrt(3);
        double grams = trial.Setting / z, warm = byTemperature * trial.TemperatureLimit / root3, air = byPressure * trial.PressureLimit / root3;
        return new BalanceReach
        {
            Rounding = (balance.Readability ?? 0) / Math.Sqrt(6) * z / deliveries / (scattered ? Math.Sqrt(weighings) : 1),
            Balance = u * z / deliveries,
            BalanceDof = dof,
            Water = grams * Math.Sqrt(warm * warm + air * air),
            Evaporation = trial.EvaporationGrams / 2 * z / root3,
            Limit = trial.Limit,
        };
    }
}
