using Knownwater.Quantities;
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
}
