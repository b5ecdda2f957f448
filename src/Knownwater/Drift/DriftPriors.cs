using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>What is taken to be so of a method before its first check. Standard deviations are in tolerances.</summary>
/// <remarks>
/// All are weak and from memory or common practice, none is fitted to data; docs/explanation/drift.md gives the reason for each. The half-t form for the standard deviation between checks follows Gelman
/// 2006 (Bayesian Analysis 1, 515).
/// </remarks>
public sealed record DriftPriors
{
    /// <summary>Scale of the half-t distribution of the standard deviation between checks; 0.25.</summary>
    public double BetweenScale { get => field; init => field = Require.Positive(value); } = 0.25;

    /// <summary>Degrees of freedom of that half-t distribution; 3. Infinite gives the half-normal one.</summary>
    public double BetweenDof { get => field; init => field = Require.Dof(value); } = 3;

    /// <summary>Degrees of freedom that a typical standard deviation within checks counts for; 6.</summary>
    public double TypicalDof { get => field; init => field = Require.FiniteDof(value); } = 6;

    /// <summary>Standard deviation of the steady bias of a method about zero; 3.</summary>
    public double LevelSd { get => field; init => field = Require.Positive(value); } = 3;

    /// <summary>Standard deviation of the difference of that bias between the lowest and the highest level checked; 1.</summary>
    public double SlopeSd { get => field; init => field = Require.Positive(value); } = 1;

    /// <summary>Scale of the half-normal distribution of a random walk of the bias, as its standard deviation after one day; 0.04, so 0.22 after thirty days.</summary>
    public double WalkScale { get => field; init => field = Require.Positive(value); } = 0.04;
}
