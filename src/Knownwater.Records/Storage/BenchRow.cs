namespace Knownwater.Records.Storage;

/// <summary>A row of one bench: its key is the bench's with its own behind it.</summary>
internal abstract class BenchRow(Guid benchId, Guid id)
{
    public Guid BenchId { get; private set; } = benchId;

    public Guid Id { get; private set; } = id;
}

/// <summary>A row that may be marked as removed, never deleted, and that notices when two change it at once.</summary>
internal abstract class MarkedRow(Guid benchId, Guid id) : BenchRow(benchId, id)
{
    public bool Deleted { get; set; }

    public string DeletedReason { get; set; } = "";

    /// <summary>Raised with every change; a save that started from an older one fails.</summary>
    public int Version { get; set; }
}
