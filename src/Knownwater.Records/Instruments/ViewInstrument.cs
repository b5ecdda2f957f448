using Knownwater.Records.Benches;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Instruments;

/// <summary>Shows one instrument with its settings, methods and lots.</summary>
public sealed class ViewInstrument(RecordsContext records, Clock clock)
{
    /// <summary>Reads the instrument.</summary>
    /// <param name="instrument">Its key.</param>
    /// <param name="cancel">Cancels the reading.</param>
    /// <returns>The instrument; null where this bench has none of that key.</returns>
    public async Task<InstrumentView?> Handle(Guid instrument, CancellationToken cancel) =>
        (await InstrumentReading.Read(records, records.Instruments.Where(i => i.Id == instrument), await BenchSetting.Read(records, clock.Now, cancel), cancel)).SingleOrDefault();
}
