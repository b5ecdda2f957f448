using Knownwater.Records.Storage;
using NodaTime;

namespace Knownwater.Records.History;

/// <summary>One act: who did what and when, with the rows it touched before and after.</summary>
internal sealed class HistoryEntry(Guid benchId, Guid id) : BenchRow(benchId, id)
{
    public long Ordinal { get; set; }

    public Instant At { get; set; }

    public string Who { get; set; } = "";

    public string Sentence { get; set; } = "";

    public string SubjectKind { get; set; } = "";

    public Guid Subject { get; set; }

    /// <summary>The rows before and after, as JSON; see <see cref="RowChanges"/>.</summary>
    public string Changes { get; set; } = "";

    /// <summary>The act that this one undid.</summary>
    public Guid? Undoes { get; set; }

    /// <summary>The act that undid this one.</summary>
    public Guid? UndoneBy { get; set; }
}

/// <summary>A request that was answered: repeated, it gets the first outcome and writes nothing. Its key is the request's.</summary>
internal sealed class HandledRequest(Guid benchId, Guid id) : BenchRow(benchId, id)
{
    public string UseCase { get; set; } = "";

    public string Outcome { get; set; } = "";

    public Instant At { get; set; }
}
