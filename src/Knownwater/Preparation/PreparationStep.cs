namespace Knownwater.Preparation;

/// <summary>One step: an aliquot, made up to a total or poured into a measured amount of water.</summary>
public sealed record PreparationStep
{
    /// <summary>Identity of the step as done: what belongs to it alone follows from it.</summary>
    public required Guid Id { get; init; }

    /// <summary>What is taken of the solution before.</summary>
    public required Portion Aliquot { get; init; }

    /// <summary>The piece it is measured with; a balance where it is weighed.</summary>
    public required Glassware With { get; init; }

    /// <summary>What it is made up to, or what it is poured into.</summary>
    public required Portion Made { get; init; }

    /// <summary>Whether <see cref="Made"/> is the total; else it is the water that the aliquot joins.</summary>
    public bool IsTotal { get; init; } = true;

    /// <summary>The piece that <see cref="Made"/> is measured with; a balance where it is weighed.</summary>
    public required Glassware In { get; init; }

    /// <summary>What it is filled up with.</summary>
    public Diluent Diluent { get; init; }
}
