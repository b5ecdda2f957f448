using Knownwater.Statistics;

namespace Knownwater.Preparation;

/// <summary>How much is taken or made: a volume or a mass as read.</summary>
/// <param name="Size">mL, or g as a balance shows it in air; above zero.</param>
/// <param name="IsMass">Whether it is a mass.</param>
public readonly record struct Portion(double Size, bool IsMass)
{
    /// <summary>“mL” or “g”.</summary>
    public string Unit => IsMass ? "g" : "mL";

    /// <summary>A volume.</summary>
    /// <param name="millilitres">mL, finite.</param>
    public static Portion Volume(double millilitres) => new(Require.Finite(millilitres), false);

    /// <summary>A mass as a balance shows it.</summary>
    /// <param name="grams">g, finite.</param>
    public static Portion Mass(double grams) => new(Require.Finite(grams), true);
}

/// <summary>What a step is filled up with.</summary>
public enum Diluent
{
    /// <summary>The nutrient-free water of the matrix, with its background.</summary>
    Matrix,

    /// <summary>Purified water, taken as free of the analyte.</summary>
    PureWater,
}

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
