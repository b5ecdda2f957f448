using Knownwater.Checks;

namespace Knownwater.Tests.Checks;

public class ReplicatePlanningTests
{
    public static TheoryData<int, double, double> OneSamplePower()
    {
        var cases = new TheoryData<int, double, double>();
        foreach (var row in CheckData.Rows("power/t_test_power.csv").Where(r => r.Text("test") == "one_sample_two_sided"))
            cases.Add((int)row["n_per_group"], row["delta"], row["power_both_tails"]);
        return cases;
    }

    // t_test_power.csv, one sample, both tails: scipy's non-central t. Tolerance: the seven digits printed.
    [Theory]
    [MemberData(nameof(OneSamplePower))]
    public void Without_doubt_of_the_known_water_the_power_is_that_of_the_t_test(int n, double delta, double power) =>
        Assert.Equal(power, new VerdictPower(1, n, null, 0.95, 0, 0).ExcludesZero(delta), 1e-6);

    [Fact]
    public void Planned_number_is_the_least_that_reaches_the_power()
    {
        var plan = ReplicatePlanning.Plan(0.5, 0.2, 0.05);

        var n = Assert.NotNull(plan.N);
        Assert.True(plan.PowerRight >= 0.9 && plan.PowerWrong >= 0.9);
        var (right, wrong) = ReplicatePlanning.Power(n - 1, 0.5, 0.2, 0.05);
        Assert.True(Math.Min(right, wrong) < 0.9);
    }

    [Theory]
    [InlineData(1.0)]
    [InlineData(0.52)]
    [InlineData(0.3)]
    public void No_number_suffices_where_the_known_water_is_too_uncertain(double u)
    {
        var plan = ReplicatePlanning.Plan(1, 0.1, u);

        Assert.Null(plan.N);
        Assert.True(plan.LimitedByReference);
        Assert.False(plan.LimitedByResolution);
    }

    [Fact]
    public void No_number_suffices_where_the_display_is_too_coarse()
    {
        var plan = ReplicatePlanning.Plan(1, 0.3, 0.05, resolution: 2);

        Assert.Null(plan.N);
        Assert.True(plan.LimitedByResolution);
        Assert.False(plan.LimitedByReference);
    }

    [Fact]
    public void Scatter_alone_is_never_called_a_limit_of_the_known_water()
    {
        var plan = ReplicatePlanning.Plan(0.05, 1, 0);

        Assert.Null(plan.N);
        Assert.False(plan.LimitedByReference);
    }

    [Fact]
    public void Prior_and_tighter_water_never_need_more_readings()
    {
        var alone = ReplicatePlanning.Plan(0.5, 0.2, 0.1).N!.Value;

        Assert.True(ReplicatePlanning.Plan(0.5, 0.2, 0.1, prior: new PriorSd(0.2, 6)).N <= alone);
        Assert.True(ReplicatePlanning.Plan(0.5, 0.2, 0.02).N <= alone);
        Assert.True(ReplicatePlanning.Plan(0.5, 0.2, 0.1, looks: 2).N >= alone);
    }

    [Fact]
    public void Number_does_not_depend_on_the_unit()
    {
        var small = ReplicatePlanning.Plan(0.5, 0.2, 0.1, 0.1);
        var large = ReplicatePlanning.Plan(500, 200, 100, 100);

        Assert.Equal(small.N, large.N);
        Assert.Equal(small.PowerRight, large.PowerRight, 1e-12);
        Assert.Equal(small.PowerWrong, large.PowerWrong, 1e-12);
    }

    [Theory]
    [InlineData(0, 1, 0)]
    [InlineData(1, -1, 0)]
    [InlineData(1, 1, double.NaN)]
    public void Values_out_of_range_are_named(double tolerance, double sd, double u) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ReplicatePlanning.Plan(tolerance, sd, u));
}
