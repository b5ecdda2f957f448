using Knownwater.Records.Benches;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Instruments;

/// <summary>Lists the bench's instruments.</summary>
public sealed class ListInstruments(RecordsContext records, Clock clock)
{
    /// <summary>Reads the list.</summary>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The instruments with their methods, by name.</returns>
    public async Task<IReadOnlyList<InstrumentView>> Handle(CancellationToken cancel) =>
        await InstrumentReading.Read(records, records.Instruments, await BenchSetting.Read(records, clock.Now, cancel), cancel);
}
