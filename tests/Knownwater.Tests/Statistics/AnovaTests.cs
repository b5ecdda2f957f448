using CsCheck;
using Knownwater.Statistics;
using Sets = Knownwater.Tests.Statistics.StatisticalReferenceDatasets;

namespace Knownwater.Tests.Statistics;

public class AnovaTests
{
    // NIST StRD. The data of SmLs04 to 09 are decimals with 7 and 13 constant leading digits, whose rounding to doubles moves F in the 11th and the 5th digit.
    // The least digits there are those of exact rational arithmetic on the doubles (python fractions: 10.432, 10.209, 10.191; 4.413, 4.189, 4.171), cut to two places.
    [Theory]
    [InlineData("SiRstv", 13, 13)]
    [InlineData("SmLs01", 13, 13)]
    [InlineData("SmLs02", 13, 13)]
    [InlineData("SmLs03", 13, 13)]
    [InlineData("AtmWtAg", 8.5, 8.5)]
    [InlineData("SmLs04", 10.43, 10.05)]
    [InlineData("SmLs05", 10.20, 9.94)]
    [InlineData("SmLs06", 10.19, 9.93)]
    [InlineData("SmLs07", 4.41, 4.03)]
    [InlineData("SmLs08", 4.18, 3.92)]
    [InlineData("SmLs09", 4.17, 3.91)]
    public void F_has_the_certified_digits_that_the_doubles_allow(string set, double least, double leastOfMeanSquares)
    {
        var certified = Sets.ReadAnova(set);
        var anova = OneWayAnova.Of(certified.Groups);
        Assert.InRange(Sets.Digits(anova.F, certified.F), least, 15);
        Assert.InRange(Sets.Digits(anova.BetweenMeanSquare, certified.Between), leastOfMeanSquares, 15);
        Assert.InRange(Sets.Digits(anova.WithinMeanSquare, certified.Within), leastOfMeanSquares, 15);
        Assert.InRange(Sets.Digits(anova.RSquared, certified.RSquared), leastOfMeanSquares, 15);
        Assert.InRange(Sets.Digits(anova.RepeatabilityStandardDeviation, certified.ResidualSd), leastOfMeanSquares, 15);
    }

    // the definition makes the sets that lie in files, so it makes the others of their family too
    [Fact]
    public void Generated_sets_are_those_of_the_files()
    {
        Assert.Equal(Sets.ReadAnova("SmLs01").Groups, Sets.Generated(1, 21));
        Assert.Equal(Sets.ReadAnova("SmLs03").Groups, Sets.Generated(1, 2001));
        Assert.Equal(Sets.ReadAnova("SmLs05").Groups, Sets.Generated(1e6m, 201));
        Assert.Equal(Sets.ReadAnova("SmLs07").Groups, Sets.Generated(1e12m, 21));
    }

    // exact rational arithmetic on the same doubles: every term is an integer multiple of 2^(-13)
    [Fact]
    public void F_of_the_largest_set_is_that_of_exact_arithmetic_on_the_doubles()
    {
        var groups = Sets.ReadAnova("SmLs09").Groups;
        Int128 n = groups.Sum(g => g.Length), size = groups[0].Length;
        Int128 Units(double x) => (Int128)((x - 1e12) * 8192);
        var sums = groups.Select(g => g.Aggregate((Int128)0, (sum, x) => sum + Units(x))).ToArray();
        Int128 total = sums.Aggregate((a, b) => a + b), squares = groups.Aggregate((Int128)0, (sum, g) => g.Aggregate(sum, (s, x) => s + Units(x) * Units(x)));
        // times N: N·Σ(Sᵢ²/m) − S² with equal sizes m, and N·(Σx² − ΣSᵢ²/m)
        Int128 groupSquares = sums.Aggregate((Int128)0, (s, x) => s + x * x);
        Int128 between = n / size * groupSquares - total * total, within = n * squares - n / size * groupSquares;
        Assert.Equal((double)between / 8 / ((double)within / 18000), OneWayAnova.Of(groups).F, 1e-12 * 2001);
    }

    // ISO 5725-2:1994, annex B: m, s_r and s_R to their printed digits; recomputed s_r, s_L, s_R
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Sulfur_in_coal_of_ISO_5725(int level)
    {
        var result = CheckData.Json("iso5725/iso5725_coal_results.json").GetProperty("results")[level - 1];
        var anova = OneWayAnova.Of(Coal(level));
        var (published, recomputed) = (result.GetProperty("published"), result.GetProperty("recomputed"));
        Assert.Equal(published.Number("m"), anova.Mean, level == 1 ? 0.51e-2 : 0.51e-3);
        Assert.Equal(published.Number("s_r"), anova.RepeatabilityStandardDeviation, 0.51e-3);
        Assert.Equal(published.Number("s_R"), anova.ReproducibilityStandardDeviation, 0.51e-3);
        Assert.Equal(recomputed.Number("m"), anova.Mean, 1e-13);
        Assert.Equal(recomputed.Number("s_r"), anova.RepeatabilityStandardDeviation, 1e-13);
        Assert.Equal(recomputed.Number("s_L"), anova.BetweenStandardDeviation, 1e-13);
        Assert.Equal(recomputed.Number("s_R"), anova.ReproducibilityStandardDeviation, 1e-13);
    }

    internal static double[][] Coal(int level) =>
        [.. CheckData.Rows("iso5725/iso5725_coal_levels_1_3.csv").Where(r => r["level"] == level).GroupBy(r => r["lab"]).Select(g => g.Select(r => r["sulfur_percent"]).ToArray())];

    // Snedecor and Cochran, Statistical Methods, 1967, calcium in turnip leaves (from memory; sums of squares and components there 7.5603, 2.6302, 0.0799; 0.3652, 0.1610, 0.0067);
    // sums of squares by R 4.2: anova(lm(y ~ plant/leaf))
    [Fact]
    public void Calcium_in_turnip_leaves()
    {
        var anova = NestedAnova.Of(
            [[3.28, 3.09], [3.52, 3.48], [2.88, 2.80]],
            [[2.46, 2.44], [1.87, 1.92], [2.19, 2.19]],
            [[2.77, 2.66], [3.74, 3.44], [2.55, 2.55]],
            [[3.78, 3.87], [4.07, 4.12], [3.31, 3.31]]);
        Assert.Equal((3, 8, 12), (anova.Groups.Dof, anova.Runs.Dof, anova.Within.Dof));
        Assert.Equal(7.56034583333333, anova.Groups.SumOfSquares, 1e-13);
        Assert.Equal(2.6302, anova.Runs.SumOfSquares, 1e-14);
        Assert.Equal(0.07985, anova.Within.SumOfSquares, 1e-15);
        Assert.Equal(0.3652, anova.Groups.VarianceComponent, 0.51e-4);
        Assert.Equal(0.1610, anova.Runs.VarianceComponent, 0.9e-4);    // (0.3288 − 0.0067)/2 from rounded mean squares
        Assert.Equal(0.0067, anova.Within.VarianceComponent, 0.51e-4);
        Assert.Equal(Math.Sqrt(0.07985 / 12), anova.RepeatabilityStandardDeviation, 1e-14);
        Assert.Equal(Math.Sqrt(anova.Groups.VarianceComponent + anova.Runs.VarianceComponent + anova.Within.VarianceComponent), anova.ReproducibilityStandardDeviation, 1e-14);
    }

    // R 4.2, anova(lm(y ~ a/b)); coefficients of the expected mean squares by tests/data/anova/nested.py: traces of projections
    [Fact]
    public void A_nested_design_of_unequal_sizes()
    {
        var reference = CheckData.Json("anova/nested.json");
        double[][][] groups = [.. reference.GetProperty("groups").EnumerateArray().Select(g => g.EnumerateArray().Select(r => r.Numbers()).ToArray())];
        var anova = NestedAnova.Of(groups);
        NestedStage[] stages = [anova.Groups, anova.Runs, anova.Within];
        Assert.Equal([8.515, 1.81716666666666, 0.325833333333333], stages.Select(s => s.SumOfSquares), (a, b) => Math.Abs(a - b) < 1e-13);
        Assert.Equal([3.0, 4, 12], stages.Select(s => s.Dof));
        Assert.Equal(reference.GetProperty("components").Numbers(), stages.Select(s => s.VarianceComponent), (a, b) => Math.Abs(a - b) < 1e-12);
        Assert.Equal(anova.Runs.MeanSquare / anova.Within.MeanSquare, anova.Runs.F!.Value, 1e-12);
        Assert.Equal(FisherF.UpperTail(anova.Runs.F!.Value, 4, 12), anova.Runs.P!.Value, 1e-15);
        Assert.Null(anova.Within.F);
    }

    [Fact]
    public void F_does_not_depend_on_unit_origin_or_order() => Check.Sample(
        Gen.Select(Gen.Int[0, 400].Array[2, 8].Array[2, 6], Gen.Int[-30, 30], Gen.Int[-1000, 1000]),
        (counts, power, origin) =>
        {
            var values = counts.Select(g => g.Select(i => (double)i).ToArray()).ToArray();
            if (values.All(g => g.All(v => v == values[0][0])))
                return;
            var anova = OneWayAnova.Of(values);
            // powers of two and whole shifts are exact in doubles, so that nothing may change
            var moved = OneWayAnova.Of([.. values.Select(g => g.Select(v => (v + origin) * Math.ScaleB(1, power)).Reverse().ToArray()).Reverse()]);
            Assert.Equal(anova.F, moved.F, 1e-13 * (double.IsFinite(anova.F) ? anova.F : 1));
            Assert.Equal(anova.RepeatabilityStandardDeviation * Math.ScaleB(1, power), moved.RepeatabilityStandardDeviation, 1e-14 * Math.ScaleB(400, power));
            Assert.Equal(anova.BetweenStandardDeviation * Math.ScaleB(1, power), moved.BetweenStandardDeviation, 1e-13 * Math.ScaleB(400, power));
            Assert.InRange(anova.RSquared, 0, 1);
            Assert.InRange(anova.P, 0, 1);
        },
        iter: 300);

    [Fact]
    public void Moving_groups_apart_raises_F_and_the_between_group_sd() => Check.Sample(
        Gen.Select(Gen.Double[-1, 1].Array[6], Gen.Double[0.1, 5], Gen.Double[1.01, 3]),
        (noise, apart, further) =>
        {
            OneWayAnova At(double gap)
            {
                // each group about its own mean, so that the distance alone changes
                double[] a = noise[..3], b = noise[3..];
                return OneWayAnova.Of([.. a.Select(v => v - a.Average())], [.. b.Select(v => v - b.Average() + gap)]);
            }
            return double.IsPositiveInfinity(At(apart).F) || At(apart * further).F > At(apart).F && At(apart * further).BetweenStandardDeviation >= At(apart).BetweenStandardDeviation;
        },
        iter: 200);

    // equal group means: nothing between; the mean square within alone remains
    [Fact]
    public void Groups_of_one_mean_have_no_between_group_sd_and_constant_groups_an_infinite_F()
    {
        var same = OneWayAnova.Of([1, 3], [0, 4], [2, 2]);
        Assert.Equal((0.0, 0.0, 1.0), (same.F, same.BetweenStandardDeviation, same.P));
        var constant = OneWayAnova.Of([0.1, 0.1, 0.1], [0.3, 0.3]);
        Assert.Equal((double.PositiveInfinity, 0.0, 1.0), (constant.F, constant.P, constant.RSquared));
    }

    public static TheoryData<string, Action, string> Refused { get; } = new()
    {
        { "one group", () => OneWayAnova.Of([1, 2]), "at least 2" },
        { "an empty group", () => OneWayAnova.Of([1, 2], []), "at least 1" },
        { "single values", () => OneWayAnova.Of([1], [2]), "at least one group" },
        { "NaN", () => OneWayAnova.Of([1, 2], [3, double.NaN]), "Value 2" },
        { "all equal", () => OneWayAnova.Of([2, 2], [2]), "not all equal" },
        { "one nested group", () => NestedAnova.Of([[[1, 2], [3]]]), "at least 2" },
        { "no run", () => NestedAnova.Of([[1, 2]], []), "Group 2" },
        { "one run a group", () => NestedAnova.Of([[1, 2]], [[3, 4]]), "at least one group" },
        { "single values in runs", () => NestedAnova.Of([[1], [2]], [[3]]), "at least one run" },
        { "nothing varies within runs", () => NestedAnova.Of([[1, 1], [2, 2]], [[3, 3]]), "0" },
        { "autocorrelation of equal values", () => Autocorrelation.Lag1([3, 3, 3]), "not all equal" },
        { "autocorrelation of one value", () => Autocorrelation.Lag1([3]), "at least 2" },
    };

    [Theory(DisableDiscoveryEnumeration = true)]
    [MemberData(nameof(Refused))]
    public void What_cannot_be_analysed_is_refused_with_its_limit(string what, Action act, string says)
    {
        var error = Assert.ThrowsAny<ArgumentException>(act);
        Assert.False(string.IsNullOrEmpty(error.ParamName), what);
        Assert.Contains(says, error.Message);
    }
}
