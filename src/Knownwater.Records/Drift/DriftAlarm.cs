using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Drift;

/// <summary>An alarm of the course of a method, recorded when it was first seen. It stands until what happened is known, whatever later checks and settings make of the chart.</summary>
internal sealed class DriftAlarm(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid MethodId { get; set; }

    /// <summary>The check that raised it.</summary>
    public Guid CheckId { get; set; }

    /// <summary>Whether the check fell above what was foretold; else below.</summary>
    public bool IsHigh { get; set; }

    public Instant SeenAt { get; set; }

    /// <summary>The clear event that explains it, “lot N-13 on 31 July 2026”; empty while none does.</summary>
    public string Explained { get; set; } = "";

    public Instant? ClosedAt { get; set; }

    public string ClosedReason { get; set; } = "";

    public string ClosedBy { get; set; } = "";
}
