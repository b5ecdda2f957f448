using Knownwater.Preparation;
using Knownwater.Quantities;

namespace Knownwater.Checks;

/// <summary>The slips that can be made with a parameter, by molar mass, thousand, hydrate and density.</summary>
public static class Slips
{
    // ratios nearer to one another than this are one slip
    private const double Same = 1e-4;

    /// <summary>Slips in play for a check.</summary>
    /// <param name="parameter">What is measured.</param>
    /// <param name="form">Reporting form of the check.</param>
    /// <param name="state">Salinity and temperature of the known water; null where they are not known: then nothing is said of mass for volume.</param>
    /// <param name="weighed">The salt that the stock was weighed from; null where it was bought.</param>
    /// <returns>Each ratio and its inverse; of slips with the same ratio the first.</returns>
    /// <remarks>
    /// Forms: the usual forms of the parameter, and “as N”, “as P” and the ion where the form is one of them, converted by molar mass (IUPAC 2021 abridged weights). Per litre against per kilogram is the
    /// density of the water. Hydrates: the ratio of the molar masses of the listed hydrates of one salt; the stock is stronger than it is held to where the drier salt was weighed.
    /// </remarks>
    public static IReadOnlyList<Slip> For(Parameter parameter, ReportingForm form, WaterState? state = null, ChemicalFormula? weighed = null)
    {
        ArgumentNullException.ThrowIfNull(parameter);
        ArgumentNullException.ThrowIfNull(form);
        var slips = new List<Slip>();
        foreach (var other in parameter.Forms.Where(f => f != form && PerKilogram(f) == PerKilogram(form)))
        {
            if (Ratio(form, other, parameter, state) is not { } ratio)
                continue;
            AddBoth(Fault.WrongForm, ratio, form.Display, other.Display);
        }
        if (CountsMassOrAmount(form))
            AddBoth(Fault.WrongThousand, 1000, form.Display, "a thousandth of it");
        if (state is not null && Density(form, state) is { } density && Math.Abs(density - 1) > 0.005)
            AddBoth(Fault.MassForVolume, density, "per litre", "per kilogram");
        if (weighed is not null)
        {
            var dry = weighed.Text.Split('.')[0];
            foreach (var other in Salts.All.Select(s => s.Formula).Where(f => f.Text != weighed.Text && f.Text.Split('.')[0] == dry))
            {
                // weighed by the mass of one formula, it was the other: so many more moles
                Add(Fault.WrongHydrate, weighed.MolarMassGramsPerMole / other.MolarMassGramsPerMole, weighed.Display, other.Display);
            }
        }
        return slips;

        void AddBoth(Fault kind, double ratio, string meant, string taken)
        {
            Add(kind, ratio, meant, taken);
            Add(kind, 1 / ratio, taken, meant);
        }

        void Add(Fault kind, double ratio, string meant, string taken)
        {
            if (Math.Abs(ratio - 1) > Same && !slips.Any(s => Math.Abs(s.Ratio / ratio - 1) < Same))
                slips.Add(new Slip(kind, ratio, meant, taken));
        }
    }

    private static bool CountsMassOrAmount(ReportingForm form) => form.Kind is FormKind.MassConcentration or FormKind.MassContent or FormKind.AmountConcentration or FormKind.AmountContent;

    private static bool PerKilogram(ReportingForm form) => form.Kind is FormKind.MassContent or FormKind.AmountContent or FormKind.ChargeContent;

    private static double? Ratio(ReportingForm from, ReportingForm to, Parameter parameter, WaterState? state)
    {
        try
        {
            return FormConversion.Convert(1, from, to, state, parameter).Value;
        }
        catch (Exception e) when (e is FormConversionException or MissingWaterStateException)
        {
            return null;
        }
    }

    /// <summary>Kilograms of water in a litre, from the conversion of the form's own unit.</summary>
    private static double? Density(ReportingForm form, WaterState state)
    {
        var volume = ReportingForm.Parse("mg/L NO3");
        return CountsMassOrAmount(form) || form.Kind is FormKind.ChargeConcentration or FormKind.ChargeContent
            ? 1 / FormConversion.Convert(1, volume, ReportingForm.Parse("mg/kg NO3"), state).Value
            : null;
    }
}
