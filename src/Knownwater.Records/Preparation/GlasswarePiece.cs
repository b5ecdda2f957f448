using Knownwater.Preparation;
using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Preparation;

/// <summary>A piece of glassware or a balance of the bench. Volumes in mL, masses in g.</summary>
internal sealed class GlasswarePiece(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Name { get; set; } = "";

    public GlasswareKind Kind { get; set; }

    public double? Nominal { get; set; }

    public string NominalTyped { get; set; } = "";

    public double? Least { get; set; }

    public string LeastTyped { get; set; } = "";

    /// <summary>Half-width of its limits, or a part of the setting where it is relative.</summary>
    public double Tolerance { get; set; }

    public string ToleranceTyped { get; set; } = "";

    public bool ToleranceIsRelative { get; set; }

    public bool Triangular { get; set; }

    public double Repeatability { get; set; }

    public string RepeatabilityTyped { get; set; } = "";

    public double? Readability { get; set; }

    public string ReadabilityTyped { get; set; } = "";

    /// <summary>Where its figures come from, as in “ISO 1042, class A” or “maker’s sheet”.</summary>
    public string Basis { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant AddedAt { get; set; }
}
