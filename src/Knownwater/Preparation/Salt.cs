using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>What is known of a salt before it is weighed.</summary>
/// <remarks>Words for people, in short sentences; its data sheet outranks them.</remarks>
public sealed record Salt
{
    /// <summary>What is weighed, hydrate water included.</summary>
    public required ChemicalFormula Formula { get; init; }

    /// <summary>Its name: “potassium nitrate”.</summary>
    public required string Name { get; init; }

    /// <summary>Usual purity in words.</summary>
    public required string Purity { get; init; }

    /// <summary>Grams of <see cref="SolubilityOf"/> that dissolve in 100 g of water; null where not known.</summary>
    public double? SolubilityGramsPer100Grams { get; init; }

    /// <summary>What the solubility counts: the salt itself, or the salt without its water; null where not known.</summary>
    public ChemicalFormula? SolubilityOf { get; init; }

    /// <summary>At what temperature, and “from memory” where the figure was not read again.</summary>
    public required string SolubilityAt { get; init; }

    /// <summary>How it is dried, and how it takes up or loses water.</summary>
    public required string Drying { get; init; }

    /// <summary>What it does to people; may be empty.</summary>
    public required string Hazard { get; init; }

    /// <summary>Kinds of tank that it may be dosed to: <c>reef</c>, <c>fish_only</c>, <c>planted</c>, <c>hard_water</c>; empty: never.</summary>
    public required IReadOnlyList<string> MayBeDosedIn { get; init; }

    /// <summary>Why it is not weighed at home; null where it may be.</summary>
    public string? WhyNotAtHome { get; init; }

    /// <summary>What does instead; null where it may be weighed.</summary>
    public string? Instead { get; init; }

    /// <summary>Why its mass is no reference; null where it is one.</summary>
    public string? WhyUnfit { get; init; }

    /// <summary>How long it and its solution keep.</summary>
    public required string Storage { get; init; }

    /// <summary>Most grams of what is weighed that surely dissolve in a litre of solution; null where not known.</summary>
    /// <remarks>From s grams in 100 g of water: 10·s grams in 1000 + 10·s grams of solution, whose density is taken as that of water. A strong solution is heavier, so that a little more dissolves than is said.</remarks>
    public double? MostGramsPerLitre => SolubilityGramsPer100Grams is { } s && SolubilityOf is { } counted
        ? 1000 * s / (100 + s) * Formula.MolarMassGramsPerMole / counted.MolarMassGramsPerMole
        : null;
}
