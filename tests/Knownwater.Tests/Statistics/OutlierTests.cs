using CsCheck;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

public class OutlierTests
{
    // simulated with 3 million samples a line, standard error 0.0005; published values (Rorabacher 1991) to two units of their third place, but for n = 4 at 99 % and the line n = 6, which simulation refutes
    [Fact]
    public void Critical_values_of_Dixon_agree_with_simulation_and_with_the_published_table()
    {
        foreach (var row in CheckData.Rows("outliers/dixon_q_critical.csv"))
        {
            var n = (int)row["n"];
            foreach (var (alpha, level) in new[] { (0.10, "90"), (0.05, "95"), (0.01, "99") })
            {
                var critical = Dixon.CriticalValue(DixonRatio.R10, n, alpha, twoSided: true);
                Assert.Equal(row[$"simulated_{level}"], critical, 0.0015);
                if (n != 6 && (n, level) is not (4, "99"))
                    Assert.Equal(row[$"Q_two_sided_{level}pct_published"], critical, 0.0021);
            }
        }
    }

    [Fact]
    public void Critical_values_of_all_six_ratios_agree_with_simulation()
    {
        foreach (var row in CheckData.Rows("outliers/dixon_simulated.csv"))
        {
            var critical = Dixon.CriticalValue(Enum.Parse<DixonRatio>(row.Text("ratio")), (int)row["n"], row["upper_tail"], twoSided: false);
            Assert.Equal(0, (critical - row["quantile"]) / row["standard_error"], 4.0);   // four standard errors
        }
    }

    // three values: the middle one's relative place has density 3√3/(2π)/(1 − r + r²), so P(r > R) = ½ − (3/π)·atan((2R − 1)/√3)
    [Theory]
    [InlineData(0.0)]
    [InlineData(0.3)]
    [InlineData(0.9)]
    [InlineData(0.99)]
    [InlineData(0.99999)]
    public void The_ratio_of_three_values_has_a_closed_form(double r) =>
        Assert.Equal(0.5 - 3 / Math.PI * Math.Atan((2 * r - 1) / Math.Sqrt(3)), Dixon.UpperTail(DixonRatio.R10, 3, r), 1e-12);

    [Fact]
    public void The_distribution_of_a_ratio_is_one_at_zero_nothing_at_one_and_falls_between()
    {
        foreach (var ratio in Enum.GetValues<DixonRatio>())
        {
            Assert.Equal(0.02, Dixon.UpperTail(ratio, 13, Dixon.CriticalValue(ratio, 13, 0.02, twoSided: false)), 1e-12);
            foreach (var n in new[] { 7, 30, 150, 1000 })
            {
                Assert.Equal(1, Dixon.UpperTail(ratio, n, 0), 1e-10);
                Assert.Equal(0, Dixon.UpperTail(ratio, n, 1), 1e-10);
                Assert.True(Dixon.UpperTail(ratio, n, 0.3) > Dixon.UpperTail(ratio, n, 0.31));
            }
        }
    }

    // by hand: 1, 2, 3, 4, 5, 6, 10: gap 4 over range 9; without the far end over 8; two gaps 5 over 9
    [Fact]
    public void The_suspect_value_and_its_ratio_by_hand()
    {
        double[] values = [4, 10, 2, 1, 6, 3, 5];
        Assert.Equal((1, 4.0 / 9), Dixon.Farthest(values));
        Assert.Equal((1, 4.0 / 8), Dixon.Farthest(values, DixonRatio.R11));
        Assert.Equal((1, 4.0 / 7), Dixon.Farthest(values, DixonRatio.R12));
        Assert.Equal((1, 5.0 / 9), Dixon.Farthest(values, DixonRatio.R20));
        Assert.Equal((1, 5.0 / 8), Dixon.Farthest(values, DixonRatio.R21));
        Assert.Equal((1, 5.0 / 7), Dixon.Farthest(values, DixonRatio.R22));
        Assert.Equal((1, 4.0 / 9), Dixon.Farthest([.. values.Select(v => -v)]));
        Assert.Equal(0, Dixon.Farthest([3, 3, 3]).Ratio);
        Assert.Equal([DixonRatio.R10, DixonRatio.R11, DixonRatio.R21, DixonRatio.R22], new[] { 7, 10, 11, 14 }.Select(Dixon.RatioFor));
        // the uranium data: an end value so far off that no other ratio comes near
        var uranium = CheckData.Json("outliers/outlier_examples.json").GetProperty("grubbs").GetProperty("data").Numbers();
        var (index, ratio) = Dixon.Farthest(uranium);
        Assert.Equal(245.57, uranium[index]);
        Assert.True(ratio > Dixon.CriticalValue(DixonRatio.R11, uranium.Length, 0.01, twoSided: true));
    }

    // ISO 5725-2:1994; four decimals printed
    [Fact]
    public void Critical_values_of_Cochran()
    {
        foreach (var row in CheckData.Rows("outliers/cochran_critical.csv"))
        {
            Assert.Equal(row["crit_5pct"], Cochran.CriticalValue((int)row["p_labs"], (int)row["n_per_lab"], 0.05), 0.51e-4);
            Assert.Equal(row["crit_1pct"], Cochran.CriticalValue((int)row["p_labs"], (int)row["n_per_lab"], 0.01), 0.51e-4);
        }
    }

    // three decimals printed
    [Fact]
    public void Critical_values_of_Mandel()
    {
        foreach (var row in CheckData.Rows("outliers/mandel_h_k_critical.csv"))
        {
            var p = (int)row["p"];
            foreach (var (alpha, level) in new[] { (0.05, "5pct"), (0.01, "1pct") })
            {
                Assert.Equal(row[$"h_{level}"], Mandel.CriticalH(p, alpha), 0.51e-3);
                for (var n = 2; n <= 5; n++)
                    Assert.Equal(row[$"k_n{n}_{level}"], Mandel.CriticalK(p, n, alpha), 0.51e-3);
            }
        }
    }

    // ISO 5725-2:1994, annex B, recomputed
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Cochran_and_Mandel_of_sulfur_in_coal(int level)
    {
        var recomputed = CheckData.Json("iso5725/iso5725_coal_results.json").GetProperty("results")[level - 1].GetProperty("recomputed");
        var laboratories = AnovaTests.Coal(level).Select(l => SampleMoments.Of(l)).ToArray();
        double[] sds = [.. laboratories.Select(l => l.StandardDeviation)];
        Assert.Equal(recomputed.Number("cochran_C"), Cochran.Largest(sds).C, 1e-12);
        Assert.Equal(recomputed.GetProperty("k_equal_n_formula").Numbers(), Mandel.K(sds), (a, b) => Math.Abs(a - b) < 1e-12);
        Assert.Equal(recomputed.GetProperty("h_unweighted_means").Numbers(), Mandel.H([.. laboratories.Select(l => l.Mean)]), (a, b) => Math.Abs(a - b) < 1e-12);
        Assert.Equal(sds.Max(), sds[Cochran.Largest(sds).Index]);
    }

    [Fact]
    public void Outlier_statistics_do_not_depend_on_unit_origin_or_order() => Check.Sample(
        Gen.Select(Gen.Int[-1000, 1000].Array[8, 20], Gen.Int[-30, 30], Gen.Int[-1000, 1000]),
        (counts, power, origin) =>
        {
            double[] values = [.. counts.Select(i => (double)i)], moved = [.. values.Reverse().Select(v => Math.ScaleB(v + origin, power))];
            var ratio = Dixon.RatioFor(values.Length);
            Assert.Equal(Dixon.Farthest(values, ratio).Ratio, Dixon.Farthest(moved, ratio).Ratio, 1e-14);
            Assert.Equal(Grubbs.Farthest(values).G, Grubbs.Farthest(moved).G, 1e-13);
            double[] sds = [.. values.Select(v => Math.Abs(v) + 1)];
            var unit = Math.ScaleB(1, power);
            Assert.Equal(Cochran.Largest(sds).C, Cochran.Largest([.. sds.Select(s => s * unit)]).C, 1e-15);
            var k = Mandel.K(sds);
            Assert.Equal(k.Length, k.Sum(x => x * x), 1e-10);
            if (values.Distinct().Count() > 1)
            {
                var h = Mandel.H(values);
                Assert.Equal(0, h.Sum(), 1e-11);
                Assert.Equal(h.Length - 1, h.Sum(x => x * x), 1e-10);
            }
        },
        iter: 200);

    [Fact]
    public void Pulling_the_farthest_value_out_raises_every_statistic() => Check.Sample(
        Gen.Select(Gen.Double[0, 1].Array[7, 12], Gen.Double[1.5, 3], Gen.Double[0.1, 5]),
        (body, far, further) =>
        {
            if (body.Max() - body.Min() < 0.01)
                return;
            double[] near = [.. body, far], out_ = [.. body, far + further];
            Assert.True(Grubbs.Farthest(out_).G >= Grubbs.Farthest(near).G);
            Assert.True(Dixon.Farthest(out_).Ratio >= Dixon.Farthest(near).Ratio - 1e-15);
            Assert.Equal(near.Length - 1, Dixon.Farthest(out_).Index);
        },
        iter: 200);

    // the share of normal samples called suspect is the level: Cochran by 20 000 samples of 6 groups of 4, whose standard error is 0.0015
    [Fact]
    public void Cochran_calls_as_many_samples_as_its_level_says()
    {
        var normal = new MathNet.Numerics.Distributions.Normal(0, 1, new MathNet.Numerics.Random.Xoshiro256StarStar(5));
        var critical = Cochran.CriticalValue(6, 4, 0.05);
        var values = new double[4];
        var called = 0;
        for (var trial = 0; trial < 20_000; trial++)
        {
            var sds = new double[6];
            for (var i = 0; i < 6; i++)
            {
                normal.Samples(values);
                sds[i] = SampleMoments.Of(values).StandardDeviation;
            }
            called += Cochran.Largest(sds).C > critical ? 1 : 0;
        }
        Assert.InRange(called / 20_000.0, 0.0435, 0.0555);
    }

    public static TheoryData<string, Action, string> Refused { get; } = new()
    {
        { "two values", () => Dixon.Farthest([1, 2]), "at least 3" },
        { "NaN", () => Dixon.Farthest([1, 2, double.NaN]), "Value 3" },
        { "too few for the ratio", () => Dixon.CriticalValue(DixonRatio.R22, 5, 0.05, true), "6 to 1000" },
        { "too few values for the ratio", () => Dixon.Farthest([1, 2, 3, 4], DixonRatio.R22), "6 to 1000" },
        { "no ratio", () => Dixon.UpperTail((DixonRatio)9, 8, 0.5), "one of R10" },
        { "a ratio above one", () => Dixon.UpperTail(DixonRatio.R10, 8, 1.1), "0 to 1" },
        { "alpha of nothing", () => Dixon.CriticalValue(DixonRatio.R10, 8, 0, true), "0.000001" },
        { "one group", () => Cochran.CriticalValue(1, 3, 0.05), "at least 2" },
        { "one value a group", () => Cochran.CriticalValue(3, 1, 0.05), "at least 2" },
        { "all zero", () => Cochran.Largest([0, 0, 0]), "above zero" },
        { "a negative sd", () => Mandel.K([1, -1]), "zero or above" },
        { "equal means", () => Mandel.H([2, 2, 2]), "not all equal" },
        { "two laboratories", () => Mandel.CriticalH(2, 0.05), "at least 3" },
        { "k with alpha 1", () => Mandel.CriticalK(3, 3, 1), "between 0 and 1" },
        { "a mass fraction of zero", () => Horwitz.ReproducibilityStandardDeviation(0), "above 0" },
        { "a mass fraction above one", () => Horwitz.RelativeReproducibility(1.1), "at most 1" },
    };

    [Theory(DisableDiscoveryEnumeration = true)]
    [MemberData(nameof(Refused))]
    public void What_is_out_of_range_is_refused_with_its_limit(string what, Action act, string says)
    {
        var error = Assert.ThrowsAny<ArgumentException>(act);
        Assert.False(string.IsNullOrEmpty(error.ParamName), what);
        Assert.Contains(says, error.Message);
    }
}
