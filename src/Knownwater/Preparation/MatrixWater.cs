using Knownwater.Quantities;
using Knownwater.Uncertainty;

namespace Knownwater.Preparation;

/// <summary>The water that a preparation is made in.</summary>
public sealed record MatrixWater
{
    /// <summary>Seawater or fresh water.</summary>
    public required Matrix Kind { get; init; }

    /// <summary>Practical salinity; 0 for fresh water.</summary>
    public double Salinity { get; init; }

    /// <summary>Temperature at the bench, °C.</summary>
    public double TemperatureCelsius { get; init; } = 20;

    /// <summary>How much of the analyte it holds already, in the plan's form, with its sources.</summary>
    public Estimate Background { get; init; } = Estimate.Exact(0);
}
