using Knownwater.Records.Tanks;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Tanks;

/// <summary>What tests of tanks do again and again.</summary>
internal static class TankBench
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public static async Task<Guid> Tank(this TestBench bench, string name = "Lagoon", TankKind kind = TankKind.Reef) =>
        Assert.IsType<AddTank.Outcome.Added>(await bench.Do<AddTank, AddTank.Outcome>(u => u.Handle(new AddTank.Command { Name = name, Kind = kind, Volume = "280", Salinity = kind == TankKind.Reef ? "35" : "" }, Cancel))).Tank;

    public static Task<EnterReadings.Outcome> Enter(this TestBench bench, Guid tank, string at = "", bool confirmed = false, Guid? request = null, params ReadingEntry[] lines) =>
        bench.Do<EnterReadings, EnterReadings.Outcome>(u => u.Handle(new EnterReadings.Command { Tank = tank, Lines = lines, At = at, Confirmed = confirmed, Who = "MJ", RequestId = request }, Cancel));

    /// <summary>One reading by a method, now or at a minute; answers its key.</summary>
    public static async Task<Guid> Read(this TestBench bench, Guid tank, Guid method, string typed, string at = "")
    {
        Assert.IsType<EnterReadings.Outcome.Entered>(await bench.Enter(tank, at, true, null, new ReadingEntry { Method = method, Typed = typed }));
        await using var records = bench.Store.NewContext();
        return records.TankReadings.Where(r => r.TankId == tank && r.MethodId == method).OrderByDescending(r => r.Id).First().Id;
    }

    public static async Task<Guid> Dosed(this TestBench bench, Guid tank, string parameter = "alkalinity", string at = "", DoseKind kind = DoseKind.Maintenance) =>
        Assert.IsType<RecordDose.Outcome.Recorded>(await bench.Do<RecordDose, RecordDose.Outcome>(u => u.Handle(
            new RecordDose.Command { Tank = tank, What = "bicarbonate solution", Amount = "38 mL", Parameter = parameter, Kind = kind, At = at, Who = "MJ" }, Cancel))).Dose;

    public static Task<TankView?> Look(this TestBench bench, Guid tank) => bench.Do<ViewTank, TankView?>(u => u.Handle(tank, Cancel));
}
