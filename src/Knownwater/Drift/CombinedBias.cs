using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>One bias from several checks by generalised least squares with their whole covariance, in tolerances.</summary>
/// <param name="Value">Combined bias.</param>
/// <param name="StandardUncertainty">Its standard uncertainty.</param>
/// <param name="Interval">95 % interval.</param>
/// <param name="Checks">Number of checks in it.</param>
public sealed record CombinedBias(double Value, double StandardUncertainty, Interval Interval, int Checks);
