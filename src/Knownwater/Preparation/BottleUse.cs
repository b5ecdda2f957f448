namespace Knownwater.Preparation;

/// <summary>How a bottle is kept, which decides what evaporates.</summary>
public enum BottleUse
{
    /// <summary>Closed with a tight cap.</summary>
    Closed,

    /// <summary>Opened about once a day.</summary>
    OpenedDaily,

    /// <summary>An open beaker.</summary>
    OpenBeaker,
}
