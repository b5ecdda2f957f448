namespace Knownwater.Drift;

/// <summary>What the course of a bias looks like.</summary>
public enum CourseKind
{
    /// <summary>No change.</summary>
    Steady,

    /// <summary>A step from one level to another.</summary>
    Step,

    /// <summary>A steady drift that began at some day.</summary>
    Drift,
}
