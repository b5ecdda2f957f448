namespace Knownwater.Checks;

/// <summary>A fault with its probability.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Probability">Its probability, 0 to 1.</param>
public sealed record FaultShare(Fault Fault, double Probability);
