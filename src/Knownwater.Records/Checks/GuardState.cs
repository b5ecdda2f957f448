namespace Knownwater.Records.Checks;

/// <summary>How a guard stands.</summary>
public enum GuardState
{
    /// <summary>It holds.</summary>
    Holds = 0,

    /// <summary>Only the person can know it, and has not said so yet.</summary>
    NeedsYou = 1,

    /// <summary>It stands in the way.</summary>
    InTheWay = 2,

    /// <summary>It stood in the way, and one goes on all the same, for a reason that is kept.</summary>
    Overridden = 3,
}
