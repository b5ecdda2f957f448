using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Preparation;

/// <summary>What known water is made from: a certified solution, or a salt weighed and made up.</summary>
public sealed record StockSolution
{
    /// <summary>What stands on the bottle.</summary>
    public required string Name { get; init; }

    /// <summary>Concentration of the analyte in the plan's form, with its sources; null for a weighed salt.</summary>
    public Estimate? Concentration { get; init; }

    /// <summary>The weighed salt; null for a certified solution.</summary>
    public WeighedSalt? Salt { get; init; }

    /// <summary>Density at the bench, g/mL, with its sources; null where not stated: then that of pure water, ± 0.3 % (a solution of 1 g/L is heavier by less than 0.1 %, computed for potassium nitrate).</summary>
    public Estimate? Density { get; init; }

    /// <summary>What else is in the stock.</summary>
    public IReadOnlyList<Companion> Companions { get; init; } = [];
}

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
}

/// <summary>The water that a preparation is made in.</summary>
public sealed record MatrixWater
{
    /// <summary>Seawater or fresh water.</summary>
    public required Matrix Kind { get; init; }

    /// <summary>Practical salinity; 0 for fresh water.</summary>
    public double Salinity { get; init; }

    /// <summary>Temperature at the bench, °C.</summary>
    public double TemperatureCelsius { get; init; } = 20;

    /// <summary>How much of the analyte it holds already, in the plan's form, with its sources.</summary>
    public Estimate Background { get; init; } = Estimate.Exact(0);
}

/// <summary>How far the temperature of the bench may lie from the one at which volumes hold.</summary>
/// <param name="Id">Identity of the one source that all volumes share.</param>
/// <param name="HalfRangeKelvins">Half-width of the rectangular range, K; zero or above.</param>
/// <param name="Coefficient">Volume expansion of the solution per K; 2.1·10⁻⁴ for water (QUAM, example A1).</param>
public sealed record TemperatureRange(Guid Id, double HalfRangeKelvins, double Coefficient = TemperatureRange.Water)
{
    /// <summary>Volume expansion of water near 20 °C, per K (QUAM, example A1).</summary>
    public const double Water = 2.1e-4;
}
