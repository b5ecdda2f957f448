namespace Knownwater.Records.Tanks;

/// <summary>What a dose was for.</summary>
public enum DoseKind
{
    /// <summary>It feeds known consumption.</summary>
    Maintenance = 0,

    /// <summary>It moves a level to its target.</summary>
    Correction = 1,

    /// <summary>It answers an emergency.</summary>
    Emergency = 2,
}
