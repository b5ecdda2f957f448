using Knownwater.Quantities;

namespace Knownwater.Preparation;

/// <summary>A preparation as it is planned or as it was done: the same description, with other numbers.</summary>
public sealed record PreparationPlan
{
    /// <summary>The most steps that a preparation has.</summary>
    public const int MostSteps = 3;

    /// <summary>Form that stock, background and result are in; per litre, or German degrees.</summary>
    public required ReportingForm Form { get; init; }

    /// <summary>What it is made from.</summary>
    public required StockSolution Stock { get; init; }

    /// <summary>The water it is made in.</summary>
    public required MatrixWater Matrix { get; init; }

    /// <summary>Steps in order; none means the bottle as it is.</summary>
    public IReadOnlyList<PreparationStep> Steps { get; init; } = [];

    /// <summary>Relative standard uncertainty of the mixing at each step, as in 0.002 for 0.2 %; zero leaves it out.</summary>
    public double Mixing { get; init; }

    /// <summary>How far the temperature may lie off; null leaves it out.</summary>
    public TemperatureRange? Temperature { get; init; }

    /// <summary>The value that is wanted, in <see cref="Form"/>; null where none was said.</summary>
    public double? Target { get; init; }
}
