using Knownwater.Quantities;
using Knownwater.Statistics;
using Knownwater.Uncertainty;
using MathNet.Numerics.LinearAlgebra;

namespace Knownwater.Checks;

/// <summary>Judges the levels of a check together: worst case, offset and gain, or the difference of levels.</summary>
/// <remarks>
/// <para>Model: mean reading yᵢ = a + b·(cᵢ + δᵢ) + εᵢ, with a the offset, b the gain, cᵢ the known value, δᵢ its error, εᵢ that of scatter and display. The fit is generalised least squares with
/// V = b²·U_c + diag(max(sᵢ², q²/12)/nᵢ + q²/12), U_c the full covariance of the known values from their error sources, iterated on b; for two levels it is the line through both. Offset and gain keep their
/// error sources, so that their intervals, their covariance and what the stock adds follow from one sum: aᵀ and bᵀ are linear in yᵢ and δᵢ once the weights stand.</para>
/// <para>Scatter: where each level has a usual scatter of the method’s own (or the plans lean on the typical one), s(c) has its shape and the levels share one variance, pooled over all readings (and with the prior where the plans pool it), unless one level’s
/// ratio to the usual stands out (F test at 1 %). Else each level keeps its own, and the weights come from their mean variance, since weights from two or three readings would follow their chance.</para>
/// <para>Intervals of offset and gain are those of a sum of estimated and known variances after B. L. Welch, Biometrika 34 (1947) 28–35; coverage by simulation is in docs/reference/levels.md.</para>
/// </remarks>
public static class LevelsCheck
{
    private const double AboveZero = 0.05;
    private const double StandsOutAlpha = 0.01;
    private const int MostSensibleReadings = 12;

    /// <summary>Judges levels together.</summary>
    /// <param name="levels">Two levels or more, in one reporting form, judged one by one beforehand; in any order.</param>
    /// <param name="basis">On what the verdict rests, fixed before the first replicate; see <see cref="Advised"/>.</param>
    /// <returns>The judgement over levels.</returns>
    /// <exception cref="ArgumentException">There are fewer than two levels, or their reporting forms differ.</exception>
    public static LevelsJudgement Judge(IReadOnlyList<JudgedLevel> levels, LevelsBasis basis = LevelsBasis.EachLevel)
    {
        ArgumentNullException.ThrowIfNull(levels);
        if (levels.Count < 2)
            throw new ArgumentException($"There are {levels.Count} levels, but a verdict over levels needs two or more. Judge a single level by itself.", nameof(levels));
        if (levels.FirstOrDefault(l => !l.Plan.Form.Equals(levels[0].Plan.Form)) is { } other)
            throw new ArgumentException($"One level is in {levels[0].Plan.Form.Unit}, another in {other.Plan.Form.Unit}. Write all in one form.", nameof(levels));

        JudgedLevel[] ascending = [.. levels.OrderBy(l => l.Plan.Reference.Value)];
        var readings = Readings(ascending);
        var line = readings is { } means ? Fit(ascending, means) : null;
        List<LevelDifference> differences = basis == LevelsBasis.Difference && readings is { } pair ? Differences(ascending, pair) : [];
        var verdict = basis == LevelsBasis.Difference
            ? differences.Count == 0 ? Verdict.CannotTell : Worst(differences.Select(d => d.Verdict))
            : Worst(ascending.Select(l => l.Judgement.Verdict));
        var gain = line?.Gain ?? default;
        var shared = SharedSources(ascending);
        var ofWaters = Sum(gain, s => Array.Exists(ascending, l => l.Plan.Reference.Contributions.Any(c => c.Source.Id == s.Id)));
        var oneStock = shared.Count > 0 && ofWaters > 0 && Sum(gain, s => shared.Contains(s.Id)) > ofWaters / 2;
        return new LevelsJudgement
        {
            Basis = basis,
            Levels = ascending,
            Verdict = verdict,
            Line = line,
            Differences = differences,
            RightBetween = basis == LevelsBasis.Difference ? null : Run(ascending),
            OneStock = oneStock,
            LargestSharedSource = line is null ? null : gain.LargestAmong(s => shared.Contains(s.Id))?.Source.Name,
            NeedsSecondStock = oneStock && (line!.HasGain || verdict is Verdict.ReadsHigh or Verdict.ReadsLow),
            NeedsLevelNearZero = basis == LevelsBasis.EachLevel && line is not null && line.OffsetExpanded > ascending[0].Plan.ToleranceHere
                && ascending[0].Plan.Reference.Value > AboveZero * ascending[^1].Plan.Reference.Value,
        };
    }

    /// <summary>The worst of several verdicts: high before low, these before can’t tell yet, right only where all are.</summary>
    /// <param name="verdicts">The verdicts, one or more.</param>
    /// <returns>The worst.</returns>
    /// <exception cref="ArgumentException">There is none.</exception>
    public static Verdict Worst(IEnumerable<Verdict> verdicts)
    {
        Verdict[] given = [.. verdicts];
        if (given.Length == 0)
            throw new ArgumentException("There is no verdict; the worst needs at least one.", nameof(verdicts));
        return given.Contains(Verdict.ReadsHigh) ? Verdict.ReadsHigh
            : given.Contains(Verdict.ReadsLow) ? Verdict.ReadsLow
            : given.Contains(Verdict.CannotTell) ? Verdict.CannotTell
            : Verdict.ReadsRight;
    }

    /// <summary>The basis to declare beforehand: the difference, where an error that all waters share in absolute terms, as that of a background, makes the larger part of the lowest level’s doubt and that doubt reaches half the tolerance there.</summary>
    /// <remarks>Such an error shifts all levels alike: an offset would hide in it, a gain would not.</remarks>
    /// <param name="references">Known values with their error sources.</param>
    /// <param name="tolerance">Tolerance.</param>
    /// <returns>The basis; each level for fewer than two known values.</returns>
    public static LevelsBasis Advised(IReadOnlyList<Estimate> references, Tolerance tolerance)
    {
        ArgumentNullException.ThrowIfNull(references);
        if (references.Count < 2)
            return LevelsBasis.EachLevel;
        Estimate[] ascending = [.. references.OrderBy(r => r.Value)];
        if (!(ascending[^1].Value > ascending[0].Value))
            return LevelsBasis.EachLevel;
        // alike at both levels, as a background: within half of its size, however far apart the levels are
        var alike = Sum(ascending[0], s =>
        {
            var there = Of(ascending[0], s);
            return Math.Abs(Of(ascending[^1], s) - there) <= Math.Abs(there) / 2;
        });
        var u2 = Math.Pow(ascending[0].StandardUncertainty, 2);
        return alike > u2 / 2 && CoverageFactor.Normal(0.95) * Math.Sqrt(u2) > tolerance.At(ascending[0].Value) / 2 ? LevelsBasis.Difference : LevelsBasis.EachLevel;

        static double Of(in Estimate estimate, ErrorSource source) => estimate.Contributions.FirstOrDefault(c => c.Source.Id == source.Id).Value;
    }

    /// <summary>Mean readings of the levels with their own error sources, and the variance that weighs each.</summary>
    private readonly record struct MeanReadings(Estimate[] Means, double[] Weighing, bool IsPooled);

    private static MeanReadings? Readings(JudgedLevel[] levels)
    {
        if (Array.Exists(levels, l => l.Judgement.Censored > 0 || l.Judgement.SdOrigin == SdOrigin.None))
            return null;
        var pooled = Pooled(levels);
        var mean = levels.Average(l => Variance(l));
        Guid? family = pooled is null ? null : ErrorSource.Normal("one variance", 1).Id;
        var means = new Estimate[levels.Length];
        var weighing = new double[levels.Length];
        for (var i = 0; i < levels.Length; i++)
        {
            var (plan, judgement) = levels[i];
            var floor = plan.Resolution * plan.Resolution / 12;
            var variance = Math.Max(pooled is { } p ? p.Variance * Math.Pow(plan.Prior!.Value, 2) : Variance(levels[i]), floor);
            var unit = plan.Form.Unit;
            var at = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{plan.Reference.Value:G6} {unit}");
            List<(ErrorSource, double)> sources = [];
            if (variance > 0)
            {
                var source = ErrorSource.MeanOfReadings($"Readings at {at}", Math.Sqrt(variance), judgement.N, unit, pooled?.Dof ?? judgement.SdDof!.Value, family);
                sources.Add((source, source.StandardUncertainty));
            }
            if (floor > 0)
            {
                var source = ErrorSource.ResolutionStep($"Step of the display at {at}", plan.Resolution, unit);
                sources.Add((source, source.StandardUncertainty));
            }
            means[i] = Estimate.FromRows(judgement.Mean, sources);
            weighing[i] = (pooled is null ? Math.Max(mean, floor) : variance) / judgement.N + floor;
        }
        return new MeanReadings(means, weighing, pooled is not null);
    }

    private static double Variance(JudgedLevel level) => Math.Pow(level.Judgement.SdUsed!.Value, 2);

    /// <summary>Variance over that of the usual scatter, pooled over the levels; null where a level has no usual scatter of its own or does not follow its shape.</summary>
    private static (double Variance, double Dof)? Pooled(JudgedLevel[] levels)
    {
        // a typical shape is not the method's own: it counts only where the plan leans on it
        if (Array.Exists(levels, l => l.Plan.Prior is null || (l.Plan.Prior.IsTypical && !l.Plan.PoolPrior)))
            return null;
        var ratios = levels.Where(l => l.Judgement is { N: > 1, Sd: not null }).Select(l => (Ratio: Math.Pow(l.Judgement.Sd!.Value / l.Plan.Prior!.Value, 2), Dof: l.Judgement.N - 1.0)).ToArray();
        if (ratios.Length < 2)
            return null;
        double dof = ratios.Sum(r => r.Dof), sum = ratios.Sum(r => r.Ratio * r.Dof);
        foreach (var (ratio, own) in ratios)
        {
            var others = (sum - ratio * own) / (dof - own);
            var alpha = StandsOutAlpha / ratios.Length / 2;
            if (ratio > others * FisherF.Quantile(1 - alpha, own, dof - own) || others > ratio * FisherF.Quantile(1 - alpha, dof - own, own))
                return null;
        }
        var usesPrior = Array.TrueForAll(levels, l => l.Judgement.SdOrigin is SdOrigin.Pooled or SdOrigin.Prior);
        if (!usesPrior)
            return (sum / dof, dof);
        var prior = levels.Min(l => l.Plan.Prior!.Dof);
        return double.IsPositiveInfinity(prior) ? (1, prior) : ((sum + prior) / (dof + prior), dof + prior);
    }

    private static LevelsLine? Fit(JudgedLevel[] levels, MeanReadings readings)
    {
        var (means, weighing, isPooled) = readings;
        Estimate[] known = Array.ConvertAll(levels, l => l.Plan.Reference);
        if (!(known[^1].Value > known[0].Value))
            return null;
        var n = levels.Length;
        var x = Matrix<double>.Build.Dense(n, 2, (i, j) => j == 0 ? 1 : known[i].Value);
        var y = Vector<double>.Build.Dense(n, i => means[i].Value);
        var shared = Matrix<double>.Build.Dense(n, n, (i, j) => Estimate.Covariance(known[i], known[j]));
        Matrix<double> weights, v;
        Vector<double> line;
        if (n == 2)
        {
            v = shared;
            weights = x.Inverse();
            line = weights * y;
        }
        else
        {
            double before, gain = 1;
            var turns = 0;
            do
            {
                before = gain;
                v = gain * gain * shared + Matrix<double>.Build.DenseOfDiagonalArray(weighing);
                // waters from one stock without scatter leave no variance across the line: a trace of it keeps the inverse
                var largest = v.Diagonal().Maximum();
                v += Matrix<double>.Build.DenseIdentity(n) * (largest > 0 ? 1e-12 * largest : 1);
                var weighted = v.Cholesky().Solve(x);
                weights = (x.TransposeThisAndMultiply(weighted)).Inverse() * weighted.Transpose();
                line = weights * y;
                gain = line[1];
            }
            while (Math.Abs(gain - before) > 1e-13 * Math.Abs(gain) && ++turns < 200);
        }
        // the errors of the known values enter with −b: the method saw the true value
        var errors = Array.ConvertAll(known, k => k - k.Value);
        Estimate Parameter(int row)
        {
            var terms = new Estimate[2 * n];
            var factors = new double[2 * n];
            for (var i = 0; i < n; i++)
            {
                (terms[i], factors[i]) = (means[i], weights[row, i]);
                (terms[n + i], factors[n + i]) = (errors[i], -line[1] * weights[row, i]);
            }
            return Estimate.Weighted(terms, factors);
        }

        var offset = Parameter(0);
        var slope = Parameter(1);
        var sharedSources = SharedSources(levels);
        double? chiSquare = null, p = null;
        if (n > 2)
        {
            var residual = y - x * line;
            chiSquare = residual * v.Cholesky().Solve(residual);
            p = FitProbability(chiSquare.Value, n - 2, means, v);
        }
        var variance = Math.Pow(slope.StandardUncertainty, 2);
        return new LevelsLine
        {
            Offset = offset,
            Gain = slope,
            OffsetExpanded = EstimateInterval.HalfWidth(offset, 0.95),
            GainExpanded = EstimateInterval.HalfWidth(slope, 0.95),
            SharedShare = variance == 0 ? 0 : Sum(slope, s => sharedSources.Contains(s.Id)) / variance,
            IsPooled = isPooled,
            ChiSquare = chiSquare,
            FitP = p,
        };
    }

    /// <summary>P of the sum of squares: F with the effective degrees of freedom of the mean variance (Welch–Satterthwaite), chi-square where all variances are known.</summary>
    private static double FitProbability(double chiSquare, int dof, Estimate[] means, Matrix<double> v)
    {
        // each mean against its whole variance, all of one weight: the dof of their mean
        var scaled = means.Select((m, i) => (Scale: 1 / Math.Sqrt(v[i, i]), Mean: m)).ToArray();
        var mean = Estimate.Weighted([.. scaled.Select(s => s.Mean)], [.. scaled.Select(s => s.Scale / Math.Sqrt(means.Length))]);
        var part = Math.Min(1, Math.Pow(mean.StandardUncertainty, 2));
        var effective = part == 0 ? double.PositiveInfinity : mean.EffectiveDof / (part * part);
        return double.IsPositiveInfinity(effective) || effective > 1e6 ? ChiSquare.UpperTail(chiSquare, dof) : FisherF.UpperTail(chiSquare / dof, dof, effective);
    }

    private static List<LevelDifference> Differences(JudgedLevel[] levels, MeanReadings readings)
    {
        var list = new List<LevelDifference>();
        var lowest = levels[0].Plan;
        var higher = levels.Count(l => l.Plan.Reference.Value > lowest.Reference.Value);
        for (var i = 1; i < levels.Length; i++)
        {
            var plan = levels[i].Plan;
            if (!(plan.Reference.Value > lowest.Reference.Value))
                continue;
            var bias = Estimate.Weighted([readings.Means[i], readings.Means[0], plan.Reference, lowest.Reference], [1, -1, -1, 1]);
            var coverage = LevelPlan.CoverageOf(lowest.Looks, higher);
            var half = EstimateInterval.HalfWidth(bias, coverage);
            var tolerance = plan.Tolerance.At(plan.Reference.Value - lowest.Reference.Value);
            var verdict = BiasInterval.Decide(bias.Value - half, bias.Value + half, bias.Value, bias.Value, tolerance);
            if (verdict == Verdict.ReadsRight && (levels[i].Judgement.N == 1 || levels[0].Judgement.N == 1))
                verdict = Verdict.CannotTell;
            var matters = verdict is Verdict.ReadsHigh or Verdict.ReadsLow && Math.Abs(bias.Value) - half > tolerance;
            list.Add(new LevelDifference(lowest.Reference.Value, plan.Reference.Value, bias, half, coverage, tolerance, verdict, matters,
                verdict == Verdict.CannotTell ? RemedyFor(bias, coverage, tolerance, levels[0], levels[i]) : null));
        }
        return list;
    }

    /// <summary>The least number of readings at each level whose interval would decide, if the mean stayed where it is; else what is the limit.</summary>
    private static Remedy RemedyFor(in Estimate bias, double coverage, double tolerance, JudgedLevel low, JudgedLevel high)
    {
        double all = Math.Pow(bias.StandardUncertainty, 2), scatter = Sum(bias, s => s.Shape == SourceShape.ScaledT);
        int n = Math.Min(low.Judgement.N, high.Judgement.N);
        var size = Math.Abs(bias.Value);
        bool Decides(double half) => size + half <= tolerance || (size > half && size > tolerance);
        for (var m = 2; m <= MostSensibleReadings; m++)
        {
            var part = scatter * n / m;
            if (Decides(EstimateInterval.HalfWidth(all - scatter + part, part, 2.0 * (m - 1), coverage)))
                return new Remedy(RemedyKind.FurtherReadings, m, Minutes: 2 * m * high.Plan.MinutesPerReplicate);
        }
        if (Decides(Normal.Quantile((1 + coverage) / 2) * Math.Sqrt(all - scatter)))
            return new Remedy(RemedyKind.LessScatter, (int)Math.Ceiling(Math.Min(1000, n * scatter * Math.Pow(Normal.Quantile((1 + coverage) / 2), 2) / Math.Max(1e-300, Math.Pow(Math.Abs(tolerance - size), 2) - (all - scatter)))));
        return Decides(0) && Normal.Quantile((1 + coverage) / 2) * Math.Sqrt(all - scatter) > tolerance / 2
            ? new Remedy(RemedyKind.BetterReference)
            : new Remedy(RemedyKind.AtTheTolerance);
    }

    /// <summary>Sources that every water above zero holds.</summary>
    private static HashSet<Guid> SharedSources(JudgedLevel[] levels)
    {
        var least = AboveZero * levels[^1].Plan.Reference.Value;
        HashSet<Guid>? shared = null;
        foreach (var level in levels.Where(l => l.Plan.Reference.Value > least))
        {
            var own = level.Plan.Reference.Contributions.Select(c => c.Source.Id);
            if (shared is null)
                shared = [.. own];
            else
                shared.IntersectWith(own);
        }
        return shared ?? [];
    }

    private static double Sum(in Estimate estimate, Func<ErrorSource, bool> counts) => estimate.Contributions.Where(c => counts(c.Source)).Sum(c => c.Value * c.Value);

    private static (double Low, double High)? Run(JudgedLevel[] ascending)
    {
        (double Low, double High)? best = null;
        double? from = null;
        foreach (var level in ascending)
        {
            var value = level.Plan.Reference.Value;
            from = level.Judgement.Verdict == Verdict.ReadsRight ? from ?? value : null;
            if (from is { } low && value > low && !(best is { } b && b.High - b.Low >= value - low))
                best = (low, value);
        }
        return best;
    }
}
