namespace Knownwater.Records.Checks;

/// <summary>What became of an event that a device sent.</summary>
public enum RunEventFate
{
    /// <summary>It stands in the list.</summary>
    Kept = 0,

    /// <summary>It was not taken; the sentence says why, and what would do.</summary>
    Refused = 1,

    /// <summary>One before it was refused; it waits on the device until that is settled.</summary>
    Waits = 2,
}
