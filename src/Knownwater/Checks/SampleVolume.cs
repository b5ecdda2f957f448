using Knownwater.Quantities;

namespace Knownwater.Checks;

/// <summary>What a wrong sample volume does to an indication.</summary>
/// <remarks>
/// A colour that the reagents make is thinned by them: the indication of a photometric method goes with Vs/(Vs + Vr), the share of sample
/// in the mixture. A titration counts what the sample holds: its indication goes with Vs itself. Closed forms; for the photometric one
/// absorbance in proportion to concentration (Beer and Lambert) and a reagent in excess are assumed.
/// </remarks>
public static class SampleVolume
{
    /// <summary>Relative change of a photometric indication for a small relative change of the sample volume: Vr/(Vs + Vr).</summary>
    /// <param name="sample">Sample volume Vs that the method asks for; above zero.</param>
    /// <param name="reagent">Volume Vr of all reagents together; zero or above.</param>
    /// <returns>A ratio from 0 (no reagent) to below 1 (nearly all reagent); a titration has 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A volume lies outside its limit.</exception>
    public static double PhotometricSensitivity(Volume sample, Volume reagent)
    {
        Above(sample, nameof(sample), "The sample volume");
        NotBelow(reagent);
        return reagent.Millilitres / (sample.Millilitres + reagent.Millilitres);
    }

    /// <summary>Relative bias of a photometric indication where another volume was taken than the method asks for, exact for any size: [V/(V + Vr)]/[Vs/(Vs + Vr)] − 1.</summary>
    /// <param name="taken">Volume V that was taken; zero or above.</param>
    /// <param name="sample">Sample volume Vs that the method asks for; above zero.</param>
    /// <param name="reagent">Volume Vr of all reagents together; zero or above.</param>
    /// <returns>The relative bias: −0.01 for one per cent low.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A volume lies outside its limit.</exception>
    public static double PhotometricBias(Volume taken, Volume sample, Volume reagent)
    {
        Above(sample, nameof(sample), "The sample volume");
        Taken(taken);
        NotBelow(reagent);
        // the same as in the summary, over one denominator: exact zero for the right volume, and −1 for none
        var (v, vs, vr) = (taken.Millilitres, sample.Millilitres, reagent.Millilitres);
        return v == 0 ? -1 : (v - vs) * vr / (vs * (v + vr));
    }

    /// <summary>Relative bias of a titration where another volume was taken than the method asks for: V/Vs − 1, the volume error in full.</summary>
    /// <param name="taken">Volume V that was taken; zero or above.</param>
    /// <param name="sample">Sample volume Vs that the method asks for; above zero.</param>
    /// <returns>The relative bias: −0.01 for one per cent low.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A volume lies outside its limit.</exception>
    public static double TitrationBias(Volume taken, Volume sample)
    {
        Above(sample, nameof(sample), "The sample volume");
        Taken(taken);
        return (taken.Millilitres - sample.Millilitres) / sample.Millilitres;
    }

    private static void Above(Volume value, string name, string what)
    {
        if (value <= Volume.Zero)
            throw new ArgumentOutOfRangeException(name, value, $"{what} is {value}, but it must be above 0 mL. The method’s instructions have it.");
    }

    private static void Taken(Volume taken)
    {
        if (taken < Volume.Zero)
            throw new ArgumentOutOfRangeException(nameof(taken), taken, $"The volume taken is {taken}, but it must be 0 mL or more.");
    }

    private static void NotBelow(Volume reagent)
    {
        if (reagent < Volume.Zero)
            throw new ArgumentOutOfRangeException(nameof(reagent), reagent, $"The reagent volume is {reagent}, but it must be 0 mL or more. Add up all reagents that go into the sample.");
    }
}
