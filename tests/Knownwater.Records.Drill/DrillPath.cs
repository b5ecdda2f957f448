using System.Buffers.Binary;
using Knownwater.Quantities;
using Knownwater.Records.Checks;
using Knownwater.Records.History;
using Knownwater.Records.Instruments;
using Knownwater.Records.Shelf;
using Knownwater.Records.Storage;

namespace Knownwater.Records.Drill;

/// <summary>The path from an empty store to a described verdict, step by step, each with its own request key.</summary>
public static class DrillPath
{
    /// <summary>The sentences that the steps leave in the history, in order.</summary>
    public static IReadOnlyList<string> Steps { get; } =
    [
        "instrument", "method", "lot", "water", "check", "reading 1", "reading 2", "reading 2 changed", "reading 3", "described", "reading 1 left out", "taken back",
    ];

    /// <summary>Walks the path and acknowledges each step after it is done; a step done before answers as it did then.</summary>
    public static async Task Walk(RecordsStore store, Func<int, Task> acknowledge)
    {
        var clock = store.Clock;
        async Task<T> Do<T>(int step, Func<RecordsContext, Guid, Task<object>> act)
        {
            await using var records = store.NewContext();
            var outcome = (T)await act(records, Key(step));
            await acknowledge(step);
            return outcome;
        }

        var instrument = (await Do<AddInstrument.Outcome.Added>(1, async (r, key) => await new AddInstrument(r, clock).Handle(new AddInstrument.Command { Name = "analyser", RequestId = key }, default))).Instrument;
        var method = (await Do<AddMethod.Outcome.Added>(2, async (r, key) => await new AddMethod(r, clock).Handle(new AddMethod.Command { Instrument = instrument, Parameter = "alkalinity", Form = "dKH", Matrix = Matrix.Seawater, Resolution = "0.1", RequestId = key }, default))).Method;
        var lot = (await Do<OpenLot.Outcome.Opened>(3, async (r, key) => await new OpenLot(r, clock).Handle(new OpenLot.Command { Methods = [method], Name = "A-19", RequestId = key }, default))).Lot;
        var water = (await Do<AddReferenceWater.Outcome.Added>(4, async (r, key) => await new AddReferenceWater(r, clock).Handle(new AddReferenceWater.Command { Label = "KW-36", Parameter = "alkalinity", Form = "dKH", Matrix = Matrix.Seawater, Salinity = "35", Known = "7.90", Doubt = "0.08", Origin = Origin.Certificate, RequestId = key }, default))).Water;
        var check = (await Do<StartCheck.Outcome.Started>(5, async (r, key) => await new StartCheck(r, clock).Handle(new StartCheck.Command { Parameter = "alkalinity", Method = method, Levels = [new LevelEntry { ReferenceWater = water }], ToleranceAbsolute = "0.3", TolerancePercent = "2", Replicates = "3", RequestId = key }, default))).Check;
        Task<object> Keep(RecordsContext r, Guid key, string typed) => Boxed(new KeepReading(r, clock).Handle(new KeepReading.Command { Check = check, Level = 1, Typed = typed, RequestId = key }, default));
        await Do<KeepReading.Outcome.Kept>(6, (r, key) => Keep(r, key, "8.7"));
        await Do<KeepReading.Outcome.Kept>(7, (r, key) => Keep(r, key, "8.3"));
        await Do<ChangeReading.Outcome.Changed>(8, async (r, key) => await new ChangeReading(r, clock).Handle(new ChangeReading.Command { Check = check, Level = 1, Reading = 2, Typed = "8.8", RequestId = key }, default));
        await Do<KeepReading.Outcome.CheckClosed>(9, (r, key) => Keep(r, key, "8.7"));
        await Do<DescribeCheck.Outcome.Described>(10, async (r, key) => await new DescribeCheck(r, clock).Handle(new DescribeCheck.Command { Check = check, Method = method, Lots = [lot], Temperature = "24", Notes = "by hand", RequestId = key }, default));
        await Do<ExcludeReading.Outcome.Excluded>(11, async (r, key) => await new ExcludeReading(r, clock).Handle(new ExcludeReading.Command { Check = check, Level = 1, Reading = 1, Reason = "bubble", RequestId = key }, default));
        await Do<Undo.Outcome.Undone>(12, async (r, key) => await new Undo(r, clock).Handle(new Undo.Command { LastActOfCheck = check, RequestId = key }, default));
    }

    private static Guid Key(int step)
    {
        Span<byte> bytes = stackalloc byte[16];
        BinaryPrimitives.WriteInt32BigEndian(bytes[12..], step);
        return new Guid(bytes, bigEndian: true);
    }

    private static async Task<object> Boxed<T>(Task<T> task) => (await task)!;
}
