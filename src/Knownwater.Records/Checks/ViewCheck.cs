using Knownwater.Records.Storage;

namespace Knownwater.Records.Checks;

/// <summary>Shows one check with everything behind it.</summary>
public sealed class ViewCheck(RecordsContext records, Clock clock)
{
    /// <summary>Reads the check.</summary>
    /// <param name="check">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The check; null where this bench has none of that key, or it was discarded.</returns>
    public Task<CheckView?> Handle(Guid check, CancellationToken cancel) => throw new NotImplementedException();
}
