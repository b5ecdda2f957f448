using System.Globalization;
using CsCheck;
using Knownwater.Statistics;

namespace Knownwater.Tests.Statistics;

public class RobustTests
{
    private static IEnumerable<(string Name, double[] Values, CheckData.Row Row)> Cases => CheckData.Rows("robust/robust_r.csv")
        .Select(r => (r.Text("case"), r.Text("values").Split(' ').Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray(), r));

    // ISO 13528:2015, annex C.3, with 50 digits by tests/data/robust/algorithm_a.py
    [Fact]
    public void Algorithm_A_by_the_steps_of_the_standard()
    {
        foreach (var expected in CheckData.Rows("robust/algorithm_a.csv"))
        {
            var robust = AlgorithmA.Of(Cases.Single(c => c.Name == expected.Text("case")).Values);
            Assert.Equal(1, robust.Mean / expected["mean"], 1e-12);
            Assert.Equal(1, robust.StandardDeviation / expected["sd"], 1e-11);
        }
    }

    // R package MASS, hubers(k = 1.5): the same but for the factor, there 1.13366 in full where the standard rounds it to 1.134: 3e-4, and at most five times that once the fixed point is reached
    [Fact]
    public void Algorithm_A_is_Hubers_second_proposal_with_a_rounded_factor()
    {
        foreach (var (_, values, row) in Cases.Where(c => c.Values.Length > 7))
        {
            var robust = AlgorithmA.Of(values);
            Assert.Equal(1, robust.Mean / row["hubers_mean"], 2e-4);
            Assert.Equal(1, robust.StandardDeviation / row["hubers_sd"], 1.5e-3);
        }
    }

    // R package robustbase, Qn; its code keeps the distance in single precision in some places, hence 3e-8
    [Fact]
    public void Qn_agrees_with_robustbase()
    {
        foreach (var (_, values, row) in Cases)
            Assert.Equal(1, Qn.Of(values) / row["qn"], 3e-8);
    }

    [Fact]
    public void Qn_is_the_distance_that_all_pairs_have_at_that_rank() => Check.Sample(
        Gen.Int[-60, 60].Array[2, 40],
        counts =>
        {
            double[] values = [.. counts.Select(i => 0.1 * i)], sorted = [.. values.Order()];
            var distances = new List<double>();
            for (var j = 1; j < sorted.Length; j++)
            {
                for (var i = 0; i < j; i++)
                    distances.Add(sorted[j] - sorted[i]);
            }
            distances.Sort();
            var h = values.Length / 2 + 1;
            // the two factors are those of one sample of the same size whose rank distance is 1
            double[] unit = [.. Enumerable.Range(0, values.Length).Select(i => i * 1e6)];
            var factor = Qn.Of(unit) / RankDistance(unit);
            return Math.Abs(Qn.Of(values) - factor * distances[h * (h - 1) / 2 - 1]) <= 1e-15 * Qn.Of(values);

            static double RankDistance(double[] x)
            {
                var h = x.Length / 2 + 1;
                return x.SelectMany((b, j) => x.Take(j).Select(a => b - a)).Order().ElementAt(h * (h - 1) / 2 - 1);
            }
        },
        iter: 300);

    [Fact]
    public void Robust_mean_and_scale_follow_unit_and_origin_and_not_the_order() => Check.Sample(
        Gen.Select(Gen.Int[-1000, 1000].Array[5, 30], Gen.Int[-20, 20], Gen.Int[-1000, 1000]),
        (counts, power, origin) =>
        {
            double[] values = [.. counts.Select(i => (double)i)], moved = [.. values.Reverse().Select(v => Math.ScaleB(v + origin, power))];
            var unit = Math.ScaleB(1, power);
            Assert.Equal(Qn.Of(values) * unit, Qn.Of(moved), 1e-15 * 4000 * unit);
            if (values.GroupBy(v => v).Max(g => g.Count()) * 2 >= values.Length)
                return;
            RobustMoments a = AlgorithmA.Of(values), b = AlgorithmA.Of(moved);
            Assert.Equal((a.Mean + origin) * unit, b.Mean, 1e-10 * 2000 * unit);
            Assert.Equal(a.StandardDeviation * unit, b.StandardDeviation, 1e-9 * 2000 * unit);
        },
        iter: 300);

    [Fact]
    public void A_far_value_hardly_moves_them_however_far_it_lies()
    {
        double[] body = [5.1, 4.9, 5.0, 5.2, 4.8, 5.05, 4.95, 5.15, 4.85];
        RobustMoments near = AlgorithmA.Of([.. body, 7]), far = AlgorithmA.Of([.. body, 1e9]);
        Assert.Equal(near.Mean, far.Mean, 1e-9);
        Assert.Equal(near.StandardDeviation, far.StandardDeviation, 1e-9);
        Assert.Equal(Qn.Of([.. body, 7]), Qn.Of([.. body, 1e9]), 1e-12);
        Assert.InRange(far.Mean, 4.95, 5.15);
        Assert.Equal(1.25 * far.StandardDeviation / Math.Sqrt(10), far.StandardUncertaintyOfMean, 1e-15);
    }

    // the factors make both unbiased for normal samples: 4000 samples of 10, whose mean sd has a standard error of about 0.5 %
    [Fact]
    public void For_normal_samples_they_give_the_standard_deviation()
    {
        var normal = new MathNet.Numerics.Distributions.Normal(3, 2, new MathNet.Numerics.Random.Xoshiro256StarStar(9));
        double qn = 0, a = 0;
        var values = new double[40];
        for (var trial = 0; trial < 4000; trial++)
        {
            normal.Samples(values);
            qn += Qn.Of(values) / 4000;
            a += AlgorithmA.Of(values).StandardDeviation / 4000;
        }
        Assert.InRange(qn, 1.97, 2.03);
        Assert.InRange(a, 1.93, 2.05);   // no factor for small samples: a few per cent low
    }

    [Fact]
    public void Values_that_are_too_few_or_too_equal_are_refused()
    {
        Assert.Contains("at least 3", Assert.Throws<ArgumentException>(() => AlgorithmA.Of([1, 2])).Message);
        Assert.Contains("median absolute deviation is 0", Assert.Throws<ArgumentException>(() => AlgorithmA.Of([1, 1, 1, 2, 3])).Message);
        Assert.Contains("Value 1", Assert.Throws<ArgumentException>(() => AlgorithmA.Of([double.NaN, 1, 2])).Message);
        Assert.Contains("at least 2", Assert.Throws<ArgumentException>(() => Qn.Of([1])).Message);
        Assert.Contains("Value 2", Assert.Throws<ArgumentException>(() => Qn.Of([1, double.NegativeInfinity])).Message);
        Assert.Throws<OverflowException>(() => Qn.Of([-1.7e308, 1.7e308]));
        Assert.Equal(0, Qn.Of([4, 4, 4, 9]));
    }

    // seven decimals printed
    [Fact]
    public void Functions_of_Horwitz_and_Thompson()
    {
        foreach (var row in CheckData.Rows("horwitz/horwitz.csv"))
        {
            var c = row["mass_fraction"];
            Assert.Equal(row["horwitz_RSD_R_percent"], 100 * Horwitz.RelativeReproducibility(c), 0.51e-6);
            Assert.Equal(row["horwitz_sigma_mass_fraction"] / c, Horwitz.RelativeReproducibility(c), 0.51e-6 * row["horwitz_sigma_mass_fraction"] / c * 2);
            Assert.Equal(1, Horwitz.ReproducibilityStandardDeviation(c) / row["thompson_sigma_mass_fraction"], 1e-6);
            Assert.Equal(row["thompson_RSD_percent"], 100 * Horwitz.ReproducibilityStandardDeviation(c) / c, 0.51e-4);
        }
    }
}
