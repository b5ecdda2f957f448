namespace Knownwater.Records.Checks;

/// <summary>What a check asks.</summary>
public enum CheckKind
{
    /// <summary>Does the method read known water right?</summary>
    Usual = 0,

    /// <summary>Does the sampling line change what is read? The same water by hand, then through the line.</summary>
    Line,

    /// <summary>Does the new bottle of reagent read as the old one? The same water with each.</summary>
    Changeover,
}
