namespace Knownwater.Records.Shelf;

/// <summary>What the doubt of a known value means.</summary>
public enum DoubtMeaning
{
    /// <summary>A limit to both sides, all between equally likely (rectangular); what a plain ± on a bottle is taken for.</summary>
    HalfWidth = 0,

    /// <summary>An expanded uncertainty with k = 2, as certificates give it.</summary>
    Expanded = 1,

    /// <summary>A standard uncertainty.</summary>
    Standard = 2,
}

/// <summary>Where a known value came from.</summary>
public enum Origin
{
    /// <summary>Not said yet.</summary>
    NotSaid = 0,

    /// <summary>A certificate.</summary>
    Certificate = 1,

    /// <summary>The maker's claim on bottle or leaflet.</summary>
    MakersClaim = 2,

    /// <summary>The user's own preparation.</summary>
    OwnPreparation = 3,
}
