using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>One salt of an artificial seawater, at its turn.</summary>
/// <param name="Turn">When it is dissolved: 1 the main salts, 2 magnesium, 3 calcium and strontium, 4 bicarbonate.</param>
/// <param name="Formula">What is weighed.</param>
/// <param name="Name">Its name.</param>
/// <param name="Grams">How much, g.</param>
public sealed record SeawaterMixLine(int Turn, ChemicalFormula Formula, string Name, double Grams);
