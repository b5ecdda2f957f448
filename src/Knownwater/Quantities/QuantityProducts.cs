using Knownwater.Uncertainty;

namespace Knownwater.Quantities;

#pragma warning disable CA1708 // extension blocks have no names that could differ

/// <summary>Products and quotients of estimates that are quantities of another kind: the few a preparation needs, by name of their types.</summary>
/// <remarks>
/// Mass ÷ volume is a mass concentration, of the analyte in the solution; a density is measured or computed and enters as such. Base units are mg/L, mmol/L, mg/kg, mmol/kg, mL, g and kg/m³;
/// the powers of ten between them are in the formulas.
/// </remarks>
public static class QuantityProducts
{
    extension(Estimate<Mass>)
    {
        /// <summary>Mass of the analyte over the volume of the solution.</summary>
        /// <param name="m">Mass of the analyte.</param>
        /// <param name="v">Volume of the solution, not zero.</param>
        public static Estimate<MassConcentration> operator /(Estimate<Mass> m, Estimate<Volume> v) => new(m.Number / v.Number * 1e6);

        /// <summary>Volume that a mass of liquid takes.</summary>
        /// <param name="m">Mass of the liquid.</param>
        /// <param name="density">Its density, not zero.</param>
        public static Estimate<Volume> operator /(Estimate<Mass> m, Estimate<Density> density) => new(m.Number / density.Number * 1e3);

        /// <summary>Mass of the analyte in a mass of solution.</summary>
        /// <param name="m">Mass of the solution.</param>
        /// <param name="content">Mass content of the analyte.</param>
        public static Estimate<Mass> operator *(Estimate<Mass> m, Estimate<MassContent> content) => new(m.Number * content.Number * 1e-6);
    }

    extension(Estimate<MassConcentration>)
    {
        /// <summary>Mass of the analyte in a volume of solution.</summary>
        /// <param name="c">Mass concentration.</param>
        /// <param name="v">Volume of the solution.</param>
        public static Estimate<Mass> operator *(Estimate<MassConcentration> c, Estimate<Volume> v) => new(c.Number * v.Number * 1e-6);

        /// <summary>Mass content of a solution of known density.</summary>
        /// <param name="c">Mass concentration.</param>
        /// <param name="density">Density of the solution, not zero.</param>
        public static Estimate<MassContent> operator /(Estimate<MassConcentration> c, Estimate<Density> density) => new(c.Number / density.Number * 1e3);
    }

    extension(Estimate<MassContent>)
    {
        /// <summary>Mass concentration of a solution of known density.</summary>
        /// <param name="w">Mass content.</param>
        /// <param name="density">Density of the solution.</param>
        public static Estimate<MassConcentration> operator *(Estimate<MassContent> w, Estimate<Density> density) => new(w.Number * density.Number * 1e-3);
    }

    extension(Estimate<AmountConcentration>)
    {
        /// <summary>Amount content of a solution of known density.</summary>
        /// <param name="c">Amount concentration.</param>
        /// <param name="density">Density of the solution, not zero.</param>
        public static Estimate<AmountContent> operator /(Estimate<AmountConcentration> c, Estimate<Density> density) => new(c.Number / density.Number * 1e3);
    }

    extension(Estimate<AmountContent>)
    {
        /// <summary>Amount concentration of a solution of known density.</summary>
        /// <param name="b">Amount content.</param>
        /// <param name="density">Density of the solution.</param>
        public static Estimate<AmountConcentration> operator *(Estimate<AmountContent> b, Estimate<Density> density) => new(b.Number * density.Number * 1e-3);
    }

    extension(Estimate<Density>)
    {
        /// <summary>Mass of a volume of liquid.</summary>
        /// <param name="density">Density of the liquid.</param>
        /// <param name="v">Its volume.</param>
        public static Estimate<Mass> operator *(Estimate<Density> density, Estimate<Volume> v) => new(density.Number * v.Number * 1e-3);
    }
}
