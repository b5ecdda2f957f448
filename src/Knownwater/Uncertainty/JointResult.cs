namespace Knownwater.Uncertainty;

/// <summary>The joint distribution of several output quantities by Monte Carlo, summed up (JCGM 102:2011, 7.6).</summary>
/// <param name="Outputs">Each output by itself, in the order of the model.</param>
/// <param name="Covariance">Their covariance matrix, with the variances on the diagonal.</param>
public sealed record JointResult(IReadOnlyList<MonteCarloResult> Outputs, double[,] Covariance);
