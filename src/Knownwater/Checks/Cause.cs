namespace Knownwater.Checks;

/// <summary>A class of faults that the evidence cannot tell apart, with its probability and what speaks for it and against it.</summary>
public sealed record Cause
{
    /// <summary>The faults of the class, the more probable first; at least one. Within a class the readings have said what they can, and the rest is prior.</summary>
    public required IReadOnlyList<FaultShare> Faults { get; init; }

    /// <summary>Posterior probability of the class, 0 to 1.</summary>
    public required double Probability { get; init; }

    /// <summary>Whether this is “none of these explains it well”.</summary>
    public bool IsUnlisted => Faults[0].Fault == Fault.Unlisted;

    /// <summary>How large the effect would be if this were so, as a part of the known value (−0.08: reads 8 % low): of losses at the lowest level, of a flattened curve at the highest, of a drift at its greatest; null where the fault is no part of the value.</summary>
    public double? RelativeSize { get; init; }

    /// <summary>How large the effect would be as an amount, in the form of the check; null where the fault is no amount.</summary>
    public double? Amount { get; init; }

    /// <summary>The slip that fits best; null where the class is no slip.</summary>
    public Slip? Slip { get; init; }

    /// <summary>The cheapest test that would most surely confirm its leading fault, whether or not anything is left to decide.</summary>
    public required TestKind ConfirmedBy { get; init; }

    /// <summary>What speaks for it and against it, the weightiest first; may be empty.</summary>
    public required IReadOnlyList<Reason> Reasons { get; init; }
}
