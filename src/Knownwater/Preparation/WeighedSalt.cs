using System.Globalization;
using Knownwater.Quantities;
using Knownwater.Seawater;
using Knownwater.Uncertainty;

namespace Knownwater.Preparation;

/// <summary>A salt weighed, dissolved and made up to a volume.</summary>
public sealed record WeighedSalt
{
    /// <summary>Formula of what is weighed, hydrate water included.</summary>
    public required ChemicalFormula Formula { get; init; }

    /// <summary>Mass, g, with its sources.</summary>
    public required Estimate Mass { get; init; }

    /// <summary>Part of the mass that is the salt, 0 to 1, with its sources.</summary>
    public required Estimate Purity { get; init; }

    /// <summary>Volume it is made up to, mL, with its sources.</summary>
    public required Estimate Volume { get; init; }

    /// <summary>Volume of a solution that was made up on a balance, from what the balance shows of it in air.</summary>
    /// <remarks>
    /// V = m·(1 − a/w)/(ρ − a), with the conventional densities a of air and w of weights. Where the density is not stated, it lies between
    /// that of pure water at 20 °C and that times 1 + the mass fraction of the salt, because a dissolved salt adds its mass and, at the
    /// strengths of stocks, takes no less volume than none; all between are equally likely, and 0.05 % to both sides stand for the temperature of a room.
    /// </remarks>
    /// <param name="total">Reading of the whole solution without its bottle, g, above zero, with its sources.</param>
    /// <param name="salt">Mass of the salt in it, g, above zero.</param>
    /// <param name="density">Density of the solution, g/mL, with its sources; null where it is not stated.</param>
    /// <param name="owner">Identity of the solution: its density is its own.</param>
    /// <returns>The volume, mL.</returns>
    /// <exception cref="PreparationException">The solution is not heavier than the salt in it, or is lighter than air.</exception>
    public static Estimate VolumeOf(Estimate total, double salt, Estimate? density, Guid owner)
    {
        if (!(total.Value > salt && salt > 0))
            throw new PreparationException($"The solution weighs {total.Value.ToString("0.######", CultureInfo.InvariantCulture)} g in all, but {salt.ToString("0.######", CultureInfo.InvariantCulture)} g of salt are in it. Write the mass of salt and water together.");
        if (density is { Value: <= 0.01 } light)
            throw new PreparationException($"A density of {light.Value.ToString("0.######", CultureInfo.InvariantCulture)} g/mL is none of a solution. Write it as in 1.004.");
        if (density is not { } stated)
        {
            var (water, half) = (PureWater.DensityKilogramsPerCubicMetre(20) / 1000, salt / total.Value / 2);
            stated = Estimate.From(water * (1 + half), ErrorSource.Rectangular("density of the solution, not stated", water * (half + 0.0005), "g/mL", SourceIdentity.Of(owner, "density")));
        }
        return PreparationModel.Volume(total, stated);
    }
}
