using Knownwater.Statistics;
using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public class PublishedBudgetTests
{
    // ---- JCGM 100:2008, H.1: calibration of an end gauge ----

    private readonly struct EndGauge : IModel
    {
        public int Inputs => 6;

        // l = lS + d − lS (δα·θ + αS·δθ), inputs lS, d, αS, θ, δα, δθ in nm and °C
        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => x[0] + x[1] - x[0] * (x[4] * x[3] + x[2] * x[5]);
    }

    [Fact]
    public void End_gauge_of_H1()
    {
        var gauge = CheckData.Json("gum-jcgm100/gum_jcgm100.json").GetProperty("H1_end_gauge");
        var inputs = gauge.GetProperty("inputs").EnumerateArray()
            .Select(i => Estimate.From(i.Number("value"), i.Number("u"), i.GetProperty("name").GetString()!, i.GetProperty("unit").GetString()!,
                i.GetProperty("dof").ValueKind == System.Text.Json.JsonValueKind.Null ? double.PositiveInfinity : i.Number("dof")))
            .ToArray();
        var length = Estimate.Of(new EndGauge(), inputs);
        var (published, recomputed) = (gauge.GetProperty("published"), gauge.GetProperty("recomputed"));

        Assert.Equal(published.Number("l_nm"), length.Value, 1e-7);
        Assert.Equal(published.Number("uc_nm"), length.StandardUncertainty, 0.5);
        Assert.Equal(recomputed.Number("uc_nm"), length.StandardUncertainty, 0.51e-4);
        Assert.Equal(recomputed.Number("nu_eff"), length.EffectiveDof, 0.51e-4);
        Assert.Equal(published.Number("nu_eff"), Math.Floor(length.EffectiveDof));
        Assert.Equal(published.Number("t99_16"), CoverageFactor.StudentT(0.99, 16), 0.51e-2);
        Assert.Equal(published.Number("U99_nm"), CoverageFactor.StudentT(0.99, 16) * length.StandardUncertainty, 0.5);
        // contributions as printed: 25, 9.7, 0, 0, 2.9, 16.6 nm; the line without a first-order contribution is absent
        var printed = published.GetProperty("contributions_nm").Numbers();
        var budget = length.Budget().ToDictionary(l => l.Name, l => Math.Abs(l.Contribution));
        string[] names = ["lS", "d", "alphaS", "theta", "dalpha", "dtheta"];
        for (var i = 0; i < names.Length; i++)
            Assert.Equal(printed[i], budget.GetValueOrDefault(names[i]), names[i] == "dtheta" ? 0.08 : 0.051);   // 16.6 was printed from u(δθ) = 0.0289, the input as printed is 0.029
        Assert.Equal("lS", length.LargestSource!.Value.Source.Name);
    }

    // d of H.1 is made of three parts, published u 9.7 nm with 25.6 degrees of freedom
    [Fact]
    public void Comparator_of_H1_made_of_its_parts()
    {
        var d = Estimate.From(215, 5.8, "mean", "nm", 24) + Estimate.From(0, 3.9, "random", "nm", 5) + Estimate.From(0, 6.7, "systematic", "nm", 8);
        Assert.Equal(9.7, d.StandardUncertainty, 0.05);
        Assert.Equal(25.6, d.EffectiveDof, 0.3);   // from the printed, rounded parts
    }

    // JCGM 100:2008, H.1.3: the standard uncertainties of H.1 from what was known of each input; degrees of freedom from their reliability by G.4.2, equation (G.3)
    [Fact]
    public void Inputs_of_H1_from_certificates_limits_and_reliability()
    {
        var inputs = CheckData.Json("gum-jcgm100/gum_jcgm100.json").GetProperty("H1_end_gauge").GetProperty("inputs").EnumerateArray().ToDictionary(i => i.GetProperty("name").GetString()!);
        var made = inputs["d"].GetProperty("made_of").EnumerateArray().Select(p => (U: p.Number("u_nm"), Dof: p.Number("dof"))).ToArray();
        var mean = ErrorSource.MeanOfReadings("mean", 13, 5, "nm", dof: 24);
        var random = ErrorSource.Expanded("random", 10, CoverageFactor.StudentT(0.95, 5), "nm", 5);
        var systematic = ErrorSource.Expanded("systematic", 20, 3, "nm", ErrorSource.DofOfReliability(0.25));
        foreach (var (source, part) in new[] { mean, random, systematic }.Zip(made))
        {
            Assert.Equal(part.U, source.StandardUncertainty, 0.05);
            Assert.Equal(part.Dof, source.Dof, 1e-12);
        }
        Assert.Equal(inputs["alphaS"].Number("u"), ErrorSource.Rectangular("alphaS", 2e-6).StandardUncertainty, 0.051e-6);
        Assert.Equal(inputs["dalpha"].Number("u"), ErrorSource.Rectangular("dalpha", 1e-6).StandardUncertainty, 0.051e-7);
        Assert.Equal(inputs["dtheta"].Number("u"), ErrorSource.Rectangular("dtheta", 0.05).StandardUncertainty, 0.51e-3);
        Assert.Equal(inputs["dalpha"].Number("dof"), ErrorSource.DofOfReliability(0.1), 1e-12);
        Assert.Equal(inputs["dtheta"].Number("dof"), ErrorSource.DofOfReliability(0.5), 1e-12);
        var theta = Estimate.From(-0.1, 0.2, "mean", "°C") + Estimate.From(0, ErrorSource.ArcSine("cycle", 0.5, "°C"));
        Assert.Equal(inputs["theta"].Number("u"), theta.StandardUncertainty, 0.51e-2);
        Assert.Equal(inputs["theta"].Number("value"), theta.Value);
        Assert.Throws<ArgumentOutOfRangeException>("relativeUncertainty", () => ErrorSource.DofOfReliability(0));
    }

    // H.1 made of its sources and simulated: no published Monte Carlo, so the law of propagation with its second-order terms is what it must come to, within four sampling errors of u at 1e6 trials
    [Fact]
    public void Monte_Carlo_of_H1_shows_the_second_order()
    {
        Estimate[] inputs =
        [
            Estimate.From(50000623, 25, "lS"), Estimate.From(215, 9.7, "d"), Estimate.From(1.15e-5, ErrorSource.Rectangular("alphaS", 2e-6)),
            Estimate.From(-0.1, 0.2, "mean") + Estimate.From(0, ErrorSource.ArcSine("cycle", 0.5)), Estimate.From(0, ErrorSource.Rectangular("dalpha", 1e-6)), Estimate.From(0, ErrorSource.Rectangular("dtheta", 0.05)),
        ];
        var found = MonteCarlo.Of(new EndGauge(), inputs, 3);
        Assert.Equal(SecondOrder.Of(new EndGauge(), inputs).StandardUncertainty, found.StandardUncertainty, 4 * 34 / Math.Sqrt(2e6));
        Assert.Equal(34, found.StandardUncertainty, 0.5);
        Assert.Equal(50000838, found.Mean, 4 * 34 / 1e3);
    }

    // ---- Eurachem/CITAC CG 4 (QUAM), example A1: a calibration standard ----

    private readonly struct Standard : IModel
    {
        public int Inputs => 3;

        // c = 1000·m·P/V, inputs P, m in mg and V in mL
        public T Evaluate<T>(ReadOnlySpan<T> x) where T : IReal<T> => 1000.0 * x[1] * x[0] / x[2];
    }

    [Fact]
    public void Calibration_standard_of_example_A1()
    {
        var example = CheckData.Json("quam/quam_examples.json").GetProperty("A1_calibration_standard");
        var inputs = example.GetProperty("inputs").EnumerateArray().ToArray();
        var (published, recomputed) = (example.GetProperty("published"), example.GetProperty("recomputed"));
        Assert.Equal(inputs[0].Number("u"), ErrorSource.Rectangular("purity", 0.0001).StandardUncertainty, 0.051e-5);
        // the volume from its three effects: triangular tolerance, repeatability, temperature ±4 °C rectangular with 2.1e-4 per °C
        var effects = inputs[2].GetProperty("made_of").EnumerateArray().Select(e => e.Number("u")).ToArray();
        var volume = Estimate.From(100, ErrorSource.Triangular("calibration", 0.1, "mL")) + Estimate.From(0, 0.02, "repeatability", "mL") + Estimate.From(0, ErrorSource.Rectangular("temperature", 4, "°C"), 100 * 2.1e-4);
        Assert.Equal(effects.Order(), volume.Budget().Select(b => Math.Abs(b.Contribution)).Order(), (a, b) => Math.Abs(a - b) < 1e-15);
        Assert.Equal(recomputed.Number("u_V_from_parts"), volume.StandardUncertainty, 1e-15);
        Assert.Equal(inputs[2].Number("u"), volume.StandardUncertainty, 0.51e-2);

        Estimate[] Inputs(Estimate v) => [Estimate.From(inputs[0].Number("value"), inputs[0].Number("u"), "P"), Estimate.From(inputs[1].Number("value"), inputs[1].Number("u"), "m", "mg"), v];
        var rounded = Estimate.Of(new Standard(), Inputs(Estimate.From(inputs[2].Number("value"), inputs[2].Number("u"), "V", "mL")));
        var exact = Estimate.Of(new Standard(), Inputs(volume));
        Assert.Equal(recomputed.Number("c"), exact.Value, 1e-10);
        // by hand: the relative parts in quadrature; the file's own recomputed figures have 6 to 7 digits of it
        double ByHand(double u) => recomputed.Number("c") * Math.Sqrt(Math.Pow(5.8e-5 / 0.9999, 2) + Math.Pow(0.05 / 100.28, 2) + Math.Pow(u / 100, 2));
        Assert.Equal(ByHand(0.07), rounded.StandardUncertainty, 1e-14);
        Assert.Equal(ByHand(volume.StandardUncertainty), exact.StandardUncertainty, 1e-14);
        Assert.Equal(recomputed.Number("u_with_rounded_uV"), rounded.StandardUncertainty, 3e-7);
        Assert.Equal(recomputed.Number("u_with_exact_uV"), exact.StandardUncertainty, 3e-7);
        Assert.Equal(published.Number("c_mg_per_L"), rounded.Value, 0.051);
        Assert.Equal(published.Number("u_mg_per_L"), rounded.StandardUncertainty, 0.051);
        Assert.Equal(published.Number("rel_u"), rounded.StandardUncertainty / rounded.Value, 0.51e-4);
        Assert.Equal(published.Number("U_k2_mg_per_L"), 2 * Math.Round(rounded.StandardUncertainty, 1), 1e-12);
        var parts = rounded.Budget().ToDictionary(b => b.Name, b => Math.Abs(b.Contribution) / rounded.Value);
        Assert.Equal(published.Number("rel_P"), parts["P"], 0.051e-5);
        Assert.Equal(published.Number("rel_m"), parts["m"], 0.51e-4);
        Assert.Equal(published.Number("rel_V"), parts["V"], 0.51e-4);
        // Monte Carlo of the same model: four sampling errors of u
        Assert.Equal(exact.StandardUncertainty, MonteCarlo.Of(new Standard(), Inputs(volume), 8).StandardUncertainty, 4 * 0.84 / Math.Sqrt(2e6));
    }

    // example A5, second edition: the product of seven inputs as printed in its budget
    [Fact]
    public void Product_budget_of_example_A5()
    {
        var budget = CheckData.Json("quam/quam_examples.json").GetProperty("A5_calibration_and_budget").GetProperty("second_edition_budget");
        var x = budget.GetProperty("inputs").EnumerateArray().Select(i => Estimate.From(i[1].GetDouble(), i[2].GetDouble(), i[0].GetString()!)).ToArray();
        var r = x[0] * x[1] / x[2] * x[3] * x[4] * x[5] * x[6];
        Assert.Equal(budget.GetProperty("recomputed").Number("r"), r.Value, 1e-16);
        // by hand: the relative parts in quadrature. The file's recomputed u, 0.0034585, is 0.3 % below what its inputs give, 0.0034677; it is not used.
        Assert.Equal(Math.Sqrt(Math.Pow(0.018 / 0.26, 2) + Math.Pow(0.0018 / 0.332, 2) + Math.Pow(0.06 / 2.37, 2) + 0.0008 * 0.0008 + 0.001 * 0.001 + 0.06 * 0.06), r.StandardUncertainty / r.Value, 1e-15);
        Assert.Equal(budget.GetProperty("published").Number("r_mg_per_dm2"), r.Value, 0.51e-3);
        // the printed u comes from unrounded inputs and is held in the tests of ceramic ware
    }

    // ---- JCGM 100:2008, H.2: resistance and reactance from correlated means ----

    private static Estimate[] Means(out double[] values)
    {
        var rows = CheckData.Json("gum-jcgm100/gum_jcgm100.json").GetProperty("H2_resistance_reactance").GetProperty("observations")
            .EnumerateArray().Select(r => r.Numbers()).ToArray();
        var n = rows.Length;
        var means = Enumerable.Range(0, 3).Select(j => SampleMoments.Of([.. rows.Select(r => r[j])]).Mean).ToArray();
        var covariance = new double[3, 3];
        for (var i = 0; i < 3; i++)
        {
            for (var j = 0; j < 3; j++)
                covariance[i, j] = rows.Sum(r => (r[i] - means[i]) * (r[j] - means[j])) / (n * (n - 1.0));
        }
        values = means;
        return Estimate.Correlated(means, covariance, "five sets of observations", dof: n - 1);
    }

    [Fact]
    public void Correlated_means_of_H2()
    {
        var h2 = CheckData.Json("gum-jcgm100/gum_jcgm100.json").GetProperty("H2_resistance_reactance");
        var recomputed = h2.GetProperty("recomputed");
        var x = Means(out _);
        Assert.Equal(recomputed.GetProperty("mean").Numbers(), x.Select(e => e.Value), (a, b) => Math.Abs(a - b) <= 1e-15 * Math.Abs(a));
        Assert.Equal(recomputed.GetProperty("u_of_mean").Numbers(), x.Select(e => e.StandardUncertainty), Relative(1e-9));
        Assert.Equal(recomputed.Number("r_VI"), Estimate.Correlation(x[0], x[1]), 1e-9);
        Assert.Equal(recomputed.Number("r_Vphi"), Estimate.Correlation(x[0], x[2]), 1e-9);
        Assert.Equal(recomputed.Number("r_Iphi"), Estimate.Correlation(x[1], x[2]), 1e-9);
    }

    /// <summary>R = V/I·cos φ, X = V/I·sin φ, Z = V/I: three outputs of three correlated inputs.</summary>
    private readonly struct ImpedanceModel : IMultivariateModel
    {
        public int Inputs => 3;

        public int Outputs => 3;

        public void Evaluate<T>(ReadOnlySpan<T> x, Span<T> y) where T : IReal<T>
        {
            var z = x[0] / x[1];
            y[0] = z * T.Cos(x[2]);
            y[1] = z * T.Sin(x[2]);
            y[2] = z;
        }
    }

    private static (Estimate R, Estimate X, Estimate Z) Impedance(Estimate[] x)
    {
        var y = Estimate.Joint(new ImpedanceModel(), x);
        return (y[0], y[1], y[2]);
    }

    [Fact]
    public void Resistance_and_reactance_of_H2()
    {
        var h2 = CheckData.Json("gum-jcgm100/gum_jcgm100.json").GetProperty("H2_resistance_reactance");
        var (published, recomputed) = (h2.GetProperty("published"), h2.GetProperty("recomputed"));
        var means = Means(out _);
        var (r, x, z) = Impedance(means);
        var values = recomputed.GetProperty("R_X_Z").Numbers();
        Assert.Equal(values, [r.Value, x.Value, z.Value], Relative(1e-12));
        Assert.Equal(recomputed.GetProperty("u").Numbers(), [r.StandardUncertainty, x.StandardUncertainty, z.StandardUncertainty], Relative(1e-8));
        Assert.Equal(recomputed.Number("r_RX"), Estimate.Correlation(r, x), 1e-8);
        Assert.Equal(recomputed.Number("r_RZ"), Estimate.Correlation(r, z), 1e-8);
        Assert.Equal(recomputed.Number("r_XZ"), Estimate.Correlation(x, z), 1e-8);
        Assert.Equal(published.Number("R_ohm"), r.Value, 0.51e-3);
        Assert.Equal(published.Number("X_ohm"), x.Value, 0.51e-3);
        Assert.Equal(published.Number("Z_ohm"), z.Value, 0.51e-3);
        Assert.Equal(published.Number("u_R_ohm"), r.StandardUncertainty, 0.51e-3);
        Assert.Equal(published.Number("u_X_ohm"), x.StandardUncertainty, 1e-3);   // 0.2956 recomputed, 0.295 printed
        Assert.Equal(published.Number("u_Z_ohm"), z.StandardUncertainty, 0.51e-3);
        Assert.Equal(published.Number("r_RX"), Estimate.Correlation(r, x), 0.51e-3);
        Assert.Equal(published.Number("r_RZ"), Estimate.Correlation(r, z), 0.51e-3);
        Assert.Equal(published.Number("r_XZ"), Estimate.Correlation(x, z), 0.51e-3);
        // the same by operators of estimates, and as matrices
        Assert.Equal(0, (means[0] / means[1] * Estimate.Cos(means[2]) - r).StandardUncertainty, 1e-15);
        Assert.Equal(0, (means[0] / means[1] * Estimate.Sin(means[2]) - x).StandardUncertainty, 1e-15);
        double[,] correlation = Estimate.CorrelationMatrix([r, x, z]), covariance = Estimate.CovarianceMatrix([r, x, z]);
        Assert.Equal([1, recomputed.Number("r_RX"), recomputed.Number("r_RZ"), recomputed.Number("r_RX"), 1, recomputed.Number("r_XZ"), recomputed.Number("r_RZ"), recomputed.Number("r_XZ"), 1],
            correlation.Cast<double>(), (a, b) => Math.Abs(a - b) < 1e-8);
        var u = recomputed.GetProperty("u").Numbers();
        for (var i = 0; i < 3; i++)
        {
            for (var j = 0; j < 3; j++)
                Assert.Equal(correlation[i, j] * u[i] * u[j], covariance[i, j], 1e-8);
        }
        // Monte Carlo of the three outputs at once, with the covariance of the means taken as known: the same matrix within five sampling errors, √((1 + r²)/M) relative to u·u
        var simulated = MonteCarlo.Joint(new ImpedanceModel(), Estimate.Correlated([.. means.Select(e => e.Value)], Estimate.CovarianceMatrix(means), "known"), 12);
        for (var i = 0; i < 3; i++)
        {
            for (var j = 0; j < 3; j++)
                Assert.Equal(covariance[i, j], simulated.Covariance[i, j], 5e-3 * Math.Sqrt(2) * u[i] * u[j]);
        }
        // five sets observed together: whatever is combined of them has four degrees of freedom
        foreach (var e in new[] { r, x, z, r - 2 * x })
            Assert.Equal(4, e.EffectiveDof, 1e-12);
    }

    [Fact]
    public void Leaving_the_correlation_of_H2_out_gives_the_published_wrong_answer()
    {
        var means = Means(out var values);
        Estimate[] apart = [.. means.Select((e, i) => Estimate.From(values[i], e.StandardUncertainty, $"input {i}"))];
        var (r, x, z) = Impedance(apart);
        var wrong = CheckData.Json("gum-jcgm100/gum_jcgm100.json").GetProperty("H2_resistance_reactance").GetProperty("recomputed").GetProperty("u_if_correlation_ignored").Numbers();
        Assert.Equal(wrong, [r.StandardUncertainty, x.StandardUncertainty, z.StandardUncertainty], Relative(1e-8));
    }

    // ---- effective degrees of freedom ----

    [Fact]
    public void Product_of_three_means_of_G41()
    {
        var example = CheckData.Json("gum-jcgm100/gum_jcgm100.json").GetProperty("welch_satterthwaite")[0];
        var u = example.GetProperty("rel_u_percent").Numbers();
        var dof = example.GetProperty("dof").Numbers();
        Estimate Factor(int i) => Estimate.From(1, u[i] / 100, $"mean {i}", dof: dof[i]);
        var y = Factor(0) * Factor(1) * Factor(2);
        var recomputed = example.GetProperty("recomputed");
        Assert.Equal(recomputed.Number("uc_percent"), 100 * y.StandardUncertainty, 1e-12);
        Assert.Equal(recomputed.Number("nu_eff"), y.EffectiveDof, 1e-11);
        Assert.Equal(recomputed.Number("t95_19"), CoverageFactor.StudentT(0.95, 19), 1e-12);
        Assert.Equal(recomputed.Number("U95_percent"), 100 * CoverageFactor.StudentT(0.95, 19) * y.StandardUncertainty, 1e-10);
        var published = example.GetProperty("published");
        Assert.Equal(published.Number("nu_eff"), y.EffectiveDof, 0.05);
        Assert.Equal(published.Number("uc_percent"), 100 * y.StandardUncertainty, 0.51e-2);
        Assert.Equal(published.Number("t95"), CoverageFactor.StudentT(0.95, 19), 0.51e-2);
        Assert.Equal(published.Number("U95_percent"), 100 * CoverageFactor.StudentT(0.95, 19) * y.StandardUncertainty, 0.051);
    }

    [Fact]
    public void Four_equal_contributions_with_ten_degrees_of_freedom_have_forty()
    {
        var y = Estimate.Weighted([.. Enumerable.Range(0, 4).Select(i => Estimate.From(0, 0.3, $"part {i}", dof: 10))], [1, 1, 1, 1]);
        Assert.Equal(40, y.EffectiveDof, 1e-12);
    }

    [Fact]
    public void One_family_keeps_its_degrees_of_freedom_and_two_families_add_theirs()
    {
        var family = Guid.NewGuid();
        Estimate Level(Guid? f) => Estimate.From(1, ErrorSource.MeanOfReadings("level", 0.2, 4, dof: 5, family: f));
        Assert.Equal(5, (Level(family) - Level(family)).EffectiveDof, 1e-13);
        Assert.Equal(5, (Level(family) + 3 * Level(family)).EffectiveDof, 1e-13);
        Assert.Equal(10, (Level(null) - Level(null)).EffectiveDof, 1e-13);
        Assert.Equal(10, (Level(Guid.NewGuid()) - Level(Guid.NewGuid())).EffectiveDof, 1e-13);
        // a known part of equal variance doubles u² and leaves the variance of its estimate: 5·2²
        Assert.Equal(20, (Level(family) + Estimate.From(0, 0.1, "known")).EffectiveDof, 1e-12);
        // members that disagree count with the least
        var fewer = Estimate.From(1, ErrorSource.MeanOfReadings("level", 0.2, 4, dof: 3, family: family));
        Assert.Equal(3, (Level(family) + fewer).EffectiveDof, 1e-13);
    }

    // ---- correlated inputs ----

    [Fact]
    public void A_covariance_matrix_comes_back_from_its_inputs()
    {
        double[,] v = { { 4, 2, -1 }, { 2, 3, 0.5 }, { -1, 0.5, 2 } };
        var x = Estimate.Correlated([1, 2, 3], v, "line");
        for (var i = 0; i < 3; i++)
        {
            for (var j = 0; j < 3; j++)
                Assert.Equal(v[i, j], Estimate.Covariance(x[i], x[j]), 1e-14);
        }
        Assert.Equal(double.PositiveInfinity, x[2].EffectiveDof);
        Assert.Equal(["line 1", "line 2", "line 3"], x[2].Contributions.Select(c => c.Source.Name).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_dependent_input_brings_no_source_of_its_own()
    {
        // the third is the sum of the others, the fourth is exact
        double[,] v = { { 4, 1, 5, 0 }, { 1, 9, 10, 0 }, { 5, 10, 15, 0 }, { 0, 0, 0, 0 } };
        var x = Estimate.Correlated([1, 2, 3, 4], v, "parts");
        Assert.Equal(2, x[2].Contributions.Count);
        Assert.Equal(0, (x[2] - x[0] - x[1]).StandardUncertainty, 1e-15);
        Assert.True(x[3].IsExact);
    }

    [Theory]
    [InlineData("not symmetric", 1, 0.5, 0.6, 1)]
    [InlineData("not positive", 1, 1.5, 1.5, 1)]
    [InlineData("zero or above", -1, 0, 0, 1)]
    [InlineData("finite", double.NaN, 0, 0, 1)]
    [InlineData("not positive", 0, 0.5, 0.5, 1)]
    public void A_matrix_that_cannot_be_is_refused(string word, double a, double b, double c, double d)
    {
        var error = Assert.Throws<ArgumentException>("covariance", () => Estimate.Correlated([1, 2], new[,] { { a, b }, { c, d } }, "line"));
        Assert.Contains(word, error.Message);
    }

    [Fact]
    public void A_matrix_of_another_size_is_refused() =>
        Assert.Contains("must be 3 by 3", Assert.Throws<ArgumentException>("covariance", () => Estimate.Correlated([1, 2, 3], new double[2, 2], "line")).Message);

    // ---- comparison with a certified value ----

    [Fact]
    public void Bias_recovery_and_scores_of_a_mean_against_a_certified_value()
    {
        foreach (var c in CheckData.Json("bias/bias_and_scores.json").GetProperty("cases").EnumerateArray())
        {
            var mean = Estimate.From(c.Number("mean"), ErrorSource.MeanOfReadings("replicates", c.Number("s"), c.GetProperty("n").GetInt32()));
            var certified = Estimate.From(c.Number("certified"), c.Number("u_certified"), "certificate");
            var bias = mean - certified;
            Assert.Equal(c.Number("delta"), Math.Abs(bias.Value), 1e-15);
            Assert.Equal(c.Number("u_mean"), mean.StandardUncertainty, 1e-15);
            Assert.Equal(c.Number("u_delta"), bias.StandardUncertainty, 1e-15);
            Assert.Equal(c.Number("zeta"), bias.Value / bias.StandardUncertainty, 1e-10);
            var recovery = 100 * mean / certified;
            Assert.Equal(c.Number("recovery_percent"), recovery.Value, 1e-11);
            Assert.Equal(c.Number("u_recovery_percent"), recovery.StandardUncertainty, 1e-11);
            // the quantile function of scipy 1.10 behind this number is right to nine digits: its own distribution gives 0.975 at 2.57058183563631
            Assert.Equal(c.Number("t_crit_95"), CoverageFactor.StudentT(0.95, mean.EffectiveDof), 2e-9);
        }
    }

    private static Func<double, double, bool> Relative(double tolerance) => (a, b) => Math.Abs(a - b) <= tolerance * Math.Abs(a);
}
