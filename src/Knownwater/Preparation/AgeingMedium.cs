namespace Knownwater.Preparation;

/// <summary>What a water that ages is, as far as its age depends on it.</summary>
public enum AgeingMedium
{
    /// <summary>Sea or fresh water, as known water is.</summary>
    Water,

    /// <summary>Purified water, as stocks and dilutions in between are.</summary>
    PureWater,

    /// <summary>Dilute acid that holds a metal.</summary>
    Acid,
}
