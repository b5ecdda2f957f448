namespace Knownwater.Preparation;

/// <summary>What a standard, or common practice, lets one expect of a piece of glassware or a balance that is not proven.</summary>
/// <remarks>Volumes in mL, masses in g.</remarks>
public sealed record CatalogueGlassware
{
    /// <summary>What it is.</summary>
    public required GlasswareKind Kind { get; init; }

    /// <summary>Its class as it is marked: “A”, “A, AS”, “B”, “type A”; for a balance its display step, “step 0.1 g”.</summary>
    public required string Class { get; init; }

    /// <summary>The standard, “ISO 1042”; “working limit” for a balance.</summary>
    public required string Standard { get; init; }

    /// <summary>Nominal volume, mL; null for a balance.</summary>
    public double? Nominal { get; init; }

    /// <summary>Smallest setting for which the limits are meant, mL; null where there is none.</summary>
    public double? Least { get; init; }

    /// <summary>Division of the scale of a burette, mL; null for the others.</summary>
    public double? Division { get; init; }

    /// <summary>Limit of error to both sides, in mL or g; a fraction of the setting where <see cref="ToleranceIsRelative"/>.</summary>
    public required double Tolerance { get; init; }

    /// <summary>Whether <see cref="Tolerance"/> is a fraction of the setting.</summary>
    public bool ToleranceIsRelative { get; init; }

    /// <summary>Limit of the standard deviation of one delivery, mL; zero where the standard has none.</summary>
    public double Repeatability { get; init; }

    /// <summary>Display step of a balance, g; null for the others.</summary>
    public double? Readability { get; init; }

    /// <summary>How well the figures are known: “confirmed” (seen in a public source), “from memory”, “common practice”.</summary>
    public required string Status { get; init; }

    /// <summary>A text that names the entry among all, and stays the same: “PistonPipette, ISO 8655-2:2002, type A, 1 mL”.</summary>
    public string Key => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{Kind}, {Standard}, {Class}{(Nominal is { } size ? $", {size:R} mL" : "")}{(Division is { } step ? $" in {step:R} mL" : "")}");
}
