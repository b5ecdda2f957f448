namespace Knownwater.Quantities;

/// <summary>What the figure behind ± stands for.</summary>
public enum DoubtKind
{
    /// <summary>No doubt was given.</summary>
    NotGiven,

    /// <summary>The half-width of a rectangular distribution: a tolerance, a maker's claim.</summary>
    HalfWidth,

    /// <summary>An expanded uncertainty with its coverage factor.</summary>
    Expanded,
}
