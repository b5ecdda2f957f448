using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>What a person said of one guard before a check: that it is so, or why one goes on all the same.</summary>
internal sealed class CheckGuard(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid CheckId { get; set; }

    public GuardKind Kind { get; set; }

    /// <summary>What stood in the way; empty where the person said that it is so.</summary>
    public string Fault { get; set; } = "";

    /// <summary>Why one goes on all the same; empty where the person said that it is so.</summary>
    public string Reason { get; set; } = "";

    public string Who { get; set; } = "";

    public Instant At { get; set; }
}
