using Knownwater.Quantities;
using Knownwater.Records.Benches;
using Knownwater.Records.Checks;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Benches;

public sealed class BenchTests(PostgresCluster cluster)
{
    private static Task<ChangeBench.Outcome> Change(TestBench bench, ChangeBench.Command command) => bench.Do<ChangeBench, ChangeBench.Outcome>(u => u.Handle(command, default));

    private static readonly ChangeBench.Command Berlin = new() { Name = "Fish room", DecimalSign = DecimalSign.Comma, TimeZone = "Europe/Berlin", MainUse = MainUse.FreshWater };

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_bench_decides_sign_time_and_default_tolerance(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        Assert.IsType<ChangeBench.Outcome.Changed>(await Change(bench, Berlin));
        var shown = await bench.Do<ViewBench, BenchView>(u => u.Handle(default));
        Assert.Equal(("Fish room", DecimalSign.Comma, "Europe/Berlin", MainUse.FreshWater), (shown.Name, shown.Sign, shown.TimeZone, shown.MainUse));

        var started = await bench.Start(new StartCheck.Command { Parameter = "nitrate", Levels = [new LevelEntry { Known = "10", Doubt = "0.2" }], Replicates = "3" });
        var check = Assert.IsType<StartCheck.Outcome.Started>(started).Check;
        foreach (var reading in new[] { "14,5", "14.7", "14,6" })
            await bench.Keep(check, reading);
        var view = (await bench.View(check))!;
        Assert.EndsWith("09:40", view.StartedWords, StringComparison.Ordinal);
        // Fresh water: 2 mg/L NO3 + 10 %, of the planted and the hard-water figures the listed one (parameters.csv).
        Assert.Equal(Parameter.Find("nitrate")!.DefaultTolerance(MainUse.FreshWater), view.Tolerance);
        Assert.Equal(["14,5", "14,7", "14,6"], view.Levels[0].Readings.Select(r => r.Words));
        Assert.Equal(["14,5", "14.7", "14,6"], view.Levels[0].Readings.Select(r => r.Typed));
        Assert.Contains(",", view.Levels[0].Words!.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("14.6", string.Join(' ', view.Levels[0].Numbers), StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_number_that_can_mean_two_is_asked_about_until_the_sign_is_known(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var command = new StartCheck.Command { Parameter = "calcium", Form = "mg/L Ca", Levels = [new LevelEntry { Known = "1,234", Doubt = "0" }], ToleranceAbsolute = "20", Replicates = "3" };
        var fault = Plans.Only(Assert.IsType<StartCheck.Outcome.Refused>(await bench.Start(command)).Faults, "Levels[0].Known");
        Assert.Equal(["1.234", "1234"], fault.Offers.Select(o => o.Value).Order(StringComparer.Ordinal));
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_place_that_is_no_time_zone_is_refused(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var faults = Assert.IsType<ChangeBench.Outcome.Refused>(await Change(bench, Berlin with { Name = " ", TimeZone = "Atlantis" })).Faults;
        Assert.Equal(["Name", "TimeZone"], faults.Select(f => f.Field).Order(StringComparer.Ordinal));
    }
}
