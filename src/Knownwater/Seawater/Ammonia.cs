using Knownwater.Uncertainty;

namespace Knownwater.Seawater;

/// <summary>The un-ionised part of total ammonia, which harms animals.</summary>
/// <remarks>
/// <para>Fraction 1/(1 + 10^(pKa − pH)). In fresh water pKa = 0.09018 + 2729.92/T, Emerson, Russo, Lund &amp; Thurston 1975; in seawater pKa = 10.0423 − 0.0315536 t + 0.003071 S,
/// Bell, Eckert &amp; others 2007 with the corrigendum of 2008.</para>
/// <para>The scale of pH behind the second is not certain: equations on the total scale give a pKa lower by about 0.1 and a fraction higher by about a quarter. For a warning take
/// <see cref="LowestPka"/>, not the middle.</para>
/// </remarks>
public static class Ammonia
{
    /// <summary>Highest salinity that counts as fresh, 0.5: below it the equation for fresh water holds.</summary>
    public const double FreshUpTo = 0.5;

    /// <summary>pKa of the ammonium ion.</summary>
    /// <param name="temperatureCelsius">Temperature, °C; 0 to 50 in fresh water, 0 to 40 in seawater.</param>
    /// <param name="practicalSalinity">Practical Salinity, 0 to 45; null or up to 0.5 is fresh water.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside the range of the equation.</exception>
    public static double Pka(double temperatureCelsius, double? practicalSalinity = null)
    {
        if (practicalSalinity is not (> FreshUpTo))
        {
            if (practicalSalinity is { } fresh)
                Range.Require(fresh, 0, FreshUpTo, "salinity", "", "fresh water", nameof(practicalSalinity));
            Range.Require(temperatureCelsius, 0, 50, "temperature", "°C", "the ammonia equation of fresh water", nameof(temperatureCelsius));
            return 0.09018 + 2729.92 / (temperatureCelsius + 273.15);
        }
        Range.Require(temperatureCelsius, 0, 40, "temperature", "°C", "the ammonia equation of seawater", nameof(temperatureCelsius));
        Range.Require(practicalSalinity.Value, FreshUpTo, 45, "salinity", "", "the ammonia equation of seawater", nameof(practicalSalinity));
        return 10.0423 - 0.0315536 * temperatureCelsius + 0.003071 * practicalSalinity.Value;
    }

    /// <summary>The pKa that a warning rests on, because a lower one means more un-ionised ammonia: in seawater lower by 0.105, what equations on the total scale give at 25 °C and salinity 35.</summary>
    /// <param name="temperatureCelsius">As for <see cref="Pka"/>.</param>
    /// <param name="practicalSalinity">As for <see cref="Pka"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument lies outside the range of the equation.</exception>
    public static double LowestPka(double temperatureCelsius, double? practicalSalinity = null) =>
        Pka(temperatureCelsius, practicalSalinity) - (practicalSalinity is > FreshUpTo ? 0.105 : 0);

    /// <summary>Part of total ammonia that is un-ionised, 0 to 1.</summary>
    /// <param name="pH">pH, 0 to 14.</param>
    /// <param name="pka">pKa at temperature and salinity.</param>
    /// <exception cref="ArgumentOutOfRangeException">The pH lies outside 0 to 14.</exception>
    public static double FractionUnionised(double pH, double pka)
    {
        Range.Require(pH, 0, 14, "pH", "", "the ammonia equilibrium", nameof(pH));
        return 1 / (1 + Math.Pow(10, pka - pH));
    }

    /// <summary>The same for estimates: fraction with the sources of both.</summary>
    /// <param name="pH">pH, 0 to 14.</param>
    /// <param name="pka">pKa.</param>
    /// <exception cref="ArgumentOutOfRangeException">The pH lies outside 0 to 14.</exception>
    public static Estimate FractionUnionised(Estimate pH, Estimate pka)
    {
        Range.Require(pH.Value, 0, 14, "pH", "", "the ammonia equilibrium", nameof(pH));
        return 1 / (1 + Estimate.Exp(Math.Log(10) * (pka - pH)));
    }
}
