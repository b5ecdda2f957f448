namespace Knownwater.Records.Tanks;

/// <summary>What lives in a tank; it says which methods fit its water.</summary>
public enum TankKind
{
    /// <summary>Seawater with corals.</summary>
    Reef = 0,

    /// <summary>Seawater with fish, without corals.</summary>
    FishOnlyMarine = 1,

    /// <summary>Fresh water with plants.</summary>
    PlantedFresh = 2,

    /// <summary>Other fresh water.</summary>
    OtherFresh = 3,
}
