using Knownwater.Records.Storage;

namespace Knownwater.Records.Shelf;

/// <summary>Lists the known waters on the shelf.</summary>
public sealed class ListReferenceWaters(RecordsContext records, Clock clock)
{
    /// <summary>Which waters; what is null does not narrow.</summary>
    /// <param name="Parameter">Key of a parameter.</param>
    public sealed record Query(string? Parameter = null);

    /// <summary>Reads the shelf.</summary>
    /// <param name="query">Which waters.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The waters, the newest first.</returns>
    public Task<IReadOnlyList<ReferenceWaterView>> Handle(Query query, CancellationToken cancel) => throw new NotImplementedException();
}
