namespace Knownwater.Uncertainty;

/// <summary>What the interaction of two sources, or the curvature along one, adds to the variance of an output.</summary>
/// <param name="First">The one source.</param>
/// <param name="Second">The other source; the same one for a curvature.</param>
/// <param name="Variance">What it adds to u², in the squared unit of the output; it may be negative.</param>
public readonly record struct SecondOrderTerm(ErrorSource First, ErrorSource Second, double Variance);
