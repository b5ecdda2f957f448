namespace Knownwater.Quantities;

/// <summary>What the bench mainly looks after; it decides which default tolerances are offered.</summary>
public enum MainUse
{
    /// <summary>Tanks with corals.</summary>
    Reef,

    /// <summary>Marine tanks with fishes only.</summary>
    FishOnlyMarine,

    /// <summary>Fresh water tanks, planted and hard-water ones alike.</summary>
    FreshWater,
}
