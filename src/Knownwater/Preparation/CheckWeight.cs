namespace Knownwater.Preparation;

/// <summary>A weight of known class, which proves a balance.</summary>
/// <param name="Class">Class of accuracy: F1, M1, M2.</param>
/// <param name="Standard">The standard, OIML R 111-1.</param>
/// <param name="Grams">Nominal mass, g.</param>
/// <param name="Limit">Limit of error to both sides, g.</param>
/// <param name="Status">How well the limit is known: “confirmed” or “from memory”.</param>
public sealed record CheckWeight(string Class, string Standard, double Grams, double Limit, string Status);
