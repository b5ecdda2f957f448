namespace Knownwater.Preparation;

/// <summary>What a step is filled up with.</summary>
public enum Diluent
{
    /// <summary>The nutrient-free water of the matrix, with its background.</summary>
    Matrix,

    /// <summary>Purified water, taken as free of the analyte.</summary>
    PureWater,
}
