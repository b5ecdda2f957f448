namespace Knownwater.Checks;

/// <summary>A scale on which a hand kit is read in steps.</summary>
public interface IReadingScale
{
    /// <summary>Width of the step at a value, in the unit of the scale, as the interval of a check takes it.</summary>
    /// <param name="value">A value read, or a known value about which one will be read.</param>
    double ResolutionAt(double value);
}
