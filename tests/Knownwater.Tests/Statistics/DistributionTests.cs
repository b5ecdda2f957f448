using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Statistics;

public class DistributionTests
{
    // JCGM 100:2008, Table G.2; six decimals, so half a unit of the sixth
    [Fact]
    public void T_factors_of_Table_G2()
    {
        foreach (var row in CheckData.Rows("gum-jcgm100/t_factors_gum_table_g2.csv"))
            Assert.Equal(row["t"], CoverageFactor.StudentT(row["coverage_percent"] / 100, row["dof"]), 0.51e-6);
    }

    [Fact]
    public void Student_t_keeps_its_relative_accuracy_in_the_tail_and_for_many_degrees_of_freedom()
    {
        foreach (var row in CheckData.Rows("distributions/student_t_wide.csv"))
        {
            var (t, dof, tail) = (row["t"], row["dof"], row["upper_tail"]);
            // 1e-11: scipy's incomplete beta function and the quadrature agree with each other to that
            Assert.InRange(StudentT.Cdf(-t, dof) / tail, 1 - 1e-11, 1 + 1e-11);
            Assert.Equal(1 - tail, StudentT.Cdf(t, dof), 1e-14);   // thirteen decimals printed
            if (tail > 1e-300)
                Assert.InRange(StudentT.Quantile(tail, dof) / -t, 1 - 1e-11, 1 + 1e-11);
        }
    }

    // closed forms: ν = 1 is the Cauchy distribution, t = tan π(p − ½); ν = 2: t = (2p − 1)/√(2p(1 − p))
    [Theory]
    [InlineData(1e-12)]
    [InlineData(0.0003)]
    [InlineData(0.2)]
    [InlineData(0.499)]
    [InlineData(0.9)]
    public void Quantiles_with_one_and_two_degrees_of_freedom_have_closed_forms(double p)
    {
        var one = p < 0.1 ? -1 / Math.Tan(Math.PI * p) : Math.Tan(Math.PI * (p - 0.5));
        Assert.Equal(1, StudentT.Quantile(p, 1) / one, 1e-11);
        Assert.Equal(1, StudentT.Quantile(p, 2) / ((2 * p - 1) / Math.Sqrt(2 * p * (1 - p))), 1e-11);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(4.5)]
    [InlineData(80)]
    [InlineData(2e6)]
    public void The_density_of_t_is_the_slope_of_its_distribution(double dof)
    {
        foreach (var t in new[] { 0.0, 0.4, 2, 6 })
        {
            const double h = 1e-4;
            var slope = (StudentT.Cdf(-t + h, dof) - StudentT.Cdf(-t - h, dof)) / (2 * h);
            Assert.Equal(slope, StudentT.Density(t, dof), 1e-7 * slope + 1e-11);
        }
    }

    // the tail of few degrees of freedom is a power: ten to the 200 times farther out it is 10^(−200ν) times smaller
    [Fact]
    public void The_tail_of_t_goes_on_where_squares_overflow()
    {
        Assert.Equal(1, StudentT.Cdf(-1e250, 0.3) / (StudentT.Cdf(-1e50, 0.3) * 1e-60), 1e-11);
        Assert.Equal(1, StudentT.Quantile(StudentT.Cdf(-1e250, 0.3), 0.3) / -1e250, 1e-10);
    }

    [Fact]
    public void Infinite_degrees_of_freedom_give_the_normal_distribution()
    {
        Assert.Equal(Normal.Cdf(1.3), StudentT.Cdf(1.3, double.PositiveInfinity), 1e-15);
        Assert.Equal(Normal.Quantile(0.975), StudentT.Quantile(0.975, double.PositiveInfinity), 1e-15);
        Assert.Equal(1.9599639845400545, CoverageFactor.Normal(0.95), 1e-14);
    }

    // JCGM 106:2012, Table 1
    [Fact]
    public void Normal_quantiles_of_JCGM_106_Table_1()
    {
        foreach (var line in CheckData.Json("jcgm106/jcgm106_conformity.json").GetProperty("table1_one_sided").EnumerateArray())
            Assert.Equal(line.Number("z"), Normal.Quantile(line.Number("pc")), 0.51e-4);
    }

    // scipy 1.10: special.ndtr(-8), special.ndtr(-37), special.ndtri(1e-300)
    [Fact]
    public void The_normal_distribution_keeps_its_digits_in_the_tail()
    {
        Assert.Equal(1, Normal.Cdf(-8) / 6.220960574271786e-16, 1e-13);
        Assert.Equal(1, Normal.Cdf(-37) / 5.725571222524576e-300, 1e-12);
        Assert.Equal(-37.0471, Normal.Quantile(1e-300), 1e-4);
        Assert.Equal(0, Normal.Quantile(0.5));
        Assert.Equal(Normal.Cdf(-8) - Normal.Cdf(-9), Normal.Between(8, 9), 1e-30);
        Assert.Equal(1 / Math.Sqrt(2 * Math.PI), Normal.Density(0), 1e-16);
    }

    // ten decimals printed; 3.869942 was printed from a longer number: half a unit of its last place times the density (below 0.4)
    [Fact]
    public void Noncentral_t_agrees_with_the_reference_table()
    {
        foreach (var row in CheckData.Rows("distributions/noncentral_t_cdf.csv"))
        {
            var exact = row.Text("noncentrality").EndsWith("000", StringComparison.Ordinal);
            Assert.Equal(row["cdf"], NoncentralT.Cdf(row["t"], row["dof"], row["noncentrality"]), exact ? 0.51e-10 : 2e-7);
        }
    }

    [Fact]
    public void Noncentral_t_agrees_with_the_series_for_large_noncentrality_and_many_degrees_of_freedom()
    {
        foreach (var row in CheckData.Rows("distributions/noncentral_t_wide.csv"))
        {
            var (t, dof, delta) = (row["t"], row["dof"], row["noncentrality"]);
            Assert.Equal(row["cdf"], NoncentralT.Cdf(t, dof, delta), 1e-11);
            Assert.Equal(1 - row["cdf"], NoncentralT.UpperTail(t, dof, delta), 1e-11);
            Assert.Equal(NoncentralT.Cdf(t, dof, delta), NoncentralT.UpperTail(-t, dof, -delta), 1e-14);
        }
    }

    // 15 digits by quadrature with 30 digits, both tails: tests/data/distributions/noncentral_t_exact.py
    [Fact]
    public void Noncentral_t_keeps_its_relative_accuracy_in_both_tails()
    {
        foreach (var row in CheckData.Rows("distributions/noncentral_t_exact.csv"))
        {
            Assert.Equal(1, NoncentralT.Cdf(row["t"], row["dof"], row["noncentrality"]) / row["lower"], 1e-12);
            Assert.Equal(1, NoncentralT.UpperTail(row["t"], row["dof"], row["noncentrality"]) / row["upper"], 1e-12);
        }
    }

    // calibration_examples.json: the δ of a detection limit with 5 degrees of freedom and 5 % on both sides, scipy
    [Fact]
    public void The_noncentrality_of_a_detection_limit()
    {
        var delta = CheckData.Json("calibration/calibration_examples.json").GetProperty("straight_line_inverse_prediction").GetProperty("detection_limits_computed").Number("delta_nu5_alpha_beta_0.05");
        Assert.Equal(0.05, NoncentralT.Cdf(StudentT.Quantile(0.95, 5), 5, delta), 1e-10);
    }

    [Fact]
    public void Noncentral_t_meets_its_limits()
    {
        Assert.Equal(StudentT.Cdf(1.7, 4), NoncentralT.Cdf(1.7, 4, 0), 1e-15);
        Assert.Equal(StudentT.Cdf(1.7, 4), NoncentralT.Cdf(1.7, 4, 1e-12), 1e-11);
        Assert.Equal(Normal.Cdf(-0.8), NoncentralT.Cdf(1.7, double.PositiveInfinity, 2.5), 1e-15);
        Assert.Equal(Normal.Cdf(-0.8), NoncentralT.Cdf(1.7, 1e9, 2.5), 1e-9);
        Assert.Equal(1, NoncentralT.Cdf(double.PositiveInfinity, 3, 2));
        Assert.Equal(0, NoncentralT.Cdf(double.NegativeInfinity, 3, 2));
    }

    // seven decimals printed
    [Fact]
    public void Power_of_the_t_test_agrees_with_the_reference_table()
    {
        foreach (var row in CheckData.Rows("power/t_test_power.csv"))
        {
            var n = (int)row["n_per_group"];
            var two = row.Text("test").StartsWith("two_sample", StringComparison.Ordinal);
            double Power(double alpha, bool twoSided) => two
                ? TTestPower.TwoSample(n, row["delta"], row["sd"], alpha, twoSided)
                : TTestPower.OneSample(n, row["delta"], row["sd"], alpha, twoSided);
            Assert.Equal(row["power_both_tails"], Power(row["alpha"], twoSided: true), 0.51e-7);
            // a one-sided test at α/2 is the upper tail of the two-sided one
            Assert.Equal(row["power_upper_tail_only"], Power(row["alpha"] / 2, twoSided: false), 0.51e-7);
        }
        Assert.Equal(0.05, TTestPower.OneSample(7, 0, 1), 1e-13);
        Assert.Equal(1, TTestPower.OneSample(7, 1e9, 1), 1e-13);
        Assert.Equal(0, TTestPower.OneSample(7, -1e9, 1, twoSided: false), 1e-13);
    }

    [Fact]
    public void Confidence_factors_of_a_standard_deviation()
    {
        foreach (var row in CheckData.Rows("distributions/sd_confidence_factors.csv"))
        {
            var (low, high) = SdInterval.Factors(row["dof"], 0.95);
            Assert.Equal(row["lower_factor_95_two_sided"], low, 0.51e-6);
            Assert.Equal(row["upper_factor_95_two_sided"], high, 0.51e-6);
            (low, high) = SdInterval.Factors(row["dof"], 0.90);
            Assert.Equal(row["lower_factor_90_two_sided"], low, 0.51e-6);
            Assert.Equal(row["upper_factor_90_two_sided"], high, 0.51e-6);
        }
        Assert.Equal(new Interval(0, 0), SdInterval.Of(0, 4));
        Assert.True(SdInterval.Of(2, 4).Contains(2));
    }

    // χ² with 2 degrees of freedom is exponential: Q = e^(−x/2)
    [Fact]
    public void Chi_square_with_two_degrees_of_freedom_is_exponential()
    {
        foreach (var x in new[] { 1e-9, 0.1, 1.9, 2.1, 7, 300 })
        {
            Assert.Equal(1, ChiSquare.UpperTail(x, 2) / Math.Exp(-x / 2), 1e-13);
            Assert.Equal(1, ChiSquare.Cdf(x, 2) / (x < 1e-6 ? x / 2 : 1 - Math.Exp(-x / 2)), 2e-9);
        }
        foreach (var p in new[] { 1e-9, 0.3, 0.975 })
            Assert.Equal(1, ChiSquare.Quantile(p, 2) / (-2 * (p < 1e-6 ? -p : Math.Log(1 - p))), 1e-9);
    }

    // F with two degrees of freedom above: Q = (1 + 2f/ν)^(−ν/2); and the square of t has F with 1 above
    [Fact]
    public void F_has_its_closed_forms()
    {
        foreach (var dof in new[] { 1.0, 4, 33 })
        {
            foreach (var f in new[] { 0.01, 0.9, 4, 5000 })
            {
                Assert.Equal(1, FisherF.UpperTail(f, 2, dof) / Math.Pow(1 + 2 * f / dof, -dof / 2), 1e-12);
                Assert.Equal(1, FisherF.UpperTail(f, 1, dof) / (2 * StudentT.Cdf(-Math.Sqrt(f), dof)), 1e-12);
                Assert.Equal(FisherF.UpperTail(f, 7, dof), FisherF.Cdf(1 / f, dof, 7), 1e-13);
            }
            // one degree of freedom below: the quantile at 0.9999 is far beyond a thousand
            Assert.Equal(0.9999, FisherF.Cdf(FisherF.Quantile(0.9999, 3, dof), 3, dof), 1e-13);
            Assert.Equal(1, FisherF.Quantile(0.95, 3, double.PositiveInfinity) * 3 / ChiSquare.Quantile(0.95, 3), 1e-13);
            Assert.Equal(1, FisherF.Quantile(0.05, 3, 1e13) * 3 / ChiSquare.Quantile(0.05, 3), 1e-9);
        }
        // scipy 1.10: stats.f.ppf(0.95, 3, 12), stats.f.ppf(0.05, 7.5, 2.25)
        Assert.Equal(3.4902948194976045, FisherF.Quantile(0.95, 3, 12), 1e-12);
    }

    [Fact]
    public void Quantiles_and_distributions_are_inverse()
    {
        CsCheck.Check.Sample(
            CsCheck.Gen.Select(CsCheck.Gen.Double[1e-9, 1 - 1e-9], CsCheck.Gen.Double[-1, 7], CsCheck.Gen.Double[-1, 5]),
            (p, lnDof, lnOther) =>
            {
                var (dof, other) = (Math.Exp(lnDof), Math.Exp(lnOther));
                Near(p, StudentT.Cdf(StudentT.Quantile(p, dof), dof));
                Near(p, ChiSquare.Cdf(ChiSquare.Quantile(p, dof), dof));
                Near(p, FisherF.Cdf(FisherF.Quantile(p, dof, other), dof, other));
                Near(p, Normal.Cdf(Normal.Quantile(p)));
            },
            iter: 500);

        static void Near(double p, double q) => Assert.InRange(q, p - 1e-12 * Math.Min(1, p * 1e3), p + 1e-12 * Math.Min(1, p * 1e3));
    }

    public static TheoryData<string, Action> BadArguments => new()
    {
        { "p is 0", () => StudentT.Quantile(0, 3) },
        { "p is 1", () => Normal.Quantile(1) },
        { "p is NaN", () => ChiSquare.Quantile(double.NaN, 3) },
        { "dof is 0", () => StudentT.Cdf(1, 0) },
        { "dof is negative", () => ChiSquare.Cdf(1, -1) },
        { "dof is NaN", () => FisherF.Cdf(1, double.NaN, 2) },
        { "dof is infinite", () => ChiSquare.Cdf(1, double.PositiveInfinity) },
        { "both are infinite", () => FisherF.Quantile(0.5, double.PositiveInfinity, double.PositiveInfinity) },
        { "t is NaN", () => StudentT.Cdf(double.NaN, 2) },
        { "z is NaN", () => Normal.Cdf(double.NaN) },
        { "delta is infinite", () => NoncentralT.Cdf(1, 3, double.PositiveInfinity) },
        { "dof is too small", () => NoncentralT.Cdf(1, 0.01, 1) },
        { "sd is 0", () => TTestPower.OneSample(5, 1, 0) },
        { "n is 1", () => TTestPower.TwoSample(1, 1, 1) },
        { "sd is negative", () => SdInterval.Of(-1, 4) },
        { "n is 2", () => Grubbs.CriticalValue(2, 0.05, true) },
        { "alpha is 1", () => Grubbs.CriticalValue(5, 1, true) },
        { "limits are swapped", () => Normal.Between(1, 0) },
        { "scale is negative", () => _ = new TPlusNormal(-1, 3, 1) },
        { "sd is infinite", () => _ = new TPlusNormal(1, 3, double.PositiveInfinity) },
        { "dof of a t part is zero", () => _ = new TPlusNormal(1, 0, 1) },
        { "x is NaN", () => new TPlusNormal(1, 2, 1).Cdf(double.NaN) },
        { "no quantile fits a double", () => StudentT.Quantile(1e-300, 0.01) },
    };

    [Theory(DisableDiscoveryEnumeration = true)]
    [MemberData(nameof(BadArguments))]
    public void A_bad_argument_is_refused_with_its_name(string what, Action act)
    {
        var error = Assert.ThrowsAny<ArgumentException>(act);
        Assert.False(string.IsNullOrEmpty(error.ParamName), what);
        Assert.Matches("must|not a number|below|beyond", error.Message);
    }
}
