namespace Knownwater.Quantities;

/// <summary>One meaning that a typed number may have had.</summary>
/// <param name="Text">The number written so that it can be read in one way only.</param>
/// <param name="Value">Its value.</param>
public sealed record NumberCandidate(string Text, double Value);
