namespace Knownwater.Records.Instruments;

/// <summary>How a method is read.</summary>
public enum ReadingScale
{
    /// <summary>Digits of a display.</summary>
    Display = 0,

    /// <summary>Steps of a colour card: like one, or between two.</summary>
    ColourSteps,

    /// <summary>Drops counted until the colour turns.</summary>
    Drops,
}
