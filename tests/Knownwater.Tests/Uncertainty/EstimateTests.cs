using CsCheck;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public class EstimateTests
{
    [Fact]
    public void The_default_is_exactly_zero()
    {
        Estimate nothing = default;
        Assert.Equal(0, nothing.Value);
        Assert.Equal(0, nothing.StandardUncertainty);
        Assert.Equal(double.PositiveInfinity, nothing.EffectiveDof);
        Assert.Empty(nothing.Contributions);
        Assert.Empty(nothing.Budget());
        Assert.Null(nothing.LargestSource);
        Assert.True(nothing.IsExact);
        Assert.Equal(Estimate.Exact(0), nothing);
        Assert.Equal(default, (Estimate)0.0);
        Assert.Equal(3, (nothing + 3).Value);
    }

    [Fact]
    public void A_value_minus_itself_is_the_default()
    {
        var x = Estimate.From(5, 0.1, "stock");
        Assert.Equal(default, x - x);
        Assert.Equal(default(Estimate).GetHashCode(), (x - x).GetHashCode());
        Assert.True(x / x == 1);
        Assert.True(x != 5);
        Assert.False(x.Equals("x"));
    }

    // by hand: u² = (0.1·3)² + (10·0.02)² + (1·0.10)² = 0.09 + 0.04 + 0.01 for 1000 · 10/100
    [Fact]
    public void A_dilution_carries_the_uncertainty_of_every_input()
    {
        var c = Estimate.From(1000, 3, "stock") * Estimate.From(10, 0.02, "aliquot") / Estimate.From(100, 0.1, "mark");
        Assert.Equal(100, c.Value, 1e-13);
        Assert.Equal(Math.Sqrt(0.14), c.StandardUncertainty, 1e-14);
    }

    // by hand: V = nominal·(1 + gain) for both deliveries, gain u 0.006; noise 0.004 and 0.01 mL. Ratio 2: the gain cancels,
    // u = 2·√((0.004/5)² + (0.01/10)²). Correlation of the volumes: 5·10·0.006²/(u₁u₂)
    [Fact]
    public void Two_deliveries_by_one_pipette_share_its_gain()
    {
        var gain = Estimate.From(1, 0.006, "pipette, gain");
        var v1 = 5 * gain + Estimate.From(0, 0.004, "first delivery");
        var v2 = 10 * gain + Estimate.From(0, 0.01, "second delivery");
        var ratio = v2 / v1;
        Assert.Equal(2, ratio.Value, 1e-15);
        Assert.Equal(2 * Math.Sqrt(0.0008 * 0.0008 + 0.001 * 0.001), ratio.StandardUncertainty, 1e-16);
        Assert.Equal(50 * 0.006 * 0.006, Estimate.Covariance(v1, v2), 1e-17);
        var (u1, u2) = (Math.Sqrt(0.03 * 0.03 + 0.004 * 0.004), Math.Sqrt(0.06 * 0.06 + 0.01 * 0.01));
        Assert.Equal(0.0018 / (u1 * u2), Estimate.Correlation(v1, v2), 1e-14);
        Assert.Equal(1, Estimate.Correlation(v1, v1), 1e-15);
        Assert.Equal(-1, Estimate.Correlation(v1, -v1), 1e-15);
    }

    [Fact]
    public void An_exact_number_has_no_correlation_and_says_so()
    {
        var x = Estimate.From(5, 0.1, "stock");
        Assert.Contains("exact", Assert.Throws<ArgumentException>("b", () => Estimate.Correlation(x, 3)).Message);
        Assert.Equal(0, Estimate.Covariance(x, 3));
    }

    [Fact]
    public void Estimates_over_the_same_sources_share_one_array()
    {
        var (a, b) = (Estimate.From(5, 0.1, "a"), Estimate.From(7, 0.2, "b"));
        var sum = a + b;
        Assert.True(Estimate.ShareSourceArray(sum, sum * 3));
        Assert.True(Estimate.ShareSourceArray(sum, sum / (2 + sum)));
        Assert.True(Estimate.ShareSourceArray(sum, sum + a));
        Assert.True(Estimate.ShareSourceArray(sum, b * sum));
        Assert.True(Estimate.ShareSourceArray(sum, Estimate.Exp(sum)));
        Assert.True(Estimate.ShareSourceArray(sum, Estimate.Weighted([sum, sum * 2, 4], [1, 2, 3])));
        Assert.True(Estimate.ShareSourceArray(sum, Estimate.Weighted([a, sum, b], [1, 2, 3])));
    }

    [Fact]
    public void A_budget_lists_the_largest_first_and_its_shares_sum_to_one()
    {
        var gain = ErrorSource.Rectangular("pipette, gain", 0.01);
        var y = Estimate.From(1000, 3, "stock", "mg/L") * Estimate.From(1, gain) * 0.005;
        var budget = y.Budget();
        Assert.Equal(["pipette, gain", "stock"], budget.Select(l => l.Name));
        Assert.Equal(5, budget[0].Sensitivity, 1e-13);
        Assert.Equal(gain.StandardUncertainty, budget[0].StandardUncertainty);
        Assert.Equal(0.015, budget[1].Contribution, 1e-15);
        Assert.Equal(1, budget.Sum(l => l.Share), 1e-15);
        Assert.Equal("pipette, gain", y.LargestSource!.Value.Source.Name);
        Assert.Equal("stock", y.LargestAmong(s => s.Name == "stock")!.Value.Source.Name);
        Assert.Null(y.LargestAmong(s => s.Name == "flask"));
        Assert.Equal(-5 * gain.StandardUncertainty, (-y).LargestSource!.Value.Value, 1e-15);
    }

    [Fact]
    public void One_source_may_enter_with_a_sensitivity()
    {
        var gain = ErrorSource.Normal("gain", 0.006);
        var v = Estimate.From(5, gain, sensitivity: -5);
        Assert.Equal(-0.03, v.Contributions.Single().Value, 1e-17);
        Assert.True(Estimate.From(5, gain, 0).IsExact);
    }

    [Fact]
    public void Zero_uncertainty_makes_an_exact_number() => Assert.True(Estimate.From(5, 0, "stock").IsExact);

    [Fact]
    public void Weighted_sums_equal_the_operators()
    {
        var gain = Estimate.From(1, 0.01, "gain");
        Estimate[] x = [gain * 5, gain * 7 + Estimate.From(0, 0.1, "a"), Estimate.From(3, 0.2, "b"), 11];
        double[] w = [0.5, -2, 3, 1];
        var sum = Estimate.Weighted(x, w);
        var byHand = 0.5 * x[0] - 2 * x[1] + 3 * x[2] + x[3];
        Assert.Equal(byHand.Value, sum.Value, 1e-14);
        Assert.Equal(byHand.StandardUncertainty, sum.StandardUncertainty, 1e-14);
        Assert.Equal(0, (sum - byHand).StandardUncertainty, 1e-16);
        Assert.Equal(default, Estimate.Weighted([], []));
        Assert.Equal(6.5, Estimate.Mean([x[0], x[1], x[2], x[3]]).Value, 1e-14);
        Assert.Equal(1.1, Estimate.Weighted(Enumerable.Repeat(Estimate.Exact(1.1), 10).ToArray(), Enumerable.Repeat(0.1, 10).ToArray()).Value, 1e-16);
    }

    [Fact]
    public void The_mean_of_many_values_with_noise_of_their_own_is_quick_and_right()
    {
        var shared = Estimate.From(0, 0.1, "stock");
        var x = Enumerable.Range(0, 20_000).Select(i => 5 + shared + Estimate.From(0, 2, $"noise {i}")).ToArray();
        var mean = Estimate.Mean(x);
        Assert.Equal(5, mean.Value, 1e-12);
        Assert.Equal(Math.Sqrt(0.01 + 4.0 / 20_000), mean.StandardUncertainty, 1e-12);
    }

    [Fact]
    public void Functions_carry_their_slopes()
    {
        var x = Estimate.From(4, 0.1, "x");
        Assert.Equal((2, 0.025), Parts(Estimate.Sqrt(x)));
        Assert.Equal((Math.Exp(4), 0.1 * Math.Exp(4)), Parts(Estimate.Exp(x)));
        Assert.Equal((Math.Log(4), 0.025), Parts(Estimate.Log(x)));
        Assert.Equal((64, 4.8), Parts(Estimate.Pow(x, 3)), Near);
        Assert.Equal((1, 0), Parts(Estimate.Pow(x, 0)));
        Assert.Equal((-8, 1.2), Parts(Estimate.Pow(Estimate.From(-2, 0.1, "n"), 3)), Near);
        Assert.Equal(default, Estimate.Sqrt(0));
        Assert.Equal(default, Estimate.Pow(0, 0.5));
        Assert.Equal((0, 0), Parts(Estimate.Pow(Estimate.From(0, 0.1, "n"), 2)));

        static (double, double) Parts(Estimate e) => (e.Value, e.StandardUncertainty);
        static bool Near((double, double) a, (double, double) b) => Math.Abs(a.Item1 - b.Item1) < 1e-13 && Math.Abs(a.Item2 - b.Item2) < 1e-13;
    }

    [Fact]
    public void Uncertainties_far_outside_the_common_range_neither_overflow_nor_vanish()
    {
        Assert.Equal(5e-200, (Estimate.From(0, 3e-200, "a") + Estimate.From(0, 4e-200, "b")).StandardUncertainty, 1e-214);
        Assert.Equal(1, (Estimate.From(0, 3e200, "a") + Estimate.From(0, 4e200, "b")).StandardUncertainty / 5e200, 1e-14);
    }

    [Fact]
    public void Text_is_invariant()
    {
        Assert.Equal("5.5 ± 0.25 (k = 1)", Estimate.From(5.5, 0.25, "x").ToString());
        Assert.Equal("5.5", Estimate.Exact(5.5).ToString());
    }

    public static TheoryData<string, Action> Refused => new()
    {
        { "finite", () => Estimate.Exact(double.NaN) },
        { "finite", () => _ = (Estimate)double.PositiveInfinity },
        { "finite", () => Estimate.From(double.NaN, 1, "x") },
        { "zero or above", () => Estimate.From(1, -1, "x") },
        { "zero or above", () => Estimate.From(1, double.NaN, "x") },
        { "above zero", () => Estimate.From(1, 1, "x", "", 0) },
        { "finite", () => Estimate.From(1, ErrorSource.Normal("x", 1), double.NaN) },
        { "divisor must not be zero", () => _ = Estimate.From(1, 1, "x") / 0 },
        { "must be above zero", () => Estimate.Sqrt(-1) },
        { "must be above zero", () => Estimate.Sqrt(Estimate.From(0, 1, "x")) },
        { "must be above zero", () => Estimate.Log(0) },
        { "whole exponents", () => Estimate.Pow(-2, 0.5) },
        { "at least 1", () => Estimate.Pow(0, -1) },
        { "at least 1", () => Estimate.Pow(Estimate.From(0, 1, "x"), 0.5) },
        { "finite", () => Estimate.Pow(2, double.NaN) },
        { "one weight", () => Estimate.Weighted([1, 2], [1]) },
        { "Value 2", () => Estimate.Weighted([1, 2], [1, double.NaN]) },
        { "at least one", () => Estimate.Mean([]) },
        { "contribution", () => Estimate.FromRows(1, [(ErrorSource.Normal("x", 1), double.NaN)]) },
        { "no source", () => Estimate.FromRows(1, [(null!, 1)]) },
    };

    [Theory(DisableDiscoveryEnumeration = true)]
    [MemberData(nameof(Refused))]
    public void What_has_no_finite_answer_is_refused(string word, Action act) => Assert.Contains(word, Assert.ThrowsAny<ArgumentException>(act).Message);

    [Fact]
    public void Overflow_throws()
    {
        Assert.Throws<OverflowException>(() => Estimate.From(1e300, 1, "x") * 1e10);
        Assert.Throws<OverflowException>(() => Estimate.Exp(1000));
        Assert.Throws<OverflowException>(() => Estimate.From(1, 1e300, "x") * 1e10);
        Assert.Throws<OverflowException>(() => Estimate.Weighted([1e300, 1e300], [1e300, 1]));
    }

    // ---- identity ----

    // what is made anew from the records, or from a plan, in another process is still the same source
    [Fact]
    public void Two_objects_with_one_id_are_one_source_wherever_they_meet()
    {
        var id = Guid.NewGuid();
        Estimate Fresh(double value, double u = 0.1) => Estimate.From(value, ErrorSource.Normal("stock", u, id: id)) + Estimate.From(1, 0.3, "other");
        var (a, b) = (Fresh(5), Fresh(9));
        Assert.Equal(0.01, Estimate.Covariance(a, b), 1e-15);
        Assert.Equal(Math.Sqrt(0.2 * 0.2 + 0.09 + 0.09), (a + b).StandardUncertainty, 1e-15);
        Assert.Equal(Math.Sqrt(0.09 + 0.09), (a - b).StandardUncertainty, 1e-15);
        Assert.Equal((a + b).StandardUncertainty, Estimate.Weighted([a, 1, b], [1, 1, 1]).StandardUncertainty, 1e-15);
        Assert.Equal((a * b).StandardUncertainty, Estimate.Of(new Product(), [a, b]).StandardUncertainty, 1e-14);
        Assert.Equal(3, (a + b).Contributions.Count);
        Assert.Equal(0, (Estimate.From(5, ErrorSource.Normal("stock", 0.1, id: id)) - Estimate.From(5, ErrorSource.Normal("stock", 0.1, id: id))).StandardUncertainty);
        // a u that was mended since does not make it another source: 0.1 and 0.2 of one ξ
        Assert.Equal(0.02, Estimate.Covariance(a, Fresh(5, 0.2)), 1e-15);
        Assert.Contains("twice", Assert.Throws<ArgumentException>("rows", () =>
            Estimate.FromRows(1, [(ErrorSource.Normal("stock", 0.1, id: id), 1), (ErrorSource.Normal("stock", 0.1, id: id), 2)])).Message);
        Assert.Equal(Estimate.From(5, ErrorSource.Normal("stock", 0.1, id: id)), Estimate.From(5, ErrorSource.Normal("stock", 0.1, id: id)));
    }

    [Fact]
    public void A_source_twice_in_the_rows_is_refused()
    {
        var source = ErrorSource.Normal("stock", 0.1);
        Assert.Contains("twice", Assert.Throws<ArgumentException>("rows", () => Estimate.FromRows(1, [(source, 1), (source, 2)])).Message);
    }

    // ids chosen so that their order numbers (exclusive or of the halves) are equal: 1^1 = 2^2
    [Fact]
    public void Different_ids_with_one_order_number_stay_apart()
    {
        var a = Estimate.From(1, ErrorSource.Normal("a", 3, id: new Guid("00000000-0000-0001-0000-000000000001")));
        var b = Estimate.From(1, ErrorSource.Normal("b", 4, id: new Guid("00000000-0000-0002-0000-000000000002")));
        Assert.Equal(5, (a + b).StandardUncertainty, 1e-15);
        Assert.Equal(5, (b + a).StandardUncertainty, 1e-15);
        Assert.Equal(5, Estimate.Weighted([b, a], [1, 1]).StandardUncertainty, 1e-15);
        Assert.Equal(a + b, b + a);
        Assert.Equal(0, Estimate.Covariance(a, b));
    }

    // ---- laws ----

    private static readonly ErrorSource[] Pool = [.. Enumerable.Range(0, 8).Select(i => ErrorSource.Normal($"s{i}", 0.5 + i, dof: i % 2 == 0 ? 3 + i : double.PositiveInfinity))];

    private static readonly Gen<Estimate> AnEstimate =
        Gen.Select(Gen.Double[0.5, 50], Gen.Int[0, 255], Gen.Double[-0.2, 0.2].Array[8],
            (value, mask, c) => Estimate.FromRows(value, Enumerable.Range(0, 8).Where(i => (mask >> i & 1) == 1).Select(i => (Pool[i], value * c[i]))));

    [Fact]
    public void A_value_minus_itself_and_over_itself_has_no_uncertainty() => Check.Sample(
        Gen.Select(AnEstimate, AnEstimate),
        (x, w) =>
        {
            Assert.Equal(default, x - x);
            Assert.Equal(Estimate.Exact(1), w / w);
            Assert.Equal(default, x * w - w * x);
            Assert.Equal(default, x + w - (w + x));
        });

    [Fact]
    public void Covariance_is_symmetric_and_with_itself_the_variance() => Check.Sample(
        Gen.Select(AnEstimate, AnEstimate, AnEstimate),
        (x, y, z) =>
        {
            Assert.Equal(Estimate.Covariance(x, y), Estimate.Covariance(y, x));
            Near(x.StandardUncertainty * x.StandardUncertainty, Estimate.Covariance(x, x), 1e-14);
            var scale = (x.StandardUncertainty + y.StandardUncertainty) * z.StandardUncertainty;
            Assert.Equal(Estimate.Covariance(x, z) + Estimate.Covariance(y, z), Estimate.Covariance(x + y, z), 1e-14 * scale);
            var u2 = Math.Pow(x.StandardUncertainty, 2) + Math.Pow(y.StandardUncertainty, 2) - 2 * Estimate.Covariance(x, y);
            Assert.Equal(u2, Math.Pow((x - y).StandardUncertainty, 2), 1e-13 * (Math.Pow(x.StandardUncertainty, 2) + Math.Pow(y.StandardUncertainty, 2)));
        });

    [Fact]
    public void Another_unit_leaves_the_relative_uncertainty_and_the_correlations_alone() => Check.Sample(
        Gen.Select(AnEstimate, AnEstimate, Gen.Double[1e-6, 1e6]),
        (x, y, k) =>
        {
            var scaled = k * x;
            Near(x.StandardUncertainty / x.Value, scaled.StandardUncertainty / scaled.Value, 1e-14);
            Near(Estimate.Covariance(x, y), Estimate.Covariance(scaled, y) / k, 1e-13, x.StandardUncertainty * y.StandardUncertainty);
            Near(1 / x.EffectiveDof, 1 / scaled.EffectiveDof, 1e-13);
            var ratio = k * x / (k * y);
            var plain = x / y;
            Near(plain.Value, ratio.Value, 1e-14);
            Near(plain.StandardUncertainty, ratio.StandardUncertainty, 1e-13, plain.Value);
        });

    private readonly struct Product : IModel
    {
        public int Inputs => 2;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] * x[1];
    }

    /// <summary>Every operation of a model once, with inputs between 0.5 and 50.</summary>
    private readonly struct Everything : IModel
    {
        public int Inputs => 4;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T>
        {
            var a = x[0] * x[1] / x[2] - 2.5 * x[3] + 1;
            var b = T.Sqrt(x[0] + x[3]) * T.Log(x[1] + 1) + T.Pow(x[2], -0.3) + T.Pow(x[3], 2) / 7;
            return a * T.Exp(-x[2] / 40) - b / (x[0] + x[1]) + -x[3];
        }
    }

    [Fact]
    public void The_gradient_gives_what_the_operators_give() => Check.Sample(
        AnEstimate.Array[4],
        x =>
        {
            var byGradient = Estimate.Of(new Everything(), x);
            var byOperators = new Everything().Evaluate<Estimate>(x);
            Near(byOperators.Value, byGradient.Value, 1e-12, 100 + Math.Abs(byOperators.Value));
            Assert.Equal(0, (byGradient - byOperators).StandardUncertainty, 1e-12 * (100 + byOperators.StandardUncertainty));
        });

    [Fact]
    public void A_model_with_the_wrong_number_of_inputs_or_without_a_slope_is_refused()
    {
        Assert.Contains("2 inputs, 1", Assert.Throws<ArgumentException>("x", () => Estimate.Of(new Product(), [1])).Message);
        Assert.Contains("slope", Assert.Throws<ArgumentOutOfRangeException>("x", () => Estimate.Of(new Root(), [Estimate.From(0, 1, "x")])).Message);
        Assert.Contains("value NaN", Assert.Throws<ArgumentOutOfRangeException>("x", () => Estimate.Of(new Root(), [-1])).Message);
        Assert.Equal(default, Estimate.Of(new Root(), [0]));
    }

    private readonly struct Root : IModel
    {
        public int Inputs => 1;

        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => T.Sqrt(x[0]);
    }

    // f = x²·√y at (3, 4): f_x = 2x√y = 12, f_xy = x/√y = 1.5, f_yy = −x²/4·y^(−3/2) = −0.28125
    [Fact]
    public void Nested_dual_numbers_give_second_derivatives()
    {
        Dual<Dual<Real>> X(double v, double first, double second) => new(new(v, first), new(second, 0.0));
        var fxy = Mixed(X(3, 1, 0), X(4, 0, 1));
        Assert.Equal(18, fxy.Value.Value.Value, 1e-13);
        Assert.Equal(12, fxy.Value.Derivative.Value, 1e-13);
        Assert.Equal(1.5, fxy.Derivative.Derivative.Value, 1e-13);
        Assert.Equal(-0.28125, Mixed(X(3, 0, 0), X(4, 1, 1)).Derivative.Derivative.Value, 1e-13);

        static T Mixed<T>(T x, T y) where T : IReal<T> => T.Pow(x, 2) * T.Sqrt(y);
    }

    [Fact]
    public void Rows_give_the_estimate_back() => Check.Sample(
        AnEstimate.Array[3],
        x =>
        {
            // stored as rows, read back with one object for each id, in another order
            var map = new Dictionary<Guid, ErrorSource>();
            ErrorSource Read(ErrorSource s)
            {
                if (!map.TryGetValue(s.Id, out var one))
                    map.Add(s.Id, one = new ErrorSource(s.Id, s.Name, s.StandardUncertainty, s.Unit, s.Dof, s.Shape, s.Family, s.TopToBase));
                return one;
            }
            Estimate[] back = [.. x.Select(e => Estimate.FromRows(e.Value, e.Contributions.Reverse().Select(c => (Read(c.Source), c.Value))))];
            for (var i = 0; i < 3; i++)
            {
                Assert.Equal(x[i], back[i]);
                Assert.Equal(x[i].StandardUncertainty, back[i].StandardUncertainty, 1e-13 * x[i].StandardUncertainty);
                Assert.Equal(x[i].EffectiveDof, back[i].EffectiveDof);
                Assert.Equal(Estimate.Covariance(x[i], x[0]), Estimate.Covariance(back[i], back[0]), 1e-13 * x[i].StandardUncertainty * x[0].StandardUncertainty);
            }
        },
        iter: 300);

    [Fact]
    public void One_more_independent_input_never_lowers_the_uncertainty() => Check.Sample(
        Gen.Select(AnEstimate, AnEstimate, Gen.Double[-5, 5], Gen.Double[1e-9, 10]),
        (x, y, value, u) =>
        {
            var more = Estimate.From(value, u, "one more");
            Assert.True((x + more).StandardUncertainty >= x.StandardUncertainty);
            Assert.True((x - y + more).StandardUncertainty >= (x - y).StandardUncertainty);
            var factor = 1 + 0 * more + Estimate.From(0, u, "factor");
            Assert.True((x * factor).StandardUncertainty >= x.StandardUncertainty);
        });

    [Fact]
    public void Closing_keeps_uncertainty_degrees_of_freedom_and_covariance_with_the_rest()
    {
        Guid repeatability = Guid.NewGuid(), other = Guid.NewGuid();
        Check.Sample(
            Gen.Select(AnEstimate, AnEstimate, Gen.Double[0.01, 2].Array[1, 7], Gen.Int[0, 2].Array[7], Gen.Double[1, 20].Array[7]),
            (x, y, u, kind, dof) =>
            {
                var noise = u.Select((v, i) => kind[i] switch
                {
                    0 => ErrorSource.Normal($"noise {i}", v, dof: dof[i]),
                    1 => ErrorSource.MeanOfReadings($"noise {i}", v, 2, dof: 5, family: repeatability),
                    _ => ErrorSource.MeanOfReadings($"noise {i}", v, 3, dof: 11, family: other),
                }).ToArray();
                var whole = noise.Aggregate(x, (sum, s) => sum + Estimate.From(0, s));
                var closed = whole.Close(noise.Contains, "replicates");
                Assert.Equal(whole.Value, closed.Value);
                Near(whole.StandardUncertainty, closed.StandardUncertainty, 1e-14);
                Near(1 / whole.EffectiveDof, 1 / closed.EffectiveDof, 1e-12);
                Assert.Equal(Estimate.Covariance(whole, y), Estimate.Covariance(closed, y));
                Assert.True(closed.Contributions.Count <= x.Contributions.Count + 3);
                // a family goes on: another level with the same repeatability
                var level = Estimate.From(1, ErrorSource.MeanOfReadings("other level", 1, 2, dof: 5, family: repeatability));
                Near(1 / (whole + level).EffectiveDof, 1 / (closed + level).EffectiveDof, 1e-12);
            },
            iter: 300);
    }

    [Fact]
    public void Closing_fewer_than_two_private_sources_changes_nothing()
    {
        var x = Estimate.From(1, 0.1, "shared") + Estimate.From(1, 0.2, "noise");
        Assert.Equal(x, x.Close(s => s.Name == "noise", "pool"));
        Assert.Equal(x, x.Close(_ => false, "pool"));
        Assert.Equal(default, default(Estimate).Close(_ => true, "pool"));
        var ids = new Queue<Guid>([Guid.NewGuid()]);
        var id = ids.Peek();
        var pooled = x.Close(_ => true, "pool", "mg/L", ids.Dequeue).Contributions.Single().Source;
        Assert.Equal(("pool", "mg/L", id), (pooled.Name, pooled.Unit, pooled.Id));
        Assert.Throws<ArgumentException>("name", () => x.Close(_ => true, " "));
    }

    private static void Near(double expected, double actual, double relative, double scale = 0) =>
        Assert.InRange(actual, expected - relative * Math.Max(Math.Abs(expected), scale), expected + relative * Math.Max(Math.Abs(expected), scale));
}
