namespace Knownwater.Records.Checks;

/// <summary>Where a check stands.</summary>
public enum CheckState
{
    /// <summary>It takes readings.</summary>
    Open = 0,

    /// <summary>All its readings are in; the verdict stands.</summary>
    Closed = 1,

    /// <summary>It was stopped before its last reading; levels that were not completed have no verdict.</summary>
    Stopped = 2,
}
