using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Checks;

/// <summary>Judges the difference of two series of readings of one water: by hand and through the line, or with the old bottle of reagent and the new.</summary>
/// <remarks>
/// <para>Difference = (mean₂ − known) − (mean₁ − known). Both biases hold the same error sources of the known value, with the same contributions, so that its doubt cancels exactly; what is left is
/// u² = s²/n₁ + s²/n₂ + 2·q²/12, q the display step, which rounds each mean by itself.</para>
/// <para>One instrument reads one water twice, so that one standard deviation s is pooled from both series (ν = n₁ + n₂ − 2), and with the usual scatter where the plans pool it and neither series is worse than usual.
/// Where the two scatters differ significantly (F test, two-sided, 1 %), each keeps its own and ν is that of B. L. Welch. The interval is that of a sum of estimated and known variances, as over levels; its coverage by simulation is in docs/reference/same-water.md.</para>
/// <para>The verdict is the rule of a level with this difference in place of the bias: nothing that matters where the whole interval lies within ± T; higher or lower where it excludes zero and the difference lies beyond T; else can’t tell yet.</para>
/// </remarks>
public static class SameWaterCheck
{
    /// <summary>Coverage probability: one difference, one look.</summary>
    public const double Coverage = 0.95;

    private const double StandsOutAlpha = 0.01;
    private const int MostSensibleReadings = 12;

    /// <summary>Judges two series.</summary>
    /// <param name="first">The first series, judged by itself beforehand.</param>
    /// <param name="second">The second series, of the same water.</param>
    /// <returns>Difference, verdict and what would settle it.</returns>
    /// <exception cref="ArgumentException">The series are in different forms, or of two waters.</exception>
    public static SameWaterJudgement Judge(JudgedLevel first, JudgedLevel second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        if (!first.Plan.Form.Equals(second.Plan.Form))
            throw new ArgumentException($"One series is in {first.Plan.Form.Unit}, the other in {second.Plan.Form.Unit}. Write both in one form.", nameof(second));
        var apart = second.Plan.Reference - first.Plan.Reference;
        if (apart is not { Value: 0, IsExact: true })
            throw new ArgumentException($"The known values of the two series, {first.Plan.Reference} and {second.Plan.Reference} {first.Plan.Form.Unit}, are not one and the same. Read the same water in both.", nameof(second));

        var tolerance = first.Plan.ToleranceHere;
        var open = new SameWaterJudgement
        {
            First = first,
            Second = second,
            Verdict = Verdict.CannotTell,
            Matters = false,
            Difference = null,
            Expanded = null,
            Coverage = Coverage,
            PooledSd = null,
            Dof = null,
            Tolerance = tolerance,
            Remedy = null,
        };
        if (first.Judgement.Censored + second.Judgement.Censored > 0)
            return open with { Remedy = new Remedy(RemedyKind.LevelWithinDisplay) };
        if (Scatter(first, second) is not { } scatter)
            return open with { Remedy = new Remedy(RemedyKind.FurtherReadings, 3, Minutes: 6 * first.Plan.MinutesPerReplicate) };

        var family = scatter.IsPooled ? ErrorSource.Normal("one variance", 1).Id : (Guid?)null;
        var difference = (Mean(second, "second", scatter.Second, family) - second.Plan.Reference) - (Mean(first, "first", scatter.First, family) - first.Plan.Reference);
        var half = EstimateInterval.HalfWidth(difference, Coverage);
        var verdict = BiasInterval.Decide(difference.Value - half, difference.Value + half, difference.Value, difference.Value, tolerance);
        if (verdict == Verdict.ReadsRight && (first.Judgement.N == 1 || second.Judgement.N == 1))
            verdict = Verdict.CannotTell;
        var readings = difference.Contributions.Where(c => c.Source.Shape == SourceShape.ScaledT || !double.IsPositiveInfinity(c.Source.Dof)).Sum(c => c.Value * c.Value);
        return open with
        {
            Verdict = verdict,
            Matters = verdict is Verdict.ReadsHigh or Verdict.ReadsLow && Math.Abs(difference.Value) - half > tolerance,
            Difference = difference,
            Expanded = half,
            PooledSd = scatter.IsPooled ? Math.Sqrt(scatter.First.Variance) : null,
            Dof = readings == 0 ? double.PositiveInfinity : scatter.IsPooled ? scatter.First.Dof : Welch(scatter, first.Judgement.N, second.Judgement.N),
            Remedy = verdict == Verdict.CannotTell ? RemedyFor(difference, scatter, first, second, tolerance) : null,
        };
    }

    /// <summary>Plans the number of readings of each series, as a level is planned: both chances at least the power.</summary>
    /// <remarks>
    /// A difference of two means of n with a scatter of 2(n − 1) degrees of freedom behaves as one mean of 2n − 1 readings whose standard deviation is s·√(2(2n − 1)/n); the display adds q²/12 to the scatter of a reading and q²/6 to the difference.
    /// </remarks>
    /// <param name="tolerance">Tolerance at the known value; above zero.</param>
    /// <param name="sd">Repeatability standard deviation; zero or more.</param>
    /// <param name="resolution">Display step; zero or more.</param>
    /// <param name="prior">Usual scatter that will be pooled; null for none.</param>
    /// <param name="power">Probability to reach; above 0.5, below 1.</param>
    /// <returns>The number of each series and the two chances: nothing that matters where there is no difference, higher where it is twice the tolerance.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of the range given above.</exception>
    public static ReplicatePlan Plan(double tolerance, double sd, double resolution = 0, PriorSd? prior = null, double power = 0.9)
    {
        Require.Positive(tolerance);
        if (!(power is > 0.5 and < 1))
            throw new ArgumentOutOfRangeException(nameof(power), power, $"power is {power}, but the power lies between 0.5 and 1. Nine times in ten is 0.9.");
        (double Right, double Wrong) reached = default;
        for (var n = 2; n <= ReplicatePlanning.Most; n = n < 30 ? n + 1 : n * 11 / 10)
        {
            reached = Power(n, tolerance, sd, resolution, prior);
            if (reached.Right >= power && reached.Wrong >= power)
                return new ReplicatePlan(n, reached.Right, reached.Wrong, false, false);
        }
        var byDisplay = Normal.Quantile((1 + Coverage) / 2) * resolution / Math.Sqrt(6) > tolerance / 2;
        return new ReplicatePlan(null, reached.Right, reached.Wrong, false, byDisplay);
    }

    /// <summary>What a given number of readings of each series achieves; arguments as in <see cref="Plan"/>.</summary>
    /// <param name="n">Number of readings of each series; at least two.</param>
    /// <param name="tolerance">Tolerance at the known value.</param>
    /// <param name="sd">Repeatability standard deviation.</param>
    /// <param name="resolution">Display step.</param>
    /// <param name="prior">Usual scatter that will be pooled; null for none.</param>
    /// <returns>The chance of “nothing that matters” without a difference, and of “higher” at one of twice the tolerance.</returns>
    /// <exception cref="ArgumentOutOfRangeException">There are fewer than two readings, or another argument is out of range.</exception>
    public static (double Right, double Wrong) Power(int n, double tolerance, double sd, double resolution = 0, PriorSd? prior = null)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 2);
        ArgumentOutOfRangeException.ThrowIfNegative(sd);
        ArgumentOutOfRangeException.ThrowIfNegative(resolution);
        var factor = Math.Sqrt(2 * (2.0 * n - 1) / n);
        var shown = Math.Sqrt(sd * sd + resolution * resolution / 12);
        var power = new VerdictPower(shown * factor, 2 * n - 1, prior is null ? null : new PriorSd(prior.Value * factor, prior.Dof), Coverage, 0, resolution / Math.Sqrt(6));
        return (power.ReadsRight(0, tolerance), power.ReadsHigh(2 * tolerance, tolerance));
    }

    /// <summary>Variance of one reading and its degrees of freedom.</summary>
    private readonly record struct Spread(double Variance, double Dof);

    /// <summary>The variances that the two means rest on.</summary>
    private sealed record Scatters(Spread First, Spread Second, bool IsPooled);

    private static Scatters? Scatter(JudgedLevel first, JudgedLevel second)
    {
        var (one, two) = (Own(first), Own(second));
        var dof = one.Dof + two.Dof;
        var prior = first.Plan is { PoolPrior: true, Prior: { } usual } && second.Plan.PoolPrior
            && first.Judgement.Scatter != Checks.Scatter.WorseThanUsual && second.Judgement.Scatter != Checks.Scatter.WorseThanUsual ? usual : null;
        if (dof == 0 && prior is null)
            return null;
        if (one.Dof > 0 && two.Dof > 0 && prior is null)
        {
            double a = Floored(one.Variance, first), b = Floored(two.Variance, second);
            if (a > b * FisherF.Quantile(1 - StandsOutAlpha / 2, one.Dof, two.Dof) || b > a * FisherF.Quantile(1 - StandsOutAlpha / 2, two.Dof, one.Dof))
                return new Scatters(one, two, false);
        }
        var variance = dof == 0 ? 0 : (one.Dof * one.Variance + two.Dof * two.Variance) / dof;
        if (prior is not null)
        {
            variance = double.IsPositiveInfinity(prior.Dof) ? prior.Value * prior.Value : (dof * variance + prior.Dof * prior.Value * prior.Value) / (dof + prior.Dof);
            dof += prior.Dof;
        }
        var pooled = new Spread(variance, dof);
        return new Scatters(pooled, pooled, true);
    }

    private static Spread Own(JudgedLevel series) => series.Judgement is { N: > 1, Sd: { } sd } ? new Spread(sd * sd, series.Judgement.N - 1) : new Spread(0, 0);

    private static double Floored(double variance, JudgedLevel series) => Math.Max(variance, series.Plan.Resolution * series.Plan.Resolution / 12);

    private static double Welch(Scatters scatter, int n1, int n2)
    {
        double a = scatter.First.Variance / n1, b = scatter.Second.Variance / n2;
        return a + b == 0 ? double.PositiveInfinity : (a + b) * (a + b) / (a * a / scatter.First.Dof + b * b / scatter.Second.Dof);
    }

    private static Estimate Mean(JudgedLevel series, string which, Spread spread, Guid? family)
    {
        List<(ErrorSource, double)> sources = [];
        var unit = series.Plan.Form.Unit;
        var variance = Floored(spread.Variance, series);
        if (variance > 0)
        {
            var source = ErrorSource.MeanOfReadings($"Readings of the {which} series", Math.Sqrt(variance), series.Judgement.N, unit, spread.Dof, family);
            sources.Add((source, source.StandardUncertainty));
        }
        if (series.Plan.Resolution > 0)
        {
            var source = ErrorSource.ResolutionStep($"{char.ToUpperInvariant(series.Plan.ResolutionName[0])}{series.Plan.ResolutionName[1..]} in the {which} series", series.Plan.Resolution, unit);
            sources.Add((source, source.StandardUncertainty));
        }
        return Estimate.FromRows(series.Judgement.Mean, sources);
    }

    /// <summary>The least number of readings of each series whose interval would decide, if the difference stayed where it is; else what is the limit.</summary>
    private static Remedy RemedyFor(in Estimate difference, Scatters scatter, JudgedLevel first, JudgedLevel second, double tolerance)
    {
        double q1 = first.Plan.Resolution, q2 = second.Plan.Resolution, display = (q1 * q1 + q2 * q2) / 12;
        var both = Floored(scatter.First.Variance, first) + Floored(scatter.Second.Variance, second);
        var size = Math.Abs(difference.Value);
        bool Decides(double half) => size + half <= tolerance || (size > half && size > tolerance);
        for (var m = 3; m <= MostSensibleReadings; m++)
        {
            if (Decides(EstimateInterval.HalfWidth(both / m + display, both / m, (scatter.IsPooled ? 2.0 : 1.0) * (m - 1), Coverage)))
                return new Remedy(RemedyKind.FurtherReadings, m, Minutes: 2 * m * first.Plan.MinutesPerReplicate);
        }
        var z = Normal.Quantile((1 + Coverage) / 2);
        if (Decides(z * Math.Sqrt(display)))
            return new Remedy(RemedyKind.LessScatter, (int)Math.Ceiling(Math.Min(1000, both * z * z / Math.Max(1e-300, Math.Pow(tolerance - size, 2) - z * z * display))));
        return Decides(0) && z * Math.Sqrt(display) > tolerance / 2 ? new Remedy(RemedyKind.FinerDisplay) : new Remedy(RemedyKind.AtTheTolerance);
    }
}
