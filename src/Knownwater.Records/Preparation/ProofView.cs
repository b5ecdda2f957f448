using Knownwater.Records.Checks;

namespace Knownwater.Records.Preparation;

/// <summary>A proof as a page shows it.</summary>
public sealed record ProofView
{
    /// <summary>Its key.</summary>
    public required Guid Id { get; init; }

    /// <summary>The piece that is proven.</summary>
    public required Guid Piece { get; init; }

    /// <summary>What the piece is called.</summary>
    public required string PieceName { get; init; }

    /// <summary>“1 mL, ten deliveries one by one”.</summary>
    public required string WhatWords { get; init; }

    /// <summary>Whether it is finished.</summary>
    public required bool IsDone { get; init; }

    /// <summary>When it was begun, or finished.</summary>
    public required string WhenWords { get; init; }

    /// <summary>What to do, in order.</summary>
    public required IReadOnlyList<string> Steps { get; init; }

    /// <summary>What spoils it, where the hand is about to act.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>The weighings that are kept.</summary>
    public required IReadOnlyList<WeighingLine> Weighings { get; init; }

    /// <summary>How many are planned.</summary>
    public required int Planned { get; init; }

    /// <summary>Ordinal of the next one.</summary>
    public required int Next { get; init; }

    /// <summary>What is to be done for the next weighing, in one sentence.</summary>
    public required string NextAct { get; init; }

    /// <summary>Why it cannot be finished yet; empty where it can.</summary>
    public required string Missing { get; init; }

    /// <summary>What the weighings say so far; empty before the second one, and once it is finished.</summary>
    public required string SoFar { get; init; }

    /// <summary>The result in a sentence; empty until it is finished.</summary>
    public required string Result { get; init; }

    /// <summary>What follows from it.</summary>
    public required string Follows { get; init; }

    /// <summary>The numbers behind it.</summary>
    public required IReadOnlyList<NumberLine> Numbers { get; init; }

    /// <summary>How it was done: balance, water, air, tip, who.</summary>
    public required IReadOnlyList<NumberLine> Done { get; init; }

    /// <summary>Whether it replaces the limits of the piece.</summary>
    public required bool Proves { get; init; }

    /// <summary>Whether it is older than a year.</summary>
    public required bool IsOld { get; init; }
}

/// <summary>One weighing of a proof.</summary>
/// <param name="Ordinal">Its place, from one; one that was taken out leaves a gap.</param>
/// <param name="Typed">As typed, g.</param>
/// <param name="AmountWords">The volume of one delivery at 20 °C; empty for a balance.</param>
public sealed record WeighingLine(int Ordinal, string Typed, string AmountWords);
