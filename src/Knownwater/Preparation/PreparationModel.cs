using Knownwater.Uncertainty;

namespace Knownwater.Preparation;

/// <summary>The measurement model of a preparation, written once for every number type.</summary>
/// <remarks>
/// <para>Inputs in order: temperature deviation θ; the stock (its concentration c₀; or mass m, purity P and volume V of a weighed salt, c₀ = k·m·P/(V·(1 − αθ))); the background b; density of
/// the stock ρ₀ and of the matrix ρ; then for each step the aliquot, what it is made up to or poured into, and the mixing factor.</para>
/// <para>A volume holds at the nominal temperature of the bench: V(1 − αθ), the same θ in every vessel of the preparation, so that it cancels between aliquot and flask. A mass read in air is
/// m·(1 − ρ_air/ρ_weights)/(ρ − ρ_air) of volume (proving by weighing; ρ_air 1.2 kg/m³, ρ_weights 8000 kg/m³, OIML R 111). A step: Vₐ of c joins D of diluent,
/// c′ = (c·Vₐ + b·D)/(Vₐ + D)·(1 + μ), with D = V_total − Vₐ where it is made up to the mark.</para>
/// </remarks>
internal readonly struct PreparationModel(StepForm[] steps, double? saltYield, double expansion) : IModel
{
    private const double Air = 1.2e-3;
    private const double Weights = 8.0;

    public int Inputs => 1 + (saltYield is null ? 1 : 3) + 3 + 3 * steps.Length;

    public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T>
    {
        var k = 0;
        T room = 1.0 - expansion * x[k++];
        T c;
        if (saltYield is { } yield)
        {
            c = yield * x[k] * x[k + 1] / (x[k + 2] * room);
            k += 3;
        }
        else
        {
            c = x[k++];
        }
        T background = x[k++], stockDensity = x[k++], matrixDensity = x[k++];
        // the density of what is carried from step to step
        var carried = stockDensity;
        foreach (var step in steps)
        {
            T aliquot = x[k], made = x[k + 1], mixing = x[k + 2];
            k += 3;
            var diluent = step.PureWater ? step.WaterDensity : matrixDensity;
            T taken = step.AliquotIsMass ? Volume(aliquot, carried) : aliquot * room;
            T added = step.MadeIsMass
                ? (step.IsTotal
                    ? (step.AliquotIsMass ? Volume(made - aliquot, diluent) : Volume(made, diluent) - taken * ((carried - Air) / (diluent - Air)))
                    : Volume(made, diluent))
                : step.IsTotal ? made * room - taken : made * room;
            var mass = taken * carried + added * diluent;
            var total = taken + added;
            c = step.PureWater ? c * taken / total : (c * taken + background * added) / total;
            c = c * (1.0 + mixing);
            carried = mass / total;
        }
        return c;
    }

    /// <summary>Volume, mL, of a mass read in air, as plain numbers.</summary>
    public static double Millilitres(double grams, double density) => grams * (1 - Air / Weights) / (density - Air);

    /// <summary>What a balance shows in air for a volume, g.</summary>
    public static double Grams(double millilitres, double density) => millilitres * (density - Air) / (1 - Air / Weights);

    /// <summary>Volume, mL, of a mass read in air.</summary>
    internal static T Volume<T>(T grams, T density) where T : IReal<T> => grams * (1 - Air / Weights) / (density - Air);
}
