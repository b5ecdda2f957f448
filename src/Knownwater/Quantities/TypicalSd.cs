namespace Knownwater.Quantities;

/// <summary>A repeatability standard deviation that follows the level: typical of a parameter, or of one's own method.</summary>
/// <remarks>s(c) = √(a² + (b·c)²), with a the scatter near zero and b the relative scatter at high levels.</remarks>
/// <param name="Absolute">a, in the unit of the form it is used with; zero or above.</param>
/// <param name="Relative">b, a fraction (0.03 means 3 %); zero or above.</param>
/// <param name="Source">Where the figures come from.</param>
/// <exception cref="ArgumentOutOfRangeException">A part is negative, NaN or infinite.</exception>
public sealed record TypicalSd(double Absolute, double Relative, string Source)
{
    /// <summary>The scatter near zero, in the unit of the form it is used with.</summary>
    public double Absolute { get; } = Checked(Absolute, nameof(Absolute));

    /// <summary>The relative scatter at high levels, as a fraction.</summary>
    public double Relative { get; } = Checked(Relative, nameof(Relative));

    /// <summary>The standard deviation at a level.</summary>
    /// <param name="level">The level, in the same unit as <see cref="Absolute"/>; finite.</param>
    /// <returns>The standard deviation of single readings, in the same unit.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The level is NaN or infinite.</exception>
    public double At(double level)
    {
        if (!double.IsFinite(level))
            throw new ArgumentOutOfRangeException(nameof(level), level, $"The level is {level}, but a standard deviation needs a finite one.");
        return double.Hypot(Absolute, Relative * level);
    }

    private static double Checked(double part, string name) =>
        double.IsFinite(part) && part >= 0
            ? part
            : throw new ArgumentOutOfRangeException(name, part, $"A standard deviation of {part} cannot be: both of its parts are zero or above.");
}
