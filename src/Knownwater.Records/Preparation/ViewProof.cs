using Knownwater.Records.Benches;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Preparation;

/// <summary>Shows one proof, open or finished.</summary>
public sealed class ViewProof(RecordsContext records, Clock clock)
{
    /// <summary>Reads the proof.</summary>
    /// <param name="proof">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The proof; null where this bench has none of that key.</returns>
    public async Task<ProofView?> Handle(Guid proof, CancellationToken cancel)
    {
        var bench = await BenchSetting.Read(records, clock.Now, cancel);
        return await ProofReading.Load(records, proof, false, cancel) is { } read ? ProofReading.View(read, bench) : null;
    }
}
