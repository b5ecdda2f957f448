namespace Knownwater.Preparation;

/// <summary>What the model needs to know of a step besides its numbers.</summary>
internal readonly record struct StepForm(bool AliquotIsMass, bool MadeIsMass, bool IsTotal, bool PureWater, double WaterDensity);
