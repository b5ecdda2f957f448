namespace Knownwater.Checks;

/// <summary>What a check says about the trueness of a method at one level.</summary>
public enum Verdict
{
    /// <summary>The data do not decide; a <see cref="Remedy"/> says what would.</summary>
    CannotTell = 0,

    /// <summary>The whole interval of the bias lies within the tolerance.</summary>
    ReadsRight,

    /// <summary>The interval of the bias excludes zero and the estimate lies above the tolerance.</summary>
    ReadsHigh,

    /// <summary>The interval of the bias excludes zero and the estimate lies below minus the tolerance.</summary>
    ReadsLow,
}

/// <summary>What a check says about the repeatability of a method at one level.</summary>
public enum Scatter
{
    /// <summary>Too few readings, or nothing to compare them with.</summary>
    CannotTell = 0,

    /// <summary>Not significantly above the usual, and three times the usual is excluded (95 %).</summary>
    Usual,

    /// <summary>Significantly above the usual (5 %, one-sided).</summary>
    WorseThanUsual,
}
