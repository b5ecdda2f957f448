using CsCheck;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

public class HypothesisTests
{
    private static readonly double[] A = [7.91, 7.98, 7.83, 8.02, 7.88], B = [8.12, 8.05, 8.08, 7.95];

    // R 4.2: t.test and var.test of tests/data/t-tests/tests.R
    [Fact]
    public void Tests_of_R()
    {
        var rows = CheckData.Rows("t-tests/tests.csv").ToDictionary(r => r.Text("test"));
        TTest one = TTest.OneSample(A, 7.8);
        foreach (var (name, test) in new[] { ("one_sample", one), ("pooled", TTest.TwoSample(A, B)), ("welch", TTest.Welch(A, B)), ("paired", TTest.Paired(A.AsSpan(0, 4), B)) })
        {
            var row = rows[name];
            Assert.Equal(row["statistic"], test.T, 1e-11);
            Assert.Equal(row["dof"], test.Dof, 1e-11);
            Assert.Equal(row["p"], test.P, 1e-13);
            var shift = name == "one_sample" ? 7.8 : 0;
            Assert.Equal(row["low"], test.Interval().Low + shift, 1e-12);
            Assert.Equal(row["high"], test.Interval().High + shift, 1e-12);
        }
        Assert.Equal(rows["greater"]["p"], one.PGreater, 1e-13);
        Assert.Equal(rows["less"]["p"], one.PLess, 1e-13);
        // two one-sided tests against limits at the ends of the 80 % interval are just at 10 %
        Assert.Equal(rows["greater"]["low"], one.Interval(0.8).Low + 7.8, 1e-12);
        Assert.Equal(0.1, one.EquivalenceP(one.Interval(0.8)), 1e-12);

        var f = rows["variances"];
        var variances = FTest.Of(SampleMoments.Of(A).Variance, 4, SampleMoments.Of(B).Variance, 3);
        Assert.Equal(f["statistic"], variances.F, 1e-12);
        Assert.Equal(f["p"], variances.TwoSidedP, 1e-12);
        Assert.Equal(f["low"], variances.RatioInterval().Low, 1e-12);
        Assert.Equal(f["high"], variances.RatioInterval().High, 1e-11);
    }

    // bias_and_scores.json: t of a mean against a certified value taken as exact; its critical values carry scipy 1.10's quantile, 4e-10 off
    [Fact]
    public void T_of_a_mean_against_a_certified_value()
    {
        foreach (var c in CheckData.Json("bias/bias_and_scores.json").GetProperty("cases").EnumerateArray())
        {
            var n = c.Number("n");
            var test = TTest.Of(c.Number("mean") - c.Number("certified"), c.Number("s") / Math.Sqrt(n), n - 1);
            Assert.Equal(c.Number("t"), test.T, 1e-11);
            Assert.Equal(c.Number("t_crit_95"), -StudentT.Quantile(0.025, test.Dof), 2e-9);
        }
    }

    // two degrees of freedom: P(|T| > t) = 1 − t/√(2 + t²)
    [Fact]
    public void A_known_standard_error_by_hand()
    {
        var test = TTest.Of(0.3, 0.1, 2);
        Assert.Equal(3, test.T, 1e-15);
        Assert.Equal(1 - 3 / Math.Sqrt(11), test.P, 1e-14);
        Assert.Equal(test.P / 2, test.PGreater, 1e-15);
        Assert.Equal(1, test.PGreater + test.PLess, 1e-15);
        // against ±1: the nearer limit is 7 standard errors away
        Assert.Equal((1 - 7 / Math.Sqrt(51)) / 2, test.EquivalenceP(new Interval(-1, 1)), 1e-14);
        Assert.Equal(0.5, test.EquivalenceP(new Interval(-1, 0.3)), 1e-15);
    }

    // two degrees of freedom: P(χ² > x) = e^(−x/2)
    [Fact]
    public void A_standard_deviation_against_a_known_one_by_hand()
    {
        var test = ChiSquareTest.Of(0.3, 2, 0.2);
        Assert.Equal(4.5, test.ChiSquare, 1e-14);
        Assert.Equal(Math.Exp(-2.25), test.PGreater, 1e-15);
        Assert.Equal(1 - Math.Exp(-2.25), test.PLess, 1e-15);
        Assert.Equal(2 * Math.Exp(-2.25), test.P, 1e-15);
    }

    [Fact]
    public void Tests_do_not_depend_on_unit_origin_or_order_and_change_sign_with_the_sides() => Check.Sample(
        Gen.Select(Gen.Int[-100, 100].Array[3, 12], Gen.Int[-100, 100].Array[3, 12], Gen.Int[-20, 20], Gen.Int[-500, 500]),
        (first, second, power, origin) =>
        {
            if (first.Distinct().Count() == 1 || second.Distinct().Count() == 1)
                return;
            double[] x = [.. first.Select(i => (double)i)], y = [.. second.Select(i => (double)i)];
            double[] Moved(double[] v) => [.. v.Reverse().Select(i => Math.ScaleB(i + origin, power))];
            foreach (var test in new Func<double[], double[], TTest>[] { (a, b) => TTest.TwoSample(a, b), (a, b) => TTest.Welch(a, b) })
            {
                var plain = test(x, y);
                Assert.Equal(plain.P, test(Moved(x), Moved(y)).P, 1e-13);
                Assert.Equal(plain.T, -test(y, x).T, 1e-12);
                Assert.Equal(plain.Dof, test(y, x).Dof, 1e-11);
            }
            // with two groups the analysis of variance is the square of the pooled test
            var t = TTest.TwoSample(x, y).T;
            Assert.Equal(t * t, OneWayAnova.Of(x, y).F, 1e-11 * (1 + t * t));
            Assert.True(TTest.Welch(x, y).Dof <= x.Length + y.Length - 2 + 1e-9);
        },
        iter: 300);

    [Fact]
    public void Equivalence_is_found_exactly_where_the_interval_lies_inside() => Check.Sample(
        Gen.Select(Gen.Double[-2, 2], Gen.Double[0.01, 1], Gen.Int[1, 40], Gen.Double[0.1, 2]),
        (difference, se, dof, limit) =>
        {
            var test = TTest.Of(difference, se, dof);
            var interval = test.Interval(0.90);
            var inside = interval.Low > -limit && interval.High < limit;
            return (test.EquivalenceP(new Interval(-limit, limit)) < 0.05) == inside;
        },
        iter: 500);

    // R 4.2: power.t.test(power = …)$n is 22.02, 63.77, 32.86, 26.58 (one-sided), 5.88 (alpha 0.01)
    [Fact]
    public void Numbers_of_values_for_a_power()
    {
        Assert.Equal(23, TTestPower.TwoSampleNumber(0.9, 1, 1));
        Assert.Equal(64, TTestPower.TwoSampleNumber(0.8, -0.5, 1));
        Assert.Equal(33, TTestPower.OneSampleNumber(0.9, 0.7, 1.2));
        Assert.Equal(27, TTestPower.OneSampleNumber(0.9, 0.7, 1.2, twoSided: false));
        Assert.Equal(6, TTestPower.TwoSampleNumber(0.95, 3, 1, alpha: 0.01));
        Assert.Equal(2, TTestPower.OneSampleNumber(0.9, 1000, 1));
    }

    public static TheoryData<string, Action, string> Refused { get; } = new()
    {
        { "one value", () => TTest.OneSample([1], 0), "at least 2" },
        { "equal values", () => TTest.OneSample([3, 3, 3], 0), "standard deviation is 0" },
        { "an infinite known value", () => TTest.OneSample([1, 2], double.PositiveInfinity), "finite" },
        { "unequal pairs", () => TTest.Paired([1, 2, 3], [1, 2]), "2 second values" },
        { "equal differences", () => TTest.Paired([1, 2], [0, 1]), "standard deviation is 0" },
        { "an empty sample", () => TTest.TwoSample([], [1, 2]), "at least 1" },
        { "no scatter", () => TTest.TwoSample([1, 1], [2, 2]), "standard deviation is 0" },
        { "single values", () => TTest.TwoSample([1], [2]), "standard deviation is 0" },
        { "Welch without scatter", () => TTest.Welch([1, 1], [2, 2]), "standard deviation is 0" },
        { "a standard error of zero", () => TTest.Of(1, 0, 3), "above zero" },
        { "limits that are swapped", () => TTest.Of(1, 1, 3).EquivalenceP(new Interval(1, -1)), "lower one below" },
        { "a known sd of zero", () => ChiSquareTest.Of(1, 3, 0), "above zero" },
        { "a power below alpha", () => TTestPower.OneSampleNumber(0.04, 1, 1), "above the level" },
        { "no difference", () => TTestPower.OneSampleNumber(0.9, 0, 1), "differ from zero" },
        { "a negative difference to a one-sided test", () => TTestPower.OneSampleNumber(0.9, -1, 1, twoSided: false), "above zero" },
        { "a difference that a million cannot show", () => TTestPower.OneSampleNumber(0.9, 1e-6, 1), "do not suffice" },
        { "moments of one value", () => MeanInterval.Of(SampleMoments.Of([1])), "at least 2" },
    };

    [Theory(DisableDiscoveryEnumeration = true)]
    [MemberData(nameof(Refused))]
    public void What_cannot_be_tested_is_refused_with_its_limit(string what, Action act, string says)
    {
        var error = Assert.ThrowsAny<ArgumentException>(act);
        Assert.False(string.IsNullOrEmpty(error.ParamName), what);
        Assert.Contains(says, error.Message);
    }
}
