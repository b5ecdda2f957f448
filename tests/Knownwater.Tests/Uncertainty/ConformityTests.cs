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

    // JCGM 106:2012, table 1: guard bands of one-sided tolerances in units of u
    [Fact]
    public void Table_1_of_guard_bands()
    {
        foreach (var row in Published.GetProperty("table1_one_sided").EnumerateArray())
            Assert.Equal(row.Number("z"), Conformity.GuardBand(1, row.Number("pc")), 0.51e-4);
    }

    // JCGM 106:2012, 8.3.2.2: a guard band of U = 2u accepts with a risk of 2.3 % at most (1 − Φ(2) = 0.02275 by the normal table)
    [Fact]
    public void A_guard_band_of_U_leaves_a_risk_of_2_3_percent()
    {
        Assert.Equal(0.02275, Conformity.ConsumersRisk(10 - 2 * 0.3, 0.3, double.NegativeInfinity, 10), 0.51e-5);
        Assert.Equal(0.023, Conformity.ConsumersRisk(10 - 2 * 0.3, 0.3, 0, 10), 0.51e-3);
    }

    [Fact]
    public void Risk_and_probability_of_an_item_sum_to_one_and_a_small_risk_keeps_its_digits()
    {
        Check.Sample(Gen.Select(Gen.Double[-5, 5], Gen.Double[0.01, 3], Gen.Double[-5, 0], Gen.Double[0, 5]), (y, u, low, high) =>
        {
            Assert.Equal(1, Conformity.Probability(y, u, low, high) + Conformity.ConsumersRisk(y, u, low, high), 1e-14);
            var error = new TPlusNormal(u, 5, 0.5);
            Assert.Equal(1, Conformity.Probability(y, error, low, high) + Conformity.ConsumersRisk(y, error, low, high), 1e-9);
        });
        // Φ(−10), normal distribution, scipy.stats.norm.cdf(-10)
        Assert.Equal(7.61985302416052e-24, Conformity.ConsumersRisk(0, 1, double.NegativeInfinity, 10), 1e-36);
        Assert.Equal((0, 1), (Conformity.ConsumersRisk(5, 0, 5, 10), Conformity.ConsumersRisk(4.9, 0, 5, 10)));
    }

    // tests/data/jcgm106/make_risks.py: mpmath, 40 digits, printed to 20
    [Fact]
    public void Global_risks_agree_with_the_double_integral()
    {
        foreach (var row in CheckData.Rows("jcgm106/global_risks.csv"))
        {
            var risk = GlobalRisk.Of(row["prior_mean"], row["prior_sd"], row["u"], new Interval(row["T_lower"], row["T_upper"]), new Interval(row["A_lower"], row["A_upper"]));
            // limits printed in decimals such as 1499.8 are right to 1e-13 of a standard deviation only
            Assert.Equal(row["conforming"], risk.Conforming, 1e-12);
            Assert.Equal(row["consumers"], risk.Consumers, 1e-12);
            Assert.Equal(row["producers"], risk.Producers, 1e-12);
            Assert.Equal(row["conforming"] - row["producers"] + row["consumers"], risk.Accepted, 2e-12);
        }
    }

    [Fact]
    public void The_acceptance_interval_has_the_risk_asked_for() => Check.Sample(
        Gen.Select(Gen.Double[-1, 1], Gen.Double[0.6, 3], Gen.Double[0.02, 2], Gen.Double[0.01, 0.9], Gen.Int[0, 2]),
        (m, u0, u, part, sides) =>
        {
            var tolerance = new Interval(sides == 1 ? double.NegativeInfinity : -1.5, sides == 2 ? double.PositiveInfinity : 2);
            var wanted = part * GlobalRisk.Of(m, u0, u, tolerance, tolerance with { Low = double.NegativeInfinity, High = double.PositiveInfinity }).Consumers;
            var acceptance = GlobalRisk.Acceptance(m, u0, u, tolerance, wanted);
            Assert.Equal(wanted, GlobalRisk.Of(m, u0, u, tolerance, acceptance).Consumers, 1e-9 * wanted + 1e-14);
        });

    // a wider guard band never raises the consumer's risk and never lowers the producer's; a change of unit changes neither
    [Fact]
    public void A_guard_band_moves_risk_from_consumer_to_producer() => Check.Sample(
        Gen.Select(Gen.Double[-1, 1], Gen.Double[0.3, 2], Gen.Double[0.05, 1], Gen.Double[-0.5, 0.9], Gen.Double[0.01, 100]),
        (m, u0, u, band, k) =>
        {
            GlobalRisk At(double w, double unit) => GlobalRisk.Of(unit * m, unit * u0, unit * u, new Interval(-unit, unit), new Interval(unit * (w - 1), unit * (1 - w)));
            var risk = At(band, 1);
            Assert.True(At(band + 0.05, 1).Consumers <= risk.Consumers);
            Assert.True(At(band + 0.05, 1).Producers >= risk.Producers);
            Assert.Equal(risk.Consumers, At(band, k).Consumers, 1e-12);
            Assert.Equal(risk.Producers, At(band, k).Producers, 1e-12);
        });

    [Fact]
    public void Impossible_risks_are_refused()
    {
        var tolerance = new Interval(-1, 1);
        Assert.Throws<ArgumentOutOfRangeException>("priorSd", () => GlobalRisk.Of(0, 0, 1, tolerance, tolerance));
        Assert.Throws<ArgumentOutOfRangeException>("standardUncertainty", () => GlobalRisk.Of(0, 1, double.NaN, tolerance, tolerance));
        Assert.Throws<ArgumentOutOfRangeException>("priorMean", () => GlobalRisk.Of(double.NaN, 1, 1, tolerance, tolerance));
        Assert.Contains("from 1 to -1", Assert.Throws<ArgumentOutOfRangeException>("acceptance", () => GlobalRisk.Of(0, 1, 1, tolerance, new Interval(1, -1))).Message);
        Assert.Throws<ArgumentOutOfRangeException>("tolerance", () => GlobalRisk.Of(0, 1, 1, new Interval(double.NaN, 1), tolerance));
        Assert.Contains("without measuring", Assert.Throws<ArgumentOutOfRangeException>("consumersRisk", () => GlobalRisk.Acceptance(0, 1, 1, tolerance, 0.5)).Message);
        Assert.Throws<ArgumentOutOfRangeException>("consumersRisk", () => GlobalRisk.Acceptance(0, 1, 1, tolerance, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>("tolerance", () => GlobalRisk.Acceptance(0, 1, 1, new Interval(double.NegativeInfinity, double.PositiveInfinity), 0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Conformity.ConsumersRisk(double.NaN, 1, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>("high", () => Conformity.ConsumersRisk(1, 1, 2, 1));
    }
}
