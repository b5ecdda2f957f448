namespace Knownwater.Preparation;

/// <summary>What an artificial seawater shall be the matched ions for; that salt is left out, and weighed in as the reference.</summary>
public enum MatchedFor
{
    /// <summary>Everything stays in.</summary>
    Nothing,

    /// <summary>An alkalinity reference: without sodium hydrogen carbonate.</summary>
    Alkalinity,

    /// <summary>A calcium reference: without calcium chloride and sodium hydrogen carbonate.</summary>
    Calcium,

    /// <summary>A magnesium reference from magnesium chloride: without that and sodium hydrogen carbonate.</summary>
    Magnesium,

    /// <summary>A magnesium reference from magnesium sulfate: without magnesium chloride, sodium sulfate and sodium hydrogen carbonate.</summary>
    MagnesiumAsSulfate,
}
