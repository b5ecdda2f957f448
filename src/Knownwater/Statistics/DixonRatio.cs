namespace Knownwater.Statistics;

/// <summary>Dixon’s ratios for a suspect value at one end of a sample: its gap over a range. The first digit counts the values from the suspect one to the gap’s other end, the second those left out at the far end.</summary>
public enum DixonRatio
{
    /// <summary>r₁₀: gap to the next value over the whole range; for 3 to 7 values.</summary>
    R10,

    /// <summary>r₁₁: the same without the farthest value at the other end; for 8 to 10 values.</summary>
    R11,

    /// <summary>r₁₂: the same without the two farthest values at the other end.</summary>
    R12,

    /// <summary>r₂₀: gap to the second next value over the whole range, where two values may be off on one side.</summary>
    R20,

    /// <summary>r₂₁: the same without the farthest value at the other end; for 11 to 13 values.</summary>
    R21,

    /// <summary>r₂₂: the same without the two farthest values at the other end; for 14 values and more.</summary>
    R22,
}
