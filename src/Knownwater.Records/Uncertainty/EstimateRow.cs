using Knownwater.Records.Storage;
using Knownwater.Uncertainty;
using NodaTime;

namespace Knownwater.Records.Uncertainty;

/// <summary>A named error source with its identity, shared by every estimate that has a part from it.</summary>
internal sealed class ErrorSourceRow(Guid benchId, Guid id) : BenchRow(benchId, id)
{
    public string Name { get; set; } = "";

    public SourceShape Shape { get; set; }

    public double StandardUncertainty { get; set; }

    public string Unit { get; set; } = "";

    /// <summary>Degrees of freedom; positive infinity where the standard uncertainty counts as known.</summary>
    public double Dof { get; set; }

    public Guid? Family { get; set; }

    /// <summary>Ratio of top to base; only of a trapezium.</summary>
    public double? TopToBase { get; set; }
}

/// <summary>An estimate: its value, the model it came from, and its parts.</summary>
internal sealed class EstimateRow(Guid benchId, Guid id) : BenchRow(benchId, id)
{
    public double Value { get; set; }

    public string Form { get; set; } = "";

    /// <summary>Name of the measurement model; <c>stated</c> for a known value with its doubt.</summary>
    public string Model { get; set; } = "";

    /// <summary>The recorded inputs of the model, as JSON.</summary>
    public string Inputs { get; set; } = "";

    public Instant RecordedAt { get; set; }
}

/// <summary>The signed contribution of one source to one estimate (sensitivity × standard uncertainty).</summary>
internal sealed class EstimatePart(Guid benchId, Guid id) : BenchRow(benchId, id)
{
    public Guid EstimateId { get; set; }

    public Guid SourceId { get; set; }

    public int Ordinal { get; set; }

    public double Contribution { get; set; }
}
