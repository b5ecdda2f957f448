using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>One bias from several checks by generalised least squares with their whole covariance, in tolerances.</summary>
/// <param name="Value">Combined bias.</param>
/// <param name="StandardUncertainty">Its standard uncertainty.</param>
/// <param name="Interval">95 % interval.</param>
/// <param name="Checks">Number of checks in it.</param>
public sealed record CombinedBias(double Value, double StandardUncertainty, Interval Interval, int Checks)
{
    internal static CombinedBias Of(List<(double Weight, double Value, double Sd)> parts, int checks)
    {
        var total = parts.Sum(p => p.Weight);
        var mean = parts.Sum(p => p.Weight * p.Value) / total;
        var variance = parts.Sum(p => p.Weight * (p.Sd * p.Sd + (p.Value - mean) * (p.Value - mean))) / total;
        return new CombinedBias(mean, Math.Sqrt(variance), NormalMixture.Interval(parts, 0.95), checks);
    }
}
