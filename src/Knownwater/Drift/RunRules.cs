namespace Knownwater.Drift;

/// <summary>Rules that a point on a chart of single points may break; several at once.</summary>
[Flags]
public enum RunRules
{
    /// <summary>None.</summary>
    None = 0,

    /// <summary>It lies beyond 3 σ.</summary>
    OneBeyondThree = 1,

    /// <summary>Two of the last three lie beyond 2 σ on one side, it among them.</summary>
    TwoOfThreeBeyondTwo = 2,

    /// <summary>Four of the last five lie beyond 1 σ on one side, it among them.</summary>
    FourOfFiveBeyondOne = 4,

    /// <summary>The last eight lie on one side.</summary>
    EightOnOneSide = 8,
}
