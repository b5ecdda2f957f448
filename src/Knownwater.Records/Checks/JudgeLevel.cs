using Knownwater.Checks;
using Knownwater.Quantities;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>Hands the rows of a check to the judge of the library and writes the verdict down.</summary>
internal static class JudgeLevel
{
    /// <summary>The plan of a level as it was fixed before its first reading.</summary>
    public static LevelPlan Plan(CheckRows rows, LevelRows level) => new()
    {
        Reference = level.Known,
        Form = rows.Measured.Form,
        Tolerance = new Tolerance(rows.Check.ToleranceAbsolute, rows.Check.TolerancePercent),
        Resolution = Resolution(rows, level),
        ResolutionName = KitScale.Of(rows.Check)?.StepName ?? KitScale.DisplayStep,
        Prior = level.Row is { PriorSd: { } sd, PriorDof: { } dof } ? new PriorSd(sd, dof, level.Row.PriorIsTypical) : null,
        PoolPrior = level.Row.PoolPrior,
        Levels = Math.Max(1, rows.Check.LevelsTogether),
        Looks = rows.Check.ExtensionDeclared ? 2 : 1,
        Look = rows.Check.ExtensionTaken ? 2 : 1,
        MinutesPerReplicate = rows.Check.MinutesPerReading,
    };

    /// <summary>The step of the display; of a kit the widest among the steps where its readings fell and that of the known value.</summary>
    private static double Resolution(CheckRows rows, LevelRows level) => KitScale.Of(rows.Check) is { } kit
        ? level.Replicates.Where(r => r.Censoring == Censoring.None).Select(r => kit.ResolutionAt(r.Value)).Append(kit.ResolutionAt(level.Known.Value)).Append(rows.Check.Resolution).Max()
        : rows.Check.Resolution;

    /// <summary>The judgement on the readings that count; null until the last planned one is in.</summary>
    public static LevelJudgement? Judge(CheckRows rows, LevelRows level, bool withExcluded = false)
    {
        if (!level.Complete)
            return null;
        var counted = level.Replicates.Where(r => withExcluded || r.ExcludedReason is null).Select(r => new Indication(r.Value, r.Censoring)).ToList();
        return counted.Count == 0 ? null : LevelCheck.Judge(Plan(rows, level), counted);
    }

    /// <summary>What the levels that are judged say together; null for fewer than two.</summary>
    public static LevelsJudgement? Together(CheckRows rows)
    {
        if (rows.Compared is not null)
            return null;
        var judged = rows.Levels.Select(l => (Level: l, Judgement: Judge(rows, l))).Where(j => j.Judgement is not null).Select(j => new JudgedLevel(Plan(rows, j.Level), j.Judgement!)).ToList();
        return judged.Count < 2 ? null : LevelsCheck.Judge(judged, rows.Check.Basis ?? LevelsBasis.EachLevel);
    }

    /// <summary>What the two series of one water say about each other; null in a usual check and until both are judged.</summary>
    public static SameWaterJudgement? Difference(CheckRows rows)
    {
        if (rows is not { Compared: not null, Levels: [var first, var second] } || Judge(rows, first) is not { } one || Judge(rows, second) is not { } two)
            return null;
        return SameWaterCheck.Judge(new JudgedLevel(Plan(rows, first), one), new JudgedLevel(Plan(rows, second), two));
    }

    /// <summary>The verdict over levels, none for water that is only steady: that of the levels together, or of the only one that is judged.</summary>
    public static Verdict? Over(CheckRows rows) => rows.Check.SteadyWater ? null : rows.Compared is not null
        ? rows.Levels.Select(l => Judge(rows, l)?.Verdict).LastOrDefault(v => v is not null)
        : Together(rows)?.Verdict ?? rows.Levels.Select(l => Judge(rows, l)?.Verdict).FirstOrDefault(v => v is not null);

    /// <summary>The readings that the declared extension would take at a level; zero where it takes none.</summary>
    public static int Extension(CheckRows rows, LevelJudgement? judgement) =>
        rows.Check is { ExtensionDeclared: true, ExtensionTaken: false, ExtensionRenounced: false, State: CheckState.Closed }
        && judgement is { Verdict: Verdict.CannotTell, Remedy: { Kind: RemedyKind.FurtherReadings, IsExtension: true, Readings: { } more } }
            ? more : 0;

    /// <summary>Writes the verdicts as they stand, closing the check where all its readings are in.</summary>
    /// <returns>Whether the declared extension may be taken.</returns>
    public static bool Write(CheckRows rows, Instant now)
    {
        if (rows.Check.State == CheckState.Open && rows.Complete)
        {
            rows.Check.State = CheckState.Closed;
            rows.Check.ClosedAt = now;
        }
        var canExtend = false;
        foreach (var level in rows.Levels)
        {
            var judgement = Judge(rows, level);
            canExtend |= Extension(rows, judgement) > 0;
            // without a known value a series has its mean and scatter, and no bias
            var known = rows.Check.SteadyWater ? null : judgement;
            level.Row.Verdict = known?.Verdict;
            level.Row.Matters = known?.Matters ?? false;
            level.Row.JudgedReplicates = judgement?.N ?? 0;
            level.Row.Mean = judgement?.Mean;
            level.Row.Sd = judgement?.Sd;
            level.Row.HasLimits = judgement?.Censored > 0;
            level.Row.Bias = known?.Bias.Value;
            level.Row.BiasLow = known?.Bias.Low;
            level.Row.BiasHigh = known?.Bias.High;
        }
        rows.Check.Verdict = rows.Check.State == CheckState.Open ? null : Over(rows);
        var difference = rows.Check.State == CheckState.Open ? null : Difference(rows);
        rows.Check.Difference = difference?.Difference?.Value;
        rows.Check.DifferenceLow = difference?.Low;
        rows.Check.DifferenceHigh = difference?.High;
        rows.Check.DifferenceVerdict = difference?.Verdict;
        return canExtend;
    }
}
