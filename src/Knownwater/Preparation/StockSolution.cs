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
