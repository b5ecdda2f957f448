namespace Knownwater.Quantities;

/// <summary>What else is in the water with the analyte.</summary>
public enum Matrix
{
    /// <summary>Seawater, natural or artificial, with its salinity.</summary>
    Seawater,

    /// <summary>Fresh water.</summary>
    FreshWater,
}
