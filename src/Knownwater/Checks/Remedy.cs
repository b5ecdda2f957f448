namespace Knownwater.Checks;

/// <summary>What would turn “can’t tell yet” into an answer, the cheapest that helps.</summary>
public enum RemedyKind
{
    /// <summary>More replicates on the same water.</summary>
    FurtherReadings = 0,

    /// <summary>The reference water is the limit: only a better known value helps.</summary>
    BetterReference,

    /// <summary>The step of the display is the limit.</summary>
    FinerDisplay,

    /// <summary>The readings scatter so much that a sensible number of them cannot decide.</summary>
    LessScatter,

    /// <summary>The bias lies so near the tolerance that readings can hardly part them.</summary>
    AtTheTolerance,

    /// <summary>Readings beyond the display leave the bias open: take water at a level that the display shows.</summary>
    LevelWithinDisplay,
}

/// <summary>The cheapest remedy with its size.</summary>
/// <param name="Kind">What helps.</param>
/// <param name="Readings">Further replicates; for <see cref="RemedyKind.LessScatter"/> the number that would be needed; null where readings do not help.</param>
/// <param name="Probability">Chance that they settle it, given what is known now; null where readings do not help.</param>
/// <param name="IsExtension">Whether they are the extension declared beforehand; otherwise they are a new check that stands alone.</param>
/// <param name="Minutes">What they cost; null where the time of a reading is not known.</param>
public sealed record Remedy(RemedyKind Kind, int? Readings = null, double? Probability = null, bool IsExtension = false, double? Minutes = null);
