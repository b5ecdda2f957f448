using System.Text.Json;

namespace Knownwater.Cli.Tests.Preparation;

/// <summary>Twenty random plans against the Python package uncertainties and numpy; how they were made stands in tests/data/preparation-plans/SOURCE.md.</summary>
public sealed class RandomPlansTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("knownwater-plans").FullName;

    public static TheoryData<int> Plans { get; } = [.. Enumerable.Range(0, 20)];

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory, MemberData(nameof(Plans))]
    public async Task Value_and_doubt_agree_with_other_programs(int number)
    {
        using var all = JsonDocument.Parse(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "data", "preparation-plans", "plans.json"), TestContext.Current.CancellationToken));
        var expected = all.RootElement[number];
        double Expected(string key) => expected.GetProperty(key).GetDouble();
        var file = Path.Combine(_folder, "plan.json");
        await File.WriteAllTextAsync(file, expected.GetProperty("plan").GetRawText(), TestContext.Current.CancellationToken);

        var called = await Called.With("prepare", file, "--json");
        Assert.Equal("", called.Error);
        var (c, simulated) = (called.Json.GetProperty("concentration"), called.Json.GetProperty("monte_carlo"));
        Assert.Equal(Expected("value"), c.GetProperty("value").GetDouble(), 1e-9 * Expected("value"));
        Assert.Equal(Expected("u"), c.GetProperty("u").GetDouble(), 1e-9 * Expected("u"));
        // two independent runs of 10⁶ trials: mean and u differ by √2 · u/10³ and about u/10³, the 2.5 % points by √2 · 2.7 u/10³; five, five and four of these
        var u = Expected("u");
        Assert.Equal(Expected("mc_mean"), simulated.GetProperty("mean").GetDouble(), 0.007 * u);
        Assert.Equal(Expected("mc_u"), simulated.GetProperty("u").GetDouble(), 0.005 * u);
        Assert.Equal(Expected("mc_low"), simulated.GetProperty("low").GetDouble(), 0.015 * u);
        Assert.Equal(Expected("mc_high"), simulated.GetProperty("high").GetDouble(), 0.015 * u);
    }
}
