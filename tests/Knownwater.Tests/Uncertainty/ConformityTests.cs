using CsCheck;
using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public class ConformityTests
{
    private static readonly System.Text.Json.JsonElement Published = CheckData.Json("jcgm106/jcgm106_conformity.json");

    // JCGM 106:2012, 7.3.3 (Zener diode, 0.92) and 7.4 (motor oil, 0.66)
    [Fact]
    public void Zener_diode_and_motor_oil()
    {
        var zener = Published.GetProperty("one_sided_upper_zener");
        var pc = Conformity.Probability(zener.Number("y"), zener.Number("u"), double.NegativeInfinity, zener.Number("T_upper"));
        Assert.Equal(zener.Number("recomputed_pc"), pc, 1e-12);
        Assert.Equal(zener.Number("published_pc"), pc, 0.51e-2);
        var oil = Published.GetProperty("two_sided_motor_oil");
        pc = Conformity.Probability(oil.Number("y"), oil.Number("u"), oil.Number("T_lower"), oil.Number("T_upper"));
        Assert.Equal(oil.Number("recomputed_pc"), pc, 1e-12);
        Assert.Equal(oil.Number("published_pc"), pc, 0.51e-2);
        // with a t part of no size the distribution is the same
        Assert.Equal(pc, Conformity.Probability(13.6, new TPlusNormal(0, 3, 1.8), 12.5, 16.3), 1e-14);
    }

    [Fact]
    public void Computed_probabilities_and_the_acceptance_limit()
    {
        foreach (var c in Published.GetProperty("guard_band_examples_computed").EnumerateArray())
        {
            if (c.TryGetProperty("acceptance_limit", out var limit))
            {
                Assert.Equal(limit.GetDouble(), c.Number("T_upper") - Conformity.GuardBand(c.Number("u"), c.Number("target_pc")), 1e-12);
                Assert.True(Conformity.TryAcceptance(c.Number("u"), double.NegativeInfinity, c.Number("T_upper"), c.Number("target_pc"), out var acceptance));
                Assert.Equal(new Interval(double.NegativeInfinity, limit.GetDouble()), acceptance with { High = Math.Round(acceptance.High, 12) is var high && Math.Abs(high - limit.GetDouble()) < 1e-11 ? limit.GetDouble() : high });
            }
            else
            {
                Assert.Equal(c.Number("pc"), Conformity.Probability(c.Number("y"), c.Number("u"), c.Number("T_lower"), c.Number("T_upper")), 1e-12);
            }
        }
    }

    [Fact]
    public void Values_at_the_acceptance_limits_conform_with_the_probability_asked_for() => Check.Sample(
        Gen.Select(Gen.Double[-5, 5], Gen.Double[0.1, 10], Gen.Double[0.001, 5], Gen.Double[0.5, 0.999]),
        (low, width, u, p) =>
        {
            var high = low + width;
            if (Conformity.TryAcceptance(u, low, high, p, out var acceptance))
            {
                Assert.Equal(p, Conformity.Probability(acceptance.Low, u, low, high), 1e-9);
                Assert.Equal(p, Conformity.Probability(acceptance.High, u, low, high), 1e-9);
            }
            else
            {
                Assert.True(Conformity.Probability(low + width / 2, u, low, high) < p);
            }
        });

    [Fact]
    public void Without_uncertainty_a_value_conforms_or_does_not()
    {
        Assert.Equal(1, Conformity.Probability(10, 0, 5, 10));
        Assert.Equal(0, Conformity.Probability(10.001, 0, 5, 10));
        Assert.True(Conformity.TryAcceptance(0, 5, 10, 0.95, out var acceptance));
        Assert.Equal(new Interval(5, 10), acceptance);
    }

    // the guard band of a mean of six with s/√n = 1 and nothing else is t(0.95; 5)
    [Fact]
    public void The_guard_band_of_few_readings_is_wider()
    {
        Assert.Equal(2.015048, Conformity.GuardBand(new TPlusNormal(1, 5, 0), 0.95), 0.51e-6);
        Assert.True(Conformity.GuardBand(new TPlusNormal(1, 5, 1), 0.95) > Conformity.GuardBand(Math.Sqrt(2), 0.95));
    }

    [Fact]
    public void Impossible_limits_are_refused()
    {
        Assert.Contains("below the lower", Assert.Throws<ArgumentOutOfRangeException>("high", () => Conformity.Probability(1, 1, 2, 1)).Message);
        Assert.Throws<ArgumentOutOfRangeException>(() => Conformity.Probability(double.NaN, 1, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Conformity.Probability(1, -1, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Conformity.GuardBand(1, 1));
        Assert.Contains("at least one", Assert.Throws<ArgumentOutOfRangeException>(() => Conformity.TryAcceptance(1, double.NegativeInfinity, double.PositiveInfinity, 0.9, out _)).Message);
    }
}
