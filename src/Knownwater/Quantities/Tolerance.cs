namespace Knownwater.Quantities;

/// <summary>How wrong a reading may be before one would act differently: an absolute part plus a percentage of the reference value.</summary>
/// <remarks>
/// T(c) = Absolute + Percent / 100 · |c|; the parts add. The unit of <see cref="Absolute"/> is that of the reporting form the
/// tolerance is used with. Two tolerances are equal when both parts are.
/// </remarks>
/// <param name="Absolute">The absolute part, in the unit of the form; zero or above.</param>
/// <param name="Percent">The part in percent of the reference value (5 means 5 %); zero or above.</param>
/// <exception cref="ArgumentOutOfRangeException">A part is negative, NaN or infinite.</exception>
public sealed record Tolerance(double Absolute, double Percent)
{
    /// <summary>The absolute part, in the unit of the form the tolerance is used with.</summary>
    public double Absolute { get; } = Checked(Absolute, nameof(Absolute));

    /// <summary>The part in percent of the reference value.</summary>
    public double Percent { get; } = Checked(Percent, nameof(Percent));

    /// <summary>The half-width of the tolerance at a reference value.</summary>
    /// <param name="reference">The reference value, in the same unit as <see cref="Absolute"/>; finite.</param>
    /// <returns>The half-width, in the same unit; zero or above.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The reference value is NaN or infinite.</exception>
    public double At(double reference)
    {
        if (!double.IsFinite(reference))
            throw new ArgumentOutOfRangeException(nameof(reference), reference, $"The reference value is {reference}, but a tolerance needs a finite one. Give the value of the known water.");
        return Absolute + (Percent / 100 * Math.Abs(reference));
    }

    private static double Checked(double part, string name) =>
        double.IsFinite(part) && part >= 0
            ? part
            : throw new ArgumentOutOfRangeException(name, part, $"A tolerance of {part} cannot be: both of its parts are zero or above. Give how wrong a reading may be, without a sign.");
}
