namespace Knownwater.Checks;

/// <summary>What a reason rests on.</summary>
public enum ReasonKind
{
    /// <summary>The means over the levels. Figures: for each level its known value and the mean deviation.</summary>
    Levels = 0,

    /// <summary>The readings in their order, and their scatter. Figures: scatter as a multiple of the usual; level from zero, reading from zero and deviation of the reading that stands off most from the mean of its level.</summary>
    Order,

    /// <summary>The earlier checks. Figures: how many there are, and how many used what this fault sits in.</summary>
    Earlier,

    /// <summary>The size known beforehand. Figures: the ratio of reading to known value that it would give, and the one found.</summary>
    Size,

    /// <summary>What the records say of the matrix and the method.</summary>
    Matrix,

    /// <summary>A date that has passed: of the lot, the stock or the water.</summary>
    PastUse,
}

/// <summary>One piece of evidence for a cause or against it.</summary>
/// <param name="Kind">What it rests on.</param>
/// <param name="IsFor">Whether it speaks for the cause; else against it.</param>
/// <param name="Weight">How heavily: natural logarithm of how much more (or less) probable it makes the cause than the average of all faults; above zero.</param>
/// <param name="Figures">Its numbers, by <see cref="ReasonKind"/>; may be empty.</param>
public sealed record Reason(ReasonKind Kind, bool IsFor, double Weight, IReadOnlyList<double> Figures);
