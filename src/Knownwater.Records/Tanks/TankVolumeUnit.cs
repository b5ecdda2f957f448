namespace Knownwater.Records.Tanks;

/// <summary>The unit in which a tank's volume was typed.</summary>
public enum TankVolumeUnit
{
    /// <summary>Litres.</summary>
    Litres = 0,

    /// <summary>US gallons of 231 cubic inches, 3.785411784 L.</summary>
    UsGallons = 1,
}
