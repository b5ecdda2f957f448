using Knownwater.Quantities;

namespace Knownwater.Checks;

/// <summary>One replicate: an indication of the instrument on the reference water (VIM 4.1).</summary>
/// <param name="Value">The number shown, in the reporting form of the level; the limit where it is censored. Finite.</param>
/// <param name="Censoring">Whether the display gave the number itself, or only that it lies below or above it.</param>
public readonly record struct Indication(double Value, Censoring Censoring = Censoring.None)
{
    /// <summary>The least value that the display leaves open: the number itself, or for “below” the lesser of zero and the limit.</summary>
    internal double Least => Censoring == Censoring.Below ? Math.Min(0, Value) : Value;

    /// <summary>The greatest value that the display leaves open; positive infinity for “above”.</summary>
    internal double Greatest => Censoring == Censoring.Above ? double.PositiveInfinity : Value;
}
