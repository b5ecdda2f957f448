using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Preparation;

/// <summary>Several checks that are prepared and run together.</summary>
internal sealed class RoundRow(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public string Label { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant PlannedAt { get; set; }
}

/// <summary>One method of a round.</summary>
internal sealed class RoundMethod(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid RoundId { get; set; }

    public int Ordinal { get; set; }

    public Guid MethodId { get; set; }
}

/// <summary>One level of a method in a round: a water that stands on the shelf, or one that is still to be made.</summary>
internal sealed class RoundLevel(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid RoundMethodId { get; set; }

    public int Ordinal { get; set; }

    public Guid? ReferenceWaterId { get; set; }

    public Guid? PreparationId { get; set; }
}
