using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>Another parameter of a known water: what the stock brought into it.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Added">How much was added, in <paramref name="Form"/>; negative where it was taken away.</param>
/// <param name="Form">Form of the amount.</param>
public sealed record OtherParameter(string Name, double Added, ReportingForm Form);
