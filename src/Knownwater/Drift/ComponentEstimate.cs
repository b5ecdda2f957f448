using Knownwater.Statistics;

namespace Knownwater.Drift;

/// <summary>A standard deviation as it is known from the checks and its prior.</summary>
/// <param name="Value">Posterior median, in the unit of the level it is given for.</param>
/// <param name="Interval">95 % interval, in the same unit.</param>
public readonly record struct ComponentEstimate(double Value, Interval Interval)
{
    internal ComponentEstimate Times(double factor) => new(Value * factor, new Interval(Interval.Low * factor, Interval.High * factor));
}
