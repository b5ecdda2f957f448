using Knownwater.Preparation;
using Knownwater.Records.Checks;

namespace Knownwater.Records.Preparation;

/// <summary>A piece of glassware as a page shows it.</summary>
public sealed record GlasswareView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>What it is called.</summary>
    public required string Name { get; init; }

    /// <summary>“Piston pipette, 0.1 to 1 mL”.</summary>
    public required string KindWords { get; init; }

    /// <summary>What it is.</summary>
    public required GlasswareKind Kind { get; init; }

    /// <summary>“off by 0.008 mL at the most; 0.003 mL between deliveries”.</summary>
    public required string LimitWords { get; init; }

    /// <summary>Its figures, each a term and a value.</summary>
    public required IReadOnlyList<NumberLine> Figures { get; init; }

    /// <summary>Its proofs: open ones first, then the latest.</summary>
    public required IReadOnlyList<ProofLine> Proofs { get; init; }

    /// <summary>Its figures as they were typed.</summary>
    public required GlasswareTyped Typed { get; init; }

    /// <summary>Waters on the shelf that were made with it and would get another value with its proofs of today; empty in lists.</summary>
    public IReadOnlyList<AnewLine> Anew { get; init; } = [];

    /// <summary>The piece as the library takes it, with its proofs.</summary>
    public required Glassware Piece { get; init; }
}

/// <summary>The figures of a piece as typed, for the form that changes them.</summary>
/// <param name="Nominal">Nominal volume or capacity.</param>
/// <param name="Least">Least setting.</param>
/// <param name="Tolerance">Limit of error.</param>
/// <param name="Triangular">Whether errors near the middle are more likely.</param>
/// <param name="Repeatability">Standard deviation between deliveries.</param>
/// <param name="Readability">Display step.</param>
/// <param name="Basis">Where they come from.</param>
public sealed record GlasswareTyped(string Nominal, string Least, string Tolerance, bool Triangular, string Repeatability, string Readability, string Basis);

/// <summary>A water that may be reckoned anew.</summary>
/// <param name="Water">Its key.</param>
/// <param name="Label">Its label.</param>
/// <param name="Words">“10.02 ± 0.09 mg/L NO₃ instead of 10.01 ± 0.12 mg/L NO₃”.</param>
public sealed record AnewLine(Guid Water, string Label, string Words);
