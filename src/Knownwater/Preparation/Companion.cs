using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>What else a stock brings into the water: counter-ion, preservative, acid.</summary>
/// <remarks>The amount in the prepared water follows by the same dilution, with the same error sources. Alkalinity taken by an acid is a negative amount.</remarks>
/// <param name="Species">What it is, for people: a species, or a parameter such as “alkalinity”.</param>
/// <param name="PerLitreOfStock">Its concentration in the stock, in <paramref name="Form"/>; finite, negative where the stock takes something away.</param>
/// <param name="Form">Unit and species of the number; per litre.</param>
public sealed record Companion(string Species, double PerLitreOfStock, ReportingForm Form);
