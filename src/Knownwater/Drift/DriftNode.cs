namespace Knownwater.Drift;

/// <summary>One point of the grid over the unknown standard deviations.</summary>
/// <param name="Between">Standard deviation between checks, in tolerances.</param>
/// <param name="Within">Standard deviation within checks at the middle level, in the unit of the history.</param>
/// <param name="Share">Share (b·c)²/s² of the part that grows with the level, at the middle level.</param>
/// <param name="Walk">Standard deviation of a random walk in one day, in tolerances.</param>
/// <param name="LogPrior">Logarithm of the prior mass at this point, with the likelihood of the standard deviations within checks.</param>
internal readonly record struct DriftNode(double Between, double Within, double Share, double Walk, double LogPrior);
