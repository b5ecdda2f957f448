namespace Knownwater.Drift;

/// <summary>Why a method is to be checked on a certain day.</summary>
public enum NextCheckReason
{
    /// <summary>Something happened since the last check that may have moved it: a new lot, a changed setting.</summary>
    EventSince,

    /// <summary>By what is known today, it may read wrong by more than its tolerance already.</summary>
    WrongAlready,

    /// <summary>By that day drift, or a step that nobody noted, may have carried it beyond its tolerance.</summary>
    MayHaveDrifted,

    /// <summary>The longest time without a check is over.</summary>
    LongestTime,
}
