using Knownwater.Checks;
using Knownwater.Records.Checks;
using Knownwater.Records.Tests.Storage;

namespace Knownwater.Records.Tests.Checks;

public sealed class LevelsTests(PostgresCluster cluster)
{
    // Nitrate at 2 and 10 mg/L as stated, tolerance 0.2 mg/L + 10 %: 0.4 and 1.2 mg/L.
    private static readonly StartCheck.Command Nitrate = new()
    {
        Parameter = "nitrate",
        Form = "mg/L NO3",
        Levels = [new LevelEntry { Known = "2.00", Doubt = "0.02" }, new LevelEntry { Known = "10.0", Doubt = "0.1" }],
        ToleranceAbsolute = "0.2",
        TolerancePercent = "10",
        Replicates = "4",
    };

    private static async Task<CheckView> Run(TestBench bench, StartCheck.Command command, string[] low, string[] high)
    {
        var check = Assert.IsType<StartCheck.Outcome.Started>(await bench.Start(command)).Check;
        foreach (var reading in low)
            await bench.Keep(check, reading);
        foreach (var reading in high)
            await bench.Keep(check, reading, level: 2);
        return (await bench.View(check))!;
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task Two_levels_share_the_chance_of_a_wrong_word_and_give_offset_and_gain(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        var view = await Run(bench, Nitrate, ["2.05", "2.01", "2.03", "2.07"], ["10.2", "10.1", "10.3", "10.2"]);

        Assert.All(view.Levels, l => Assert.Equal(0.975, l.Judgement!.Bias.Coverage, 1e-12));
        Assert.Equal(Verdict.ReadsRight, view.Verdict);
        Assert.Equal("Reads right between 2 and 10\u00A0mg/L. Nothing is said about readings outside.", view.OverLevels);
        // by hand: means 2.04 and 10.2, so gain 8.16/8 = 1.02 and offset 2.04 − 2 · 1.02 = 0
        Assert.Equal(1.02, view.Together!.Line!.Gain.Value, 1e-12);
        Assert.Equal(0, view.Together.Line.Offset.Value, 1e-12);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task The_difference_is_judged_where_it_was_chosen_and_says_what_was_not_tested(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        // both levels 1 mg/L high, as with an offset: each level reads high, their step is right
        string[] low = ["3.05", "3.01", "3.03", "2.99"], high = ["11.0", "11.1", "11.0", "10.9"];
        var each = await Run(bench, Nitrate with { Basis = LevelsBasis.EachLevel }, low, high);
        var step = await Run(bench, Nitrate with { Basis = LevelsBasis.Difference }, low, high);

        Assert.Equal(Verdict.ReadsHigh, each.Verdict);
        Assert.Equal(Verdict.ReadsRight, step.Verdict);
        Assert.EndsWith("An offset was not tested.", step.OverLevels!, StringComparison.Ordinal);
        Assert.DoesNotContain("offset was not tested", each.OverLevels!, StringComparison.Ordinal);
    }

    [Theory, ClassData(typeof(BothStores))]
    public async Task A_plan_for_more_levels_asks_for_no_fewer_readings_and_says_less_of_each(StoreKind kind)
    {
        await using var bench = await TestBench.New(kind, cluster);
        async Task<ReplicateAdvice> Advice(int levels)
        {
            var command = new PlanReplicates.Command { Parameter = "nitrate", Form = "mg/L NO3", Known = "10.0", Doubt = "0.1", ToleranceAbsolute = "0.2", TolerancePercent = "2", Levels = levels };
            return Assert.IsType<PlanReplicates.Outcome.Planned>(await bench.Do<PlanReplicates, PlanReplicates.Outcome>(u => u.Handle(command, default))).Advice;
        }

        var (one, three) = (await Advice(1), await Advice(3));
        Assert.Equal(one.Sd, three.Sd);
        Assert.All(one.Choices.Zip(three.Choices), c => Assert.True(c.First.N != c.Second.N || c.Second.PowerRight < c.First.PowerRight));
        Assert.True((three.Recommended ?? int.MaxValue) >= (one.Recommended ?? int.MaxValue));
    }
}
