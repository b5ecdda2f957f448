namespace Knownwater.Drift;

/// <summary>The bias of the method while certain lots were in use.</summary>
/// <param name="Lots">Lots in use together.</param>
/// <param name="Bias">Combined bias of their checks, against the known zero, in tolerances; of a lot without a check, by a changeover from one that has.</param>
/// <param name="Changeovers">Number of changeovers in it.</param>
public sealed record LotBias(IReadOnlyList<string> Lots, CombinedBias Bias, int Changeovers);
