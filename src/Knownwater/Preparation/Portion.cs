using Knownwater.Statistics;

namespace Knownwater.Preparation;

/// <summary>How much is taken or made: a volume or a mass as read.</summary>
/// <param name="Size">mL, or g as a balance shows it in air; above zero.</param>
/// <param name="IsMass">Whether it is a mass.</param>
public readonly record struct Portion(double Size, bool IsMass)
{
    /// <summary>“mL” or “g”.</summary>
    public string Unit => IsMass ? "g" : "mL";

    /// <summary>A volume.</summary>
    /// <param name="millilitres">mL, finite.</param>
    public static Portion Volume(double millilitres) => new(Require.Finite(millilitres), false);

    /// <summary>A mass as a balance shows it.</summary>
    /// <param name="grams">g, finite.</param>
    public static Portion Mass(double grams) => new(Require.Finite(grams), true);
}
