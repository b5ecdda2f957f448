using Knownwater.Quantities;
using Knownwater.Statistics;

namespace Knownwater.Preparation;

/// <summary>What weighings found: the bias of a piece at one setting and how its deliveries scatter.</summary>
/// <remarks>
/// <para>Each weighing m of k deliveries is a volume V = (m − b + k·e)·Z·(1 − γ(t − 20))/k at 20 °C, with b the proven bias of the balance, e the evaporation of a delivery and Z of
/// <see cref="AirBuoyancy"/>; the idea follows ISO 8655-6 and ISO 4787 (from memory). Bias = mean V − setting; sd of single deliveries from n − 1 degrees of freedom.</para>
/// <para>u_bias² = s²/n + the parts of <see cref="BalanceReach"/>; effective degrees of freedom by Welch–Satterthwaite (JCGM 100:2008, G.4.1). The interval of the bias is by Student’s t, that of the
/// sd by chi-square, both 95 %.</para>
/// <para>A scatter below the rounding of one weighing, d/√6, cannot be seen: the sd is then that, as an upper bound, never zero. Where sums or a single filling are weighed the sd stays the assumed one.
/// The errors of the balance that later weighings on it share with this proof are not followed.</para>
/// </remarks>
public sealed record GravimetricProof
{
    private GravimetricProof()
    {
    }

    /// <summary>What was set, mL or g.</summary>
    public required double Setting { get; init; }

    /// <summary>“mL”, or “g” for a balance.</summary>
    public required string Unit { get; init; }

    /// <summary>Mean of what was delivered at 20 °C, mL; or shown, g.</summary>
    public required double Mean { get; init; }

    /// <summary>Delivered minus set, mL; or shown minus true, g.</summary>
    public double Bias => Mean - Setting;

    /// <summary>Standard uncertainty of the bias (k = 1), mL or g.</summary>
    public required double BiasU { get; init; }

    /// <summary>Effective degrees of freedom of <see cref="BiasU"/>; may be infinite.</summary>
    public required double BiasDof { get; init; }

    /// <summary>95 % interval of the bias, mL or g.</summary>
    public required Interval BiasInterval { get; init; }

    /// <summary>Standard deviation of one delivery or weighing, mL or g: found, or an upper bound, or assumed.</summary>
    public required double Sd { get; init; }

    /// <summary>Degrees of freedom of <see cref="Sd"/>; infinite where it was not found from the weighings.</summary>
    public required double SdDof { get; init; }

    /// <summary>95 % interval of the sd; null where it was not found from the weighings.</summary>
    public Interval? SdInterval { get; init; }

    /// <summary>Whether the scatter hides in the rounding of the display: <see cref="Sd"/> is then an upper bound.</summary>
    public bool SdIsBound { get; init; }

    /// <summary>Number of weighings.</summary>
    public required int Weighings { get; init; }

    /// <summary>Each weighing as the volume of one delivery at 20 °C, mL; for a balance as it was read, g.</summary>
    public required IReadOnlyList<double> Amounts { get; init; }

    /// <summary>What the balance could show; null for the proof of a balance.</summary>
    public BalanceReach? Reach { get; init; }

    /// <summary>What the weighings can say of the piece.</summary>
    public required ProofPower Power { get; init; }

    private double WeightLimit { get; init; }

    private double BalanceLimit { get; init; }

    /// <summary>Why the bias cannot replace the limits of the piece, and what would do; empty where it can.</summary>
    /// <param name="sign">The reader’s decimal sign.</param>
    public string Refusal(DecimalSign sign) => Power == ProofPower.Proves ? ""
        : Reach?.Words(sign) ?? $"The check weight is too coarse for this balance: it is itself known to ±\u202F{NumberWords.Plain(WeightLimit, 2, sign)}\u00A0g, and a third of the balance’s limit of {NumberWords.Plain(BalanceLimit, 2, sign)}\u00A0g is needed. Take a weight of a finer class.";

    /// <summary>The proof as a piece keeps it, which replaces its limits near this setting; for a balance the bias turns its sign, for there the reading is set and the mass is what it stands for.</summary>
    /// <param name="id">Identity of the proof, not empty.</param>
    /// <exception cref="PreparationException">The weighings do not prove; the message says why and what would do.</exception>
    public GlasswareProof ToProof(Guid id) => Power == ProofPower.Proves
        ? new GlasswareProof { Id = id, Setting = Setting, Bias = Unit == "g" ? -Bias : Bias, BiasU = BiasU, BiasDof = BiasDof, Sd = Sd, SdDof = SdDof }
        : throw new PreparationException(Refusal(DecimalSign.Point));

    /// <summary>Evaluates weighings of a pipette, a flask or any other piece that measures volume.</summary>
    /// <param name="trial">The weighings; at least one.</param>
    /// <exception cref="ArgumentException">A figure lies outside its limits; the message names it.</exception>
    public static GravimetricProof Of(GravimetricTrial trial)
    {
        ArgumentNullException.ThrowIfNull(trial);
        Accept(trial);
        var n = trial.WeighingsGrams.Count;
        if (n == 0)
            throw new ArgumentException("There are no weighings yet; ten are usual.", nameof(trial));
        var (k, z) = (trial.DeliveriesEach, Factor(trial));
        var balanceBias = trial.Balance.ProofAt(trial.Setting / z * k)?.Bias ?? 0;
        var amounts = new double[n];
        for (var i = 0; i < n; i++)
            amounts[i] = (Require.Finite(trial.WeighingsGrams[i], "weighing") + balanceBias + k * trial.EvaporationGrams) * z / k;
        var moments = SampleMoments.Of(amounts);

        var visible = (trial.Balance.Readability ?? 0) / Math.Sqrt(6) * z / k;
        var spread = n >= 2 ? moments.StandardDeviation : 0;
        // half a display step, below which all roundings go the same way
        var scattered = n >= 2 && spread >= (trial.Balance.Readability ?? 0) / 2 * z / k;
        var reach = BalanceReach.Of(trial, n, scattered);
        var bound = n >= 2 && k == 1 && spread < visible;
        var (sd, sdDof) = n >= 2 && k == 1 ? (bound ? (visible, double.PositiveInfinity) : (spread, n - 1.0)) : (trial.AssumedSd, double.PositiveInfinity);
        // of sums the scatter of the sums counts, of one weighing the assumed one
        var mean = n >= 2 ? (U: spread / Math.Sqrt(n), Dof: n - 1.0) : (U: trial.AssumedSd / Math.Sqrt(k), Dof: double.PositiveInfinity);
        var others = Math.Sqrt(reach.Rounding * reach.Rounding + reach.Water * reach.Water + reach.Evaporation * reach.Evaporation);
        return Made(trial.Setting, "mL", moments.Mean, amounts, sd, sdDof, bound, [mean, (reach.Balance, reach.BalanceDof), (others, double.PositiveInfinity)], reach.Power) with { Reach = reach };
    }

    /// <summary>Evaluates readings of a check weight on a balance.</summary>
    /// <remarks>
    /// Bias = mean reading − nominal mass; u² = s²/n + limit²/3 + rounding of tare and load. It proves where the limit of the weight is at most a third of the balance’s own limit. It holds near this load
    /// (<see cref="Glassware.ProofReach"/>); a weight put on top of a full vessel proves the difference that a delivery makes.
    /// </remarks>
    /// <param name="balance">The balance; its limit and display step are used, its proofs are not.</param>
    /// <param name="nominalGrams">Nominal mass of the weight, g; above zero.</param>
    /// <param name="weightLimit">Limit of error of the weight, g; zero or above.</param>
    /// <param name="readingsGrams">Readings in order, each with full removal, g; at least two, five are usual.</param>
    /// <exception cref="ArgumentException">A figure lies outside its limits; the message names it.</exception>
    public static GravimetricProof OfBalance(Glassware balance, double nominalGrams, double weightLimit, IReadOnlyList<double> readingsGrams)
    {
        ArgumentNullException.ThrowIfNull(balance);
        ArgumentNullException.ThrowIfNull(readingsGrams);
        if (!balance.IsBalance)
            throw new ArgumentException($"{balance.Name} is no balance, and a check weight proves a balance only.", nameof(balance));
        Require.Positive(nominalGrams);
        Require.NotNegative(weightLimit);
        double[] readings = [.. readingsGrams];
        Require.Sample(readings, 2, nameof(readingsGrams));
        var n = readings.Length;
        var moments = SampleMoments.Of(readings);
        var step = balance.Readability ?? 0;
        var (visible, spread) = (step / Math.Sqrt(6), moments.StandardDeviation);
        var bound = spread < visible;
        var rounding = visible / (spread >= step / 2 ? Math.Sqrt(n) : 1);
        var limit = balance.ToleranceIsRelative ? balance.Tolerance * nominalGrams : balance.Tolerance;
        var power = limit == 0 || weightLimit <= limit / 3 * (1 + 1e-9) ? ProofPower.Proves : weightLimit <= limit ? ProofPower.GrossFaultsOnly : ProofPower.TooCoarse;
        return Made(nominalGrams, "g", moments.Mean, readings, bound ? visible : spread, bound ? double.PositiveInfinity : n - 1, bound,
            [(spread / Math.Sqrt(n), n - 1), (weightLimit / Math.Sqrt(3), double.PositiveInfinity), (rounding, double.PositiveInfinity)], power) with { WeightLimit = weightLimit, BalanceLimit = limit };
    }

    /// <summary>mL at 20 °C of one gram.</summary>
    internal static double Factor(GravimetricTrial trial) =>
        AirBuoyancy.At20Celsius(AirBuoyancy.MillilitresPerGram(trial.TemperatureCelsius, trial.PressureHectopascals, trial.HumidityPercent), trial.TemperatureCelsius, trial.ExpansionPerCelsius);

    /// <summary>Standard uncertainty, g, of what a balance shows of a mass, by its proof or its limit, and its degrees of freedom.</summary>
    internal static (double U, double Dof) LimitOf(Glassware balance, double grams)
    {
        if (balance.ProofAt(grams) is { } proof)
            return (proof.BiasU, proof.BiasDof);
        var limit = balance.ToleranceIsRelative ? balance.Tolerance * grams : balance.Tolerance;
        return (limit / Math.Sqrt(balance.Shape == Uncertainty.SourceShape.Triangular ? 6 : 3), double.PositiveInfinity);
    }

    internal static void Accept(GravimetricTrial trial)
    {
        Require.Positive(trial.Setting, "setting");
        Require.AtLeast(trial.DeliveriesEach, 1, "number of deliveries");
        Require.NotNegative(trial.TemperatureLimit, "doubt of the temperature");
        Require.NotNegative(trial.PressureLimit, "doubt of the pressure");
        Require.NotNegative(trial.ExpansionPerCelsius, "expansion");
        Require.NotNegative(trial.EvaporationGrams, "evaporation");
        Require.NotNegative(trial.Limit, "limit of error");
        Require.NotNegative(trial.AssumedSd, "assumed standard deviation");
        if (!trial.Balance.IsBalance)
            throw new ArgumentException($"{trial.Balance.Name} is no balance; weigh on one.", nameof(trial));
        _ = Factor(trial);
    }

    private static GravimetricProof Made(double setting, string unit, double mean, double[] amounts, double sd, double sdDof, bool bound, ReadOnlySpan<(double U, double Dof)> parts, ProofPower power)
    {
        // Welch–Satterthwaite, JCGM 100:2008, (G.2b)
        double u2 = 0, down = 0;
        foreach (var (part, dof) in parts)
        {
            u2 += part * part;
            down += double.IsPositiveInfinity(dof) ? 0 : Math.Pow(part, 4) / dof;
        }
        var (u, biasDof) = (Math.Sqrt(u2), down > 0 ? u2 * u2 / down : double.PositiveInfinity);
        var reach = u * (double.IsPositiveInfinity(biasDof) ? Normal.Quantile(0.975) : StudentT.Quantile(0.975, biasDof));
        return new GravimetricProof
        {
            Setting = setting,
            Unit = unit,
            Mean = mean,
            Amounts = amounts,
            Weighings = amounts.Length,
            BiasU = u,
            BiasDof = biasDof,
            BiasInterval = new Interval(mean - setting - reach, mean - setting + reach),
            Sd = sd,
            SdDof = sdDof,
            SdInterval = double.IsPositiveInfinity(sdDof) ? null : Statistics.SdInterval.Of(sd, sdDof),
            SdIsBound = bound,
            Power = power,
        };
    }
}
