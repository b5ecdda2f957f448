namespace Knownwater.Records.Checks;

/// <summary>What is looked at before the first reading of a check.</summary>
public enum GuardKind
{
    /// <summary>Automatic dosing that listens is paused.</summary>
    Dosing = 0,

    /// <summary>The known water is of the method’s matrix and salinity.</summary>
    Matrix = 1,

    /// <summary>The known water is within its date.</summary>
    UseBy = 2,

    /// <summary>Its value lies in the method’s range.</summary>
    Range = 3,

    /// <summary>The bottle of known water holds what the check takes, rinses included.</summary>
    Amount = 4,

    /// <summary>The reagents are open and in date.</summary>
    Lots = 5,

    /// <summary>The sample volume is known.</summary>
    SampleVolume = 6,

    /// <summary>Water, reagents and instrument have the same temperature.</summary>
    Temperature = 7,

    /// <summary>The number of readings is planned.</summary>
    Replicates = 8,
}
