namespace Knownwater.Checks;

/// <summary>One level of a check: what was fixed beforehand, and what its replicates say.</summary>
/// <param name="Plan">The plan; its reference keeps its error sources, so that waters from one stock share that stock's error.</param>
/// <param name="Judgement">The judgement of <see cref="LevelCheck.Judge"/> on that plan.</param>
public sealed record JudgedLevel(LevelPlan Plan, LevelJudgement Judgement);
