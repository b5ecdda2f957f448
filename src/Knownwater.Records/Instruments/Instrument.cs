using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Instruments;

internal sealed class Instrument(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Name { get; set; } = "";

    public InstrumentKind Kind { get; set; }

    public string Note { get; set; } = "";
}

/// <summary>A setting that was changed on a day.</summary>
internal sealed class InstrumentSetting(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid InstrumentId { get; set; }

    public LocalDate On { get; set; }

    public string What { get; set; } = "";

    public string Old { get; set; } = "";

    public string New { get; set; } = "";

    public string Why { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant RecordedAt { get; set; }
}
