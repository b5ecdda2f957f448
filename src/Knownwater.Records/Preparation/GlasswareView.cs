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

    /// <summary>The piece as the library takes it, with its proofs.</summary>
    public required Glassware Piece { get; init; }
}
