using Knownwater.Records.Storage;

namespace Knownwater.Records.Shelf;

/// <summary>Shows one known water with where its value and doubt come from.</summary>
public sealed class ViewReferenceWater(RecordsContext records, Clock clock)
{
    /// <summary>Reads the water.</summary>
    /// <param name="water">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The water; null where this bench has none of that key.</returns>
    public Task<ReferenceWaterView?> Handle(Guid water, CancellationToken cancel) => throw new NotImplementedException();
}
