using System.Globalization;
using Knownwater.Records.Checks;
using Knownwater.Records.Drift;
using Knownwater.Records.Storage;
using Knownwater.Records.Tanks;
using Knownwater.Records.Tests.Storage;
using Knownwater.Records.Tests.Tanks;
using Microsoft.EntityFrameworkCore;

namespace Knownwater.Records.Tests.Drift;

public sealed class ScatterTests(PostgresCluster cluster)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_reading_of_a_tank_bears_the_scatter_within_a_day_and_from_day_to_day(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        var tank = await bench.Tank();
        await bench.Read(tank, method, "7.9");
        await bench.Read(tank, method, "<1");
        async Task<string[]> Doubts() => [.. (await bench.Do<ListTankReadings, TankPage<TankReadingView>>(u => u.Handle(tank, 1, Cancel))).Items.OrderByDescending(r => r.Typed, StringComparer.Ordinal).Select(r => r.GiveOrTake)];
        // from day to day the method differs by 0.3 dKH, within a day hardly
        string[][] checks = [["7.6", "7.6", "7.6", "7.6"], ["8.2", "8.2", "8.2", "8.2"], ["7.6", "7.6", "7.7", "7.6"], ["8.2", "8.1", "8.2", "8.2"], ["7.9", "7.9", "7.9", "7.9"], ["8.2", "8.2", "8.1", "8.2"], ["7.6", "7.7", "7.6", "7.6"], ["7.9", "7.9", "7.9", "8.0"]];
        foreach (var (readings, made) in checks.Select((c, i) => (c, i)))
        {
            Assert.Equal(made < 3, (await Doubts())[1].Length == 0);
            await bench.Alkalinity(readings, method: method);
            bench.Time.Advance(TimeSpan.FromDays(14));
        }

        var said = await Doubts();
        Assert.Equal("", said[0]);
        Assert.Matches("^±\u202f[0-9.]+\u00a0dKH$", said[1]);
        var half = double.Parse(said[1][2..^4], CultureInfo.InvariantCulture);
        // twice the standard deviation of the eight means, 0.275, and not twice that within a day, 0.05
        Assert.InRange(half, 0.5, 0.9);
        var numbers = (await bench.Do<ViewDrift, DriftView?>(u => u.Handle(method, null, null, Cancel)))!.Numbers;
        Assert.StartsWith(said[1], numbers.Single(n => n.Term == "One reading of any day").Value, StringComparison.Ordinal);
    }

    // Each of the two checks has s² = 0.02/4. The third: bias 0.05 from two readings, s² pooled with eight degrees of freedom, (0.005 + 8·0.005)/9 = 0.005, ν = 9:
    // half² = 2.262²·0.005/2 + 1.960²·(0.1²/12 + 0.08²/3) = 0.1555²; with its own scatter alone t(1) = 12.7 would make it 0.64.
    [Theory, ClassData(typeof(BothStores))]
    public async Task A_verdict_pools_its_scatter_with_what_the_method_showed_at_that_level(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var (_, method) = await bench.Analyser();
        await bench.Alkalinity(["7.9", "8.0", "7.8", "7.9", "7.9"], method: method);
        await bench.Alkalinity(["7.9", "8.0", "7.8", "7.9", "7.9"], method: method);
        var check = await bench.Alkalinity(["7.9", "8.0"], method: method);
        var level = await bench.Do<RecordsContext, CheckLevel>(r => r.CheckLevels.SingleAsync(l => l.CheckId == check, Cancel));
        Assert.Equal(Math.Sqrt(0.005), level.PriorSd!.Value, 1e-9);
        Assert.Equal((8, false, true), (level.PriorDof!.Value, level.PriorIsTypical, level.PoolPrior));
        Assert.Equal(0.05, level.Bias!.Value, 1e-9);
        Assert.Equal(0.1555, (level.BiasHigh!.Value - level.BiasLow!.Value) / 2, 5e-4);
    }
}
