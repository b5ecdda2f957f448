namespace Knownwater.Drift;

/// <summary>A measured difference between the levels of two groups of checks.</summary>
/// <param name="From">The group it starts from.</param>
/// <param name="To">The group it ends in.</param>
/// <param name="Value">Level of the second minus level of the first.</param>
/// <param name="Variance">Its variance, above zero.</param>
internal readonly record struct GroupDifference(int From, int To, double Value, double Variance);
