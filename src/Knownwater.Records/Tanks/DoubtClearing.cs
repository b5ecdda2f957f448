using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Tanks;

/// <summary>A reading or a dose that a failed check had put in doubt, cleared by somebody with a reason. Doubt itself is not stored: it follows from the checks.</summary>
internal sealed class DoubtClearing(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    /// <summary>The method whose check raised the doubt.</summary>
    public Guid MethodId { get; set; }

    /// <summary>The failed check on whose page it was cleared.</summary>
    public Guid CheckId { get; set; }

    public Guid? ReadingId { get; set; }

    public Guid? DoseId { get; set; }

    public string Reason { get; set; } = "";

    public string Who { get; set; } = "";

    /// <summary>When it was cleared; a check that fails later raises the doubt anew.</summary>
    public Instant At { get; set; }
}
