using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Tanks;

/// <summary>What was put into a tank on purpose.</summary>
internal sealed class Dose(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid TankId { get; set; }

    public string What { get; set; } = "";

    /// <summary>Amount with its unit as typed.</summary>
    public string AmountTyped { get; set; } = "";

    public double Amount { get; set; }

    /// <summary>Unit as given, “mL a day”.</summary>
    public string Unit { get; set; } = "";

    /// <summary>The parameter it moves; empty where that is not said.</summary>
    public string ParameterKey { get; set; } = "";

    public DoseKind Kind { get; set; }

    public bool IsAutomatic { get; set; }

    public Instant At { get; set; }

    public string Who { get; set; } = "";

    public string Note { get; set; } = "";

    public Instant RecordedAt { get; set; }
}
