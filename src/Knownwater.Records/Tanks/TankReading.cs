using Knownwater.Quantities;
using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Tanks;

/// <summary>One result on tank water, as typed: by a method of the bench, or by an instrument that is only named.</summary>
internal sealed class TankReading(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid TankId { get; set; }

    public Guid? MethodId { get; set; }

    public string ParameterKey { get; set; } = "";

    public string OtherName { get; set; } = "";

    /// <summary>Reporting form in which it was typed; what later happens to the method does not change it.</summary>
    public string Form { get; set; } = "";

    /// <summary>What it was read with, where that is no method of the bench; may be empty.</summary>
    public string InstrumentName { get; set; } = "";

    public string Typed { get; set; } = "";

    public double Value { get; set; }

    public Censoring Censoring { get; set; }

    public Instant At { get; set; }

    public string Who { get; set; } = "";

    public string Note { get; set; } = "";

    public Instant RecordedAt { get; set; }
}
