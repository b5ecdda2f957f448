using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Instruments;

/// <summary>One version of an instrument’s own procedure; never changed, a change is a new version.</summary>
internal sealed class ProcedureRow(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid InstrumentId { get; set; }

    /// <summary>The version, from 1; one that was undone keeps its number.</summary>
    public int Number { get; set; }

    /// <summary>The procedure as a JSON document; see <see cref="ProcedureDocument"/>.</summary>
    public string Document { get; set; } = "";

    /// <summary>What was changed, in a sentence.</summary>
    public string Change { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant At { get; set; }
}
