namespace Knownwater.Preparation;

/// <summary>What weighings on a balance can say of a piece: the doubt that the balance and the water leave (2u) against the limit of error of the piece.</summary>
public enum ProofPower
{
    /// <summary>2u is at most a third of the limit: the bias found replaces the limit.</summary>
    Proves,

    /// <summary>2u lies between a third and the whole limit: a piece far off is found, nothing more.</summary>
    GrossFaultsOnly,

    /// <summary>2u is above the limit: the weighings say nothing.</summary>
    TooCoarse,
}
