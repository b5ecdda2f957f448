namespace Knownwater.Preparation;

/// <summary>What a calibration or the user’s own weighings found at one setting of a piece.</summary>
/// <remarks>Volumes in mL, or masses in g for a balance. A later proof of the same setting is another record with an identity of its own, so values made before it keep the sources they had.</remarks>
public sealed record GlasswareProof
{
    /// <summary>Identity of the proof, not empty: its bias is a source of its own, and its sd a variance that all uses share.</summary>
    public required Guid Id { get; init; }

    /// <summary>The setting that was proven, in mL or g; above zero.</summary>
    public required double Setting { get; init; }

    /// <summary>Delivered minus set, in mL; for a balance true minus shown, in g. What is set or shown plus this is the amount.</summary>
    public required double Bias { get; init; }

    /// <summary>Standard uncertainty of the bias (k = 1), in mL or g; zero or above.</summary>
    public required double BiasU { get; init; }

    /// <summary>Degrees of freedom of <see cref="BiasU"/>, above zero; infinite where it is taken as known.</summary>
    public double BiasDof { get; init; } = double.PositiveInfinity;

    /// <summary>Repeatability standard deviation of one delivery, in mL or g; zero or above.</summary>
    public required double Sd { get; init; }

    /// <summary>Degrees of freedom of <see cref="Sd"/>, above zero; infinite where it is taken as known.</summary>
    public double SdDof { get; init; } = double.PositiveInfinity;
}
