using Knownwater.Quantities;
using Knownwater.Statistics;

namespace Knownwater.Checks;

/// <summary>Judges the replicates of one level against its reference water.</summary>
/// <remarks>
/// The rule: <b>reads right</b> where the whole interval of the bias lies within ± T; <b>reads high</b> or <b>low</b> where the interval
/// excludes zero and the estimate lies beyond T; else <b>can’t tell yet</b>. The interval is that of <see cref="BiasInterval"/>.
/// <para>The standard deviation is that of these replicates, or pooled with the prior; where the scatter is worse than usual the prior is left out, since pooling would then understate it.</para>
/// <para>A censored replicate stands for every value that its display leaves open (from zero to the limit, or from the limit upward). The
/// interval is the union of the intervals over all those values (evaluated at the ends, where the extremes of mean and scatter lie), and high or low needs the estimate beyond T for all of them.</para>
/// <para>One reading with a prior of at least eight degrees of freedom can raise an alarm (high, low); it never clears a method and never judges scatter.</para>
/// </remarks>
public static class LevelCheck
{
    internal const double LeastDofForOneReading = 8;
    private const double OutlierAlpha = 0.01;
    private const double WorthExtending = 0.25;
    private const int MostSensibleReadings = 12;
    private const int MostReadingsLookedAt = 400;

    /// <summary>Judges one level.</summary>
    /// <param name="plan">What was fixed beforehand.</param>
    /// <param name="indications">The replicates in the order of reading; at least one.</param>
    /// <returns>Verdict, bias, scatter and what would settle it.</returns>
    /// <exception cref="ArgumentException">There is no indication, or one is not a finite number.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The plan's known value, tolerance, display step or looks are out of range.</exception>
    public static LevelJudgement Judge(LevelPlan plan, IReadOnlyList<Indication> indications)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(indications);
        plan.Validate();
        if (indications.Count == 0)
            throw new ArgumentException("There are no readings to judge. Take at least one, better the planned number.", nameof(indications));
        foreach (var indication in indications)
        {
            if (!double.IsFinite(indication.Value))
                throw new ArgumentException($"A reading is {indication.Value}, but a reading is a finite number. Type what the display shows.", nameof(indications));
        }

        var judgement = JudgeOnce(plan, indications);
        if (judgement.Outliers is not [var outlier])
            return judgement;
        var rest = indications.Where((_, index) => index != outlier.Index).ToList();
        return judgement with { WithoutOutlier = JudgeOnce(plan, rest) with { Outliers = [] } };
    }

    private static LevelJudgement JudgeOnce(LevelPlan plan, IReadOnlyList<Indication> indications)
    {
        var n = indications.Count;
        var reference = plan.Reference.Value;
        var referenceU = plan.Reference.StandardUncertainty;
        var tolerance = plan.ToleranceHere;
        var censored = indications.Count(i => i.Censoring != Censoring.None);

        double low = double.PositiveInfinity, high = double.NegativeInfinity, least = double.PositiveInfinity, greatest = double.NegativeInfinity;
        Reading widest = default;
        foreach (var filling in Fillings(indications))
        {
            var reading = Read(plan, filling);
            if (reading.Origin == SdOrigin.None)
                (low, high) = (double.NegativeInfinity, double.PositiveInfinity);
            else
            {
                low = Math.Min(low, reading.Mean - reading.HalfWidth - reference);
                high = Math.Max(high, reading.Mean + reading.HalfWidth - reference);
            }
            least = Math.Min(least, reading.Mean - reference);
            greatest = Math.Max(greatest, reading.Mean - reference);
            if (widest.N == 0 || reading.HalfWidth > widest.HalfWidth)
                widest = reading;
        }
        if (indications.Any(i => i.Censoring == Censoring.Above))
            high = greatest = double.PositiveInfinity;

        var verdict = BiasInterval.Decide(low, high, least, greatest, tolerance);
        if (n == 1 && verdict == Verdict.ReadsRight)
            verdict = Verdict.CannotTell;
        var matters = verdict switch { Verdict.ReadsHigh => low > tolerance, Verdict.ReadsLow => high < -tolerance, _ => false };

        var estimate = double.IsFinite(greatest) ? (least + greatest) / 2 : least;
        var q = plan.Resolution;
        var fixedVariance = q * q / 12 + referenceU * referenceU;
        double? meanVariance = widest.Origin == SdOrigin.None ? null : Math.Max(widest.Variance, q * q / 12) / n;
        double? u = meanVariance is { } v ? Math.Sqrt(v + fixedVariance) : null;
        double? lowShown = double.IsFinite(low) ? low : null, highShown = double.IsFinite(high) ? high : null;
        var bias = new Bias(
            estimate,
            u,
            lowShown is { } l && highShown is { } h ? (h - l) / 2 : null,
            lowShown,
            highShown,
            u is > 0 && meanVariance is > 0 && double.IsFinite(widest.Dof) ? widest.Dof * Math.Pow(u.Value * u.Value / meanVariance.Value, 2) : null,
            plan.Coverage);

        double? within = null;
        if (censored == 0 && meanVariance is { } mv)
        {
            var distribution = new TPlusNormal(Math.Sqrt(mv), widest.Dof, Math.Sqrt(fixedVariance));
            within = Math.Clamp(distribution.Cdf(tolerance - estimate) - distribution.Cdf(-tolerance - estimate), 0, 1);
            if (mv + fixedVariance == 0)
                within = Math.Abs(estimate) <= tolerance ? 1 : 0;
        }

        var trend = n >= 5 && censored == 0 && widest.OwnSd > 0 ? OrderTrend.Of([.. indications.Select(i => i.Value)]) : null;
        var (sourceName, sourceU) = LargestIrreducible(plan);
        return new LevelJudgement
        {
            Verdict = verdict,
            Matters = matters,
            N = n,
            Censored = censored,
            Mean = estimate + reference,
            Sd = n > 1 ? widest.OwnSd : null,
            SdUsed = widest.Origin == SdOrigin.None ? null : Math.Sqrt(widest.Variance),
            SdDof = widest.Origin == SdOrigin.None ? null : widest.Dof,
            SdOrigin = widest.Origin,
            Bias = bias,
            RecoveryPercent = reference > 0 ? 100 * (estimate + reference) / reference : null,
            ProbabilityWithinTolerance = within,
            Scatter = widest.Scatter,
            SmallestVisibleBias = meanVariance is null ? null : SmallestVisible(plan, widest, n),
            Remedy = verdict == Verdict.CannotTell ? RemedyFor(plan, widest, n, estimate, censored) : null,
            Outliers = Outliers(plan, indications),
            WithoutOutlier = null,
            TrendP = trend?.P,
            TrendSign = trend is null ? 0 : Math.Sign(trend.Slope),
            LargestIrreducibleSource = sourceName,
            LargestIrreducibleU = sourceU,
            ReadingsAreTheLimit = widest.Origin == SdOrigin.None || widest.HalfWidth * widest.HalfWidth > 2 * Math.Pow(widest.Interval.Limit, 2),
        };
    }

    /// <summary>Mean, scatter and half-width of one set of numbers.</summary>
    internal readonly record struct Reading(int N, double Mean, double OwnSd, double Variance, double Dof, SdOrigin Origin, Scatter Scatter, double HalfWidth, BiasInterval Interval);

    internal static Reading Read(LevelPlan plan, double[] values)
    {
        var n = values.Length;
        var referenceU = plan.Reference.StandardUncertainty;
        if (n == 1)
        {
            if (plan.Prior is not { Dof: >= LeastDofForOneReading } known)
                return new Reading(1, values[0], 0, 0, 0, SdOrigin.None, Scatter.CannotTell, double.PositiveInfinity, default);
            var one = new BiasInterval(known.Dof, plan.Coverage, plan.Resolution, referenceU);
            var variance = known.Value * known.Value;
            return new Reading(1, values[0], 0, variance, known.Dof, SdOrigin.Prior, Scatter.CannotTell, one.HalfWidth(variance, 1), one);
        }

        var moments = SampleMoments.Of(values);
        var own = moments.StandardDeviation * moments.StandardDeviation;
        double dof = n - 1;
        var scatter = JudgeScatter(own, dof, plan.Prior, plan.Resolution);
        var origin = SdOrigin.Own;
        if (plan.Prior is { } prior && plan.PoolPrior && scatter != Scatter.WorseThanUsual)
        {
            own = double.IsPositiveInfinity(prior.Dof) ? prior.Value * prior.Value : (dof * own + prior.Dof * prior.Value * prior.Value) / (dof + prior.Dof);
            dof += prior.Dof;
            origin = SdOrigin.Pooled;
        }
        var interval = new BiasInterval(dof, plan.Coverage, plan.Resolution, referenceU);
        return new Reading(n, moments.Mean, moments.StandardDeviation, own, dof, origin, scatter, interval.HalfWidth(own, n), interval);
    }

    /// <summary>One-sided F test of the scatter against the usual (chi-square where the usual counts as known); “usual” also needs that three times the usual is excluded.</summary>
    /// <remarks>The usual variance counts at least as q²/4, the most that rounding alone can make of a steady reading.</remarks>
    private static Scatter JudgeScatter(double variance, double dof, PriorSd? prior, double resolution)
    {
        if (prior is null)
            return Scatter.CannotTell;
        var ratio = variance / Math.Max(prior.Value * prior.Value, resolution * resolution / 4);
        if (ratio > VarianceRatioQuantile(0.95, dof, prior.Dof))
            return Scatter.WorseThanUsual;
        return ratio / VarianceRatioQuantile(0.05, dof, prior.Dof) <= 9 ? Scatter.Usual : Scatter.CannotTell;
    }

    private static double VarianceRatioQuantile(double p, double dof, double priorDof) =>
        double.IsPositiveInfinity(priorDof) ? ChiSquare.Quantile(p, dof) / dof : FisherF.Quantile(p, dof, priorDof);

    /// <summary>Every filling of the censored replicates with an end of what they leave open; one filling where none is censored.</summary>
    /// <remarks>With the limits in order, “the first j at their least, the others at their greatest” reaches every extreme of mean and scatter for equal limits.</remarks>
    private static IEnumerable<double[]> Fillings(IReadOnlyList<Indication> indications)
    {
        var below = Enumerable.Range(0, indications.Count).Where(i => indications[i].Censoring == Censoring.Below).OrderBy(i => indications[i].Value).ToArray();
        for (var j = 0; j <= below.Length; j++)
        {
            var values = indications.Select(i => i.Value).ToArray();
            for (var k = 0; k < j; k++)
                values[below[k]] = indications[below[k]].Least;
            yield return values;
        }
    }

    /// <summary>Grubbs' test from five readings; below that a flag where one reading stands off by five times what the others span, and by half the tolerance.</summary>
    private static IReadOnlyList<Outlier> Outliers(LevelPlan plan, IReadOnlyList<Indication> indications)
    {
        var known = Enumerable.Range(0, indications.Count).Where(i => indications[i].Censoring == Censoring.None).ToArray();
        if (known.Length < 3)
            return [];
        var moments = SampleMoments.Of([.. known.Select(i => indications[i].Value)]);
        if (!(moments.StandardDeviation > plan.Resolution / 2))
            return [];
        var far = known.MaxBy(i => Math.Abs(indications[i].Value - moments.Mean));
        var statistic = Math.Abs(indications[far].Value - moments.Mean) / moments.StandardDeviation;
        var critical = Grubbs.CriticalValue(known.Length, OutlierAlpha, twoSided: true);
        var isTest = known.Length >= 5;
        var others = known.Where(i => i != far).Select(i => indications[i].Value).ToArray();
        var gap = others.Min(v => Math.Abs(v - indications[far].Value));
        var isFar = isTest
            ? statistic > critical
            : gap > Math.Max(5 * Math.Max(others.Max() - others.Min(), plan.Resolution), plan.ToleranceHere / 2);
        return isFar ? [new Outlier(far, indications[far].Value, statistic, critical, isTest)] : [];
    }

    private static (string? Name, double U) LargestIrreducible(LevelPlan plan)
    {
        var display = plan.Resolution / Math.Sqrt(12);
        var source = plan.Reference.LargestSource;
        if (source is { } known && known.StandardUncertainty >= display)
            return (known.Source.Name, known.StandardUncertainty);
        return display > 0 ? (plan.ResolutionName, display) : (null, 0);
    }

    private static double SmallestVisible(LevelPlan plan, Reading reading, int n)
    {
        var sd = Math.Sqrt(reading.Interval.Floored(reading.Variance));
        var power = new VerdictPower(sd, n, reading.Origin == SdOrigin.Own ? null : plan.Prior, plan.Coverage, 0, Math.Sqrt(plan.Resolution * plan.Resolution / 12 + Math.Pow(plan.Reference.StandardUncertainty, 2)));
        if (power.IsExact)
            return 0;
        double below = 0, above = reading.HalfWidth;
        while (power.ExcludesZero(above) < 0.9)
            above *= 2;
        while (above - below > 1e-6 * above)
        {
            var middle = (below + above) / 2;
            (below, above) = power.ExcludesZero(middle) < 0.9 ? (middle, above) : (below, middle);
        }
        return above;
    }

    private static Remedy RemedyFor(LevelPlan plan, Reading reading, int n, double estimate, int censored)
    {
        double? Cost(int readings) => plan.MinutesPerReplicate * readings;
        if (reading.Origin == SdOrigin.None || n == 1)
        {
            var sd = plan.Prior?.Value;
            var planned = sd is { } known
                ? ReplicatePlanning.Plan(plan.ToleranceHere, known, plan.Reference.StandardUncertainty, plan.Resolution, prior: null, plan.Looks, levels: plan.Levels).N
                : null;
            var fresh = Math.Clamp(planned ?? 5, 3, MostSensibleReadings);
            return new Remedy(RemedyKind.FurtherReadings, fresh, Minutes: Cost(fresh));
        }
        if (censored > 0 && censored * 2 >= n)
            return new Remedy(RemedyKind.LevelWithinDisplay);

        var outlook = new Outlook(plan, reading.Variance, reading.Dof, reading.Origin, n, estimate);
        if (plan is { Looks: 2, Look: 1 })
        {
            var settles = outlook.Settles(n, extends: true);
            if (settles >= WorthExtending)
                return new Remedy(RemedyKind.FurtherReadings, n, settles, IsExtension: true, Cost(n));
        }
        int? needed = null;
        for (var m = 2; m <= MostReadingsLookedAt && needed is null; m += m < 30 ? 1 : 10)
        {
            if (outlook.Settles(m, extends: false) >= 0.5)
                needed = m;
        }
        if (needed <= MostSensibleReadings)
            return new Remedy(RemedyKind.FurtherReadings, needed, outlook.Settles(needed.Value, extends: false), Minutes: Cost(needed.Value));
        if (outlook.SettlesAtLast(plan.Reference.StandardUncertainty, plan.Resolution) < 0.5)
        {
            if (plan.Reference.StandardUncertainty * outlook.Factor > plan.ToleranceHere / 2 && outlook.SettlesAtLast(0, plan.Resolution) >= 0.5)
                return new Remedy(RemedyKind.BetterReference);
            if (plan.Resolution * outlook.Factor / Math.Sqrt(12) > plan.ToleranceHere / 2 && outlook.SettlesAtLast(0, 0) >= 0.5)
                return new Remedy(RemedyKind.FinerDisplay);
        }
        return needed is { } many
            ? new Remedy(RemedyKind.LessScatter, many, Minutes: Cost(many))
            : new Remedy(RemedyKind.AtTheTolerance);
    }

    /// <summary>What further readings would most likely find: the present mean and scatter carried forward.</summary>
    /// <remarks>
    /// A new mean of m readings lies about the present one with s·√(1/n + 1/m) and Student's t; an extension moves the joint mean by s·√(m/(n(n + m))).
    /// The reference water stays the same, so that its error does not enter the movement.
    /// </remarks>
    private sealed class Outlook(LevelPlan plan, double variance, double dof, SdOrigin origin, int n, double estimate)
    {
        private readonly double _sd = Math.Sqrt(Math.Max(variance, plan.Resolution * plan.Resolution / 12));

        /// <summary>Coverage of a new check of as many levels with one look.</summary>
        private readonly double _alone = LevelPlan.CoverageOf(1, plan.Levels);

        /// <summary>Normal factor of such a check.</summary>
        public double Factor => Normal.Quantile((1 + _alone) / 2);

        public double Settles(int m, bool extends)
        {
            var total = extends ? n + m : m;
            var dofThen = total - 1 + (origin == SdOrigin.Pooled && plan.Prior is { } prior ? prior.Dof : 0);
            var half = new BiasInterval(dofThen, extends ? plan.Coverage : _alone, plan.Resolution, plan.Reference.StandardUncertainty).HalfWidth(variance, total);
            var spread = _sd * (extends ? Math.Sqrt((double)m / (n * (double)(n + m))) : Math.Sqrt(1.0 / n + 1.0 / m));
            return Decided(half, spread);
        }

        /// <summary>Chance that readings without number decide, with another reference or display.</summary>
        public double SettlesAtLast(double referenceU, double resolution) =>
            Decided(new BiasInterval(double.PositiveInfinity, _alone, resolution, referenceU).Limit, _sd / Math.Sqrt(n));

        private double Decided(double half, double spread)
        {
            var tolerance = plan.ToleranceHere;
            return Between(half - tolerance, tolerance - half) + 1 - Between(-Math.Max(tolerance, half), Math.Max(tolerance, half));

            double Between(double from, double to) =>
                from > to ? 0
                : spread == 0 ? (estimate >= from && estimate <= to ? 1 : 0)
                : Cdf((to - estimate) / spread) - Cdf((from - estimate) / spread);

            double Cdf(double t) => double.IsPositiveInfinity(dof) ? Normal.Cdf(t) : StudentT.Cdf(t, dof);
        }
    }
}
