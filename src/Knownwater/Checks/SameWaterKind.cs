namespace Knownwater.Checks;

/// <summary>What is compared on one water.</summary>
public enum SameWaterKind
{
    /// <summary>By hand, then through the sampling line.</summary>
    Line = 0,

    /// <summary>With the old bottle of reagent, then with the new.</summary>
    Changeover,
}
