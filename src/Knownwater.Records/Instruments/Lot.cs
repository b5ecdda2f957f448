using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Instruments;

/// <summary>One bottle or batch of a reagent.</summary>
internal sealed class Lot(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Name { get; set; } = "";

    public string Reagent { get; set; } = "";

    public LocalDate OpenedOn { get; set; }

    public LocalDate? ExpiresOn { get; set; }

    public LocalDate? EmptiedOn { get; set; }

    public Instant RecordedAt { get; set; }
}

/// <summary>A lot in use by a method, from a day to a day.</summary>
internal sealed class MethodLot(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid MethodId { get; set; }

    public Guid LotId { get; set; }

    public LocalDate From { get; set; }

    public LocalDate? To { get; set; }
}
