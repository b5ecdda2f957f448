namespace Knownwater.Statistics;

/// <summary>A closed interval of numbers, in the unit of what it bounds.</summary>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit, at least the lower one.</param>
public readonly record struct Interval(double Low, double High)
{
    /// <summary>Whether a value lies inside, limits included.</summary>
    /// <param name="value">The value.</param>
    public bool Contains(double value) => Low <= value && value <= High;
}
