using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.Checks;

/// <summary>One run of a check by its sheet. Its steps are frozen at the start, so that it never changes under the hand.</summary>
internal sealed class Run(Guid benchId, Guid id) : MarkedRow(benchId, id)
{
    public Guid CheckId { get; set; }

    /// <summary>Its place among the runs of the check, from one.</summary>
    public int Ordinal { get; set; }

    public string Procedure { get; set; } = "";

    public int ProcedureVersion { get; set; }

    /// <summary>The steps as JSON; see <see cref="RunStep"/>.</summary>
    public string Steps { get; set; } = "";

    /// <summary>Number of its events: the ordinal of the last one. Every event writes it, so that two at once cannot take one place.</summary>
    public int Events { get; set; }

    public Instant StartedAt { get; set; }

    public Instant? EndedAt { get; set; }
}

/// <summary>One event of a run; written once and never changed.</summary>
internal sealed class RunEvent(Guid benchId, Guid id) : BenchRow(benchId, id)
{
    public Guid RunId { get; set; }

    /// <summary>Its place in the order of the records, from one.</summary>
    public int Ordinal { get; set; }

    /// <summary>The device that it came from; empty for a page without script.</summary>
    public Guid ClientId { get; set; }

    /// <summary>Key that the device gave it, so that it counts once however often it is sent.</summary>
    public Guid Key { get; set; }

    public RunEventKind Kind { get; set; }

    public int Step { get; set; }

    /// <summary>The reading as typed, the words of a note or slip; empty else.</summary>
    public string Text { get; set; } = "";

    public string Who { get; set; } = "";

    /// <summary>When, by the device's own clock, which may be wrong.</summary>
    public Instant At { get; set; }

    /// <summary>When it was received.</summary>
    public Instant ReceivedAt { get; set; }

    /// <summary>When it happened, by the clock of the records: the moment of receipt less the time that it lay on the device.</summary>
    public Instant HappenedAt { get; set; }
}

/// <summary>A photo of a run; its event says when it was taken and at which step.</summary>
internal sealed class RunPhoto(Guid benchId, Guid id) : BenchRow(benchId, id)
{
    public Guid RunId { get; set; }

    public Guid EventId { get; set; }

    public string ContentType { get; set; } = "";

    public byte[] Content { get; set; } = [];
}
